package rally

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
)

// Log is a match as the list of its entries: what was entered, in order, and
// every correction. Nothing is ever erased; the state is a fold over the
// entries that still hold. A Log is not safe for use by several goroutines.
type Log struct {
	rules    *Rules // those in force now
	first    *Rules // those it began with
	start    State
	now      State
	rare     bool   // times or pending is in use
	pending  *Rules // in force from the next game
	entries  []Event
	payloads []payload
	times    []int64 // elapsed milliseconds; nil if no entry has any
}

// payload is what a correction carries; its entry holds the index.
type payload struct {
	target int    // entry number, from 1
	event  Event  // what is put in its place; 0 strikes it
	text   string // line, or format id
	note   string // authority or stated reason
	next   bool   // from the next game
	rules  *Rules // of a new format
}

// NewLog begins a log at a state: a match before its first game, or a position
// from which it is taken up.
func NewLog(r *Rules, start State) *Log { return &Log{rules: r, first: r, start: start, now: start} }

// Grow makes room for n more entries, so that adding them does not allocate.
func (l *Log) Grow(n int) {
	if cap(l.entries)-len(l.entries) < n {
		l.entries = append(make([]Event, 0, len(l.entries)+n), l.entries...)
	}
}

// State returns the state now.
func (l *Log) State() State { return l.now }

// Rules returns the rules in force now.
func (l *Log) Rules() *Rules { return l.rules }

// Begin returns the rules and the state with which the log began.
func (l *Log) Begin() (*Rules, State) { return l.first, l.start }

// Len returns the number of entries, corrections included.
func (l *Log) Len() int { return len(l.entries) }

// Apply adds an event. A refused event is not added.
func (l *Log) Apply(e Event) (Effects, Refusal) {
	next, did, refusal := l.rules.Apply(l.now, e)
	if refusal != NotRefused {
		return 0, refusal
	}
	l.now = next
	l.entries = append(l.entries, e)
	if l.rare {
		l.afterEntry()
	}
	return did, NotRefused
}

// afterEntry does what few logs need after an entry.
func (l *Log) afterEntry() {
	if l.times != nil {
		l.times = append(l.times, noTime)
	}
	if l.pending != nil && l.now.Phase() != Playing {
		l.rules, l.pending = l.pending, nil
	}
}

// noTime marks an entry without an elapsed time.
const noTime = -1

// Stamp gives the last entry an elapsed time, in milliseconds from any fixed
// moment of the match. Times never change a state; see [Timing].
func (l *Log) Stamp(ms int64) {
	if len(l.entries) == 0 || ms < 0 {
		return
	}
	for len(l.times) < len(l.entries) {
		l.times = append(l.times, noTime)
	}
	l.times[len(l.entries)-1] = ms
	l.rare = true
}

// Time returns the elapsed time of entry n (from 1), if it has one.
func (l *Log) Time(n int) (ms int64, ok bool) {
	if n < 1 || n > len(l.times) || l.times[n-1] == noTime {
		return 0, false
	}
	return l.times[n-1], true
}

// EntryError reports an entry that the log did not take, and why. Where an
// earlier entry was to be corrected, N is the later entry that would then be
// refused.
type EntryError struct {
	Text    string  // the entry, shortened
	N       int     // number of the entry at fault, from 1; 0 for the new one
	Refusal Refusal // the code
	Reason  string  // more about it; may be empty
}

// Error implements error.
func (e *EntryError) Error() string {
	out := "rally: entry " + format.Quote(e.Text) + ": " + e.Refusal.String()
	if e.N != 0 {
		out += " at entry " + strconv.Itoa(e.N)
	}
	if e.Reason != "" {
		out += ": " + e.Reason
	}
	return out
}

