package audit_test

import (
	"math/rand"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/audit"
)

func TestPartialFinals(t *testing.T) {
	s := func(text string) *audit.Score {
		if text == "" {
			return nil
		}
		v := score(t, text)
		return &v
	}
	tests := []struct {
		name        string
		format      string
		won, totals string
		winner      audit.MaybeSide
		want        []string
	}{
		{"only games won", "sideout-doubles-11-of3", "2-1", "", audit.Nobody, []string{"partial-checked: no scores of games are given; checked: games won"}},
		{"games won and the winner", "sideout-doubles-11-of3", "1-2", "", audit.SideB, []string{"partial-checked: no scores of games are given; checked: games won, winner"}},
		{"the winner named lost", "sideout-doubles-11-of3", "1-2", "", audit.SideA, []string{
			"winner-disagrees winner: side A is named the winner, but the games stand 1-2: the winner or the order of the scores is wrong",
			"partial-checked: no scores of games are given; checked: games won, winner"}},
		{"nobody has won two", "sideout-doubles-11-of3", "1-1", "", audit.Nobody, []string{"games-won-impossible won: 1-1 in games is not possible in a match of 3"}},
		{"three of two", "sideout-doubles-11-of3", "3-0", "", audit.Nobody, []string{"games-won-impossible won: 3-0 in games is not possible in a match of 3"}},
		{"two all of three", "sideout-doubles-11-of3", "2-2", "", audit.Nobody, []string{"games-won-impossible won: 2-2 in games is not possible in a match of 3"}},
		{"best of five", "sideout-doubles-11-of5", "3-2", "", audit.Nobody, []string{"partial-checked: no scores of games are given; checked: games won"}},
		{"games won and totals", "sideout-doubles-11-of3", "2-0", "22-12", audit.Nobody, []string{"partial-checked: no scores of games are given; checked: games won, totals"}},
		{"the fewest points of two games won", "sideout-doubles-11-of3", "2-0", "22-0", audit.Nobody, []string{"partial-checked: no scores of games are given; checked: games won, totals"}},
		{"too few for two games won", "sideout-doubles-11-of3", "2-0", "21-0", audit.Nobody, []string{
			"totals-impossible totals: no legal games add up to 21-0 points", "partial-checked: no scores of games are given; checked: games won, totals"}},
		{"23 needs a game to 12, and that needs 10", "sideout-doubles-11-of3", "2-0", "23-9", audit.Nobody, []string{
			"totals-impossible totals: no legal games add up to 23-9 points", "partial-checked: no scores of games are given; checked: games won, totals"}},
		{"the winner of the match may have fewer points", "sideout-doubles-11-of3", "2-1", "22-29", audit.Nobody, []string{"partial-checked: no scores of games are given; checked: games won, totals"}},
		{"only totals and the winner", "sideout-doubles-11-of3", "", "22-12", audit.SideA, []string{"partial-checked: no scores of games are given; checked: totals, winner"}},
		{"only totals: they never decide", "sideout-doubles-11-of3", "", "22-12", audit.Nobody, []string{
			"winner-missing winner: no winner is named, and nothing that is given tells who won", "partial-checked: no scores of games are given; checked: totals"}},
		{"totals of nothing", "sideout-doubles-11-of3", "", "0-0", audit.SideA, []string{
			"totals-impossible totals: no legal games add up to 0-0 points", "partial-checked: no scores of games are given; checked: totals, winner"}},
		{"neither", "sideout-doubles-11-of3", "", "", audit.SideA, []string{"match-empty: no games, no games won and no totals are given"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			m := audit.ReportedMatch{Won: s(test.won), Totals: s(test.totals), Winner: test.winner}
			require.Empty(t, cmp.Diff(test.want, brief(newFinals(t, test.format).Check(&m, audit.Place{}, nil))))
		})
	}
}

// Totals against a search of its own: every sum of legal games, and no other.
func TestTotalsAreThoseOfLegalGames(t *testing.T) {
	for _, id := range []string{"sideout-doubles-11-of3", "badminton-singles-21-of3"} {
		t.Run(id, func(t *testing.T) {
			finals := newFinals(t, id)
			var legal []audit.Score
			for a := range 60 {
				for b := range 60 {
					if s := (audit.Score{a, b}); finals.Game(1, s) == audit.NoCode {
						legal = append(legal, s)
					}
				}
			}
			sums := map[audit.Score]map[audit.Score]bool{{2, 0}: {}, {2, 1}: {}, {0, 2}: {}, {1, 2}: {}}
			var play func(games int, won, sum audit.Score)
			play = func(games int, won, sum audit.Score) {
				if max(won[0], won[1]) == 2 {
					sums[won][sum] = true
					return
				}
				for _, s := range legal {
					w := won
					if s[0] > s[1] {
						w[0]++
					} else {
						w[1]++
					}
					play(games+1, w, audit.Score{sum[0] + s[0], sum[1] + s[1]})
				}
			}
			play(0, audit.Score{}, audit.Score{})
			rng := rand.New(rand.NewSource(1))
			possible := 0
			for range 4000 {
				won := []audit.Score{{2, 0}, {2, 1}, {0, 2}, {1, 2}}[rng.Intn(4)]
				sum := audit.Score{rng.Intn(45), rng.Intn(45)}
				found := finals.Check(&audit.ReportedMatch{Won: &won, Totals: &sum}, audit.Place{}, nil)
				require.Equal(t, !sums[won][sum], audit.Has(found, "totals-impossible"), "%v in games, %v points", won, sum)
				if sums[won][sum] {
					possible++
				}
			}
			t.Logf("%d of 4000 possible", possible)
			require.Greater(t, possible, 100)
		})
	}
}

// Where the last game has another target, who wins it tells in the totals.
func TestTotalsWithAnotherLastGame(t *testing.T) {
	finals, err := audit.NewFinalsOf(audit.Scoring{Target: 11, WinBy: 2, Games: 3, Last: &audit.GameEnd{Target: 15, WinBy: 2}})
	require.NoError(t, err)
	for text, possible := range map[string]bool{
		"26-11": true,  // 11-0, 0-11, 15-0
		"22-15": false, // the loser cannot have won the game to 15
		"15-22": false,
	} {
		sum := score(t, text)
		found := finals.Check(&audit.ReportedMatch{Won: &audit.Score{2, 1}, Totals: &sum}, audit.Place{}, nil)
		require.Equal(t, possible, !audit.Has(found, "totals-impossible"), text)
	}
}
