package main

import (
	"fmt"
	"math"

	"github.com/evencourt/evencourt/rally/explore"
)

// figures say how a match of one format goes. Where it matters who serves
// first, they are averages over both, unless they say otherwise.
type figures struct {
	Format    string  `json:"format"`
	States    int     `json:"states"`           // of a game in play, folded beyond level one short of the target
	Win       float64 `json:"win"`              // chance of the better side
	First     float64 `json:"win_first"`        // the same, serving first
	Second    float64 `json:"win_second"`       // and receiving first
	Tie       float64 `json:"tie,omitempty"`    // chance that nobody wins, where all games are played
	EvenFirst float64 `json:"even_serve_first"` // between equal sides: chance of whoever serves first, less that of the other
	Games     float64 `json:"games"`
	Rallies   lengths `json:"rallies"`
	Pointless float64 `json:"pointless"` // rallies of a match that give nobody a point

	ShutOut [2]float64 `json:"shut_out"` // first game won to nothing by the better side, by the other
	Level   float64    `json:"level"`    // first game comes to level one short of the target

	PerHundred float64 `json:"per_hundred"` // chance of the better side beyond one half, for a hundred rallies
	// Counted is how many rallies would decide as well if they were only
	// counted, Efficiency the same for each rally that is played. Both are 0
	// where sides are equal.
	Counted    float64 `json:"counted"`
	Efficiency float64 `json:"efficiency"`

	Time   duration       `json:"time"`
	Burden explore.Burden `json:"burden"` // of the first game, averaged over who serves first
	// The same with the better side serving first, and receiving first.
	BurdenFirst  explore.Burden `json:"burden_first"`
	BurdenSecond explore.Burden `json:"burden_second"`

	ByEdge  []atEdge           `json:"by_edge"`  // the win curve
	ByShare []atShare          `json:"by_share"` // equal sides, by their share of own serves
	Grid    []explore.Fairness `json:"grid"`     // every pair of shares

	Law explore.Law `json:"law"` // of the rallies: entry n is the chance of n
}

// lengths say how many rallies a match has.
type lengths struct {
	Mean   float64 `json:"mean"`
	Spread float64 `json:"spread"` // standard deviation
	P05    int     `json:"p05"`
	Median int     `json:"median"`
	P95    int     `json:"p95"`
	Mode   int     `json:"mode"`
}

func lengthsOf(l explore.Law) lengths {
	out := lengths{Mean: l.Mean(), Spread: math.Sqrt(l.Variance()), P05: l.Quantile(0.05), Median: l.Quantile(0.5), P95: l.Quantile(0.95)}
	out.Mode, _ = l.Mode()
	return out
}

type atEdge struct {
	Edge float64 `json:"edge"`
	Win  float64 `json:"win"`
}

type atShare struct {
	Share float64 `json:"share"`
	First float64 `json:"serve_first"` // chance of whoever serves first, less that of the other
	Mean  float64 `json:"mean"`        // rallies
}

// edges and evenShares are where the curves of the charts are computed.
var (
	edges      = steps(0, 0.15, 0.01)
	evenShares = steps(0.2, 0.8, 0.02)
)

func steps(from, to, by float64) []float64 {
	var out []float64
	for n := 0; ; n++ {
		x := math.Round((from+float64(n)*by)*1e9) / 1e9
		if x > to+1e-9 {
			return out
		}
		out = append(out, x)
	}
}

// lab computes figures of one format.
type lab struct {
	subject
	match [2]*explore.MatchModel // by who serves first
	game  [2]*explore.GameModel  // first games
}

func newLab(s subject) (*lab, error) {
	l := &lab{subject: s}
	for first := explore.A; first <= explore.B; first++ {
		var err error
		if l.match[first], err = explore.NewMatchModel(s.Format, explore.Opening{First: first}); err != nil {
			return nil, err
		}
		if l.game[first], err = explore.NewGameModel(s.Format, 1, explore.Opening{First: first}); err != nil {
			return nil, err
		}
	}
	return l, nil
}

// ready makes the labs of formats, and sees before any work that a match ends
// at every strength that will be asked for.
func ready(o *options, all []subject) ([]*lab, error) {
	var labs []*lab
	for _, s := range all {
		l, err := newLab(s)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.Name, reason(err))
		}
		rates := []explore.Rates{o.strength.rates(), explore.Equal(o.strength.share())}
		for _, a := range o.shares {
			for _, b := range o.shares {
				rates = append(rates, explore.Rates{Serve: [2]float64{a, b}})
			}
		}
		for _, r := range rates {
			for _, m := range l.match {
				f, err := m.Figures(r)
				if err == nil && longest(f) > mostRallies {
					err = fmt.Errorf("a match may have more than %d rallies", mostRallies)
				}
				if err != nil {
					return nil, fmt.Errorf("%s: sides that win %s and %s of their own serves: %w", s.Name,
						percent(r.Serve[0]), percent(r.Serve[1]), reason(err))
				}
			}
		}
		labs = append(labs, l)
	}
	return labs, nil
}

