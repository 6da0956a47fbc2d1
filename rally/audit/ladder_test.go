package audit_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/audit"
)

// How a ladder moves is common practice and differs from club to club, so it
// is data: the winner takes the loser's place and those between move down, or
// the two exchange places; how far up one may challenge.
func TestLadderMoves(t *testing.T) {
	before := audit.Ladder{"a", "b", "c", "d", "e"}
	beat := func(winner, loser string) audit.ReportedMatch { return singles(t, "m", winner, loser, "11-9") }
	with := func(m audit.ReportedMatch, s audit.Status) audit.ReportedMatch {
		m.Status = s
		return m
	}
	retired := with(singles(t, "m", "a", "d", "10-2"), audit.Retired)
	retired.By = audit.SideA
	tests := []struct {
		name  string
		rules audit.LadderRules
		match audit.ReportedMatch
		want  audit.Ladder
		from  int
		to    int
		why   string
	}{
		{"the lower won: he takes the place", audit.LadderRules{}, beat("d", "b"), audit.Ladder{"a", "d", "b", "c", "e"}, 4, 2, "took-place"},
		{"neighbours", audit.LadderRules{}, beat("b", "a"), audit.Ladder{"b", "a", "c", "d", "e"}, 2, 1, "took-place"},
		{"the last beats the first", audit.LadderRules{}, beat("e", "a"), audit.Ladder{"e", "a", "b", "c", "d"}, 5, 1, "took-place"},
		{"places exchanged", audit.LadderRules{Swap: true}, beat("d", "b"), audit.Ladder{"a", "d", "c", "b", "e"}, 4, 2, "swapped"},
		{"the higher won", audit.LadderRules{}, beat("b", "d"), before, 2, 2, "higher-won"},
		{"within reach", audit.LadderRules{Reach: 2}, beat("d", "b"), audit.Ladder{"a", "d", "b", "c", "e"}, 4, 2, "took-place"},
		{"out of reach", audit.LadderRules{Reach: 1}, beat("d", "b"), before, 4, 4, "out-of-reach"},
		{"not on the ladder", audit.LadderRules{}, beat("x", "b"), before, 0, 0, "not-on-ladder"},
		{"the loser is not on it", audit.LadderRules{}, beat("b", "x"), before, 2, 2, "not-on-ladder"},
		{"nobody won", audit.LadderRules{}, singles(t, "m", "d", "b", "11-9", "9-11"), before, 0, 0, "no-winner"},
		{"annulled", audit.LadderRules{}, with(beat("d", "b"), audit.Annulled), before, 0, 0, "not-counted"},
		{"postponed", audit.LadderRules{}, with(beat("d", "b"), audit.Postponed), before, 0, 0, "not-counted"},
		{"the higher retired", audit.LadderRules{}, retired, audit.Ladder{"d", "a", "b", "c", "e"}, 4, 1, "took-place"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			given := append(audit.Ladder(nil), before...)
			got, move := given.Apply(test.rules, &test.match)
			require.Empty(t, cmp.Diff(test.want, got))
			require.Equal(t, audit.Ladder{"a", "b", "c", "d", "e"}, given, "the ladder given is left as it is")
			require.Equal(t, []any{test.from, test.to, test.why}, []any{move.From, move.To, move.Why})
			if move.To > 0 && move.Why != "not-on-ladder" {
				require.Equal(t, move.Winner, got[move.To-1])
			}
		})
	}
}

func TestLadderOfPairs(t *testing.T) {
	m := pairs(t, "m", "tomasz", "imani", "priya", "lars", "11-8", "11-4")
	got, move := audit.Ladder{"lars+priya", "imani+tomasz"}.Apply(audit.LadderRules{By: audit.ByPlayer}, &m)
	require.Equal(t, audit.Ladder{"imani+tomasz", "lars+priya"}, got, "pairs move, not players")
	require.Equal(t, "took-place", move.Why)
}
