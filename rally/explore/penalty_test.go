package explore_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
)

// What one point to the opponents costs between equal sides in side-out
// doubles to 11, from elimination by a dense matrix written apart: percentage
// points of the game.
func TestPenaltyPoint(t *testing.T) {
	g := newGame(t, "sideout-doubles-11@2026")
	all, err := g.Penalties(explore.Equal(0.42))
	require.NoError(t, err)
	cost := func(p explore.Position, against rally.Side, removed bool) float64 {
		for _, e := range all {
			if e.Position == p && e.Against == against && e.Removed == removed {
				return 100 * e.Cost()
			}
		}
		require.Fail(t, "no such position", "%v", p)
		return 0
	}
	for _, row := range []struct {
		score  int
		number uint8
		want   float64
	}{{4, 1, 8.4}, {8, 1, 12.5}, {8, 2, 14.3}, {10, 1, 20.3}} {
		got := cost(explore.Position{Score: [2]int{row.score, row.score}, Serving: rally.A, Number: row.number}, rally.A, false)
		require.InDelta(t, row.want, got, 0.05, "%d-%d-%d", row.score, row.score, row.number)
	}
	for _, e := range all {
		require.GreaterOrEqual(t, e.Cost(), 0.0, "%+v", e)
	}
	// At nothing there is no point to remove: both ways are one.
	at := explore.Position{Score: [2]int{0, 3}, Serving: rally.B, Number: 1}
	require.Equal(t, cost(at, rally.A, false), cost(at, rally.A, true))
}

// A rally gives a point or it does not.
func TestRalliesWithoutAPoint(t *testing.T) {
	for _, id := range []string{"sideout-doubles-11@2026", "sideout-singles-11@2026", "badminton-singles-21-of3", "fixed-doubles-21-win-on-serve"} {
		g, err := explore.NewGameModel(changed(id, func(g *format.Game) { g.Cap = g.Target + 4 }), 1, explore.Opening{})
		require.NoError(t, err)
		f, err := g.Figures(serve(0.45, 0.4))
		require.NoError(t, err)
		require.InDelta(t, f.Mean, f.Pointless+f.Points[0]+f.Points[1], 1e-9, id) // with a cap no score is folded
	}
	// Equal sides at side-out: two rallies, of which one scores, for each point at one half.
	f, err := newGame(t, "sideout-doubles-11@2026").Figures(explore.Equal(0.5))
	require.NoError(t, err)
	require.InDelta(t, f.Mean/2, f.Pointless, 1e-9)
	m, err := match(t, "sideout-doubles-11-of3@2026", explore.A).Figures(explore.Equal(0.5))
	require.NoError(t, err)
	require.InDelta(t, m.Mean/2, m.Pointless, 1e-9)
	m, err = match(t, "rally-doubles-11-of3@2026", explore.A).Figures(explore.Equal(0.5))
	require.NoError(t, err)
	require.Zero(t, m.Pointless)
}
