package audit

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"hash/maphash"
	"maps"
	"math/bits"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/evencourt/evencourt/rally/audit/internal/letters"
	"github.com/evencourt/evencourt/rally/words"
)

func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }

// Season checks matches against each other. It remembers a bounded number of
// matches and names; a Season is not safe for use by several goroutines.
//
// The id of a match is its own within its source and event only: clubs number
// their matches alike. Without regard to ids, two reports of one day and the same
// sides are taken to be of one match, whichever way round, unless their rounds or
// events differ, or one source has both under two ids with two results.
type Season struct {
	// Most is how many matches are compared with each other; the oldest are
	// forgotten first. 0 stands for 30,000.
	Most int

	reports []report // a ring
	added   int      // matches remembered so far, forgotten ones included
	full    bool
	seed    maphash.Seed
	known   index
	scratch []byte

	names   map[string][]string // ids by name, folded
	near    map[string]string   // name by what is left when a letter is taken out
	nearest map[string]bool     // pairs that were reported
}

// What is remembered of names is bounded: how many, how many ids of one (what
// has so many is not a name, and has been reported often enough), and how many
// bytes a name has.
const (
	mostNames   = 5000
	mostIDs     = 8
	longestName = 60
)

// Add checks a match against those before it.
func (s *Season) Add(m *ReportedMatch, at Place, out []Finding) []Finding {
	if s.names == nil {
		s.names, s.near, s.nearest = map[string][]string{}, map[string]string{}, map[string]bool{}
		s.seed = maphash.MakeSeed()
	}
	at.Match = m.ID
	for i := range m.Sides {
		for k, name := range m.Sides[i].Names {
			if name != "" {
				at.About = m.About()
				out = s.checkName(name, m.Sides[i].Players[k], at, out)
			}
		}
	}
	keys := s.keysOf(m, at.Source)
	if before := s.find(byID, keys[byID]); before != nil {
		if m.replaces() && m.Of == m.ID || before.status == Postponed {
			before.set(m, at) // an amendment, or what was put off, differs on purpose
			return out
		}
		at.About = m.About()
		return before.compare(m, at, out)
	}
	if before := s.find(byDay, keys[byDay]); before != nil && before.sameOccasion(m, at.Source) {
		switch {
		case before.status == Postponed:
			before.set(m, at)
			return out
		case !m.replaces() && m.Status != Annulled && before.source == at.Source:
			// One list has the match twice, and both would count.
			at.About = m.About()
			return append(out, NewFinding(samePairingTwice, at, before.place(at.Source)))
		case !m.replaces() && m.Status != Annulled:
			at.About = m.About()
			return before.compare(m, at, out)
		}
	}
	if before := s.find(byRound, keys[byRound]); before != nil && m.Status != Amended && m.Status != Resumed && m.Status != Annulled {
		at.About = m.About()
		out = append(out, NewFinding(samePairingTwice, at, before.place(at.Source)))
	}
	return s.remember(keys, m, at, out)
}

// Finish returns what can only be said when all matches are known: players who
// are in two matches of a round in which nearly everybody plays one, and dates
// far from all others. It looks at the matches that are remembered.
func (s *Season) Finish(out []Finding) []Finding { return s.dates(s.rounds(out)) }

// rounds looks for players in two matches of one round. Where many are, the
// round is no round but a stage, such as a pool.
func (s *Season) rounds(out []Finding) []Finding {
	type round struct {
		players map[string]*report
		twice   []func() Finding
	}
	all := map[string]*round{}
	var order []string
	for i := range s.reports {
		r := &s.reports[i]
		name := r.field(fieldRound)
		if name == "" || r.status == Annulled || r.status == Amended || r.status == Resumed || r.status == Postponed || r.status == NotPlayed || r.status == Bye {
			continue
		}
		key := r.field(fieldEvent) + "\x00" + name
		at := all[key]
		if at == nil {
			at = &round{players: map[string]*report{}}
			all[key] = at
			order = append(order, key)
		}
		for _, f := range []reportField{fieldA, fieldB} {
			for player := range strings.SplitSeq(r.field(f), "+") {
				before := at.players[player]
				if player == "" {
					continue
				}
				if before == nil {
					at.players[player] = r
					continue
				}
				if before.field(fieldA) == r.field(fieldA) && before.field(fieldB) == r.field(fieldB) || before.field(fieldA) == r.field(fieldB) && before.field(fieldB) == r.field(fieldA) {
					continue // the match twice, which has been said
				}
				at.twice = append(at.twice, func() Finding {
					p := Place{Source: r.source, Line: r.line, Match: r.field(fieldID), About: strings.Join([]string{r.field(fieldEvent), name, player}, ",")}
					return NewFinding(playerTwoMatches, p, words.Name("player", player), words.Name("round", name), before.place(r.source))
				})
			}
		}
	}
	for _, key := range order {
		if at := all[key]; len(at.players) >= 8 && len(at.twice) <= max(2, len(at.players)/10) {
			for _, say := range at.twice {
				out = append(out, say())
			}
		}
	}
	return out
}

