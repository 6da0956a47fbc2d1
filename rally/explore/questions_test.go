package explore_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
)

func grid(shares ...float64) []explore.Rates {
	var out []explore.Rates
	for _, a := range shares {
		for _, b := range shares {
			out = append(out, serve(a, b))
		}
	}
	return out
}

func TestIncentives(t *testing.T) {
	rates := grid(0.2, 0.35, 0.5, 0.65, 0.8)
	for _, id := range []string{"sideout-doubles-11", "sideout-singles-11", "rally-doubles-11@2025", "rally-doubles-11@2026",
		"fixed-doubles-21-leader-and-trailer", "fixed-doubles-21-both-at-point", "swap-doubles-11", "sideout-doubles-11-of3"} {
		got, err := explore.Incentives(mustParse(id), rates)
		require.NoError(t, err, id)
		require.Greater(t, got.Moments, 10_000)
		for _, i := range got.Found {
			t.Logf("%s: %s by %s helps: %.6f to %.6f at %v after %s", id, i.Act, i.Actor, i.Stay, i.After, i.Rates.Serve, texts(i.Path))
			require.NotEqual(t, rally.Retirement, i.Act.Kind())
			require.Greater(t, i.After, i.Stay)
		}
	}
}

// Where it matters very much who serves and who receives, a point can be worth
// less than the places that go with it: the analysis must find that.
func TestIncentivesAreFound(t *testing.T) {
	// A1 wins nearly every rally that he serves or receives, A2 hardly any.
	var pair [4][4]float64
	for b := rally.B1; b <= rally.B2; b++ {
		pair[rally.A1][b], pair[rally.A2][b] = 0.97, 0.03
		pair[b][rally.A1], pair[b][rally.A2] = 0.03, 0.97
	}
	found := map[rally.Kind]bool{}
	for _, id := range []string{"swap-doubles-11", "sideout-doubles-11", "rally-doubles-11@2026"} {
		got, err := explore.Incentives(mustParse(id), []explore.Rates{{Pair: &pair}})
		require.NoError(t, err)
		for _, i := range got.Found {
			found[i.Act.Kind()] = true
			t.Logf("%s: %s by %s helps: %.6f to %.6f after %s, %s", id, i.Act, i.Actor, i.Stay, i.After, texts(i.Path), i.Line)
			// What is reported is so: the path leads to the line.
			first := rally.A
			if strings.Contains(i.Line, " first=B ") {
				first = rally.B
			}
			r := rally.MustCompile(mustParse(id))
			s, _, _ := r.Apply(r.New(first), rally.Start(first, rally.Starters{rally.A1, rally.B1}))
			for _, e := range i.Path {
				var refusal rally.Refusal
				s, _, refusal = r.Apply(s, e)
				require.Equal(t, rally.NotRefused, refusal)
				if s.EndChangeDue() {
					s, _, _ = r.Apply(s, rally.EventOf(rally.EndsChanged))
				}
			}
			require.Equal(t, i.Line, r.Line(s))
		}
	}
	require.True(t, found[rally.RallyWon] || found[rally.TechnicalFoul], "%v", found)
	require.False(t, found[rally.Retirement])
	require.False(t, found[rally.TimeOut])
}

// The share of ambiguous calls is about nine in ten of the positions of
// side-out doubles (derived by an independent model).
func TestBurden(t *testing.T) {
	b, err := explore.BurdenOf(mustParse("sideout-doubles-11@2026"), 1, explore.Opening{}, explore.Equal(0.5))
	require.NoError(t, err)
	t.Logf("%+v", b)
	require.InDelta(t, 0.9, b.AmbiguousStates, 0.06)
	require.Greater(t, b.Ambiguous, 0.8)
	require.InDelta(t, 1, b.EndChange, 1e-12)
	fig, err := newGame(t, "sideout-doubles-11@2026").Figures(explore.Equal(0.5))
	require.NoError(t, err)
	require.InEpsilon(t, fig.SideOuts, b.SideOuts, 1e-9)
	// By fixed courts nobody moves, and the call tells who serves.
	b, err = explore.BurdenOf(mustParse("fixed-doubles-21-win-on-serve"), 1, explore.Opening{}, explore.Equal(0.5))
	require.NoError(t, err)
	require.Zero(t, b.Moves)
	require.Zero(t, b.Ambiguous)
	require.Equal(t, "freeze: win-on-serve", b.Specials[0].Rule)
	require.Greater(t, b.Specials[0].Binds, b.Specials[0].Games)
	require.Greater(t, b.Specials[0].Games, 0.3)
	require.Greater(t, b.Specials[0].Length, 0.0)
	b, err = explore.BurdenOf(mustParse("badminton-singles-21-of3"), 1, explore.Opening{}, explore.Equal(0.5))
	require.NoError(t, err)
	require.Equal(t, "cap", b.Specials[1].Rule)
	require.InEpsilon(t, 2*0.00012243231212849537, b.Specials[1].Binds, 1e-9, "30-29 either way")
}

