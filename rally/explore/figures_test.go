package explore_test

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/leanovate/gopter"
	"github.com/leanovate/gopter/gen"
	"github.com/leanovate/gopter/prop"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/walk"
)

func serve(pa, pb float64) explore.Rates { return explore.Rates{Serve: [2]float64{pa, pb}} }

// own changes the single game of a named format.
func own(id string, change func(*format.Game)) format.Format {
	f := mustParse(id)
	f.Shape = ""
	change(&f.Game)
	f.Last = f.Game
	return f
}

func game(t testing.TB, f format.Format, first rally.Side) *explore.GameModel {
	t.Helper()
	g, err := explore.NewGameModel(f, 1, explore.Opening{First: first})
	require.NoError(t, err)
	return g
}

func win(t testing.TB, g *explore.GameModel, r explore.Rates) float64 {
	t.Helper()
	p, err := g.Win(r)
	require.NoError(t, err)
	return p
}

// Rationals of an independent model, as literals: they hold where the file of
// check values is absent.
func TestExactRationals(t *testing.T) {
	for _, c := range []struct{ id, p, win, mean string }{
		{"sideout-doubles-11", "1/2", "820159908044849/1640319824218750", "108355838047/3099363912"},
		{"sideout-singles-11", "2/5", "263747588942151619/504403158265495552", "803830288477288247/18014398509481984"},
		{"sideout-singles-11", "3/5", "67996465629230251/125387847039104573", "138964891555373411/4885240793731347"},
		{"sideout-singles-15", "1/2", "20077398281717/38127987424935", "41633263271882/847288609443"},
		{"badminton-singles-21-of3", "1/2", "1/2", "5240385609846681/140737488355328"},
	} {
		if testing.Short() && c.id == "badminton-singles-21-of3" {
			continue
		}
		p := rational(t, c.p)
		got, err := newGame(t, c.id).Exact(p, p)
		require.NoError(t, err)
		require.Equal(t, c.win, got.Win.RatString(), c.id)
		require.Equal(t, c.mean, got.Mean.RatString(), c.id)
		sum := new(big.Rat)
		for _, f := range got.Finals {
			sum.Add(sum, f.Chance)
		}
		require.Equal(t, "1", sum.RatString())
	}
}

// Floats against fractions: relative error at most 1e-13, at uneven and at
// extreme rates, in every kind of game.
func TestFiguresAgainstFractions(t *testing.T) {
	worst := 0.0
	for _, id := range []string{"sideout-doubles-11", "sideout-singles-11", "rally-doubles-11@2025", "rally-singles-7@2026", "half-court-singles-11"} {
		for _, p := range [][2]*big.Rat{{big.NewRat(9, 20), big.NewRat(21, 50)}, {big.NewRat(1, 50), big.NewRat(3, 100)}, {big.NewRat(99, 100), big.NewRat(1, 7)}} {
			g := newGame(t, id)
			want, err := g.Exact(p[0], p[1])
			require.NoError(t, err)
			a, _ := p[0].Float64()
			b, _ := p[1].Float64()
			got, err := g.Figures(serve(a, b))
			require.NoError(t, err)
			check := func(want *big.Rat, got float64, what string) {
				w, _ := want.Float64()
				closely(t, w, got, 1e-13, id+": "+what)
				if w != 0 {
					worst = math.Max(worst, math.Abs(got-w)/w)
				}
			}
			check(want.Win, got.Win, "win")
			check(want.Mean, got.Mean, "mean")
			check(want.Variance, got.Variance, "variance")
			byScore := map[explore.Final]float64{}
			for _, f := range got.Finals {
				byScore[f.Final] = f.Chance
			}
			for _, f := range want.Finals {
				check(f.Chance, byScore[f.Final], "final")
			}
		}
	}
	t.Logf("worst relative error %.1e", worst)
}