// A date is far from the others if it is so many days before or after all but a
// twentieth of them, of which there have to be enough.
const (
	farDays   = 120
	fewestDay = 12
)

func (s *Season) dates(out []Finding) []Finding {
	var days []string
	for i := range s.reports {
		if d := s.reports[i].field(fieldDate); d != "" {
			days = append(days, d)
		}
	}
	if len(days) < fewestDay {
		return out
	}
	slices.Sort(days)
	low, high := days[len(days)/20], days[len(days)-1-len(days)/20]
	from, err1 := time.Parse(time.DateOnly, low)
	to, err2 := time.Parse(time.DateOnly, high)
	if err1 != nil || err2 != nil {
		return out
	}
	first, last := from.AddDate(0, 0, -farDays).Format(time.DateOnly), to.AddDate(0, 0, farDays).Format(time.DateOnly)
	for i := range s.reports {
		r := &s.reports[i]
		if d := r.field(fieldDate); d != "" && (d < first || d > last) {
			about := strings.Join([]string{r.field(fieldEvent), r.field(fieldID), d, r.field(fieldA), r.field(fieldB)}, ",")
			p := Place{Source: r.source, Line: r.line, Match: r.field(fieldID), About: about, Field: "date"}
			out = append(out, NewFinding(dateOutside, p, words.Name("date", d), words.Name("first", low), words.Name("last", high)))
		}
	}
	return out
}

// A match is known by its id, its day and its round, as far as it has them.
type keyKind uint8

const (
	byID keyKind = iota
	byDay
	byRound
	keyKinds
)

// keysOf returns the keys of a match; 0 for those it has not.
func (s *Season) keysOf(m *ReportedMatch, source string) (keys [keyKinds]uint64) {
	if m.ID != "" {
		s.scratch = append(append(append(append(append(append(s.scratch[:0], byte(byID)), source...), 0), m.Event...), 0), m.ID...)
		keys[byID] = s.sum(s.scratch)
	}
	if m.Date == "" && m.Round == "" || m.Sides[0].Empty() || m.Sides[1].Empty() {
		return keys
	}
	// The sides in one order, so that mirrored reports meet.
	s.scratch = appendSide(s.scratch[:0], &m.Sides[0])
	n := len(s.scratch)
	s.scratch = appendSide(append(s.scratch, 0), &m.Sides[1])
	a, b := s.scratch[:n], s.scratch[n+1:]
	if bytes.Compare(b, a) < 0 {
		a, b = b, a
	}
	from := len(s.scratch)
	s.scratch = append(append(append(append(s.scratch, a...), 0), b...), 0)
	sides := len(s.scratch)
	if m.Date != "" {
		s.scratch = append(append(s.scratch, byte(byDay)), m.Date...)
		keys[byDay] = s.sum(s.scratch[from:])
	}
	if m.Round != "" {
		s.scratch = append(append(append(append(s.scratch[:sides], byte(byRound)), m.Event...), 0), m.Round...)
		keys[byRound] = s.sum(s.scratch[from:])
	}
	return keys
}

// sum is a key that nobody who writes a file can foresee.
func (s *Season) sum(text []byte) uint64 { return maphash.Bytes(s.seed, text) | 1 }

// appendSide appends what a side is known by: its players in one order, or its
// team. Case and marks do not make another person of somebody who plays the same
// opponents on the same day.
func appendSide(out []byte, e *Entrant) []byte {
	a, b := e.Players[0], e.Players[1]
	switch {
	case a == "" && b == "":
		return appendFolded(out, e.Team)
	case b == "":
		return appendFolded(out, a)
	}
	if b < a {
		a, b = b, a
	}
	return appendFolded(append(appendFolded(out, a), '+'), b)
}

func appendFolded(out []byte, text string) []byte {
	from := len(out)
	for i := range len(text) {
		c := text[i]
		switch {
		case c >= 0x80:
			return append(out[:from], letters.Fold(text)...)
		case c >= 'A' && c <= 'Z':
			c += 'a' - 'A'
		}
		out = append(out, c)
	}
	return out
}

// report is what is remembered of a match. Its texts stand in one buffer, which
// the next report takes over.
type report struct {
	line   int
	source string
	winner MaybeSide
	status Status
	games  []Score
	text   []byte
	ends   [fieldCount]int
	keys   [keyKinds]uint64
}

type reportField uint8

const (
	fieldA reportField = iota
	fieldB
	fieldID
	fieldDate
	fieldFormat
	fieldRound
	fieldEvent
	fieldCount
)

