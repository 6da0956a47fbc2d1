package explore

import (
	"math"
	"sort"
)

// Law is a distribution over whole numbers from 0: entry n is the chance of n.
type Law []float64

// Mean returns the mean of the law.
func (l Law) Mean() float64 {
	sum := 0.0
	for n, p := range l {
		sum += float64(n) * p
	}
	return sum
}

// Variance returns the variance of the law.
func (l Law) Variance() float64 {
	mean, sum := l.Mean(), 0.0
	for n, p := range l {
		d := float64(n) - mean
		sum += d * d * p
	}
	return sum
}

// Quantile returns the least n with a chance of at least p of being reached.
func (l Law) Quantile(p float64) int {
	sum := 0.0
	for n, q := range l {
		if sum += q; sum >= p {
			return n
		}
	}
	return len(l) - 1
}

// Mode returns the most likely value and its chance.
func (l Law) Mode() (int, float64) {
	at := 0
	for n, p := range l {
		if p > l[at] {
			at = n
		}
	}
	if len(l) == 0 {
		return 0, 0
	}
	return at, l[at]
}

// Beyond returns the chance of more than n.
func (l Law) Beyond(n int) float64 {
	sum := 0.0
	for k := len(l) - 1; k > n && k >= 0; k-- {
		sum += l[k]
	}
	return sum
}

// plus returns the law of a sum of two independent numbers.
func (l Law) plus(m Law) Law {
	if len(l) == 0 || len(m) == 0 {
		return nil
	}
	out := make(Law, len(l)+len(m)-1)
	for i, p := range l {
		if p == 0 {
			continue
		}
		row := out[i : i+len(m)]
		for j, q := range m {
			row[j] += p * q
		}
	}
	return out
}

// add adds w times a law to l.
func (l Law) add(m Law, w float64) Law {
	for len(l) < len(m) {
		l = append(l, 0)
	}
	for n, p := range m {
		l[n] += w * p
	}
	return l
}

const (
	// tail is the chance that a computed law may leave out.
	tail = 1e-15
	// mostRallies bounds the length that a law is followed to.
	mostRallies = 1 << 17
)

// Length is the law of the rallies of a game, by who wins it. What it leaves
// out is below 1e-15.
type Length struct {
	All Law    // whoever wins
	By  [2]Law // games that A, B wins: the chances sum to those of winning
}

// Length returns the law of the rallies of the game. A game that could not be
// followed to its end within 131072 rallies is a [*SizeError].
func (g *GameModel) Length(r Rates) (Length, error) {
	c, o, err := g.at(r)
	if err != nil {
		return Length{}, err
	}
	return c.lengthLaw(o)
}

func (c *chain) lengthLaw(o *odds) (Length, error) {
	l := c.rounds(o)
	mean, variance := c.length(o, l)
	if far := mean[c.start] + 40*math.Sqrt(variance[c.start]); far > mostRallies {
		return Length{}, &SizeError{"rallies of a game", uint64(far), mostRallies}
	}
	var out Length
	x, y := make([]float64, c.size()), make([]float64, c.size())
	x[c.start] = 1
	low, high := c.start, c.start // nodes that may hold any chance
	for {
		clear(y)
		nextLow, nextHigh := len(x), 0
		left := 0.0
		for n := low; n <= high; n++ {
			p := x[n]
			if p == 0 {
				continue
			}
			left += p
			nd := &c.nodes[n]
			y[nd.up] += p * o.win[nd.who]
			y[nd.down] += p * o.lose[nd.who]
		}
		for j, at := range c.cuts {
			y[at] += y[c.slotAt()+j]
		}
		for n := range c.nodes {
			if y[n] != 0 {
				nextLow, nextHigh = min(nextLow, n), n
			}
		}
		if left < tail || len(out.All) > mostRallies {
			break
		}
		won := [2]float64{}
		if len(out.All) == 0 {
			out.append(won) // no game has no rally
		}
		for i, f := range c.finals {
			won[f.Winner] += y[c.finalAt()+i]
		}
		out.append(won)
		x, y, low, high = y, x, nextLow, nextHigh
		if low > high {
			break
		}
	}
	return out, nil
}

func (l *Length) append(won [2]float64) {
	l.All = append(l.All, won[A]+won[B])
	l.By[A] = append(l.By[A], won[A])
	l.By[B] = append(l.By[B], won[B])
}

// sortFinals puts finals in the order of a table: A's wins by B's points, then
// B's by A's.
func sortFinals(list []FinalChance) {
	sort.Slice(list, func(i, j int) bool {
		p, q := list[i], list[j]
		if p.Winner != q.Winner {
			return p.Winner < q.Winner
		}
		if p.Score[p.Winner.Other()] != q.Score[q.Winner.Other()] {
			return p.Score[p.Winner.Other()] < q.Score[q.Winner.Other()]
		}
		return p.Score[p.Winner] < q.Score[q.Winner]
	})
}
