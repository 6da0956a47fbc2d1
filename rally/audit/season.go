package audit

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"github.com/evencourt/evencourt/rally/words"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"
)

func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }

// Season checks matches against each other. It remembers a bounded number of
// matches and names; a Season is not safe for use by several goroutines.
type Season struct {
	// Most is how many matches are compared with each other; the oldest are
	// forgotten first. 0 stands for 30,000.
	Most int

	byID    map[string]report
	bySlot  map[string]int // line by event, round and sides
	order   []string
	slots   []string
	next    int
	full    bool
	names   map[string][]string // ids by name, folded
	near    map[string]string   // name by what is left when a letter is taken out
	nearest map[string]bool     // pairs that were reported
}

// report is what is remembered of a match.
type report struct {
	line   int
	sides  [2]string
	games  string
	winner Who
	status Status
	date   string
	format string
	round  string
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
func (s *Season) Add(m *Match, at Place, out []Finding) []Finding {
	if s.byID == nil {
		s.byID, s.bySlot = map[string]report{}, map[string]int{}
		s.names, s.near, s.nearest = map[string][]string{}, map[string]string{}, map[string]bool{}
	}
	at.Match = m.ID
	out = s.checkNames(m, at, out)
	now, id := reportOf(m, at.Line), shortened(m.ID)
	if id != "" {
		if before, known := s.byID[id]; known && (m.replaces() && m.Of == m.ID || before.status == Postponed) {
			s.byID[id] = now // an amendment, or what was put off, differs on purpose
			return out
		} else if known {
			return compareReports(before, now, at, out)
		}
	}
	slot := ""
	if m.Round != "" && now.sides[0] != "" {
		a, b := now.sides[0], now.sides[1]
		if b < a {
			a, b = b, a
		}
		slot = shortened(m.Event) + "\x00" + now.round + "\x00" + a + "\x00" + b
		if line, known := s.bySlot[slot]; known && m.Status != Amended && m.Status != Resumed && m.Status != Annulled {
			out = append(out, NewFinding(SamePairingTwice, at, words.Count("line", line)))
		}
	}
	return s.remember(id, slot, now, at, out)
}

func (s *Season) remember(id, slot string, now report, at Place, out []Finding) []Finding {
	most := s.Most
	if most <= 0 {
		most = 30_000
	}
	if len(s.order) < most {
		s.order, s.slots = append(s.order, ""), append(s.slots, "")
	} else {
		if !s.full {
			s.full = true
			p := at
			p.Match = ""
			out = append(out, NewFinding(IndexFull, p, words.Count("most", most)))
		}
		delete(s.byID, s.order[s.next])
		delete(s.bySlot, s.slots[s.next])
	}
	i := s.next
	s.next = (s.next + 1) % most
	if i >= len(s.order) {
		i = len(s.order) - 1
	}
	s.order[i], s.slots[i] = "", ""
	if id != "" {
		s.byID[id] = now
		s.order[i] = id
	}
	if slot != "" {
		s.bySlot[slot] = now.line
		s.slots[i] = slot
	}
	return out
}

func reportOf(m *Match, line int) report {
	return report{line: line, sides: [2]string{shortened(EntryID(&m.Sides[0], ByPair)), shortened(EntryID(&m.Sides[1], ByPair))},
		games: GamesText(m.Games), winner: m.Winner, status: m.Status, date: shortened(m.Date), format: shortened(m.Format), round: shortened(m.Round)}
}

// shortened returns a copy of a text for keeping. Of one that is too long to
// be kept it keeps the beginning and a sum of the whole, which tells it from
// others as well.
func shortened(text string) string {
	const most, begins = 200, 100
	if len(text) <= most {
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

// compareReports compares two reports of one match field by field. The order
// of a pair and of the two sides is free.
func compareReports(a, b report, at Place, out []Finding) []Finding {
	if a.sides[0] == b.sides[1] && a.sides[1] == b.sides[0] && a.sides[0] != a.sides[1] {
		b.sides[0], b.sides[1] = b.sides[1], b.sides[0]
		b.games = mirroredGames(b.games)
		b.winner = b.winner.Other()
	}
	if a.sides == b.sides && a.games != b.games && a.games == mirroredGames(b.games) {
		at.Field = "games"
		return append(out, NewFinding(SidesMirrored, at, words.Name("games", b.games), words.Name("earlier", a.games), words.Count("line", a.line)))
	}
	differs := false
	for _, f := range []struct{ name, x, y string }{
		{"a", a.sides[0], b.sides[0]}, {"b", a.sides[1], b.sides[1]}, {"games", a.games, b.games},
		{"winner", a.winner.String(), b.winner.String()}, {"status", a.status.String(), b.status.String()},
		{"date", a.date, b.date}, {"format", a.format, b.format}, {"round", a.round, b.round},
	} {
		if f.x == f.y || f.name == "winner" && (f.x == "" || f.y == "") {
			continue
		}
		differs = true
		p := at
		p.Field = f.name
		out = append(out, NewFinding(SameMatchDiffers, p, words.Word("field", words.Code("field."+f.name)), words.Name("earlier", f.x), words.Name("later", f.y), words.Count("line", a.line)))
	}
	if !differs {
		out = append(out, NewFinding(SameMatchAgrees, at, words.Count("line", a.line)))
	}
	return out
}

// checkNames notices names that are almost alike and names with two ids.
func (s *Season) checkNames(m *Match, at Place, out []Finding) []Finding {
	for i := range m.Sides {
		for k, name := range m.Sides[i].Names {
			if name != "" {
				out = s.checkName(name, m.Sides[i].Players[k], at, out)
			}
		}
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
			out = append(out, NewFinding(NameTwoIDs, at, words.Name("name", strings.Clone(name)), words.Name("first", ids[0]), words.Name("second", id)))
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
				out = append(out, NewFinding(NameNear, at, words.Name("name", strings.Clone(name)), words.Name("other", other)))
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
