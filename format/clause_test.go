package format

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format/clause"
)

// The table is data that people edit: what it must hold is checked row by row.
func TestClauseTable(t *testing.T) {
	require.Len(t, clauses, clause.Count, "a row for each constant")
	require.LessOrEqual(t, len(known), clause.Count)
	id, number := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`), regexp.MustCompile(`^[0-9]+([a-z]|\.[A-Z](\.[0-9]+(\.[a-z])?)?|(\.[0-9]+){1,3})?$`)
	seen := map[string]bool{}
	for _, c := range Clauses() {
		row := clauses[c]
		require.Regexp(t, id, row.id)
		require.False(t, seen[row.id], "%s twice", row.id)
		seen[row.id] = true
		require.NotZero(t, row.status, row.id)
		for i, p := range row.stands {
			requirePeriod(t, row.id, p.from, p.to)
			for _, other := range row.stands[:i] {
				require.False(t, p.from != 0 && (other.holds(p.from) || p.holds(other.from)), "%s: periods overlap", row.id)
			}
		}
		if int(c) >= len(known) {
			continue
		}
		for i, f := range known[c] {
			requirePeriod(t, row.id, f.from, f.to)
			require.NotZero(t, f.from, row.id)
			require.NotZero(t, f.mark, row.id)
			if f.number != "" {
				require.Regexp(t, number, f.number, row.id)
				require.NotEqual(t, latest, f.to, "%s: no number belongs to editions to come", row.id)
			}
			for _, e := range everyEdition() {
				if (period{f.from, f.to}).holds(e) {
					require.True(t, c.In(e), "%s: something is known of it in %s, where it does not stand", row.id, e)
				}
			}
			for _, other := range known[c][:i] {
				require.False(t, (period{other.from, other.to}).holds(f.from), "%s: known twice", row.id)
			}
		}
	}
}

// everyEdition lists the editions of all documents.
func everyEdition() (all []Edition) {
	for _, d := range Documents() {
		all = append(all, Editions(d)...)
	}
	return all
}

func requirePeriod(t *testing.T, id string, from, to Edition) {
	t.Helper()
	switch {
	case from == 0:
		require.Zero(t, to, id)
	case from == clubs || from == ours:
		require.Equal(t, latest, to, id)
	default:
		require.True(t, to == latest || !to.Before(from) && to.Document() == from.Document(), id)
	}
}

// Sources are named beside each: the 2019 rulebook, p. 25; submission 1017; the
// 2026 text is known from a summary only; of 2021 only titles were read.
func TestClauseSources(t *testing.T) {
	tests := []struct {
		clause Clause
		in     Edition
		rule   string
		mark   Mark
	}{
		{clause.WindowNextServe, E2019, "4.B.11", Read},
		{clause.OrderReplay, E2024, "4.B.9.a", Read},
		{clause.OrderReplay, E2026, "5.C.1", ParaphraseLow},
		{clause.OrderFault, E2021, "", Derived},
		{clause.LateSideAnnulled, E2026, "", Open},
		{clause.BadmintonGame, Badminton2006, "7", Read},
		{clause.FreezeLeaderTrailer, E2018, "", Read},
		{clause.EntryRepair, Badminton2006, "", CommonPractice},
	}
	for _, test := range tests {
		s, ok := test.clause.Source(test.in)
		require.True(t, ok, test.clause.String())
		require.Equal(t, test.rule, s.Rule, test.clause.String())
		require.Equal(t, test.mark, s.Mark, test.clause.String())
	}
	for c, e := range map[Clause]Edition{clause.OrderReplay: E2023, clause.WindowSheet: E2023Aug, clause.LateSideStands: E2026,
		clause.BadmintonGame: E2026, clause.FixedCourts: Badminton2006, clause.None: E2026, 9999: E2026} {
		_, ok := c.Source(e)
		require.False(t, ok, c.String())
		require.False(t, c.In(e), c.String())
	}
}

// What was read in one summary of low reliability, and nowhere else, is marked so.
func TestOneLowSourceIsMarkedLow(t *testing.T) {
	low := 0
	for _, c := range Clauses() {
		for _, e := range Editions(Pickleball) {
			s, ok := c.Source(e)
			if ok && strings.Contains(s.Text, "low reliability") && !strings.Contains(s.Text, ";") {
				low++
				require.Contains(t, []Mark{ParaphraseLow, Memory, Derived, Open}, s.Mark, "%s in %s: %s", c, e, s.Text)
			}
		}
	}
	require.Greater(t, low, 20)
}

func TestClausesRoundTripAsText(t *testing.T) {
	for _, c := range Clauses() {
		text, err := c.AppendText([]byte("clause "))
		require.NoError(t, err)
		got, err := ClauseNamed(string(text[len("clause "):]))
		require.NoError(t, err)
		require.Equal(t, c, got)
	}
	_, err := ClauseNamed("offside")
	var bad *Error
	require.ErrorAs(t, err, &bad)
	_, err = Clause(clause.None).MarshalText()
	require.ErrorAs(t, err, &bad)
}

// An edition's value is the reading whose clause stands: two can never stand.
func TestOneReadingStandsInEachEdition(t *testing.T) {
	of := map[Clause]Switch{}
	for _, s := range Switches() {
		var all []Clause
		for _, r := range table[s].readings {
			all = append(all, r.clause)
		}
		for _, n := range table[s].numbers {
			all = append(all, n.clause)
		}
		for _, c := range all {
			require.NotZero(t, c, s.String())
			require.Zero(t, of[c], "%s is a reading of two switches", c)
			of[c] = s
		}
		for _, e := range everyEdition() {
			r, stand := RulingsOf(e), Clause(clause.None)
			for _, c := range all {
				if c.In(e) {
					require.Zero(t, stand, "%s: %s and %s both stand in %s", s, stand, c, e)
					stand = c
				}
			}
			if !r.asks(s) {
				stand = clause.None
			}
			require.Equal(t, stand, r.Clause(s), "%s in %s", s, e)
		}
	}
}

// What is marked open is listed with its default, and nothing else is.
func TestOpenPointsAreTheOpenClauses(t *testing.T) {
	listed := map[Clause]bool{}
	for _, p := range OpenPoints() {
		listed[p.Clause] = true
	}
	for _, c := range Clauses() {
		open := int(c) < len(known) && slices.ContainsFunc(known[c], func(f fact) bool { return f.mark == Open })
		require.Equal(t, open, listed[c], c.String())
	}
}

func TestRulingsTakeClauses(t *testing.T) {
	of := map[Clause]Switch{}
	for _, s := range Switches() {
		for _, reading := range table[s].readings {
			require.Zero(t, of[reading.clause], "%s is a reading of two switches", reading.clause)
			of[reading.clause] = s
			var by, named Rulings
			require.True(t, by.Take(reading.clause))
			require.NoError(t, named.SetText(s, reading.name))
			require.Equal(t, named, by)
			for _, other := range table[s].readings {
				require.Equal(t, other == reading, by.Takes(other.clause), "%s where %s stands", other.clause, reading.clause)
			}
		}
		for _, n := range table[s].numbers {
			var by Rulings
			require.False(t, by.Takes(n.clause))
			require.True(t, by.Take(n.clause))
			require.True(t, by.Takes(n.clause))
			require.Equal(t, n.value, by[s])
		}
	}
	r := RulingsOf(E2025)
	for _, none := range []Clause{clause.None, clause.PlacesByScore, Clause(len(clauses))} {
		require.False(t, r.Takes(none))
		require.False(t, r.Take(none))
	}
	require.Equal(t, RulingsOf(E2025), r)
}
