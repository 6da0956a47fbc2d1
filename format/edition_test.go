package format

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format/clause"
)

// A later edition is data of clauses.go: a row, the ends of the periods of what
// it changes, and the beginnings of what takes their place. Here one is made up
// that changes two readings and brings a rule of its own.
func TestLaterEditionIsData(t *testing.T) {
	before, rows, facts, days := RulingsOf(E2026), slices.Clone(clauses), slices.Clone(known), slices.Clone(editions)
	afresh := func() { rulingsByEdition.made.Store(nil) }
	t.Cleanup(func() { clauses, known, editions = rows, facts, days; afresh() })
	clauses, known = slices.Clone(rows), slices.Clone(facts)

	later := Edition(len(editions)) // after those of badminton: order is by day, not by number
	editions = append(slices.Clone(days), edition{"later", Pickleball, 20270301})
	clauses[clause.TimeOutBetween].stands[0].to = E2026
	clauses[clause.NoTimeOutBetween].stands[1] = period{later, latest}
	clauses[clause.LateSideAnnulled].stands[0].to = E2026
	clauses[clause.LateSideStands].stands[0] = period{later, latest}
	known[clause.LateSideStands] = []fact{{later, later, "5.C.3", Read, "made up"}}
	known[clause.LateSideAnnulled] = []fact{{E1999, E2026, "", Open, ""}}
	fresh := Clause(len(clauses))
	clauses = append(clauses, clauseRow{"made-up", byReferee, stands{{later, latest}}})
	afresh()

	require.Equal(t, later, Editions(Pickleball)[len(Editions(Pickleball))-1])
	for day, want := range map[[3]int]Edition{{2027, 2, 28}: E2026, {2027, 3, 1}: later, {2031, 1, 1}: later} {
		on, err := EditionOn(Pickleball, day[0], day[1], day[2])
		require.NoError(t, err)
		require.Equal(t, want, on)
	}
	after := RulingsOf(later)
	var changed []Switch
	for _, s := range Switches() {
		if before[s] != after[s] {
			changed = append(changed, s)
		}
	}
	require.Equal(t, []Switch{lateSide, timeOutBetween}, changed)
	require.Equal(t, before, RulingsOf(E2026), "what was before stays as it was")
	require.Equal(t, "no", after.Text(timeOutBetween))

	require.True(t, fresh.In(later))
	require.False(t, fresh.In(E2026))
	source, ok := Origin(later, lateSide)
	require.True(t, ok)
	require.Equal(t, Source{Pickleball, later, "5.C.3", Read, "made up"}, source)
	for _, c := range Clauses() {
		if s, stands := c.Source(later); stands && c.In(E2026) && s.Document == Pickleball {
			require.Empty(t, s.Rule, "%s: no number is inherited", c)
			require.NotContains(t, []Mark{Read, Paraphrase, ParaphraseLow, Memory}, s.Mark, "%s: nobody has read it there", c)
		}
	}
	for _, id := range []string{"sideout-doubles-11-of3@later", "rally-doubles-15@later", "fixed-doubles-21@later+late-side=annulled"} {
		f, err := Parse(id)
		require.NoError(t, err)
		require.Equal(t, id, f.ID())
	}
	f, err := Parse("sideout-doubles-11")
	require.NoError(t, err)
	require.Equal(t, Default, f.Edition, "the default is moved by hand")
}
