package audit

import (
	"bytes"
	"cmp"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/evencourt/evencourt/rally/audit/internal/letters"
	"github.com/evencourt/evencourt/rally/audit/internal/moment"
	"github.com/evencourt/evencourt/rally/words"
)

func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }

// Season checks matches against each other. It remembers a bounded number of
// matches and names; a Season is not safe for use by several goroutines. The zero
// Season is ready for use.
//
// The id of a match is its own within its source and event only: clubs number
// their matches alike. Without regard to ids, two reports of one day and the same
// sides are taken to be of one match, whichever way round, unless their rounds or
// events differ, or one source has both under two ids with two results.
type Season struct {
	// Most is how many matches are compared with each other; the oldest are
	// forgotten first. 0 stands for 30,000.
	Most int

	reports reports
	full    bool // some are forgotten

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
		most := s.Most
		if most <= 0 {
			most = 30_000
		}
		s.reports.begin(most)
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
	keys := s.reports.keysOf(m, at.Source)
	if before, ok := s.reports.latest(byID, keys[byID]); ok {
		if m.replaces() && m.Of == m.ID || before.status == Postponed {
			before.replaced = true // an amendment, or what was put off, differs on purpose
			return s.remember(keys, m, at, out)
		}
		at.About = m.About()
		return before.compare(m, at, out)
	}
	var sameDay, sameRound remembered
	for before := range s.reports.with(bySides, keys[bySides]) {
		if sameDay.report == nil && m.Date != "" && before.has(fieldDate, m.Date) {
			sameDay = before
		}
		if sameRound.report == nil && m.Round != "" && before.has(fieldRound, m.Round) && before.has(fieldEvent, m.Event) {
			sameRound = before
		}
	}
	if before := sameDay; before.report != nil && before.sameOccasion(m, at.Source) {
		switch {
		case before.status == Postponed:
			before.replaced = true
			return s.remember(keys, m, at, out)
		case !m.replaces() && m.Status != Annulled && before.has(fieldSource, at.Source):
			// One list has the match twice, and both would count.
			at.About = m.About()
			return append(out, NewFinding(samePairingTwice, at, before.place(at.Source)))
		case !m.replaces() && m.Status != Annulled:
			at.About = m.About()
			return before.compare(m, at, out)
		}
	}
	if before := sameRound; before.report != nil && m.Status != Amended && m.Status != Resumed && m.Status != Annulled {
		at.About = m.About()
		out = append(out, NewFinding(samePairingTwice, at, before.place(at.Source)))
	}
	return s.remember(keys, m, at, out)
}

// remember keeps a match, and says once that the first are forgotten.
func (s *Season) remember(keys [2]uint64, m *ReportedMatch, at Place, out []Finding) []Finding {
	if len(s.reports.list) == s.reports.most && !s.full {
		s.full = true
		at.Match, at.About = "", ""
		out = append(out, NewFinding(indexFull, at, words.Count("most", s.reports.most)))
	}
	s.reports.remember(keys, m, at)
	return out
}

// Finish returns what can only be said when all matches are known: players who
// are in two matches of a round in which nearly everybody plays one, and dates
// far from all others. It looks at the matches that are remembered.
func (s *Season) Finish(out []Finding) []Finding { return s.dates(s.rounds(out)) }

// mostTwice is how many players in two matches of one round are named.
const mostTwice = 1000

