package explore

import (
	"slices"
	"sort"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/walk"
)

// Opening says how a game starts.
type Opening struct {
	First    Side           `json:"first"`    // side that serves first
	Starters rally.Starters `json:"starters"` // starting servers; the zero value is A1 and B1
	Ends     int            `json:"ends"`     // 1 if A starts at the worse end
}

// normal fills in the starting servers.
func (o Opening) normal(singles bool) (Opening, error) {
	if o.Starters == (rally.Starters{}) {
		o.Starters = rally.Starters{rally.A1, rally.B1}
	}
	switch {
	case o.First > B:
		return o, &InputError{"opening.first", "no such side"}
	case o.Starters[A].Side() != A || o.Starters[B].Side() != B || o.Starters[A] > rally.B2 || o.Starters[B] > rally.B2:
		return o, &InputError{"opening.starters", "must name a player of each side"}
	case singles && o.Starters != rally.Starters{rally.A1, rally.B1}:
		return o, &InputError{"opening.starters", "singles has no second player"}
	case o.Ends != 0 && o.Ends != 1:
		return o, &InputError{"opening.ends", "must be 0 or 1"}
	}
	return o, nil
}

// Final is how a game can end.
type Final struct {
	Score  [2]int `json:"score"`
	Winner Side   `json:"winner"`
	// Beyond: the entry sums this score and all beyond it that fold into it, 12-10
	// and 13-11 and so on.
	Beyond bool `json:"beyond,omitempty"`
}

// node is one class of states that play on alike. Its two edges lead to a
// node, to a final or, where the endgame folds back, to a slot.
type node struct {
	up   int32 // after the server's side won the rally; always a score
	down int32 // after it lost
	who  situation
}

// A chain is every state of one game, folded in the endgame, in the order of
// the score lattice. Values stand in one slice: nodes, then finals, then one
// slot for each node that the endgame folds back to.
type chain struct {
	nodes  []node
	score  [][2]uint8
	state  []rally.State // one engine state of each node
	start  int
	finals []Final
	cuts   []int32 // node of each slot
	// endgame is the first node from which on the game may come back to a slot;
	// plan is the order in which values are computed: first a node whose value
	// needs nothing of its own score, or the loop it stands in, on which only
	// the serve moves; loops are the kinds of loop, by who stands where in turn.
	endgame  int
	plan     []visit
	endplan  int // first visits of plan are those of the endgame
	loops    [][]situation
	detailed bool
	levels   []int32 // nodes with both sides one short of the target
	rules    *rally.Rules
	index    map[standing]int32
	fold     folding
	dry      []bool    // by node: losing the serve there gives nobody a point
	ones     []float64 // the reward of counting rallies
	nothing  []float64 // no reward
}

// A visit computes one node (loop nil), or all nodes of a loop.
type visit struct {
	at   int32
	kind int32   // of loop
	loop []int32 // the nodes in the order in which losing the serve passes them
}

func (c *chain) finalAt() int { return len(c.nodes) }
func (c *chain) slotAt() int  { return len(c.nodes) + len(c.finals) }
func (c *chain) size() int    { return len(c.nodes) + len(c.finals) + len(c.cuts) }

// standing is what classes are made of. Without detail only scores, serving
// side and server number matter; with it everything but the score's fold does.
type standing struct {
	a, b   uint8
	side   Side
	number uint8
	places rally.Places
	ends   uint8
}

// newChain walks a single game and folds it into a chain. That the classes
// behave alike is checked on every state, so an order of service under which
// they did not would be an error and not a wrong figure.
func newChain(r *rally.Rules, o Opening, detailed bool) (*chain, error) {
	f := r.Format()
	root, _, refusal := r.Apply(r.New(o.First), rally.Start(o.First, o.Starters))
	if refusal != rally.NotRefused {
		return nil, &InputError{"opening", "refused: " + refusal.String()}
	}
	plan := walk.Plan{Rules: r, Root: root, Alphabet: walk.Play(), Most: mostStates}
	if bound := latticeBound(f.Last); bound > mostStates {
		return nil, &SizeError{"states of a game", bound, mostStates}
	}
	g, err := plan.Walk()
	if err != nil {
		return nil, &SizeError{"states of a game", plan.Bound(), mostStates}
	}
	b := builder{g: g, f: f.Last, classes: map[standing]int32{},
		folding: folding{detailed, o.Ends, walk.FoldOf(f.Last, 0)}}
	switch {
	case !detailed && f.Last.Order == format.TieBreak:
		b.Step = int(f.Last.Serves) // a turn of each side
	case !detailed:
		b.Step = 1
	}
	return b.build()
}