// Do adds an entry given as text: an event, or a correction with its payload.
// The error is an [*EventError] for text that is no entry, an [*EntryError]
// for one that is refused.
func (l *Log) Do(text string) (Effects, error) {
	word, rest, _ := format.Cut(text, ' ')
	refuse := func(refusal Refusal, reason string) (Effects, error) {
		return 0, &EntryError{shorten(text), 0, refusal, reason}
	}
	switch word {
	case "undo", "redo":
		if rest != "" || word != text {
			return refuse(Malformed, "takes nothing after it")
		}
		if word == "undo" {
			return 0, l.Undo()
		}
		return 0, l.Redo()
	case "amend", "rule", "rewind":
		number, rest, _ := format.Cut(rest, ' ')
		n, ok := parseNumber(number, 99999)
		if !ok {
			return refuse(Malformed, "want the number of an entry")
		}
		if word == "rewind" {
			if rest != "" {
				return refuse(Malformed, "takes one number")
			}
			return 0, l.Rewind(n)
		}
		what, note, _ := format.Cut(rest, ' ')
		var e Event
		if what != "-" || word == "rule" {
			var err error
			if e, err = ParseEvent(what); err != nil {
				return 0, err
			}
		}
		if word == "rule" {
			if note != "" {
				return refuse(Malformed, "takes a number and an event")
			}
			return l.RuleOn(n, e)
		}
		return 0, l.Amend(n, e, note)
	case "set":
		return 0, l.SetLine(rest)
	case "format":
		words := split(rest)
		if len(words) != 3 || words[1] != "now" && words[1] != "next" || words[2] == "" {
			return refuse(Malformed, "want a format id, now or next, and who decided")
		}
		f, err := format.Parse(words[0])
		if err != nil {
			return 0, err
		}
		return 0, l.ChangeFormat(f, words[1] == "next", words[2])
	}
	e, err := ParseEvent(text)
	if err != nil {
		return 0, err
	}
	did, refusal := l.Apply(e)
	if refusal != NotRefused {
		return refuse(refusal, "")
	}
	return did, nil
}

// correction appends a correction, folds the log again and keeps it only if
// every entry still holds.
func (l *Log) correction(k Kind, p payload) error {
	before := *l
	l.entries = append(l.entries, Event(k)|Event(len(l.payloads))<<secondsAt)
	l.payloads = append(l.payloads, p)
	if l.times != nil {
		l.times = append(l.times, noTime)
	}
	text := l.Text(len(l.entries))
	if len(before.payloads) > 65535 {
		*l = before
		return &EntryError{shorten(text), 0, NotNow, "too many corrections in one log"}
	}
	if err := l.fold(nil); err != nil {
		*l = before
		err.Text = shorten(text)
		return err
	}
	return nil
}

func (l *Log) payload(n int) payload { return l.payloads[l.entries[n-1].bits(secondsAt, 16)] }

// live returns for every entry what holds in its place: the event itself, what
// an amendment put there, or 0 if it was struck. A later correction of the
// same entry wins over an earlier one, and a correction can itself be struck.
func (l *Log) live() []Event {
	out := append([]Event(nil), l.entries...)
	decided := make([]bool, len(out))
	for n := len(out); n >= 1; n-- {
		k := l.entries[n-1].Kind()
		if k < Undo || k > Rule || out[n-1] == 0 {
			continue
		}
		if p := l.payload(n); !decided[p.target-1] {
			decided[p.target-1] = true
			out[p.target-1] = p.event
		}
	}
	return out
}

// Step is one entry that holds, as a fold meets it.
type Step struct {
	N       int    // entry number, from 1
	Event   Event  // what holds; a correction for rewind, set and format
	Rules   *Rules // in force after it
	Before  State
	After   State
	Effects Effects
}

// Each folds the log and calls f for every entry that holds, until f returns
// false. Amendments are seen in the place of what they amend.
func (l *Log) Each(f func(Step) bool) {
	scratch := *l
	_ = scratch.fold(f) // a log that exists folds
}

