package audit_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// brief writes findings as code, field and sentence.
func brief(findings []audit.Finding) []string {
	var out []string
	for i := range findings {
		f := &findings[i]
		line := string(f.Code)
		if f.Field != "" {
			line += " " + f.Field
		}
		out = append(out, line+": "+words.English().Say(f.Text()))
	}
	return out
}

// lineOf is the row of the other report that a finding names.
func lineOf(f *audit.Finding) int {
	at, _ := f.Args.Of("at").(words.Text)
	return at.Args.Number("line")
}

// Both sides report (common practice): agreement is worth a note, whatever
// the order of sides and partners; a difference names the field.
func TestTheSameMatchReportedTwice(t *testing.T) {
	first := pairs(t, "L1", "imani", "tomasz", "priya", "lars", "11-8", "7-11", "11-9")
	first.Winner, first.Date, first.Format, first.Round = audit.SideA, "2026-09-12", "sideout-doubles-11-of3", "1"
	tests := []struct {
		name   string
		change func(m *audit.ReportedMatch)
		want   []string
	}{
		{"word for word", func(*audit.ReportedMatch) {}, []string{"same-match-agrees: reported twice, and the reports agree (row 1)"}},
		{"partners in another order", func(m *audit.ReportedMatch) { m.Sides[0].Players = [2]string{"tomasz", "imani"} },
			[]string{"same-match-agrees: reported twice, and the reports agree (row 1)"}},
		{"by the other side", func(m *audit.ReportedMatch) {
			m.Sides[0], m.Sides[1] = m.Sides[1], m.Sides[0]
			m.Games = []audit.Score{{8, 11}, {11, 7}, {9, 11}}
			m.Winner = audit.SideB
		}, []string{"same-match-agrees: reported twice, and the reports agree (row 1)"}},
		{"without a winner", func(m *audit.ReportedMatch) { m.Winner = audit.Nobody },
			[]string{"same-match-agrees: reported twice, and the reports agree (row 1)"}},
		{"scores exchanged, sides not", func(m *audit.ReportedMatch) { m.Games = []audit.Score{{8, 11}, {11, 7}, {9, 11}} },
			[]string{"sides-mirrored games: the two reports have their sides exchanged: 11-8 7-11 11-9 and 8-11 11-7 9-11 (row 1)"}},
		{"another score", func(m *audit.ReportedMatch) { m.Games = []audit.Score{{11, 8}, {7, 11}, {11, 6}} },
			[]string{"same-match-differs games: reported twice, and games differs: 11-8 7-11 11-9 / 11-8 7-11 11-6 (row 1)"}},
		{"another winner, status and date", func(m *audit.ReportedMatch) {
			m.Winner, m.Status, m.Date = audit.SideB, audit.Forfeited, "2026-09-13"
		}, []string{"same-match-differs winner: reported twice, and winner differs: A / B (row 1)",
			"same-match-differs status: reported twice, and status differs: played / forfeited (row 1)",
			"same-match-differs date: reported twice, and date differs: 2026-09-12 / 2026-09-13 (row 1)"}},
		{"other people, format and round", func(m *audit.ReportedMatch) {
			m.Sides[1].Players, m.Format, m.Round = [2]string{"priya", "rafael"}, "sideout-doubles-15", "2"
		}, []string{"same-match-differs b: reported twice, and side B differs: lars+priya / priya+rafael (row 1)",
			"same-match-differs format: reported twice, and format differs: sideout-doubles-11-of3 / sideout-doubles-15 (row 1)",
			"same-match-differs round: reported twice, and round differs: 1 / 2 (row 1)"}},
		{"amended under its own id", func(m *audit.ReportedMatch) {
			m.Games, m.Status, m.Of = []audit.Score{{11, 8}, {7, 11}, {11, 6}}, audit.Amended, "L1"
		}, nil},
		{"the same people again in the round, under another id", func(m *audit.ReportedMatch) { m.ID = "L2" },
			[]string{"same-pairing-twice: the same sides meet twice in one round, or on one day (row 1)"}},
		{"amended under another id", func(m *audit.ReportedMatch) { m.ID, m.Status, m.Of = "L2", audit.Amended, "L1" }, nil},
		{"again in another round", func(m *audit.ReportedMatch) { m.ID, m.Round = "L2", "2" }, nil},
		{"again in another event", func(m *audit.ReportedMatch) { m.ID, m.Event = "L2", "winter" }, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var s audit.Season
			require.Empty(t, s.Add(&first, audit.Place{Line: 1}, nil))
			second := first
			second.Games = append([]audit.Score(nil), first.Games...)
			test.change(&second)
			require.Empty(t, cmp.Diff(test.want, brief(s.Add(&second, audit.Place{Line: 2}, nil))))
		})
	}
}