func TestWorthOfChoices(t *testing.T) {
	// Without a mid-game change the better end is kept for the whole game. With
	// it, a side is better off to have the better end last: the change comes at 6,
	// when at most half of the points have been played.
	m, err := explore.NewMatchModel(mustParse("sideout-singles-11@2026"), explore.Opening{})
	require.NoError(t, err)
	r := explore.Rates{Serve: [2]float64{0.45, 0.45}, End: 0.3}
	w, err := m.WorthOf(r)
	require.NoError(t, err)
	t.Logf("%+v", w)
	require.Negative(t, w.BetterEnd)
	require.Greater(t, w.MidChange, 2*math.Abs(w.BetterEnd))
	require.Greater(t, w.ServeFirst, 0.0)
	none, err := m.WorthOf(explore.Equal(0.45))
	require.NoError(t, err)
	require.Zero(t, none.BetterEnd)
	require.InEpsilon(t, 2*win(t, newGame(t, "sideout-singles-11"), explore.Equal(0.45))-1, none.ServeFirst, 1e-9)
}

func TestLineups(t *testing.T) {
	pair := [4][4]float64{}
	for s := range 4 {
		for o := range 4 {
			pair[s][o] = 0.42
		}
	}
	even, err := explore.BestLineup(mustParse("sideout-doubles-11@2026"), 1, explore.Opening{}, explore.Rates{Pair: &pair})
	require.NoError(t, err)
	require.Len(t, even.All, 4)
	require.Less(t, even.Worth, 1e-12)
	// With one server in the first turn, it is better that A's strong server has it.
	for o := range 4 {
		pair[rally.A2][o] = 0.52
	}
	strong, err := explore.BestLineup(mustParse("sideout-doubles-11@2026"), 1, explore.Opening{}, explore.Rates{Pair: &pair})
	require.NoError(t, err)
	require.Equal(t, rally.A2, strong.Best.Starters[explore.A])
	require.True(t, strong.Settled)
	require.Greater(t, strong.Worth, 1e-4)
}

func TestSweepAndPositions(t *testing.T) {
	calls := 0
	list, err := explore.Sweep(mustParse("sideout-doubles-11-of3@2026"), []float64{0.4, 0.5}, func(done, all int) { calls++ })
	require.NoError(t, err)
	require.Len(t, list, 4)
	require.Equal(t, 4, calls)
	require.InDelta(t, list[1].Better, list[2].Better, 1e-12, "whichever side is the better")
	require.Greater(t, list[1].Better, 0.5)
	require.InDelta(t, 0.5, list[0].Better, 1e-12)

	g := newGame(t, "sideout-doubles-11@2026")
	all, err := g.Positions(explore.Equal(0.5))
	require.NoError(t, err)
	require.Len(t, all, g.States())
	rallies := 0.0
	for _, p := range all {
		rallies += p.Reached
		require.GreaterOrEqual(t, p.Importance, 0.0)
		q := 0.5*p.IfA + 0.5*p.IfB
		require.InDelta(t, p.Win, q, 1e-12)
	}
	f, err := g.Figures(explore.Equal(0.5))
	require.NoError(t, err)
	require.InEpsilon(t, f.Mean, rallies, 1e-12, "visits are rallies")
	back, err := g.Comeback(explore.A, 0, 10, explore.Equal(0.5))
	require.NoError(t, err)
	other, err := g.Comeback(explore.B, 0, 10, explore.Equal(0.5))
	require.NoError(t, err)
	require.InEpsilon(t, back, other, 1e-9)
	require.Less(t, back, 0.01)
	require.False(t, math.IsNaN(back))
}