// fold computes the state from the entries that hold.
func (l *Log) fold(visit func(Step) bool) *EntryError {
	live := l.live()
	r, s := l.first, l.start
	var pending *Rules
	after := make([]State, len(live)+1)
	after[0] = s
	for i, e := range live {
		n := i + 1
		step := Step{N: n, Event: e, Before: s}
		var refusal Refusal
		var reason string
		switch k := e.Kind(); {
		case e == 0 || k >= Undo && k <= Rule:
			after[n] = s
			continue
		case k == Rewind:
			s, refusal, reason = rewind(s, after[l.payload(n).target])
		case k == SetPosition:
			var err error
			if s, err = r.ParseLine(l.payload(n).text); err != nil {
				refusal, reason = Malformed, err.Error()
			}
		case k == ChangeFormat:
			p := l.payload(n)
			if p.next && s.Phase() == Playing {
				pending = p.rules
			} else if s, reason = p.rules.takeOver(s, r); reason != "" {
				refusal = NotNow
			} else {
				r, pending = p.rules, nil
			}
		default:
			s, step.Effects, refusal = r.Apply(s, e)
		}
		if refusal != NotRefused {
			return &EntryError{N: n, Refusal: refusal, Reason: reason}
		}
		if pending != nil && s.Phase() != Playing {
			r, pending = pending, nil
		}
		after[n] = s
		step.After, step.Rules = s, r
		if visit != nil && !visit(step) {
			return nil
		}
	}
	l.rules, l.now, l.pending = r, s, pending
	l.rare = l.times != nil || pending != nil
	return nil
}

// lastLive returns the number of the last entry that holds and is not itself
// an undo or redo; 0 if there is none.
func (l *Log) lastLive() int {
	live := l.live()
	for n := len(live); n >= 1; n-- {
		if k := l.entries[n-1].Kind(); live[n-1] != 0 && k != Undo && k != Redo {
			return n
		}
	}
	return 0
}

// Undoable returns the entry that Undo would take back, and its text.
func (l *Log) Undoable() (n int, text string, ok bool) {
	n = l.lastLive()
	if n == 0 {
		return 0, "", false
	}
	return n, l.textOf(n, l.live()[n-1]), true
}

// Undo takes back the last entry that holds, across game ends if need be.
func (l *Log) Undo() error {
	n := l.lastLive()
	if n == 0 {
		return &EntryError{"undo", 0, NotNow, "there is nothing to undo"}
	}
	if l.live()[n-1].Kind() == Concussion {
		return &EntryError{"undo", n, NotNow, concussionStays}
	}
	return l.correction(Undo, payload{target: n})
}

const concussionStays = "a suspected concussion is lifted only by an amendment with a stated reason"

// redoable returns the undo that Redo would take back.
func (l *Log) redoable() int {
	live := l.live()
	for n := len(live); n >= 1; n-- {
		switch k := l.entries[n-1].Kind(); {
		case k == Undo && live[n-1] != 0:
			return n
		case k != Undo && k != Redo:
			return 0
		}
	}
	return 0
}

// Redoable returns the entry that Redo would bring back, and its text.
func (l *Log) Redoable() (n int, text string, ok bool) {
	undo := l.redoable()
	if undo == 0 {
		return 0, "", false
	}
	n = l.payload(undo).target
	return n, l.textOf(n, l.entries[n-1]), true
}

// Redo takes the last undo back, unless something was entered since.
func (l *Log) Redo() error {
	n := l.redoable()
	if n == 0 {
		return &EntryError{"redo", 0, NotNow, "there is nothing to redo"}
	}
	return l.correction(Redo, payload{target: n})
}

// Amend repairs the record: entry n says what did not happen, e did; an e of 0
// strikes the entry. Later entries are folded again, and if one of them would
// now be refused the amendment is refused and names it. Lifting a suspected
// concussion needs a stated reason, which stays visible.
func (l *Log) Amend(n int, e Event, reason string) error {
	text := "amend " + strconv.Itoa(n)
	if n < 1 || n > len(l.entries) {
		return &EntryError{text, 0, Malformed, "no such entry"}
	}
	k := l.entries[n-1].Kind()
	switch live := l.live()[n-1]; {
	case e != 0 && (k >= Undo || e.Kind() >= Undo):
		return &EntryError{text, n, LogOnly, "a correction can only be struck"}
	case e != 0 && !e.wellFormed():
		return &EntryError{text, 0, Malformed, ""}
	case live.Kind() == Concussion && reason == "":
		return &EntryError{text, n, NotNow, concussionStays}
	case l.now.Phase() == Closed:
		return &EntryError{text, 0, MatchClosed, ""}
	}
	return l.correction(Amend, payload{target: n, event: e, note: reason})
}

