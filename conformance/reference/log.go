package reference

import (
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// A Log is a match with its record: events and corrections, numbered from 1 in
// the order in which they were accepted. Nothing is erased; what the record
// says now is read from the beginning each time. Make one with [NewLog].
type Log struct {
	start   Match
	entries []entry
	now     Match
}

// An entry is one line of the record.
type entry struct {
	text  string
	word  string // "event", or the word of a correction
	of    int    // index of the entry that it speaks of
	event string // what is put in its place; "-" for nothing
}

// NewLog returns a log that begins where a match stands.
func NewLog(m *Match) *Log { return &Log{start: *m, now: *m} }

// Match returns where the match stands as the record reads now.
func (l *Log) Match() *Match { return &l.now }

// Do plays an event or carries a correction out. It answers as [Match.Do]
// does; a correction of the record itself has no effects.
func (l *Log) Do(text string) (effects []string, refusal string) {
	e, refusal := l.read(text)
	if refusal != "" {
		return nil, refusal
	}
	if e.word == "event" {
		after := l.now
		effects, refusal = after.Do(text)
		if refusal == "" {
			l.entries, l.now = append(l.entries, e), after
		}
		return effects, refusal
	}
	if refusal = l.forbids(e); refusal != "" {
		return nil, refusal
	}
	with := &Log{start: l.start, entries: append(slices.Clone(l.entries), e)}
	states, refusal := with.fold()
	if refusal != "" {
		return nil, refusal
	}
	then := states[len(states)-1]
	switch {
	case e.word == "amend" && !l.sameMoments(with, states):
		return nil, "not-now"
	case l.now.lifted(&then) && !e.reasoned() && !l.brings(e):
		return nil, "not-now" // a suspected concussion is lifted by nothing else
	}
	l.entries, l.now = with.entries, then
	return l.now.did.names(), ""
}

// read takes an entry apart.
func (l *Log) read(text string) (entry, string) {
	words := strings.Split(text, " ")
	e := entry{text: text, word: words[0], of: -1}
	n := func(least int) bool {
		if len(words) < least {
			return false
		}
		i, err := strconv.Atoi(words[1])
		e.of = i - 1
		return err == nil && strconv.Itoa(i) == words[1] && e.of >= 0 && e.of < len(l.entries)
	}
	ok := true
	switch e.word {
	case "undo":
		ok = len(words) == 1
		e.of = l.last()
	case "redo":
		ok = len(words) == 1
		e.of = l.lastUndo()
	case "amend":
		if ok = n(3); ok {
			e.event = words[2]
			_, isEvent := read(e.event)
			ok = e.event == "-" || isEvent
		}
	case "rule":
		if ok = n(3) && len(words) == 3; ok {
			e.event = words[2]
			_, ok = read(e.event)
		}
	case "rewind":
		ok = n(2) && len(words) == 2
	case "set":
		e.event = strings.TrimPrefix(text, "set ")
	case "format":
		ok = len(words) == 4 && (words[2] == "now" || words[2] == "next") && words[3] != ""
		if ok {
			_, err := format.Parse(words[1])
			ok = err == nil
		}
	default:
		e.word = "event"
		e.event = text
	}
	if !ok {
		return e, "malformed"
	}
	return e, ""
}

// live says of each entry whether it still counts: not taken back, and not
// struck. in is the event that stands in its place.
func (l *Log) live() (live []bool, in []string) {
	live, in = make([]bool, len(l.entries)), make([]string, len(l.entries))
	settled := make([]bool, len(l.entries))
	for i := range l.entries {
		live[i], in[i] = true, l.entries[i].event
	}
	for i := len(l.entries) - 1; i >= 0; i-- { // what comes later has the last word
		e := &l.entries[i]
		if !live[i] {
			continue
		}
		switch {
		case e.word == "undo", e.word == "redo", e.word == "amend" && in[i] == "-":
			if !settled[e.of] {
				live[e.of], settled[e.of] = false, true
			}
		case e.word == "amend":
			if !settled[e.of] {
				in[e.of], settled[e.of] = in[i], true
			}
		}
	}
	return live, in
}

// last is the last entry that undo can take back, -1 for none.
func (l *Log) last() int {
	live, _ := l.live()
	for i := len(l.entries) - 1; i >= 0; i-- {
		if w := l.entries[i].word; live[i] && w != "undo" && w != "redo" {
			return i
		}
	}
	return -1
}

// lastUndo is the undo that redo takes back: one with nothing but undo and
// redo after it; -1 for none.
func (l *Log) lastUndo() int {
	live, _ := l.live()
	for i := len(l.entries) - 1; i >= 0; i-- {
		switch w := l.entries[i].word; {
		case w == "undo" && live[i]:
			return i
		case w != "undo" && w != "redo":
			return -1
		}
	}
	return -1
}

// forbids gives a reason why a correction cannot be made, whatever the record
// would read then.
func (l *Log) forbids(e entry) string {
	live, _ := l.live()
	switch {
	case l.now.phase == closed && !e.reasoned() && !(e.of >= 0 && l.brings(e)):
		return "closed"
	case e.of < 0 && (e.word == "undo" || e.word == "redo"):
		return "not-now"
	case e.word == "amend" && e.event != "-" && l.entries[e.of].word != "event":
		return "log-only"
	case (e.word == "amend" || e.word == "rewind" || e.word == "rule") && !l.holds(live, len(l.entries))[e.of]:
		return "not-now"
	}
	return ""
}

// brings says whether an entry brings such a repair into force again.
func (l *Log) brings(e entry) bool {
	return e.word == "redo" && l.entries[l.entries[e.of].of].reasoned()
}

// reasoned says whether an entry is a repair that states its reason.
func (e *entry) reasoned() bool { return e.word == "amend" && strings.Count(e.text, " ") > 2 }

// lifted says whether a player who is out for a suspected concussion would no
// longer be so.
func (m *Match) lifted(then *Match) bool {
	for p := a1; p <= b2; p++ {
		if m.out.of(p) == 'c' && then.out.of(p) != 'c' {
			return true
		}
	}
	return false
}

// fold reads the record from the beginning. It returns the states: before all,
// and after each entry.
func (l *Log) fold() (states []Match, refusal string) {
	live, in := l.live()
	m := l.start
	states = append(states, m)
	for i := range l.entries {
		if live[i] {
			if refusal = l.carry(&m, i, in[i], states); refusal != "" {
				return nil, refusal
			}
		} else {
			m.did = 0
		}
		states = append(states, m)
	}
	return states, ""
}

// carry carries out one entry of the record.
func (l *Log) carry(m *Match, i int, event string, states []Match) string {
	e := &l.entries[i]
	m.did = 0
	switch e.word {
	case "rule", "rewind", "set", "format":
		if m.phase == closed {
			return "closed" // the sheet had been returned before it
		}
	}
	switch e.word {
	case "event":
		_, refusal := m.Do(event)
		return refusal
	case "rule":
		return l.rule(m, i, event, states)
	case "rewind":
		return l.rewind(m, i, states)
	case "set":
		return m.state(event)
	case "format":
		return m.change(strings.Fields(e.text))
	}
	return ""
}

// sameMoments says whether every later event still belongs to the game, and to
// the phase of it, to which it belonged before an amendment. A rally that
// opens a game belongs to that game.
func (l *Log) sameMoments(with *Log, states []Match) bool {
	before, _ := l.fold()
	was, in := l.live()
	is, _ := with.live()
	for i := range l.entries {
		if w := l.entries[i].word; w != "event" && w != "rule" && w != "rewind" && w != "format" {
			continue // of the record, or of no game
		} else if w != "event" {
			in[i] = w
		}
		if was[i] && is[i] && momentOf(&before[i], in[i]) != momentOf(&states[i], in[i]) {
			return false
		}
	}
	return true
}

type moment struct {
	phase  string
	number int
}

func momentOf(m *Match, event string) moment {
	if o, _ := read(event); m.phase != inPlay && slices.Contains(strings.Fields(rallies), o.word) {
		return moment{inPlay, m.number + 1}
	}
	return moment{m.phase, m.number}
}

// holds says of each entry whether it could still be spoken of when n entries had
// been made: it is live, and no rewind has gone past it.
func (l *Log) holds(live []bool, n int) []bool {
	out := slices.Clone(live)
	for i := range n {
		if l.entries[i].word == "rewind" && live[i] {
			for k := l.entries[i].of + 1; k < i; k++ {
				switch e := &l.entries[k]; e.word {
				case "amend", "undo", "redo": // these speak of the record
				case "rule":
					out[k] = out[k] && e.of <= l.entries[i].of
				default:
					out[k] = false
				}
			}
		}
	}
	return out
}