// What was put off is played later, under the same id.
func TestPostponedAndPlayed(t *testing.T) {
	var s audit.Season
	put, played := singles(t, "L1", "imani", "priya"), singles(t, "L1", "imani", "priya", "11-8")
	put.Status, put.Date, played.Date = audit.Postponed, "2026-09-12", "2026-09-26"
	require.Empty(t, s.Add(&put, audit.Place{Line: 1}, nil))
	require.Empty(t, s.Add(&played, audit.Place{Line: 2}, nil))
	again := played
	again.Games = []audit.Score{{11, 9}}
	require.Equal(t, []string{"same-match-differs games: reported twice, and games differs: 11-8 / 11-9 (row 2)"}, brief(s.Add(&again, audit.Place{Line: 3}, nil)))
}

// Identity is by id. Names that are almost alike are pointed out once, and
// never merged.
func TestNearNames(t *testing.T) {
	named := func(id, name string) *audit.ReportedMatch {
		return &audit.ReportedMatch{Sides: [2]audit.Entrant{{Players: [2]string{id}, Names: [2]string{name}}}}
	}
	tests := []struct {
		name   string
		first  *audit.ReportedMatch
		second *audit.ReportedMatch
		want   []string
	}{
		{"the same name, the same id", named("p5", "Mei-Lin Castellanos"), named("p5", "Mei-Lin Castellanos"), nil},
		{"a letter left out", named("p5", "Mei-Lin Castellanos"), named("p9", "Mei-Lin Castelanos"),
			[]string{"name-near: Mei-Lin Castelanos and Mei-Lin Castellanos are spelt almost alike"}},
		{"a letter too many", named("p2", "Tomasz Zielinski"), named("p9", "Tomasz Zielinskii"),
			[]string{"name-near: Tomasz Zielinskii and Tomasz Zielinski are spelt almost alike"}},
		{"another letter", named("p1", "Imani Okafor"), named("p9", "Imani Okafur"),
			[]string{"name-near: Imani Okafur and Imani Okafor are spelt almost alike"}},
		{"two letters exchanged", named("p1", "Imani Okafor"), named("p9", "Imani Okaofr"),
			[]string{"name-near: Imani Okaofr and Imani Okafor are spelt almost alike"}},
		{"an accent", named("p2", "Tomasz Zieliński"), named("p9", "Tomasz Zielinski"),
			[]string{"name-near: Tomasz Zielinski and Tomasz Zieliński are spelt almost alike"}},
		{"case, hyphen and full stop do not matter, two ids do", named("p5", "Mei-Lin Castellanos"), named("p9", "mei lin  CASTELLANOS."),
			[]string{"name-two-ids: mei lin  CASTELLANOS. has two ids: p5, p9"}},
		{"two people", named("p3", "Priya Raman"), named("p4", "Lars Nyberg"), nil},
		{"short names are not compared", named("p1", "Al"), named("p2", "Ai"), nil},
		{"no names", named("p1", ""), named("p2", ""), nil},
		{"bytes that are no text", named("p1", "\xff\xfeabcdef\xc3"), named("p2", "\xff\xfeabcdef\xc3\x28"),
			[]string{"name-near: \xff\xfeabcdef\xc3( and \xff\xfeabcdef\xc3 are spelt almost alike"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var s audit.Season
			require.Empty(t, s.Add(test.first, audit.Place{}, nil))
			require.Empty(t, cmp.Diff(test.want, brief(s.Add(test.second, audit.Place{}, nil))))
			again := *test.second
			require.Empty(t, s.Add(&again, audit.Place{}, nil), "pointed out once")

			// They stay two lines of a table.
			a, b := *test.first, *test.second
			a.ID, b.ID, a.Winner, b.Winner = "a", "b", audit.SideA, audit.SideA
			ids := map[string]bool{}
			for _, line := range mustTable(t, audit.RoundRobin(format.RulingsOf(format.Default)), []audit.ReportedMatch{a, b}) {
				ids[line.ID] = true
			}
			require.True(t, ids[test.first.Sides[0].Players[0]] && ids[test.second.Sides[0].Players[0]])
		})
	}
}