// RuleOn carries out a ruled correction: something happened in rally n, and a
// rule changes what the rally does. What is over since is read from the log.
// It is refused if the edition's window has closed, that is if the rally would
// stand all the same.
func (l *Log) RuleOn(n int, e Event) (Effects, error) {
	text := "rule " + strconv.Itoa(n) + " " + e.String()
	i, rides := e.Incident()
	switch {
	case n < 1 || n > len(l.entries):
		return 0, &EntryError{text, 0, Malformed, "no such entry"}
	case l.now.Phase() == Closed:
		return 0, &EntryError{text, 0, MatchClosed, ""}
	case l.live()[n-1].Kind() != RallyWon || e.Kind() != RallyWon || !rides:
		return 0, &EntryError{text, n, NotNow, "want a rally that was won, with what was wrong with it"}
	case e.Side() != l.live()[n-1].Side():
		return 0, &EntryError{text, n, NotNow, "another side won that rally: amend it"}
	case l.now.Phase() == Over && l.rules.switchIs(format.Correctable, format.CorrectableLastPoint):
		return 0, &EntryError{text, n, OutOfWindow, ""}
	}
	i.Since = max(i.Since, l.since(n))
	e = e.WithIncident(i)
	did := l.effectsOf(n, e)
	if did.Has(Stands) && !did.Has(Warned) && !did.Has(Fouled) {
		return 0, &EntryError{text, n, OutOfWindow, ""}
	}
	if err := l.correction(Rule, payload{target: n, event: e}); err != nil {
		return 0, err
	}
	return did, nil
}

// effectsOf returns what event e would have done in the place of entry n.
func (l *Log) effectsOf(n int, e Event) (did Effects) {
	l.Each(func(st Step) bool {
		if st.N == n {
			_, did, _ = st.Rules.Apply(st.Before, e)
		}
		return st.N < n
	})
	return did
}

// since reads from the log what has happened after rally n.
func (l *Log) since(n int) Since {
	since := RallyOver
	var serving Side
	var score int
	l.Each(func(st Step) bool {
		switch k := st.Event.Kind(); {
		case st.N < n:
		case st.N == n:
			serving, _ = st.After.Serving()
			score = st.After.Score(A) + st.After.Score(B)
			if st.Effects.Has(GameWon) {
				since = GameOver
			}
		case k == RallyWon || k == Replay || k == Stop:
			since = NextServed
			side, _ := st.Before.Serving()
			if st.Before.Phase() != Playing || side != serving || st.After.Score(A)+st.After.Score(B) != score {
				since = Overtaken
				return false
			}
		}
		return true
	})
	return since
}

// Rewind restores the game as it was after entry n and keeps the ledger as it
// is now: time-outs used, medical time, warnings and fouls. It never crosses
// the first serve of a game.
func (l *Log) Rewind(n int) error {
	if n < 1 || n > len(l.entries) {
		return &EntryError{"rewind " + strconv.Itoa(n), 0, Malformed, "no such entry"}
	}
	return l.correction(Rewind, payload{target: n})
}

func rewind(now, then State) (State, Refusal, string) {
	if now.Phase() != Playing || then.Phase() != Playing || now.Game() != then.Game() {
		return now, NotNow, "a rewind stays within the game in play"
	}
	const kept = outMask | breakMask
	return State{then.play&^kept | now.play&kept, now.ledger}, NotRefused, ""
}