// rounds looks for players in two matches of one round. Where many are, the
// round is no round but a stage, such as a pool.
func (s *Season) rounds(out []Finding) []Finding {
	type again struct {
		player      string
		now, before remembered
	}
	type round struct {
		players map[uint64]int // number of the first report of a player, by the sum of his id
		n       int            // matches of players who had one
		twice   []again        // the first of them
	}
	all := map[uint64]*round{}
	var order []*round
	for r := range s.reports.all() {
		name := r.bytes(fieldRound)
		if len(name) == 0 || r.status == Annulled || r.status == Amended || r.status == Resumed || r.status == Postponed || r.status == NotPlayed || r.status == Bye {
			continue
		}
		key := s.reports.mixed(s.reports.sumBytes(r.bytes(fieldEvent))) + s.reports.sumBytes(name)
		at := all[key]
		if at == nil {
			at = &round{players: map[uint64]int{}}
			all[key] = at
			order = append(order, at)
		}
		for _, f := range []reportField{fieldA, fieldB} {
			for player := range bytes.SplitSeq(r.bytes(f), []byte("+")) {
				if len(player) == 0 {
					continue
				}
				key := s.reports.sumBytes(player)
				first, known := at.players[key]
				if !known {
					at.players[key] = r.number
					continue
				}
				before := s.reports.at(first)
				if before.sameSides(r) {
					continue // the match twice, which has been said
				}
				if at.n++; at.n <= mostTwice {
					at.twice = append(at.twice, again{string(player), r, before})
				}
			}
		}
	}
	for _, at := range order {
		if len(at.players) < 8 || at.n > max(2, len(at.players)/10) {
			continue
		}
		for _, a := range at.twice {
			r := a.now
			p := Place{Source: r.field(fieldSource), Line: r.line, Match: r.field(fieldID), About: strings.Join([]string{r.field(fieldEvent), r.field(fieldRound), a.player}, ",")}
			out = append(out, NewFinding(playerTwoMatches, p, words.Name("player", a.player), words.Name("round", r.field(fieldRound)), a.before.place(p.Source)))
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
	for r := range s.reports.all() {
		if d := r.field(fieldDate); d != "" {
			days = append(days, d)
		}
	}
	if len(days) < fewestDay {
		return out
	}
	slices.Sort(days)
	low, high := days[len(days)/20], days[len(days)-1-len(days)/20]
	from, ok1 := moment.ParseDay(low)
	to, ok2 := moment.ParseDay(high)
	if !ok1 || !ok2 {
		return out
	}
	first, last := moment.DayText(from-farDays), moment.DayText(to+farDays)
	for r := range s.reports.all() {
		if d := r.field(fieldDate); d != "" && (d < first || d > last) {
			about := strings.Join([]string{r.field(fieldEvent), r.field(fieldID), d, r.field(fieldA), r.field(fieldB)}, ",")
			p := Place{Source: r.field(fieldSource), Line: r.line, Match: r.field(fieldID), About: about, Field: "date"}
			out = append(out, NewFinding(dateOutside, p, words.Name("date", d), words.Name("first", low), words.Name("last", high)))
		}
	}
	return out
}

// sameOccasion reports whether a report of the same day and sides can be one of
// the same match.
func (r remembered) sameOccasion(m *ReportedMatch, source string) bool {
	one := r.has(fieldSource, source)
	if r.differs(fieldRound, m.Round) || r.differs(fieldEvent, m.Event) || one && !r.has(fieldEvent, m.Event) {
		return false
	}
	if one && r.differs(fieldID, m.ID) {
		games, before := keptGames(m.Games), GamesText(r.games())
		return before == GamesText(games) || before == GamesText(mirrored(games))
	}
	return true
}

// mirrored exchanges the sides of games.
func mirrored(games []Score) []Score {
	out := make([]Score, len(games))
	for i, g := range games {
		out[i] = g.mirrored()
	}
	return out
}

// alikeSides reports whether two texts name the same side: without regard to
// case, marks and the order of partners.
func alikeSides(x, y string) bool {
	if x == y {
		return true
	}
	folded := func(side string) []string {
		players := strings.Split(side, "+")
		for i, p := range players {
			players[i] = letters.Fold(p)
		}
		slices.Sort(players)
		return players
	}
	return slices.Equal(folded(x), folded(y))
}

// compare compares a report with another one of the same match field by field.
// The order of a pair and of the two sides is free, and what one of them does not
// say is no difference.
func (r remembered) compare(m *ReportedMatch, at Place, out []Finding) []Finding {
	a, b, winner := shortened(entryID(&m.Sides[0], ByPair)), shortened(entryID(&m.Sides[1], ByPair)), m.Winner
	before, games, exchanged := GamesText(r.games()), GamesText(keptGames(m.Games)), GamesText(mirrored(keptGames(m.Games)))
	x, y := r.field(fieldA), r.field(fieldB)
	if alikeSides(x, b) && alikeSides(y, a) && !alikeSides(x, y) {
		a, b, games, exchanged, winner = b, a, exchanged, games, winner.Other()
	}
	if alikeSides(x, a) && alikeSides(y, b) && before != games && before == exchanged {
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
		if alikeSides(f.before, f.now) || f.free && (f.before == "" || f.now == "") {
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
