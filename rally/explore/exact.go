package explore

import "math/big"

// Exact are figures of a game as fractions.
type Exact struct {
	Win      *big.Rat
	Mean     *big.Rat
	Variance *big.Rat
	ShutOut  [2]*big.Rat
	Finals   []ExactFinal
}

// ExactFinal is a final with its chance.
type ExactFinal struct {
	Final
	Chance *big.Rat
}

// mostExactStates and mostExactBits bound the work of exact figures: fractions
// grow with the length of the game and with the digits of the rates.
const (
	mostExactStates = 1000
	mostExactBits   = 64
)

// Exact returns figures of the game as fractions, for rates that are fractions:
// the chance of A and of B to win a rally on own serve. Games of more than a
// thousand states are a [*SizeError]. It is slow, and shares neither arithmetic
// nor the solution of the endgame with [GameModel.Figures].
func (g *GameModel) Exact(serveA, serveB *big.Rat) (Exact, error) {
	c := g.plain
	if len(c.nodes) > mostExactStates {
		return Exact{}, &SizeError{"states for exact figures", uint64(len(c.nodes)), mostExactStates}
	}
	var win, lose [2]*big.Rat
	for s, p := range []*big.Rat{serveA, serveB} {
		switch {
		case p == nil || p.Sign() < 0 || p.Cmp(one) > 0:
			return Exact{}, &InputError{"serve[" + string(rune('0'+s)) + "]", "must be a chance from 0 to 1"}
		case p.Num().BitLen() > mostExactBits || p.Denom().BitLen() > mostExactBits:
			return Exact{}, &InputError{"serve[" + string(rune('0'+s)) + "]", "must be a fraction of 64-bit numbers"}
		}
		win[s], lose[s] = p, new(big.Rat).Sub(one, p)
	}
	approx := Rates{Serve: [2]float64{asFloat(serveA), asFloat(serveB)}}
	if _, _, err := g.at(approx); err != nil {
		return Exact{}, err
	}
	e := exactSolver{c: c, win: win, lose: lose}
	finals := func(value func(Final) bool) []*big.Rat {
		out := make([]*big.Rat, len(c.finals))
		for i, f := range c.finals {
			out[i] = new(big.Rat)
			if value(f) {
				out[i].SetInt64(1)
			}
		}
		return out
	}
	nothing := finals(func(Final) bool { return false })
	count := make([]*big.Rat, len(c.nodes))
	for i := range count {
		count[i] = one
	}
	won := e.solve(finals(func(f Final) bool { return f.Winner == A }), nil)
	mean := e.solve(nothing, count)
	// E[T²] = 1 + 2 E[T'] + E[T'²] a rally, and 1 + 2 E[T'] is 2 E[T] - 1.
	square := make([]*big.Rat, len(c.nodes))
	for i := range square {
		square[i] = new(big.Rat).Sub(new(big.Rat).Add(mean[i], mean[i]), one)
	}
	second := e.solve(nothing, square)
	out := Exact{Win: won[c.start], Mean: mean[c.start]}
	out.Variance = new(big.Rat).Sub(second[c.start], new(big.Rat).Mul(out.Mean, out.Mean))
	out.ShutOut = [2]*big.Rat{new(big.Rat), new(big.Rat)}
	for _, f := range c.finals {
		p := e.solve(finals(func(g Final) bool { return g == f }), nil)[c.start]
		out.Finals = append(out.Finals, ExactFinal{f, p})
		if f.Score[f.Winner.Other()] == 0 && !f.Beyond {
			out.ShutOut[f.Winner] = p
		}
	}
	return out, nil
}

var one = big.NewRat(1, 1)

func asFloat(r *big.Rat) float64 { x, _ := r.Float64(); return x }

type exactSolver struct {
	c         *chain
	win, lose [2]*big.Rat
}

// solve computes the values of all nodes from those of the finals and the
// reward of each rally; nil is no reward.
func (e *exactSolver) solve(finals, reward []*big.Rat) []*big.Rat {
	c := e.c
	x := make([]*big.Rat, c.size())
	copy(x[c.finalAt():], finals)
	zero := new(big.Rat)
	for j := range c.cuts {
		x[c.slotAt()+j] = zero
	}
	k := len(c.cuts)
	if k > 0 {
		// One round is affine in the slots: m x = b with m = 1 - rounds.
		m := make([][]*big.Rat, k)
		e.sweep(x, reward, c.plan[:c.endplan])
		for i, at := range c.cuts {
			m[i] = make([]*big.Rat, k+1)
			m[i][k] = x[at]
		}
		for f := range finals {
			x[c.finalAt()+f] = zero
		}
		for j := range k {
			x[c.slotAt()+j] = one
			e.sweep(x, nil, c.plan[:c.endplan])
			x[c.slotAt()+j] = zero
			for i, at := range c.cuts {
				m[i][j] = new(big.Rat).Neg(x[at])
				if i == j {
					m[i][j].Add(m[i][j], one)
				}
			}
		}
		eliminate(m)
		for j := range k {
			x[c.slotAt()+j] = m[j][k]
		}
		copy(x[c.finalAt():], finals)
	}
	e.sweep(x, reward, c.plan)
	return x
}

func (e *exactSolver) sweep(x, reward []*big.Rat, plan []visit) {
	c := e.c
	step := func(at int32, down *big.Rat) *big.Rat {
		n := &c.nodes[at]
		y := new(big.Rat).Mul(e.win[n.who], x[n.up])
		y.Add(y, new(big.Rat).Mul(e.lose[n.who], down))
		if reward != nil {
			y.Add(y, reward[at])
		}
		return y
	}
	for _, v := range plan {
		if v.loop == nil {
			x[v.at] = step(v.at, x[c.nodes[v.at].down])
			continue
		}
		// Once round with nothing at the end gives y = gained + stay*y.
		gained, stay := new(big.Rat), new(big.Rat).SetInt64(1)
		for i := len(v.loop) - 1; i >= 0; i-- {
			gained = step(v.loop[i], gained)
			stay.Mul(stay, e.lose[c.nodes[v.loop[i]].who])
		}
		x[v.loop[0]] = gained
		if leave := new(big.Rat).Sub(one, stay); leave.Sign() != 0 {
			x[v.loop[0]] = gained.Quo(gained, leave)
		}
		for i := len(v.loop) - 1; i > 0; i-- {
			x[v.loop[i]] = step(v.loop[i], x[v.loop[(i+1)%len(v.loop)]])
		}
	}
}

// eliminate solves a small system in place; the solution is its last column.
func eliminate(m [][]*big.Rat) {
	for i := range m {
		for r := i; r < len(m); r++ {
			if m[r][i].Sign() != 0 {
				m[i], m[r] = m[r], m[i]
				break
			}
		}
		if m[i][i].Sign() == 0 {
			continue // a slot that is never entered
		}
		inverse := new(big.Rat).Inv(m[i][i])
		for j := range m[i] {
			m[i][j].Mul(m[i][j], inverse)
		}
		for r := range m {
			if r == i || m[r][i].Sign() == 0 {
				continue
			}
			by := new(big.Rat).Set(m[r][i])
			for j := range m[r] {
				m[r][j].Sub(m[r][j], new(big.Rat).Mul(by, m[i][j]))
			}
		}
	}
}