// SetLine states the position outright, as a canonical line.
func (l *Log) SetLine(line string) error {
	if l.now.Phase() == Closed {
		return &EntryError{"set", 0, MatchClosed, ""}
	}
	if _, err := l.rules.ParseLine(line); err != nil {
		return err
	}
	return l.correction(SetPosition, payload{text: line})
}

// ChangeFormat plays on under another format, from now or from the next game,
// by somebody's decision. It is refused if the game in play would be over
// under the new format, or if its order of service cannot take over the places.
func (l *Log) ChangeFormat(f format.Format, next bool, authority string) error {
	r, err := Compile(f)
	if err != nil {
		return err
	}
	if l.now.Phase() == Closed || l.now.Phase() == Over {
		return &EntryError{"format " + f.ID(), 0, MatchOver, ""}
	}
	if authority == "" || len(split(authority)) != 1 {
		return &EntryError{"format " + f.ID(), 0, Malformed, "one word says who decided"}
	}
	return l.correction(ChangeFormat, payload{rules: r, text: f.ID(), next: next, note: authority})
}

// takeOver turns a state under old rules into one under r, or says why not.
func (r *Rules) takeOver(s State, old *Rules) (State, string) {
	if r.doubles != old.doubles {
		return s, "singles and doubles cannot change into each other"
	}
	if s.Phase() == Playing {
		p := old.Places(s)
		if r.game(s.Game()).Servers == 1 {
			s.play &^= 1 << 2
		}
		a, b := s.scores()
		g := r.game(s.Game())
		if !g.order.Valid(s.order(), a, b) || r.Places(s).Server != p.Server || r.Places(s).At != p.At {
			return s, "the order of service of that format puts the players elsewhere"
		}
		if g.ChangeEndsAt == 0 {
			s.play &^= midDue
		}
	}
	if _, err := r.ParseLine(r.Line(s)); err != nil {
		return s, err.Error()
	}
	return s, ""
}

// Text returns entry n as text, as [Log.Do] takes it.
func (l *Log) Text(n int) string {
	if n < 1 || n > len(l.entries) {
		return ""
	}
	return l.textOf(n, l.entries[n-1])
}

func (l *Log) textOf(n int, e Event) string {
	k := e.Kind()
	if k < Undo {
		return e.String()
	}
	p := l.payload(n)
	word := forms[k].prefix
	switch k {
	case Amend:
		word += " " + strconv.Itoa(p.target) + " "
		if p.event == 0 {
			word += "-"
		} else {
			word += p.event.String()
		}
		if p.note != "" {
			word += " " + p.note
		}
	case Rule:
		word += " " + strconv.Itoa(p.target) + " " + p.event.String()
	case Rewind:
		word += " " + strconv.Itoa(p.target)
	case SetPosition:
		word += " " + p.text
	case ChangeFormat:
		when := " now "
		if p.next {
			when = " next "
		}
		word += " " + p.text + when + p.note
	}
	return word
}

// FormatAt returns the format that entry n, a change of format, brings in. It
// is for formats without an id, whose entry has no text that [Log.Do] takes.
func (l *Log) FormatAt(n int) (f format.Format, next bool, authority string, ok bool) {
	if n < 1 || n > len(l.entries) || l.entries[n-1].Kind() != ChangeFormat {
		return format.Format{}, false, "", false
	}
	p := l.payload(n)
	return p.rules.format, p.next, p.note, true
}

// Holds returns what holds in the place of entry n: its own event, the one
// that amended it, or false if it was struck or never was an event.
func (l *Log) Holds(n int) (Event, bool) {
	if n < 1 || n > len(l.entries) {
		return 0, false
	}
	e := l.live()[n-1]
	return e, e != 0 && e.Kind() < Undo
}

// Reset empties the log and begins again at a state, keeping its memory.
func (l *Log) Reset(start State) {
	l.rules, l.start, l.now, l.pending, l.rare = l.first, start, start, nil, false
	l.entries, l.payloads, l.times = l.entries[:0], l.payloads[:0], nil
}