// What is remembered is bounded: the oldest match is forgotten first, and
// that is said once.
func TestSeasonForgets(t *testing.T) {
	s := audit.Season{Most: 3}
	add := func(i int) []string {
		m := singles(t, fmt.Sprint("m", i), fmt.Sprint("a", i), fmt.Sprint("b", i), "11-2")
		m.Round = "1"
		return brief(s.Add(&m, audit.Place{Line: i}, nil))
	}
	for i := 1; i <= 3; i++ {
		require.Empty(t, add(i))
	}
	require.Equal(t, []string{"index-full: only the latest 3 matches are compared with each other"}, add(4))
	require.Empty(t, add(5), "said once")
	require.Equal(t, []string{"same-match-agrees: reported twice, and the reports agree (row 4)"}, add(4))
	require.Empty(t, add(1), "forgotten, with the slot of its round")
}

// However many matches there were, the latest are the ones that are known.
func TestSeasonKnowsTheLatest(t *testing.T) {
	for most := 1; most <= 5; most++ {
		for last := 1; last <= 14; last++ {
			s := audit.Season{Most: most}
			add := func(i int) bool {
				m := singles(t, fmt.Sprint("m", i), fmt.Sprint("a", i), "b", "11-2")
				return audit.Has(s.Add(&m, audit.Place{Line: i}, nil), "same-match-agrees")
			}
			for i := 1; i <= last; i++ {
				require.False(t, add(i))
			}
			for i := max(1, last-most+1); i <= last; i++ {
				require.True(t, add(i), "%d of %d, most %d", i, last, most)
			}
			if last > most {
				require.False(t, add(last-most), "%d, most %d", last, most)
			}
		}
	}
}

// One name under ever new ids costs neither memory nor time without end.
func TestOneNameUnderManyIDs(t *testing.T) {
	s := audit.Season{Most: 10}
	noticed := 0
	for i := range 200_000 {
		m := audit.ReportedMatch{Sides: [2]audit.Entrant{{Players: [2]string{fmt.Sprint("p", i)}, Names: [2]string{"Imani Okafor"}}}}
		if found := s.Add(&m, audit.Place{}, nil); audit.Has(found, "name-two-ids") {
			noticed++
		}
	}
	require.Equal(t, 7, noticed, "said often enough")
}

// Ids of any length are told apart, though only their beginning is kept.
func TestLongIDs(t *testing.T) {
	long := strings.Repeat("x", 100_000)
	var s audit.Season
	a, b, c := singles(t, long+"1", long+"a", "b", "11-2"), singles(t, long+"2", long+"a", "b", "11-2"), singles(t, long+"1", long+"c", "b", "11-2")
	require.Empty(t, s.Add(&a, audit.Place{Line: 1}, nil))
	require.Empty(t, s.Add(&b, audit.Place{Line: 2}, nil), "another id")
	found := s.Add(&c, audit.Place{Line: 3}, nil)
	require.Len(t, found, 1)
	require.Equal(t, []any{audit.FindingCode("same-match-differs"), "a", 1}, []any{found[0].Code, found[0].Field, lineOf(&found[0])})
	require.Less(t, len(found[0].Args.Plain("later")), 1000)
}

// Clubs number their matches alike: an id is its own within its file and event.
func TestIDsBelongToTheirFileAndEvent(t *testing.T) {
	var s audit.Season
	for file := range 20 {
		for n := 1; n <= 15; n++ {
			m := singles(t, fmt.Sprint(n), fmt.Sprintf("a%d-%d", file, n), fmt.Sprintf("b%d-%d", file, n), "11-8")
			m.Date, m.Round = "2026-09-12", "1"
			require.Empty(t, brief(s.Add(&m, audit.Place{Source: fmt.Sprintf("club%d.csv", file), Line: n}, nil)))
		}
	}
	for _, event := range []string{"MS", "WS"} {
		m := singles(t, "1", event+"1", event+"2", "11-8")
		m.Event = event
		require.Empty(t, brief(s.Add(&m, audit.Place{Source: "all.csv"}, nil)))
	}
}

