package explore

// Elimination along the lattice. Nodes are computed from the last scores to
// the first; a loop on which only the serve goes round has a closed form; and
// where the endgame folds back, its few unknowns are found from a small system
// in which nothing is ever subtracted, so that small chances keep all their
// digits.

// sweep computes x at every node of plan from the values of finals and slots:
// the expected reward from there on, plus the value where it ends. A nil
// reward is 0 everywhere.
func (c *chain) sweep(x []float64, o *odds, loops []loopOdds, reward []float64, plan []visit) {
	if reward == nil {
		reward = c.nothing
	}
	nodes := c.nodes
	for i := range plan {
		v := &plan[i]
		if v.loop == nil {
			n := &nodes[v.at]
			x[v.at] = o.win[n.who%situations]*x[n.up] + o.lose[n.who%situations]*x[n.down] + reward[v.at]
			continue
		}
		t := loops[v.kind]
		y := 0.0
		for k, at := range v.loop {
			y += t[k].gain*x[nodes[at].up] + t[k].pass*reward[at]
		}
		x[v.at] = y
		for k := len(v.loop) - 1; k > 0; k-- {
			at := v.loop[k]
			n := &nodes[at]
			x[at] = o.win[n.who%situations]*x[n.up] + o.lose[n.who%situations]*x[n.down] + reward[at]
		}
	}
}

// loopOdds is what going round a loop comes to, at each of its nodes, from the
// first on and however often: how often the node is passed, and with what
// chance the point is scored there. The chance of leaving is summed, never
// taken from 1. Where nobody can score both are 0; [chain.endless] has said so
// if it matters.
type loopOdds []struct{ gain, pass float64 }

// loopOdds weighs every kind of loop that the chain has, in the memory of out if
// that fits.
func (c *chain) loopOdds(out []loopOdds, o *odds) []loopOdds {
	if len(out) != len(c.loops) {
		out = make([]loopOdds, len(c.loops))
	}
	for i, who := range c.loops {
		t := out[i]
		if len(t) != len(who) {
			t = make(loopOdds, len(who))
		}
		leave, stay := 0.0, 1.0
		for k, w := range who {
			t[k].gain, t[k].pass = stay*o.win[w], stay
			leave += t[k].gain
			stay *= o.lose[w]
		}
		for k := range t {
			if leave > 0 {
				t[k].gain, t[k].pass = t[k].gain/leave, t[k].pass/leave
			} else {
				t[k].gain, t[k].pass = 0, 0
			}
		}
		out[i] = t
	}
	return out
}

// solve computes x at all nodes; the values of the finals must stand in x.
// l is a value of [chain.rounds].
func (c *chain) solve(x []float64, o *odds, reward []float64, l *rounds) {
	if len(c.cuts) > 0 {
		slots := x[c.slotAt():]
		clear(slots)
		c.sweep(x, o, l.loops, reward, c.plan[:c.endplan])
		for j, at := range c.cuts {
			l.known[j] = x[at]
		}
		l.backward(slots)
	}
	c.sweep(x, o, l.loops, reward, c.plan)
}

// rounds is how the serve goes round at a score, and how the endgame comes back
// from one slot to the next, with the states eliminated one by one (after Grassmann, Taksar and Heyman 1985: each divided by the sum
// of what leaves it, never by one minus what stays).
type rounds struct {
	loops []loopOdds
	k     int
	cells []float64   // memory of what follows
	to    [][]float64 // chance from slot i to slot j, as eliminated so far
	leave []float64
	known []float64
}

// rounds follows the endgame from every slot until it comes back to one.
func (c *chain) rounds(o *odds) *rounds {
	l := new(rounds)
	l.follow(c, o)
	return l
}

// follow fills l, in the memory that it has if that fits.
func (l *rounds) follow(c *chain, o *odds) {
	l.loops = c.loopOdds(l.loops, o)
	k := len(c.cuts)
	if k == 0 {
		l.k = 0
		return
	}
	if need := k*k + 2*k + c.size(); l.k != k || len(l.cells) != need {
		l.k, l.cells = k, make([]float64, need)
		l.leave, l.known = l.cells[:k], l.cells[k:2*k]
		l.to = make([][]float64, k)
		for i := range l.to {
			l.to[i] = l.cells[2*k+i*k : 2*k+(i+1)*k]
		}
	}
	clear(l.cells)
	x := l.cells[2*k+k*k:]
	ends := x[c.finalAt():c.slotAt()]
	for j := range k {
		x[c.slotAt()+j] = 1
		c.sweep(x, o, l.loops, nil, c.plan[:c.endplan])
		for i, at := range c.cuts {
			l.to[i][j] = x[at]
		}
		x[c.slotAt()+j] = 0
	}
	for i := range ends {
		ends[i] = 1
	}
	c.sweep(x, o, l.loops, nil, c.plan[:c.endplan])
	exit := l.known
	for i, at := range c.cuts {
		exit[i] = x[at]
	}
	for n := k - 1; n >= 0; n-- {
		leave := exit[n]
		for j := range n {
			leave += l.to[n][j]
		}
		l.leave[n] = leave
		if leave == 0 {
			continue
		}
		for i := range n {
			share := l.to[i][n] / leave
			for j := range n {
				l.to[i][j] += share * l.to[n][j]
			}
			exit[i] += share * exit[n]
		}
	}
}

