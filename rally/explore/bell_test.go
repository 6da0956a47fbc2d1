package explore_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
)

// changed is a named format with the fields of its games changed.
func changed(id string, change func(*format.Game)) format.Format {
	f := mustParse(id)
	f.Shape = ""
	change(&f.Game)
	change(&f.Last)
	return f
}

// A game that a bell ends after a few rallies is small enough to play every
// sequence of winners in the engine.
func TestBellAgainstEverySequence(t *testing.T) {
	const share, rallies = 0.45, 10
	for _, id := range []string{"sideout-doubles-11@2026", "rally-doubles-11@2026", "sideout-singles-11@2026"} {
		for _, draw := range []bool{true, false} {
			f := changed(id, func(g *format.Game) { g.Target, g.ChangeEndsAt = 4, 2 })
			rules := rally.MustCompile(f)
			want := explore.BellFigures{}
			var play func(s rally.State, n int, p float64)
			play = func(s rally.State, n int, p float64) {
				if s.EndChangeDue() {
					s, _, _ = rules.Apply(s, rally.EventOf(rally.EndsChanged))
				}
				if s.Phase() != rally.Playing {
					if _, winner, _ := s.Outcome(); winner == rally.A {
						want.Win += p
					}
					return
				}
				a, b := s.Score(rally.A), s.Score(rally.B)
				if n == rallies {
					want.Rung += p
				}
				if n >= rallies {
					switch {
					case a > b:
						want.Win += p
						return
					case a < b:
						return
					case draw:
						want.Level += p
						want.Tie += p
						return
					case n == rallies:
						want.Level += p
					}
				}
				if p < 1e-12 {
					return // the serve going round at a level score
				}
				want.Rallies += p
				side, _ := s.Serving()
				for winner := rally.A; winner <= rally.B; winner++ {
					q := 1 - share
					if winner == side {
						q = share
					}
					next, _, refusal := rules.Apply(s, rally.RallyTo(winner))
					require.Equal(t, rally.NotRefused, refusal)
					play(next, n+1, p*q)
				}
			}
			s, _, _ := rules.Apply(rules.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
			play(s, 0, 1)
			g, err := explore.NewGameModel(f, 1, explore.Opening{})
			require.NoError(t, err)
			// Without a spread the bell rings within the tenth rally.
			got, err := g.Bell(explore.Equal(share), explore.Pace{Rally: 10}, explore.Bell{Seconds: 10*rallies - 5, Draw: draw})
			require.NoError(t, err)
			for name, pair := range map[string][2]float64{"win": {want.Win, got.Win}, "tie": {want.Tie, got.Tie},
				"rung": {want.Rung, got.Rung}, "level": {want.Level, got.Level}, "rallies": {want.Rallies, got.Rallies}} {
				require.InDelta(t, pair[0], pair[1], 1e-8, "%s: %s, draw %v", id, name, draw)
			}
			require.Greater(t, got.Level, 0.01)
		}
	}
}

func TestBellAgainstSimulation(t *testing.T) {
	games := 200_000
	if testing.Short() {
		games = 30_000
	}
	f := mustParse("sideout-doubles-11@2026")
	g, err := explore.NewGameModel(f, 1, explore.Opening{})
	require.NoError(t, err)
	pace := explore.UsualPace()
	r := serve(0.45, 0.40)
	got, err := g.Bell(r, pace, explore.Bell{Seconds: 15 * 60, Draw: true})
	require.NoError(t, err)
	rules := rally.MustCompile(f)
	random := rand.New(rand.NewPCG(3, 5))
	win, tie, rung, rallies := 0, 0, 0, 0
	for range games {
		s, _, _ := rules.Apply(rules.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
		for now := 0.0; s.Phase() == rally.Playing && now < 15*60; rallies++ {
			side, _ := s.Serving()
			if random.Float64() >= r.Serve[side] {
				side = side.Other()
			}
			s, _, _ = rules.Apply(s, rally.RallyTo(side))
			now += pace.Rally + pace.Between + pace.RallySpread*random.NormFloat64()
		}
		a, b := s.Score(rally.A), s.Score(rally.B)
		if s.Phase() == rally.Playing {
			rung++
		}
		switch {
		case a > b:
			win++
		case a == b:
			tie++
		}
	}
	n := float64(games)
	for name, pair := range map[string][2]float64{"win": {float64(win) / n, got.Win}, "tie": {float64(tie) / n, got.Tie}, "rung": {float64(rung) / n, got.Rung}} {
		require.InDelta(t, pair[0], pair[1], 4*math.Sqrt(pair[1]*(1-pair[1])/n), name)
	}
	require.InEpsilon(t, float64(rallies)/n, got.Rallies, 0.005)
	_, err = g.Bell(r, pace, explore.Bell{})
	require.ErrorContains(t, err, "seconds")
	// A bell that never rings changes nothing.
	late, err := g.Bell(r, pace, explore.Bell{Seconds: 24 * 3600})
	require.NoError(t, err)
	fig, err := g.Figures(r)
	require.NoError(t, err)
	require.InDelta(t, fig.Win, late.Win, 1e-9)
	require.InDelta(t, fig.Mean, late.Rallies, 1e-9)
}