func (r *report) set(m *ReportedMatch, at Place) {
	r.line, r.source, r.winner, r.status, r.text = at.Line, at.Source, m.Winner, m.Status, r.text[:0]
	put := func(f reportField, text string) {
		if len(text) > longestKept {
			text = shortened(text)
		}
		r.text = append(r.text, text...)
		r.ends[f] = len(r.text)
	}
	for s := range m.Sides {
		e := &m.Sides[s]
		if a, b := e.Players[0], e.Players[1]; a != "" && b != "" && len(a)+len(b) < longestKept {
			r.text = append(append(append(r.text, min(a, b)...), '+'), max(a, b)...)
			r.ends[fieldA+reportField(s)] = len(r.text)
			continue
		}
		put(fieldA+reportField(s), entryID(e, ByPair))
	}
	r.games = append(r.games[:0], m.Games...)
	put(fieldID, m.ID)
	put(fieldDate, m.Date)
	put(fieldFormat, m.Format)
	put(fieldRound, m.Round)
	put(fieldEvent, m.Event)
}

func (r *report) field(f reportField) string {
	from := 0
	if f > 0 {
		from = r.ends[f-1]
	}
	return string(r.text[from:r.ends[f]])
}

// place says where the report stands, to a reader of another source or the same.
func (r *report) place(source string) words.Arg {
	if r.source != source {
		return words.Within("at", words.New("place.file", words.Name("file", r.source), words.Count("line", r.line)))
	}
	return words.Within("at", words.New("place.row", words.Count("line", r.line)))
}

// find returns what is remembered under a key; nil if nothing is.
func (s *Season) find(kind keyKind, key uint64) *report {
	x := &s.known
	if key == 0 || len(x.slots) == 0 {
		return nil
	}
	mask := uint32(len(x.slots) - 1)
	for i := uint32(key) & mask; x.slots[i] != (slot{}); i = (i + 1) & mask {
		if x.slots[i].tag != uint32(key>>32) {
			continue
		}
		if n := int(x.slots[i].n); n > s.added-len(s.reports) { // numbers count from 1
			if r := &s.reports[(n-1)%len(s.reports)]; r.keys[kind] == key {
				return r
			}
		}
	}
	return nil
}

func (s *Season) remember(keys [keyKinds]uint64, m *ReportedMatch, at Place, out []Finding) []Finding {
	most := s.Most
	if most <= 0 {
		most = 30_000
	}
	if len(s.reports) < most {
		s.reports = append(s.reports, report{})
	} else if !s.full {
		s.full = true
		p := at
		p.Match, p.About = "", ""
		out = append(out, NewFinding(indexFull, p, words.Count("most", most)))
	}
	r := &s.reports[s.added%most]
	r.set(m, at)
	r.keys = keys
	if s.known.crowded() {
		s.known.clear(len(s.reports))
		for n := max(0, s.added-len(s.reports)+1); n < s.added; n++ {
			s.known.put(s.reports[n%most].keys, n+1)
		}
	}
	s.added++
	s.known.put(keys, s.added)
	return out
}

// index finds matches by their keys: open addressing, in which what is forgotten
// stays until all of it is swept out. A slot holds half of a key, the report the
// whole of it.
type index struct {
	slots []slot
	used  int
}

type slot struct{ tag, n uint32 } // n counts from 1; 0 where nothing is

func (x *index) crowded() bool { return 2*(x.used+int(keyKinds)) > len(x.slots) }

// clear makes room for so many matches and half as many again.
func (x *index) clear(matches int) {
	size := 1 << bits.Len(uint(3*int(keyKinds)*(matches+1)))
	if len(x.slots) < size {
		x.slots = make([]slot, size)
	} else {
		clear(x.slots)
	}
	x.used = 0
}

// put remembers a match under its keys; of two under one key the later is kept.
func (x *index) put(keys [keyKinds]uint64, n int) {
	mask := uint32(len(x.slots) - 1)
	for _, key := range keys {
		if key == 0 {
			continue
		}
		i := uint32(key) & mask
		for x.slots[i] != (slot{}) {
			i = (i + 1) & mask
		}
		x.used++
		x.slots[i] = slot{uint32(key >> 32), uint32(n)}
	}
}

// sameOccasion reports whether a report of the same day and sides can be one of
// the same match.
func (r *report) sameOccasion(m *ReportedMatch, source string) bool {
	other := func(f reportField, text string) bool {
		mine := r.field(f)
		return mine != "" && text != "" && mine != text
	}
	if other(fieldRound, m.Round) || other(fieldEvent, m.Event) || r.source == source && r.field(fieldEvent) != m.Event {
		return false
	}
	if r.source == source && other(fieldID, m.ID) {
		games, before := GamesText(m.Games), GamesText(r.games)
		return before == games || before == mirroredGames(games)
	}
	return true
}

