package audit_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
)

// What a match of teams is made of is local, and so are the rules here: four
// doubles, level teams play a singles.
func teamRule(t testing.TB, won audit.Unit) audit.TeamRule {
	f, err := format.Parse("rally-doubles-21")
	require.NoError(t, err)
	finals, err := audit.NewFinals(f)
	require.NoError(t, err)
	return audit.TeamRule{Roles: []string{"women", "men", "mixed-1", "mixed-2"}, TieBreaker: "decider", Won: won, PerPlayer: 2, Finals: finals}
}

func part(t testing.TB, role, a1, a2, b1, b2 string, games ...string) audit.Part {
	return audit.Part{Role: role, ReportedMatch: pairs(t, "t1-"+role, a1, a2, b1, b2, games...)}
}

func TestTeamMatch(t *testing.T) {
	parts := func() []audit.Part {
		return []audit.Part{
			part(t, "women", "a1", "a2", "b1", "b2", "21-15"), part(t, "men", "a3", "a4", "b3", "b4", "12-21"),
			part(t, "mixed-1", "a1", "a3", "b1", "b3", "21-19"), part(t, "mixed-2", "a2", "a4", "b2", "b4", "22-20"),
		}
	}
	level := func() []audit.Part {
		p := parts()
		p[3] = part(t, "mixed-2", "a2", "a4", "b2", "b4", "15-21")
		return p
	}
	decider := part(t, "decider", "a1", "a3", "b1", "b4", "21-11")
	tests := []struct {
		name   string
		won    audit.Unit
		parts  []audit.Part
		change func(m *audit.TeamMatch)
		score  audit.Score
		winner audit.MaybeSide
		want   []string
	}{
		{"by matches", audit.ByMatches, parts(), nil, audit.Score{3, 1}, audit.SideA, nil},
		{"by games", audit.ByGames, parts(), nil, audit.Score{3, 1}, audit.SideA, nil},
		{"by points: one side may win more matches and fewer points", audit.ByPoints, []audit.Part{
			part(t, "women", "a1", "a2", "b1", "b2", "21-19"), part(t, "men", "a3", "a4", "b3", "b4", "0-21"),
			part(t, "mixed-1", "a1", "a3", "b1", "b3", "21-19"), part(t, "mixed-2", "a2", "a4", "b2", "b4", "21-19"),
		}, nil, audit.Score{63, 78}, audit.SideB, nil},
		{"level, and the tie-breaker decides, which is no part too many for a1 and a3", audit.ByMatches, append(level(), decider), nil, audit.Score{2, 2}, audit.SideA, nil},
		{"level, and no tie-breaker", audit.ByMatches, level(), nil, audit.Score{2, 2}, audit.Nobody,
			[]string{"tie-breaker-missing: the teams are level at 2-2, and decider is missing"}},
		{"not level, and a tie-breaker", audit.ByMatches, append(parts(), decider), nil, audit.Score{3, 1}, audit.SideA,
			[]string{"tie-breaker-needless: decider was played though the teams were not level (3-1)"}},
		{"a part missing", audit.ByMatches, parts()[:3], nil, audit.Score{2, 1}, audit.SideA,
			[]string{"role-missing: mixed-2 is missing"}},
		{"a part nobody knows", audit.ByMatches, append(parts(), part(t, "exhibition", "a5", "a6", "b5", "b6", "21-3")), nil, audit.Score{4, 1}, audit.SideA,
			[]string{"role-unknown: exhibition is no part of this team match"}},
		{"a part twice", audit.ByMatches, append(parts(), part(t, "men", "a5", "a6", "b5", "b6", "21-3")), nil, audit.Score{4, 1}, audit.SideA,
			[]string{"role-twice: men is given 2 times"}},
		{"a player too often", audit.ByMatches, append(parts()[:3], part(t, "mixed-2", "a1", "a4", "b2", "b4", "22-20")), nil, audit.Score{3, 1}, audit.SideA,
			[]string{"role-player-too-often: player a1 plays 3 parts, 2 are allowed"}},
		{"a part not finished", audit.ByMatches, append(parts()[:3], part(t, "mixed-2", "a2", "a4", "b2", "b4", "20-20")), nil, audit.Score{2, 1}, audit.SideA,
			[]string{"game-level mixed-2: game 1: 20-20 is level, so nobody has won it: probably 22-20 or 20-22", "team-part-unfinished mixed-2: mixed-2 has no winner"}},
		{"an impossible score in a part", audit.ByMatches, append(parts()[:3], part(t, "mixed-2", "a2", "a4", "b2", "b4", "21-20")), nil, audit.Score{3, 1}, audit.SideA,
			[]string{"game-margin mixed-2: game 1: 21-20 lacks the margin of 2: mistyped, unfinished, or an event won by one point: probably 22-20, 21-19 or 21-18"}},
		{"another score than the parts make", audit.ByMatches, parts(), func(m *audit.TeamMatch) { m.Score = &audit.Score{2, 2} }, audit.Score{3, 1}, audit.SideA,
			[]string{"team-score-disagrees score: 2-2 is given, the parts add up to 3-1"}},
		{"another winner than the parts make", audit.ByMatches, parts(), func(m *audit.TeamMatch) { m.Winner = audit.SideB }, audit.Score{3, 1}, audit.SideA,
			[]string{"team-winner-disagrees winner: team B is named the winner, but the parts make it A (3-1)"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			rule := teamRule(t, test.won)
			m := audit.TeamMatch{ID: "t1", Teams: [2]string{"harbour", "lane"}, Parts: test.parts}
			if test.change != nil {
				test.change(&m)
			}
			score, winner, found := rule.Check(&m, audit.Place{}, nil)
			require.Empty(t, cmp.Diff(test.want, brief(found)))
			require.Equal(t, []any{test.score, test.winner}, []any{score, winner})
		})
	}
}

func TestTeamsLevelWithoutATieBreaker(t *testing.T) {
	rule := audit.TeamRule{Roles: []string{"one", "two"}}
	m := audit.TeamMatch{Parts: []audit.Part{part(t, "one", "a", "b", "c", "d", "11-2"), part(t, "two", "a", "b", "c", "d", "2-11")}}
	score, winner, found := rule.Check(&m, audit.Place{}, nil)
	require.Equal(t, []any{audit.Score{1, 1}, audit.Nobody}, []any{score, winner})
	require.Equal(t, []string{"team-undecided: the teams are level at 1-1"}, brief(found))
}