// backward solves for the values at the slots, given what one round is worth.
func (l *rounds) backward(out []float64) {
	for n := l.k - 1; n > 0; n-- {
		if l.leave[n] == 0 {
			continue
		}
		for i := range n {
			l.known[i] += l.to[i][n] / l.leave[n] * l.known[n]
		}
	}
	for n := range l.k {
		y := l.known[n]
		for j := range n {
			y += l.to[n][j] * out[j]
		}
		if l.leave[n] > 0 {
			out[n] = y / l.leave[n]
		} else {
			out[n] = 0
		}
	}
}

// forward solves for how often each slot is entered, given how often it is
// entered the first time.
func (l *rounds) forward(out []float64) {
	for n := l.k - 1; n > 0; n-- {
		if l.leave[n] == 0 {
			continue
		}
		for j := range n {
			out[j] += out[n] * l.to[n][j] / l.leave[n]
		}
	}
	for n := range l.k {
		y := out[n]
		for j := range n {
			y += out[j] * l.to[j][n]
		}
		if l.leave[n] > 0 {
			out[n] = y / l.leave[n]
		} else {
			out[n] = 0
		}
	}
}

// visits computes how often every node is visited, and with what chance every
// final comes, from a node on.
func (c *chain) visits(start int, o *odds, l *rounds) []float64 {
	x := make([]float64, c.size())
	x[start] = 1
	if len(c.cuts) > 0 {
		c.flow(x, o)
		slots := append([]float64(nil), x[c.slotAt():]...)
		l.forward(slots)
		clear(x)
		x[start] = 1
		for j, at := range c.cuts {
			x[at] += slots[j]
		}
	}
	c.flow(x, o)
	return x
}

// flow pushes what enters the nodes through the lattice, from the first scores
// to the last.
func (c *chain) flow(x []float64, o *odds) {
	for i := len(c.plan) - 1; i >= 0; i-- {
		c.push(x, o, &c.plan[i])
	}
}

// push sends what has come to the nodes of one visit on to where they lead.
func (c *chain) push(x []float64, o *odds, v *visit) {
	if v.loop == nil {
		n := &c.nodes[v.at]
		x[n.up] += o.win[n.who] * x[v.at]
		x[n.down] += o.lose[n.who] * x[v.at]
		return
	}
	// What has come round to the first node, over the chance of leaving.
	arrived, leave, stay := x[v.loop[0]], 0.0, 1.0
	carried := 0.0
	for k, at := range v.loop {
		n := &c.nodes[at]
		leave += stay * o.win[n.who]
		stay *= o.lose[n.who]
		if k > 0 {
			carried += x[at]
		}
		carried *= o.lose[n.who]
	}
	if leave > 0 {
		x[v.loop[0]] = (arrived + carried) / leave
	}
	for k, at := range v.loop {
		n := &c.nodes[at]
		if k > 0 {
			before := v.loop[k-1]
			x[at] += o.lose[c.nodes[before].who] * x[before]
		}
		x[n.up] += o.win[n.who] * x[at]
	}
}

// endless returns a node that play can come to and from which, at these odds,
// no final can be reached. Only chances of exactly 0 or 1 can do that.
func (c *chain) endless(o *odds) (int, bool) {
	sure, depends := false, 2
	if c.detailed {
		depends = situations
	}
	for s := range depends {
		sure = sure || o.win[s] == 0 || o.lose[s] == 0
	}
	if !sure {
		return 0, false
	}
	next := func(n int32, visit func(int32)) {
		for _, e := range [2]struct {
			p  float64
			to int32
		}{{o.win[c.nodes[n].who], c.nodes[n].up}, {o.lose[c.nodes[n].who], c.nodes[n].down}} {
			if e.p > 0 {
				if e.to >= int32(c.slotAt()) {
					e.to = c.cuts[e.to-int32(c.slotAt())]
				}
				visit(e.to)
			}
		}
	}
	reached := make([]bool, len(c.nodes))
	before := make([][]int32, len(c.nodes))
	finishes := make([]bool, len(c.nodes))
	var done []int32
	reached[c.start] = true
	for todo := []int32{int32(c.start)}; len(todo) > 0; {
		n := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		next(n, func(to int32) {
			switch {
			case int(to) >= len(c.nodes):
				if !finishes[n] {
					finishes[n] = true
					done = append(done, n)
				}
				return
			case !reached[to]:
				reached[to] = true
				todo = append(todo, to)
			}
			before[to] = append(before[to], n)
		})
	}
	for len(done) > 0 {
		n := done[len(done)-1]
		done = done[:len(done)-1]
		for _, m := range before[n] {
			if !finishes[m] {
				finishes[m] = true
				done = append(done, m)
			}
		}
	}
	for n := range c.nodes {
		if reached[n] && !finishes[n] {
			return n, true
		}
	}
	return 0, false
}