// half is what a tie is worth to each side.
const half = 0.5

// win returns the chance of A, serving first and receiving first.
func (l *lab) win(r explore.Rates) (first, second, tie float64, err error) {
	var f [2]explore.MatchFigures
	for i, m := range l.match {
		if f[i], err = m.Figures(r); err != nil {
			return 0, 0, 0, err
		}
	}
	return f[0].Win, f[1].Win, (f[0].Tie + f[1].Tie) / 2, nil
}

// even returns what serving first is worth between equal sides, and how long
// a match between them is.
func (l *lab) even(share float64) (atShare, error) {
	f, err := l.match[0].Figures(explore.Equal(share))
	if err != nil {
		return atShare{}, err
	}
	// Whoever serves first has the chance f.Win, the other side the rest.
	return atShare{share, 2*f.Win + f.Tie - 1, f.Mean}, nil
}

// core computes what a table of formats needs.
func (l *lab) core(o *options) (*figures, error) {
	out := &figures{Format: l.Name, States: l.game[0].States()}
	r := o.strength.rates()
	var err error
	if out.First, out.Second, out.Tie, err = l.win(r); err != nil {
		return nil, err
	}
	out.Win = (out.First + out.Second) / 2
	even, err := l.even(o.strength.share())
	if err != nil {
		return nil, err
	}
	out.EvenFirst = even.First
	for i, m := range l.match {
		f, err := m.Figures(r)
		if err != nil {
			return nil, err
		}
		out.Games += f.Games / 2
		out.Pointless += f.Pointless / 2
		length, err := m.Length(r)
		if err != nil {
			return nil, err
		}
		out.Law = mixed(out.Law, length.All)
		g, err := l.game[i].Figures(r)
		if err != nil {
			return nil, err
		}
		for side := range out.ShutOut {
			out.ShutOut[side] += g.ShutOut[side] / 2
		}
		out.Level += g.Level / 2
	}
	out.Rallies = lengthsOf(out.Law)
	out.PerHundred = 100 * (out.Win + out.Tie*half - half) / out.Rallies.Mean
	out.Counted = counted(out.Win+out.Tie*half, o.strength)
	out.Efficiency = out.Counted / out.Rallies.Mean
	out.Time, err = l.duration(o)
	return out, err
}

// mixed adds half of a law to the half of another that is there already.
func mixed(into, l explore.Law) explore.Law {
	for len(into) < len(l) {
		into = append(into, 0)
	}
	for n, p := range l {
		into[n] += p / 2
	}
	return into
}

// counted returns how many rallies, served in turn and only counted, would
// give the better side the same chance, by the normal law of such a count. It
// is nothing where the sides are equal.
func counted(win float64, s strength) float64 {
	e := s.edge()
	if e == 0 || win >= 1 {
		return 0
	}
	z := math.Sqrt2 * math.Erfinv(2*win-1)
	variance := (s.OnServe*(1-s.OnServe) + s.Receiving*(1-s.Receiving)) / 2
	return z * z * variance / (e * e)
}

// whole computes everything about a format; step is called now and then.
func (l *lab) whole(o *options, step func(done, all int)) (*figures, error) {
	out, err := l.core(o)
	if err != nil {
		return nil, err
	}
	if out.BurdenFirst, err = explore.BurdenOf(l.Format, 1, explore.Opening{First: explore.A}, o.strength.rates()); err != nil {
		return nil, err
	}
	if out.BurdenSecond, err = explore.BurdenOf(l.Format, 1, explore.Opening{First: explore.B}, o.strength.rates()); err != nil {
		return nil, err
	}
	out.Burden = explore.MeanBurden(out.BurdenFirst, out.BurdenSecond)
	pairs := len(o.shares) * len(o.shares)
	all := len(edges) + len(evenShares) + pairs
	done := 0
	tick := func() { done++; step(done, all) }
	for _, e := range edges {
		tick()
		s := strengthOf(o.strength.share(), e)
		if !s.possible() {
			continue
		}
		first, second, tie, err := l.win(s.rates())
		if err != nil {
			return nil, err
		}
		out.ByEdge = append(out.ByEdge, atEdge{e, (first+second)/2 + tie*half})
	}
	for _, share := range evenShares {
		tick()
		even, err := l.even(share)
		if err != nil {
			return nil, err
		}
		out.ByShare = append(out.ByShare, even)
	}
	out.Grid, err = explore.Sweep(l.Format, o.shares, func(int, int) { tick() })
	return out, err
}