func TestPublishedValues(t *testing.T) {
	doubles := newGame(t, "sideout-doubles-11")
	t.Run("first side of doubles to 11 at one half, a web column", func(t *testing.T) {
		require.InDelta(t, 0.499999997522, win(t, doubles, explore.Equal(0.5)), 5e-13)
	})
	t.Run("DeFord and Ethier 2023: 4n^2+10 states, absorbing ones counted", func(t *testing.T) {
		require.Equal(t, 4*11*11+10, doubles.States()+2)
		require.Equal(t, 4*15*15+10, newGame(t, "sideout-doubles-15").States()+2)
	})
	t.Run("DeFord and Ethier 2023: a slight disadvantage to 11, a slight advantage to 15", func(t *testing.T) {
		require.InEpsilon(t, -2.478e-9, win(t, doubles, explore.Equal(0.5))-0.5, 1e-3)
		require.InEpsilon(t, 5.030e-12, win(t, newGame(t, "sideout-doubles-15"), explore.Equal(0.5))-0.5, 1e-3)
	})
	t.Run("Keller 1984: shut-out to 21 after a coin toss", func(t *testing.T) {
		for _, p := range []float64{0.3, 0.5, 0.6, 0.8423047910} {
			sum := 0.0
			for first := rally.A; first <= rally.B; first++ {
				f, err := game(t, mustParse("sideout-singles-21"), first).Figures(serve(p, 1-p))
				require.NoError(t, err)
				sum += f.ShutOut[explore.A] / 2
			}
			closely(t, (1+p)/2*math.Pow(p/(1-p+p*p), 21), sum, 1e-12, "shut-out")
		}
	})
	t.Run("squash: the next point, nrich.maths.org", func(t *testing.T) {
		one := own("sideout-singles-11", func(g *format.Game) { g.Target, g.WinBy, g.ChangeEndsAt = 1, 1, 0 })
		for _, p := range []float64{0.3, 0.5, 0.7} {
			q := 1 - p
			closely(t, p/(1-p*q), win(t, game(t, one, rally.A), serve(p, q)), 1e-14, "serving")
			closely(t, p*p/(1-p*q), win(t, game(t, one, rally.B), serve(p, q)), 1e-14, "receiving")
		}
	})
	t.Run("Bradley University problem 165: 20-19 and serving, to 21 by one", func(t *testing.T) {
		f := own("sideout-singles-21", func(g *format.Game) { g.WinBy = 1 })
		at, err := game(t, f, rally.A).At(explore.Position{Score: [2]int{20, 19}, Serving: rally.A}, explore.Equal(0.5))
		require.NoError(t, err)
		// 2/3 is the chance of the next point, 21-19.
		require.InEpsilon(t, 2.0/3+1.0/3*1.0/3, at.Win, 1e-14)
	})
	t.Run("table tennis to 21 by two, 35 games in a row at 0.58, Cross Validated", func(t *testing.T) {
		g := win(t, newGame(t, "rally-singles-21@2026"), serve(0.58, 0.42))
		require.InDelta(t, 0.00432, math.Pow(g, 35), 5e-6)
	})
	t.Run("volleyball to 25 by two, mean length, perplexus.info", func(t *testing.T) {
		f := own("rally-singles-21@2026", func(g *format.Game) { g.Target, g.ChangeEndsAt = 25, 0 })
		got, err := game(t, f, rally.A).Figures(explore.Equal(0.5))
		require.NoError(t, err)
		require.InDelta(t, 44.73, got.Mean, 5e-3)
		closely(t, float(t, "1573794883263775/35184372088832"), got.Mean, 1e-13, "mean")
	})
	t.Run("level one short of the target, serving and receiving, openvolley", func(t *testing.T) {
		g := newGame(t, "rally-singles-15@2026")
		for _, r := range [][2]float64{{0.4, 0.45}, {0.7, 0.6}, {0.5, 0.5}} {
			x, y := r[0], r[1]
			d := math.Pow(1-(1-x)*(1-y), 2) - x*y*(1-x)*(1-y)
			serving, err := g.At(explore.Position{Score: [2]int{14, 14}, Serving: rally.A}, serve(x, y))
			require.NoError(t, err)
			receiving, err := g.At(explore.Position{Score: [2]int{17, 17}, Serving: rally.B}, serve(x, y))
			require.NoError(t, err)
			closely(t, x*x/d, serving.Win, 1e-13, "serving")
			closely(t, x*(1-y)*(x+y)/d, receiving.Win, 1e-13, "receiving")
		}
		// Lay, Linear Algebra 10.1 and 10.5 (questions); answers derived.
		at, err := g.At(explore.Position{Score: [2]int{14, 14}, Serving: rally.A}, serve(0.7, 0.6))
		require.NoError(t, err)
		require.InEpsilon(t, 245.0/362, at.Win, 1e-13)
		require.InEpsilon(t, 545.0/181, at.Rallies, 1e-13)
		at, err = newGame(t, "sideout-singles-15").At(explore.Position{Score: [2]int{14, 14}, Serving: rally.A}, serve(0.7, 0.6))
		require.NoError(t, err)
		require.InEpsilon(t, 1078.0/1429, at.Win, 1e-13)
		require.InEpsilon(t, 5615.0/1429, at.Rallies, 1e-13)
	})
}