// longestKept is how many bytes of a text are kept as they are.
const longestKept = 200

// shortened returns a copy of a text for keeping. Of one that is too long to
// be kept it keeps the beginning and a sum of the whole, which tells it from
// others as well.
func shortened(text string) string {
	const begins = 100
	if len(text) <= longestKept {
		return strings.Clone(text)
	}
	sum := sha256.Sum256([]byte(text))
	return text[:begins] + "…" + hex.EncodeToString(sum[:])
}

// mirroredGames exchanges the sides of games as text.
func mirroredGames(text string) string {
	words := strings.Fields(text)
	for i, w := range words {
		if a, b, ok := strings.Cut(w, "-"); ok && a != "" {
			words[i] = b + "-" + a
		}
	}
	return strings.Join(words, " ")
}

// compare compares a report with another one of the same match field by field.
// The order of a pair and of the two sides is free, and what one of them does not
// say is no difference.
func (r *report) compare(m *ReportedMatch, at Place, out []Finding) []Finding {
	a, b, games, winner := shortened(entryID(&m.Sides[0], ByPair)), shortened(entryID(&m.Sides[1], ByPair)), GamesText(m.Games), m.Winner
	alike := func(x, y string) bool { return x == y || letters.Fold(x) == letters.Fold(y) }
	x, y := r.field(fieldA), r.field(fieldB)
	if alike(x, b) && alike(y, a) && !alike(x, y) {
		a, b, games, winner = b, a, mirroredGames(games), winner.Other()
	}
	before := GamesText(r.games)
	if alike(x, a) && alike(y, b) && before != games && before == mirroredGames(games) {
		at.Field = "games"
		return append(out, NewFinding(sidesMirrored, at, words.Name("games", games), words.Name("earlier", before), r.place(at.Source)))
	}
	differs := false
	for _, f := range []struct {
		name, before, now string
		free              bool // may be left out
	}{
		{"a", x, a, false}, {"b", y, b, false}, {"games", before, games, false},
		{"winner", r.winner.String(), winner.String(), true}, {"status", r.status.String(), m.Status.String(), false},
		{"date", r.field(fieldDate), shortened(m.Date), true}, {"format", r.field(fieldFormat), shortened(m.Format), true},
		{"round", r.field(fieldRound), shortened(m.Round), true},
	} {
		if alike(f.before, f.now) || f.free && (f.before == "" || f.now == "") {
			continue
		}
		differs = true
		p := at
		p.Field = f.name
		out = append(out, NewFinding(sameMatchDiffers, p, words.Word("field", words.Code("field."+f.name)), words.Name("earlier", f.before), words.Name("later", f.now), r.place(at.Source)))
	}
	if !differs {
		out = append(out, NewFinding(sameMatchAgrees, at, r.place(at.Source)))
	}
	return out
}

func (s *Season) checkName(name, id string, at Place, out []Finding) []Finding {
	folded := foldName(name)
	if len(folded) > longestName {
		return out
	}
	id = shortened(id)
	ids, known := s.names[folded]
	if id != "" && len(ids) < mostIDs && !slices.Contains(ids, id) {
		if len(ids) > 0 {
			out = append(out, NewFinding(nameTwoIDs, at, words.Name("name", strings.Clone(name)), words.Name("first", ids[0]), words.Name("second", id)))
		}
		if len(s.names) < mostNames || known {
			s.names[strings.Clone(folded)] = append(ids, id)
		}
	}
	if known || len(s.names) >= mostNames || len(folded) < 4 {
		return out
	}
	for _, left := range lettersOut(folded) {
		for _, key := range [...]string{left, folded} {
			if other, ok := s.near[key]; ok && other != name && foldName(other) != folded && !s.nearest[other+"\x00"+name] {
				s.nearest[other+"\x00"+name] = true
				out = append(out, NewFinding(nameNear, at, words.Name("name", strings.Clone(name)), words.Name("other", other)))
			}
		}
	}
	kept := strings.Clone(name)
	s.near[folded] = kept
	for _, left := range lettersOut(folded) {
		s.near[left] = kept
	}
	return out
}

// lettersOut returns what is left of a name when a letter is taken out.
func lettersOut(name string) []string {
	out := make([]string, 0, len(name))
	for i := 0; i < len(name); {
		_, width := utf8.DecodeRuneInString(name[i:])
		out = append(out, name[:i]+name[i+width:])
		i += width
	}
	return out
}

// foldName leaves out what people vary: case, spaces, full stops, hyphens.
func foldName(name string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case ' ', '.', '-', '\'', '’', '\u00a0':
			return -1
		}
		return r
	}, strings.ToLower(name))
}
