package main

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
)

// dense is the chain of a game, enumerated here anew from the engine and
// solved by dense LU: the second, independent method.
type dense struct {
	n       int
	stay    []float64 // transition matrix, by rows
	won     []float64 // chance that the next rally wins the game for A
	start   int
	scratch *mat.Dense
}

type class struct {
	a, b   int
	side   rally.Side
	number uint8
}

func enumerate(t testing.TB, id string, r explore.Rates) *dense {
	f, err := format.Parse(id)
	require.NoError(t, err)
	f = explore.SingleGame(f, 1)
	rules := rally.MustCompile(f)
	root, _, _ := rules.Apply(rules.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
	classOf := func(s rally.State) class {
		side, _ := s.Serving()
		c := class{s.Score(rally.A), s.Score(rally.B), side, rules.Places(s).Number}
		by := 1
		if f.Last.Order == format.TieBreak {
			by = 2 // its four points in which both sides serve come round again
		}
		for f.Last.Cap == 0 && min(c.a, c.b)-by >= int(f.Last.Target)-1 {
			c.a, c.b = c.a-by, c.b-by
		}
		return c
	}
	ids := map[class]int{classOf(root): 0}
	states := []rally.State{root}
	type edge struct {
		from, to int
		p        float64
	}
	var edges []edge
	won := map[int]float64{}
	for i := 0; i < len(states); i++ {
		side, _ := states[i].Serving()
		for w := rally.A; w <= rally.B; w++ {
			p := r.Serve[side]
			if w != side {
				p = 1 - p
			}
			next, _, refusal := rules.Apply(states[i], rally.RallyTo(w))
			require.Equal(t, rally.NotRefused, refusal)
			if next.Phase() != rally.Playing {
				if w == rally.A {
					won[i] += p
				}
				continue
			}
			c := classOf(next)
			to, seen := ids[c]
			if !seen {
				to = len(states)
				ids[c] = to
				states = append(states, next)
			}
			edges = append(edges, edge{i, to, p})
		}
	}
	d := &dense{n: len(states), stay: make([]float64, len(states)*len(states)), won: make([]float64, len(states))}
	for _, e := range edges {
		d.stay[e.from*d.n+e.to] += e.p
	}
	for i, p := range won {
		d.won[i] = p
	}
	d.scratch = mat.NewDense(d.n, d.n, nil)
	return d
}

// solve returns A's chance, the mean and the variance of the rallies.
func (d *dense) solve(onlyWin bool) (win, mean, variance float64) {
	for i := range d.n {
		for j := range d.n {
			v := -d.stay[i*d.n+j]
			if i == j {
				v++
			}
			d.scratch.Set(i, j, v)
		}
	}
	var lu mat.LU
	lu.Factorize(d.scratch)
	var w mat.VecDense
	_ = lu.SolveVecTo(&w, false, mat.NewVecDense(d.n, d.won))
	if onlyWin {
		return w.AtVec(d.start), 0, 0
	}
	ones := mat.NewVecDense(d.n, nil)
	for i := range d.n {
		ones.SetVec(i, 1)
	}
	var m, v mat.VecDense
	_ = lu.SolveVecTo(&m, false, ones)
	for i := range d.n {
		ones.SetVec(i, 2*m.AtVec(i)-1)
	}
	_ = lu.SolveVecTo(&v, false, ones)
	mean = m.AtVec(d.start)
	return w.AtVec(d.start), mean, v.AtVec(d.start) - mean*mean
}

// TestEliminationAgreesWithDenseLU compares the library's elimination with LU
// of a chain enumerated independently of it.
func TestEliminationAgreesWithDenseLU(t *testing.T) {
	for _, id := range []string{"sideout-doubles-11@2026", "sideout-singles-15", "rally-doubles-11@2025", "rally-singles-15@2026",
		"fixed-doubles-21-leader-and-trailer", "swap-doubles-11", "badminton-doubles-15-of3@badminton-2005",
		"badminton-singles-15-of3", "fixed-doubles-15-each-at-point", "fixed-doubles-21-each-at-point+win-by=1",
		"table-tennis-singles-11", "table-tennis-doubles-11", "table-tennis-singles-21", "tie-break-7", "tie-break-10", "tie-break-doubles-10",
		"beach-doubles-21-of3", "squash-doubles-11"} {
		r := explore.Rates{Serve: [2]float64{0.45, 0.42}}
		f, err := format.Parse(id)
		require.NoError(t, err)
		g, err := explore.NewGameModel(f, 1, explore.Opening{})
		require.NoError(t, err)
		d := enumerate(t, id, r)
		require.Equal(t, d.n, g.States(), id)
		win, mean, variance := d.solve(false)
		got, err := g.Core(r)
		require.NoError(t, err)
		require.InEpsilon(t, win, got.Win, 1e-12, id)
		require.InEpsilon(t, mean, got.Mean, 1e-12, id)
		require.InEpsilon(t, variance, got.Variance, 1e-10, id)
	}
}

// BenchmarkAgainstDenseLU times exact figures of a game to 11 against dense LU
// of the same chain, enumerated beforehand for both.
func BenchmarkAgainstDenseLU(b *testing.B) {
	id, r := "sideout-doubles-11@2026", explore.Rates{Serve: [2]float64{0.45, 0.42}}
	f, err := format.Parse(id)
	require.NoError(b, err)
	g, err := explore.NewGameModel(f, 1, explore.Opening{})
	require.NoError(b, err)
	d := enumerate(b, id, r)
	times := map[string]float64{}
	run := func(name, against string, pass func()) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				pass()
			}
			times[name] = float64(b.Elapsed().Nanoseconds()) / float64(b.N)
			if against != "" {
				b.ReportMetric(times[against]/times[name], "x-faster")
			}
		})
	}
	run("LU-win", "", func() { d.solve(true) })
	run("LU-win-mean-variance", "", func() { d.solve(false) })
	run("win", "LU-win", func() {
		if p, err := g.Win(r); err != nil || math.IsNaN(p) {
			b.Fatal(err)
		}
	})
	run("win-mean-variance", "LU-win-mean-variance", func() {
		if _, err := g.Core(r); err != nil {
			b.Fatal(err)
		}
	})
}