// Identities that the mathematics of these formats has; derived, and checked
// there in exact rationals.
func TestIdentities(t *testing.T) {
	for _, p := range []float64{0.35, 0.5, 0.61} {
		q := 1 - p
		even := explore.Equal(p)
		level := func(id string) explore.PositionFigures {
			at, err := newGame(t, id).At(explore.Position{Score: [2]int{10, 10}, Serving: rally.A}, even)
			require.NoError(t, err)
			return at
		}
		plain, side := level("rally-doubles-11@2026"), level("sideout-singles-11")
		require.InEpsilon(t, 1/(3-2*p), plain.Win, 1e-13, "rally: the server wins")
		require.InEpsilon(t, 2/p, plain.Rallies, 1e-13, "rally: rallies left")
		require.InEpsilon(t, (1+q)/(1+3*q), side.Win, 1e-13, "side-out: the server wins")
		require.InEpsilon(t, 2*(1+q)/p, side.Rallies, 1e-13, "side-out: rallies left")
		// The winning point on serve has the win and mean of plain rally from
		// level on; a freeze those of side-out.
		winning := level("rally-doubles-11@2025")
		require.InEpsilon(t, plain.Win, winning.Win, 1e-13)
		require.InEpsilon(t, plain.Rallies, winning.Rallies, 1e-13)
		for _, freeze := range []format.Freeze{format.EachAtPoint, format.LeaderAndTrailer, format.BothAtPoint} {
			f := own("rally-doubles-11@2026", func(g *format.Game) { g.Freeze = freeze })
			at, err := game(t, f, rally.A).At(explore.Position{Score: [2]int{10, 10}, Serving: rally.A}, even)
			require.NoError(t, err)
			require.InEpsilon(t, side.Win, at.Win, 1e-13, freeze.String())
			require.InEpsilon(t, side.Rallies, at.Rallies, 1e-13, freeze.String())
		}
		singles, err := newGame(t, "sideout-singles-11").Figures(even)
		require.NoError(t, err)
		doubles, err := newGame(t, "sideout-doubles-11").Figures(even)
		require.NoError(t, err)
		require.InEpsilon(t, singles.Level, doubles.Level, 1e-13, "the same chance of 10-10")
		byOne := func(g *format.Game) { g.WinBy = 1 }
		x, err := game(t, own("sideout-singles-11", byOne), rally.A).Length(even)
		require.NoError(t, err)
		y, err := game(t, own("sideout-doubles-11", byOne), rally.A).Length(even)
		require.NoError(t, err)
		for n := range 60 {
			require.InDelta(t, x.All[n], y.All[n], 1e-15, "the same law of length by one")
		}
		twoServers := own("sideout-doubles-11", func(g *format.Game) { g.FirstTurn = 2 })
		z, err := game(t, twoServers, rally.A).Figures(even)
		require.NoError(t, err)
		require.Greater(t, math.Abs(z.Level-singles.Level), 1e-6, "but not with two servers in the first turn")
		// Wald: every point of a side costs 1/p rallies of its serve.
		w, err := game(t, own("sideout-doubles-11", byOne), rally.A).Figures(serve(p, 0.44))
		require.NoError(t, err)
		require.InEpsilon(t, w.Points[0]/p+w.Points[1]/0.44, w.Mean, 1e-12)
		capped, err := newGame(t, "badminton-singles-21-of3").Figures(serve(p, 0.44))
		require.NoError(t, err)
		require.InEpsilon(t, capped.Points[0]+capped.Points[1], capped.Mean, 1e-12)
	}
}