// latticeBound is the most states that a game in play can have: every pair of
// scores in which it goes on, with eight orders of service.
func latticeBound(g format.Game) uint64 {
	if g.Cap != 0 {
		return uint64(g.Cap) * uint64(g.Cap) * 8
	}
	n := uint64(0)
	for low := range int(g.Target) + walk.FoldOf(g, 0).Step - 1 {
		high := int(g.Target) - 1
		if low+int(g.WinBy)-1 > high {
			high = low + int(g.WinBy) - 1
		}
		n += uint64(2*(high-low) + 1)
	}
	return n * 8
}

type builder struct {
	folding
	g       *walk.Graph
	f       format.Game
	classes map[standing]int32
}

// folding says which states are one class.
type folding struct {
	detailed bool
	ends     int // end that A started at
	walk.Fold
}

// Letters of [walk.Play].
const (
	letterA = iota
	letterB
	letterEnds
)

// settled returns the state that play goes on from: ends change as soon as
// the change is due.
func (b *builder) settled(i int) int {
	if b.g.State(i).EndChangeDue() {
		return b.g.Edge(i, letterEnds).To
	}
	return i
}

func (b folding) folded(s rally.State) (x, y int) { return b.Scores(s.Score(A), s.Score(B)) }

func (b folding) standing(r *rally.Rules, s rally.State) standing {
	x, y := b.folded(s)
	side, _ := s.Serving()
	p := r.Places(s)
	st := standing{a: uint8(x), b: uint8(y), side: side, number: p.Number}
	if b.detailed {
		st.places, st.ends = p, uint8(swaps(s)^b.ends)
	}
	return st
}

func (b *builder) build() (*chain, error) {
	r := b.g.Rules()
	// Classes in the order of the lattice: by points played, so that values can
	// be computed from the end.
	var order []int
	for i := range b.g.Len() {
		s := b.g.State(i)
		if s.Phase() == rally.Playing && b.settled(i) == i {
			order = append(order, i)
		}
	}
	key := func(i int) standing { return b.standing(r, b.g.State(i)) }
	sort.SliceStable(order, func(x, y int) bool {
		p, q := key(order[x]), key(order[y])
		if p.a+p.b != q.a+q.b {
			return int(p.a)+int(p.b) < int(q.a)+int(q.b)
		}
		return p.a < q.a
	})
	c := &chain{detailed: b.detailed, rules: r, index: b.classes, fold: b.folding}
	for _, i := range order {
		k := key(i)
		if _, seen := b.classes[k]; !seen {
			b.classes[k] = int32(len(c.nodes))
			n := node{who: situation(k.side)}
			if b.detailed {
				n.who = situationOf(k.places, int(k.ends))
			}
			c.nodes = append(c.nodes, n)
			c.score = append(c.score, [2]uint8{k.a, k.b})
			c.state = append(c.state, b.g.State(i))
		}
	}
	c.endgame = len(c.nodes)
	for n, s := range c.score {
		if b.Floor > 0 && int(min(s[0], s[1])) >= b.Floor {
			c.endgame = min(c.endgame, n)
		}
		if s[0] == b.f.Target-1 && s[1] == b.f.Target-1 {
			c.levels = append(c.levels, int32(n))
		}
	}
	if err := b.link(c, order); err != nil {
		return nil, err
	}
	c.start = int(b.classes[b.standing(r, b.g.State(b.settled(0)))])
	c.makePlan()
	c.ones, c.nothing = make([]float64, len(c.nodes)), make([]float64, len(c.nodes))
	for i := range c.ones {
		c.ones[i] = 1
	}
	return c, nil
}

