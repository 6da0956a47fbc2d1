package format

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format/clause"
)

// A later edition is data: a row, the ends of the periods of what it changes, and
// the beginnings of what takes their place. Here one is made up in memory that
// changes two readings and brings a rule of its own; .ci/later-edition writes one
// into the book and runs all tests.
func TestLaterEditionIsData(t *testing.T) {
	now := Editions(Pickleball)[len(Editions(Pickleball))-1]
	before, rows, facts, days := RulingsOf(now), slices.Clone(clauses), slices.Clone(known), slices.Clone(editions)
	afresh := func() { rulingsByEdition.made.Store(nil) }
	t.Cleanup(func() { clauses, known, editions = rows, facts, days; afresh() })
	clauses, known = slices.Clone(rows), slices.Clone(facts)

	later := Edition(len(editions)) // after those of badminton: order is by day, not by number
	editions = append(slices.Clone(days), edition{"later", Pickleball, 20990301})
	clauses[clause.TimeOutBetween].stands[0].to = now
	clauses[clause.NoTimeOutBetween].stands[1] = period{later, latest}
	clauses[clause.LateSideAnnulled].stands[0].to = now
	clauses[clause.LateSideStands].stands[0] = period{later, latest}
	known[clause.LateSideStands] = []fact{{later, later, "5.C.3", Read, "made up"}}
	known[clause.LateSideAnnulled] = []fact{{E1999, now, "", Open, ""}}
	fresh := Clause(len(clauses))
	clauses = append(clauses, clauseRow{"made-up", byReferee, stands{{later, latest}}})
	afresh()

	require.Equal(t, later, Editions(Pickleball)[len(Editions(Pickleball))-1])
	for day, want := range map[[3]int]Edition{{2099, 2, 28}: now, {2099, 3, 1}: later, {2103, 1, 1}: later} {
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
	require.Equal(t, before, RulingsOf(now), "what was before stays as it was")
	require.Equal(t, "no", after.Text(timeOutBetween))

	require.True(t, fresh.In(later))
	require.False(t, fresh.In(now))
	source, ok := Origin(later, lateSide)
	require.True(t, ok)
	require.Equal(t, Source{Pickleball, later, "5.C.3", Read, "made up"}, source)
	for _, c := range Clauses() {
		if s, stands := c.Source(later); stands && c.In(now) && s.Document == Pickleball {
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