// The three definitions of a freeze differ: rallies of a game to 21 at 2/5
// (derived).
func TestFreezesDiffer(t *testing.T) {
	for freeze, want := range map[format.Freeze]float64{format.WinOnServe: 40.23, format.EachAtPoint: 41.14, format.LeaderAndTrailer: 40.99} {
		f := own("rally-doubles-21@2026", func(g *format.Game) { g.Freeze = freeze })
		got, err := game(t, f, rally.A).Figures(explore.Equal(0.4))
		require.NoError(t, err)
		require.InDelta(t, want, got.Mean, 5e-3, freeze.String())
	}
}

func TestPropertiesOfFigures(t *testing.T) {
	parameters := gopter.DefaultTestParametersWithSeed(20261125)
	parameters.MinSuccessfulTests = 40
	p := gopter.NewProperties(parameters)
	rate := gen.Float64Range(0.02, 0.98)
	for _, id := range namedFormats() {
		f := mustParse(id)
		if f.Match.Games > 1 {
			continue
		}
		first, second := game(t, f, rally.A), game(t, f, rally.B)
		p.Property(id+": finals sum to 1, and A's to its chance", prop.ForAll(func(a, b float64) bool {
			got, err := first.Figures(serve(a, b))
			sum, won := 0.0, 0.0
			for _, x := range got.Finals {
				sum += x.Chance
				if x.Winner == rally.A {
					won += x.Chance
				}
			}
			return err == nil && math.Abs(sum-1) < 1e-12 && math.Abs(won-got.Win) < 1e-12
		}, rate, rate))
		p.Property(id+": swapping the sides swaps the chances", prop.ForAll(func(a, b float64) bool {
			x, err := first.Win(serve(a, b))
			y, err2 := second.Win(serve(b, a))
			return err == nil && err2 == nil && math.Abs(x-(1-y)) < 1e-12
		}, rate, rate))
		p.Property(id+": who wins more rallies wins more games", prop.ForAll(func(a, b, more float64) bool {
			better := a + (1-a)*more
			x, _ := first.Win(serve(a, b))
			y, _ := first.Win(serve(better, b))
			z, _ := first.Win(serve(a, b+(1-b)*more))
			return y >= x-1e-13 && z <= x+1e-13
		}, rate, rate, gen.Float64Range(0, 0.5)))
		p.Property(id+": server and receiver alike give the figures of the side", prop.ForAll(func(a, b float64) bool {
			pair := [4][4]float64{}
			for s := range 4 {
				for o := range 4 {
					pair[s][o] = []float64{a, b}[s/2]
				}
			}
			x, err := first.Figures(serve(a, b))
			y, err2 := first.Figures(explore.Rates{Pair: &pair})
			return err == nil && err2 == nil && math.Abs(x.Win-y.Win) < 1e-12 && math.Abs(x.Mean-y.Mean) < 1e-9 && math.Abs(x.Level-y.Level) < 1e-12
		}, rate, rate))
	}
	p.TestingRun(t)
}

// simulate plays games on the compiled table and returns how many A won and
// the rallies of all.
func simulate(t testing.TB, id string, r explore.Rates, games int, seed uint64) (wins, rallies float64) {
	rules := rally.MustCompile(mustParse(id))
	table, err := walk.NewTable(rules, rally.A, rally.Starters{rally.A1, rally.B1})
	require.NoError(t, err)
	tab, mask := table.Entries()
	threshold := make([]uint64, table.Len())
	for i := range threshold {
		s, _ := table.At(uint32(i) << 2)
		side, _ := s.Serving()
		p := r.Serve[side]
		if side == rally.A {
			p = 1 - p // chance that B wins
		}
		threshold[i] = uint64(p * (1 << 53))
	}
	rng := rand.New(rand.NewPCG(seed, 1))
	s := uint32(0)
	for done := 0; done < games; {
		w := uint32(0)
		if rng.Uint64()>>11 < threshold[s>>2] {
			w = 1
		}
		s = tab[(s|w)&mask]
		rallies++
		if s&walk.Ended != 0 {
			done++
			if s&walk.WonB == 0 {
				wins++
			}
			s = 0
		}
	}
	return wins, rallies
}

