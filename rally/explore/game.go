package explore

import (
	"sync"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// GameModel is one kind of game, ready to be asked for its figures at any rates. It
// is safe for use by several goroutines. Make one with [NewGameModel].
type GameModel struct {
	rules     *rally.Rules
	opening   Opening
	plain     *chain
	once      sync.Once
	full      *chain
	fullErr   error
	scratches sync.Pool // of *scratch
}

// A scratch is memory that one question after another can be worked out in.
type scratch struct {
	rounds rounds
	cells  []float64
}

// scratch returns a scratch for a chain. Give it back with g.scratches.Put.
func (g *GameModel) scratch(c *chain) *scratch {
	d, ok := g.scratches.Get().(*scratch)
	if need := 2*c.size() + len(c.nodes); !ok || len(d.cells) != need {
		d = &scratch{cells: make([]float64, need)}
	}
	return d
}

// NewGameModel makes game n (from 1) of a format ready, from an opening. The error
// is a [*format.Error], an [*InputError], a [*SizeError] or, where play could
// come to a score after which the next rally is refused, an [*EndlessError].
func NewGameModel(f format.Format, n int, o Opening) (*GameModel, error) {
	if err := f.Validate(); err != nil {
		return nil, err
	}
	if n < 1 || n > int(f.Match.Games) {
		return nil, &InputError{"game", "the match has no such game"}
	}
	f = SingleGame(f, n)
	o, err := o.normal(f.Game.Sides == format.Singles)
	if err != nil {
		return nil, err
	}
	r, err := rally.Compile(f)
	if err != nil {
		return nil, err
	}
	c, err := newChain(r, o, false)
	if err != nil {
		return nil, err
	}
	return &GameModel{rules: r, opening: o, plain: c}, nil
}

// Rules returns the rules of the game, as a match of one game.
func (g *GameModel) Rules() *rally.Rules { return g.rules }

// Opening returns how the game starts.
func (g *GameModel) Opening() Opening { return g.opening }

// States returns how many states the game has in play when only the serving
// side matters, folded beyond level one short of the target.
func (g *GameModel) States() int { return len(g.plain.nodes) }

// chain returns the states at the detail that rates need.
func (g *GameModel) chain(detailed bool) (*chain, error) {
	if !detailed {
		return g.plain, nil
	}
	g.once.Do(func() { g.full, g.fullErr = newChain(g.rules, g.opening, true) })
	return g.full, g.fullErr
}

// at returns the states and the odds for rates, or says why there are none.
func (g *GameModel) at(r Rates) (*chain, *odds, error) {
	if err := r.validate(); err != nil {
		return nil, nil, err
	}
	c, err := g.chain(!r.plain())
	if err != nil {
		return nil, nil, err
	}
	o := r.odds(c.detailed)
	if n, stuck := c.endless(&o); stuck {
		return nil, nil, &EndlessError{c.rules.Line(c.state[n]), "at these rates nobody can finish the game from here"}
	}
	return c, &o, nil
}

// Win returns the chance that A wins the game.
func (g *GameModel) Win(r Rates) (float64, error) {
	c, o, err := g.at(r)
	if err != nil {
		return 0, err
	}
	d := g.scratch(c)
	defer g.scratches.Put(d)
	return d.win(c, o), nil
}

// win is the chance that A wins from the start.
func (d *scratch) win(c *chain, o *odds) float64 {
	d.rounds.follow(c, o)
	x := d.cells[:c.size()]
	c.winningIn(x, o, &d.rounds)
	return x[c.start]
}

// Core are the three figures that most questions need, from one pass each.
type Core struct {
	Win, Mean, Variance float64
}

// Core returns A's chance, and the mean and variance of the rallies, at about a
// third of the cost of [GameModel.Figures].
func (g *GameModel) Core(r Rates) (Core, error) {
	c, o, err := g.at(r)
	if err != nil {
		return Core{}, err
	}
	d := g.scratch(c)
	defer g.scratches.Put(d)
	win := d.win(c, o)
	mean, variance := c.lengthIn(d.cells, o, &d.rounds)
	return Core{win, mean[c.start], variance[c.start]}, nil
}

// winning returns the chance of every node that A wins.
func (c *chain) winning(o *odds, l *rounds) []float64 {
	x := make([]float64, c.size())
	c.winningIn(x, o, l)
	return x
}

func (c *chain) winningIn(x []float64, o *odds, l *rounds) {
	for i, f := range c.finals {
		x[c.finalAt()+i] = 0
		if f.Winner == A {
			x[c.finalAt()+i] = 1
		}
	}
	c.solve(x, o, nil, l)
}

// FinalChance is a final with its chance.
type FinalChance struct {
	Final
	Chance float64 `json:"chance"`
}

// Figures are the exact figures of a game at some rates.
type Figures struct {
	Win       float64       `json:"win"`       // chance that A wins
	Mean      float64       `json:"mean"`      // rallies of a game
	Variance  float64       `json:"variance"`  // of the number of rallies
	ShutOut   [2]float64    `json:"shut_out"`  // chance that A, B wins to nothing
	Level     float64       `json:"level"`     // chance of coming to level one short of the target
	Points    [2]float64    `json:"points"`    // points of A and B in a game, as far as scores are folded
	Finals    []FinalChance `json:"finals"`    // every final; they sum to 1
	SideOuts  float64       `json:"side_outs"` // times the serve goes to the other side in a game
	Pointless float64       `json:"pointless"` // rallies that give nobody a point, a game
}

// Figures returns the exact figures of the game.
func (g *GameModel) Figures(r Rates) (Figures, error) {
	c, o, err := g.at(r)
	if err != nil {
		return Figures{}, err
	}
	return c.figures(o), nil
}

func (c *chain) figures(o *odds) Figures {
	l := c.rounds(o)
	win := c.winning(o, l)
	mean, variance := c.length(o, l)
	out := Figures{Win: win[c.start], Mean: mean[c.start], Variance: variance[c.start]}
	visits := c.visits(c.start, o, l)
	for i, f := range c.finals {
		p := visits[c.finalAt()+i]
		out.Finals = append(out.Finals, FinalChance{f, p})
		out.Points[A] += p * float64(f.Score[A])
		out.Points[B] += p * float64(f.Score[B])
		if f.Score[f.Winner.Other()] == 0 && !f.Beyond {
			out.ShutOut[f.Winner] = p
		}
	}
	sortFinals(out.Finals)
	out.Pointless = c.pointless(visits, o)
	for n := range c.nodes {
		for _, e := range [2]struct {
			to int32
			p  float64
		}{{c.nodes[n].up, o.win[c.nodes[n].who]}, {c.nodes[n].down, o.lose[c.nodes[n].who]}} {
			if to, ok := c.nodeAt(e.to); ok && c.serving(to) != c.serving(n) {
				out.SideOuts += visits[n] * e.p
			}
		}
	}
	out.Level = c.reaching(o, c.levels)
	return out
}

// pointless returns the rallies that give nobody a point, given how often each
// node is visited. The server's side always scores.
func (c *chain) pointless(visits []float64, o *odds) float64 {
	sum := 0.0
	for n, dry := range c.dry {
		if dry {
			sum += visits[n] * o.lose[c.nodes[n].who]
		}
	}
	return sum
}

// nodeAt returns the node at a value's index; false for a final.
func (c *chain) nodeAt(i int32) (int, bool) {
	switch {
	case int(i) < len(c.nodes):
		return int(i), true
	case int(i) >= c.slotAt():
		return int(c.cuts[int(i)-c.slotAt()]), true
	}
	return 0, false
}

func (c *chain) serving(n int) Side {
	side, _ := c.state[n].Serving()
	return side
}

// length returns the mean and the variance of the rallies left, at every node.
// The variance is summed from the squared differences that each rally makes,
// not taken as a difference of large moments.
func (c *chain) length(o *odds, l *rounds) (mean, variance []float64) {
	return c.lengthIn(make([]float64, 2*c.size()+len(c.nodes)), o, l)
}

func (c *chain) lengthIn(cells []float64, o *odds, l *rounds) (mean, variance []float64) {
	n := c.size()
	clear(cells)
	mean, variance = cells[:n:n], cells[n:2*n:2*n]
	reward := cells[2*n:]
	c.solve(mean, o, c.ones, l)
	for i := range c.nodes {
		n := &c.nodes[i]
		d := mean[n.up] - mean[n.down]
		reward[i] = o.win[n.who] * o.lose[n.who] * d * d
	}
	c.solve(variance, o, reward, l)
	return mean, variance
}

// reaching returns the chance that play comes to any of some nodes.
func (c *chain) reaching(o *odds, nodes []int32) float64 {
	entry := c.firstVisits(o, nodes)
	sum := 0.0
	for _, p := range entry {
		sum += p
	}
	return sum
}

// firstVisits returns with what chance each of some nodes is the first of them
// that play comes to. The nodes must be all those of their scores.
func (c *chain) firstVisits(o *odds, nodes []int32) []float64 {
	stop := make(map[int32]bool, len(nodes))
	out := make([]float64, len(nodes))
	if len(nodes) == 0 {
		return out
	}
	for _, n := range nodes {
		stop[n] = true
	}
	// Nothing beyond is followed, so nothing folds back and one pass is enough.
	x := make([]float64, c.size())
	x[c.start] = 1
	if !stop[int32(c.start)] {
		c.flowUntil(x, o, stop)
	}
	for i, n := range nodes {
		out[i] = x[n]
	}
	return out
}

func (c *chain) flowUntil(x []float64, o *odds, stop map[int32]bool) {
	plan := c.plan
	for i := len(plan) - 1; i >= 0; i-- {
		if at := plan[i].at; stop[at] {
			continue
		}
		c.push(x, o, &plan[i])
	}
}
