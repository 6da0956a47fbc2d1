package explore

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/walk"
)

// winByWalking finds A's chance on the states of the whole match, walked
// through the engine game after game, by going over them until nothing moves:
// it shares neither the joining of games nor the elimination.
func winByWalking(t *testing.T, m *MatchModel, r Rates) float64 {
	rules, err := rally.Compile(m.format)
	require.NoError(t, err)
	root, _, _ := rules.Apply(rules.New(m.open.First), rally.Start(m.open.First, m.open.Starters))
	g, err := walk.Plan{Rules: rules, Root: root, Alphabet: walk.Play()}.Walk()
	require.NoError(t, err)
	o := r.odds(true)
	x := make([]float64, g.Len())
	for moved := 1.0; moved > 1e-16; {
		moved = 0
		for i := g.Len() - 1; i >= 0; i-- {
			s := g.State(i)
			if s.Phase() == rally.Over {
				if _, winner, won := s.Outcome(); won && winner == A {
					x[i] = 1
				}
				continue
			}
			j := i
			if s.EndChangeDue() {
				j = g.Edge(i, letterEnds).To
			}
			who := situationOf(rules.Places(g.State(j)), swaps(g.State(j)))
			side, playing := g.State(j).Serving()
			if !playing { // between games the next rally opens the next game
				next, _ := rules.NextFirst(s)
				st, _ := s.Starters()
				opened, _, _ := rules.Apply(s, rally.Start(next, st))
				who = situationOf(rules.Places(opened), swaps(opened))
				side, _ = opened.Serving()
			}
			y := o.win[who]*x[g.Edge(j, int(side)).To] + o.lose[who]*x[g.Edge(j, int(side.Other())).To]
			moved = math.Max(moved, math.Abs(y-x[i]))
			x[i] = y
		}
	}
	return x[0]
}

func TestMatchFromGamesIsTheMatchChain(t *testing.T) {
	uneven := [4][4]float64{{0, 0, .5, .46}, {0, 0, .41, .52}, {.39, .44, 0, 0}, {.55, .48, 0, 0}}
	for _, c := range []struct {
		name, id string
		rates    Rates
	}{
		{"serving side", "sideout-doubles-11-of3@2025", Rates{Serve: [2]float64{0.45, 0.42}}},
		{"best of five", "rally-singles-7-of5@2025", Rates{Serve: [2]float64{0.41, 0.52}}},
		{"the winner serves next", "badminton-doubles-15-of3@badminton-2005", Rates{Serve: [2]float64{0.35, 0.42}}},
		{"server and receiver", "sideout-doubles-11-of3@2026", Rates{Pair: &uneven}},
		{"ends", "rally-doubles-11-of3@2026", Rates{Serve: [2]float64{0.45, 0.5}, End: 0.3}},
		{"ends in a single game", "sideout-singles-11@2026", Rates{Serve: [2]float64{0.45, 0.5}, End: -0.4}},
		{"ends and pairs", "rally-doubles-7-of5@2025", Rates{Pair: &uneven, End: 0.2}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, err := format.Parse(c.id)
			require.NoError(t, err)
			for first := A; first <= B; first++ {
				m, err := NewMatchModel(f, Opening{First: first})
				require.NoError(t, err)
				got, err := m.Figures(c.rates)
				require.NoError(t, err)
				want := winByWalking(t, m, c.rates)
				require.InEpsilon(t, want, got.Win, 1e-12)
				law, err := m.Length(c.rates)
				require.NoError(t, err)
				require.InEpsilon(t, got.Mean, law.All.Mean(), 1e-11)
				require.InEpsilon(t, got.Variance, law.All.Variance(), 1e-10)
			}
		})
	}
}