// A million games with many seeds against the exact figures. The sum of the
// squared z of all seeds is chi-square; the test fails beyond its 1 in 10,000
// tails on either side, and must fail for figures that are off by one percent.
func TestSimulationAgrees(t *testing.T) {
	seeds, games := 20, 50_000
	if testing.Short() {
		games = 5_000
	}
	for _, id := range []string{"sideout-doubles-11@2026", "rally-doubles-11@2025"} {
		r := serve(0.45, 0.42)
		f, err := newGame(t, id).Figures(r)
		require.NoError(t, err)
		n := float64(games)
		sumWin, sumLength, sumWrong := 0.0, 0.0, 0.0
		for seed := range seeds {
			wins, rallies := simulate(t, id, r, games, uint64(seed))
			sq := func(x float64) float64 { return x * x }
			sumWin += sq(wins-n*f.Win) / (n * f.Win * (1 - f.Win))
			sumLength += sq(rallies-n*f.Mean) / (n * f.Variance)
			sumWrong += sq(wins-n*(f.Win+0.01)) / (n * f.Win * (1 - f.Win))
		}
		// Chi-square of 20: 1e-4 tails at 4.4 and 52.4 (tables).
		require.Greater(t, sumWin, 4.4)
		require.Less(t, sumWin, 52.4, "%s", id)
		require.Greater(t, sumLength, 4.4)
		require.Less(t, sumLength, 52.4, "%s", id)
		if !testing.Short() {
			require.Greater(t, sumWrong, 52.4, "the test cannot fail")
		}
		t.Logf("%s: chi-square of 20: wins %.1f, lengths %.1f, wins with a false figure %.1f", id, sumWin, sumLength, sumWrong)
	}
}

func TestBadInputIsRefusedBeforeWork(t *testing.T) {
	g := newGame(t, "sideout-doubles-11")
	for name, r := range map[string]explore.Rates{
		"above one": serve(1.2, 0.4), "below zero": serve(0.4, -0.1), "not a number": serve(math.NaN(), 0.4), "end": {Serve: [2]float64{0.5, 0.5}, End: math.Inf(1)},
	} {
		_, err := g.Figures(r)
		var input *explore.InputError
		require.ErrorAs(t, err, &input, name)
		require.True(t, strings.ToLower(err.Error()[:1]) == err.Error()[:1])
	}
	_, err := explore.NewGameModel(format.Format{}, 1, explore.Opening{})
	var bad *format.Error
	require.ErrorAs(t, err, &bad)
	_, err = explore.NewGameModel(mustParse("sideout-doubles-11"), 2, explore.Opening{})
	require.ErrorContains(t, err, "no such game")
	_, err = explore.NewGameModel(mustParse("sideout-singles-11"), 1, explore.Opening{Starters: rally.Starters{rally.A2, rally.B1}})
	require.ErrorContains(t, err, "second player")
	_, err = g.Exact(big.NewRat(3, 2), big.NewRat(1, 2))
	require.ErrorContains(t, err, "chance")
	_, err = g.At(explore.Position{Score: [2]int{12, 3}}, explore.Equal(0.5))
	require.ErrorContains(t, err, "cannot come")
	_, err = explore.Sweep(mustParse("sideout-doubles-11"), nil, nil)
	require.Error(t, err)
}

func TestEndlessFormatsAreFoundOut(t *testing.T) {
	var endless *explore.EndlessError
	for name, c := range map[string]struct {
		f format.Format
		r explore.Rates
	}{
		"nobody scores on serve": {mustParse("sideout-doubles-11"), serve(0, 0)},
		"level for ever":         {mustParse("rally-singles-11@2026"), serve(0, 0)},
		"stuck when frozen":      {mustParse("rally-doubles-11@2025"), serve(0, 0)},
	} {
		_, err := game(t, c.f, rally.A).Figures(c.r)
		require.ErrorAs(t, err, &endless, name)
		require.Contains(t, endless.Line, "L2 ", name)
	}
	// One side that always wins its serve finishes, even at 0 for the other.
	p, err := newGame(t, "sideout-doubles-11").Win(serve(1, 0))
	require.NoError(t, err)
	require.Equal(t, 1.0, p)
	// A margin so wide that 255 points are not enough: the engine refuses.
	wide := own("sideout-singles-21", func(g *format.Game) { g.Target, g.WinBy, g.ChangeEndsAt = 200, 120, 0 })
	_, err = explore.NewGameModel(wide, 1, explore.Opening{})
	require.ErrorAs(t, err, &endless)
	require.Contains(t, err.Error(), "most-points")
}