// link finds the edges of every class and checks them on each of its states.
func (b *builder) link(c *chain, order []int) error {
	r := b.g.Rules()
	finals := map[Final]int32{}
	type edge struct {
		final, dry bool
		to         int32
	}
	follow := func(i int, winner Side) (edge, error) {
		e := b.g.Edge(i, letterA+int(winner))
		if e.To == walk.Refused {
			return edge{}, &EndlessError{r.Line(b.g.State(i)), "the next rally is refused: " + e.Refusal.String()}
		}
		s := b.g.State(e.To)
		dry := s.Score(A)+s.Score(B) == b.g.State(i).Score(A)+b.g.State(i).Score(B)
		if s.Phase() == rally.Playing {
			return edge{dry: dry, to: b.classes[b.standing(r, b.g.State(b.settled(e.To)))]}, nil
		}
		x, y := b.folded(s)
		final := Final{Score: [2]int{x, y}, Winner: winner, Beyond: b.Floor > 0 && min(x, y) >= b.Floor}
		n, seen := finals[final]
		if !seen {
			n = int32(len(c.finals))
			finals[final] = n
			c.finals = append(c.finals, final)
		}
		return edge{true, dry, n}, nil
	}
	type pair struct{ up, down edge }
	known := make([]pair, len(c.nodes))
	done := make([]bool, len(c.nodes))
	for _, i := range order {
		k := b.standing(r, b.g.State(i))
		n := b.classes[k]
		up, err := follow(i, k.side)
		if err != nil {
			return err
		}
		down, err := follow(i, k.side.Other())
		if err != nil {
			return err
		}
		if done[n] && known[n] != (pair{up, down}) {
			return &InputError{"format", "states with equal scores, side and number do not play on alike at " + r.Line(b.g.State(i))}
		}
		known[n], done[n] = pair{up, down}, true
	}
	slots := map[int32]int32{}
	points := func(n int32) int { return int(c.score[n][0]) + int(c.score[n][1]) }
	place := func(from int32, e edge) int32 {
		if e.final {
			return int32(c.finalAt()) + e.to
		}
		if points(e.to) >= points(from) {
			return e.to
		}
		slot, seen := slots[e.to]
		if !seen {
			slot = int32(len(c.cuts))
			slots[e.to] = slot
			c.cuts = append(c.cuts, e.to)
		}
		return int32(c.slotAt()) + slot
	}
	c.dry = make([]bool, len(c.nodes))
	for n := range c.nodes {
		c.dry[n] = known[n].down.dry
		c.nodes[n].up = place(int32(n), known[n].up)
		c.nodes[n].down = place(int32(n), known[n].down)
	}
	return nil
}

// makePlan orders the nodes so that each is computed after those it leads to.
// The server's side always scores, so within one score every node has at most
// one edge, and what goes round is a simple loop.
func (c *chain) makePlan() {
	planned := make([]bool, c.size())
	for n := len(c.nodes); n < len(planned); n++ {
		planned[n] = true
	}
	for n := len(c.nodes) - 1; n >= 0; n-- {
		var path []int32
		on := map[int32]int{}
		at := int32(n)
		for !planned[at] {
			if from, again := on[at]; again {
				loop := append([]int32(nil), path[from:]...)
				c.plan = append(c.plan, visit{loop[0], c.kindOf(loop), loop})
				for _, m := range loop {
					planned[m] = true
				}
				path = path[:from]
				break
			}
			on[at] = len(path)
			path = append(path, at)
			at = c.nodes[at].down
		}
		for i := len(path) - 1; i >= 0; i-- {
			c.plan = append(c.plan, visit{at: path[i]})
			planned[path[i]] = true
		}
		if n == c.endgame {
			c.endplan = len(c.plan)
		}
	}
}

// kindOf returns the kind of a loop: those whose nodes have the same situations
// in the same order go round alike.
func (c *chain) kindOf(loop []int32) int32 {
	who := make([]situation, len(loop))
	for k, n := range loop {
		who[k] = c.nodes[n].who
	}
	for i, known := range c.loops {
		if slices.Equal(known, who) {
			return int32(i)
		}
	}
	c.loops = append(c.loops, who)
	return int32(len(c.loops) - 1)
}