// Without regard to ids, a match is its day and its sides.
func TestDoubleReportsAreFoundByDayAndSides(t *testing.T) {
	report := func(id, source, round, a, b string, games ...string) (*audit.ReportedMatch, audit.Place) {
		m := singles(t, id, a, b, games...)
		m.Date, m.Round = "2026-09-12", round
		return &m, audit.Place{Source: source, Line: 2}
	}
	for name, c := range map[string]struct {
		id, source, round, a, b string
		games                   []string
		want                    audit.FindingCode
	}{
		"by the other club under its own id":         {"K7", "guests.csv", "", "imani", "priya", []string{"11-8", "11-9"}, "same-match-agrees"},
		"mirrored":                                   {"K7", "guests.csv", "", "priya", "imani", []string{"8-11", "9-11"}, "same-match-agrees"},
		"mirrored, scores not":                       {"K7", "guests.csv", "", "priya", "imani", []string{"11-8", "11-9"}, "sides-mirrored"},
		"with another score":                         {"K7", "guests.csv", "", "imani", "priya", []string{"11-8", "11-7"}, "same-match-differs"},
		"names in capitals":                          {"", "guests.csv", "", "IMANI", "Priya", []string{"11-8", "11-9"}, "same-match-agrees"},
		"twice in one file, without ids":             {"", "home.csv", "", "imani", "priya", []string{"11-8", "11-9"}, "same-pairing-twice"},
		"twice in one file, two ids, one result":     {"K7", "home.csv", "", "imani", "priya", []string{"11-8", "11-9"}, "same-pairing-twice"},
		"two matches of a day under two ids":         {"K7", "home.csv", "", "imani", "priya", []string{"11-8", "11-7"}, audit.NoCode},
		"another round":                              {"K7", "guests.csv", "2", "imani", "priya", []string{"11-8", "11-9"}, audit.NoCode},
		"an accent that another keyboard leaves out": {"", "guests.csv", "", "Imáni", "priya", []string{"11-8", "11-9"}, "same-match-agrees"},
		"the same name in two forms of Unicode":      {"", "guests.csv", "", "Ima\u0301ni", "priya", []string{"11-8", "11-9"}, "same-match-agrees"},
	} {
		t.Run(name, func(t *testing.T) {
			var s audit.Season
			round := ""
			if c.round != "" {
				round = "1"
			}
			id := "H1"
			if c.id == "" {
				id = ""
			}
			m, at := report(id, "home.csv", round, "imani", "priya", "11-8", "11-9")
			require.Empty(t, s.Add(m, at, nil))
			m, at = report(c.id, c.source, c.round, c.a, c.b, c.games...)
			found := s.Add(m, at, nil)
			if c.want == audit.NoCode {
				require.Empty(t, brief(found))
				return
			}
			require.Len(t, found, 1, "%v", brief(found))
			require.Equal(t, c.want, found[0].Code)
		})
	}
}

// Capitals and marks do not change who the partners are, though they change the
// order in which they are written.
func TestPairsReportedByTheOtherClub(t *testing.T) {
	var s audit.Season
	home, away := pairs(t, "H1", "Renée", "Ann", "Bo", "Cy", "11-8", "11-9"), pairs(t, "G7", "Bo", "Cy", "ann", "Rene\u0301e", "8-11", "9-11")
	home.Date, away.Date = "2026-09-12", "2026-09-12"
	require.Empty(t, s.Add(&home, audit.Place{Source: "home.csv", Line: 2}, nil))
	require.Equal(t, []string{"same-match-agrees: reported twice, and the reports agree (home.csv, row 2)"}, brief(s.Add(&away, audit.Place{Source: "guests.csv", Line: 2}, nil)))
}

// A waiver's key is what the match is, not where it stands: it never comes to
// stand for another one.
func TestKeysAreMadeOfContent(t *testing.T) {
	finals, err := audit.NewFinals(rules(t, "sideout-singles-11").Format())
	require.NoError(t, err)
	key := func(m *audit.ReportedMatch, line int) string {
		found := finals.Check(m, audit.Place{Source: "f.csv", Line: line}, nil)
		require.NotEmpty(t, found)
		return found[0].Key()
	}
	ann, zed := singles(t, "", "ann", "bea", "11-10"), singles(t, "", "zed", "yan", "11-10")
	require.Equal(t, key(&ann, 2), key(&ann, 3))
	require.NotEqual(t, key(&ann, 2), key(&zed, 2))
}
