package explore

import (
	"math"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Burden is what a format asks of its referee, averages over games at some
// rates.
type Burden struct {
	// Ambiguous is the share of rallies before which score, serving side and
	// server number do not determine who serves: he must be known from the
	// marks, or from where people stand.
	Ambiguous float64 `json:"ambiguous"`
	// AmbiguousStates is the same share of reachable states.
	AmbiguousStates float64 `json:"ambiguous_states"`
	Moves           float64 `json:"moves"`      // changes of court by players, a game
	Turns           float64 `json:"turns"`      // times the serve passes to another player, a game
	SideOuts        float64 `json:"side_outs"`  // times it passes to the other side, a game
	EndChange       float64 `json:"end_change"` // chance that the mid-game change is made
	Specials        []Use   `json:"specials"`   // the format's special rules
}

// Use is how often a special rule matters.
type Use struct {
	Rule string `json:"rule"`
	// Binds is how often a game it changes what a rally does.
	Binds float64 `json:"binds"`
	// Games is the share of games in which it binds at all.
	Games float64 `json:"games"`
	// Swing is how much the chance of A would be other without the rule, Length
	// how many rallies it adds.
	Swing  float64 `json:"swing"`
	Length float64 `json:"length"`
}

// BurdenOf returns the burden of game n of a format.
func BurdenOf(f format.Format, n int, o Opening, r Rates) (Burden, error) {
	g, err := NewGame(f, n, o)
	if err != nil {
		return Burden{}, err
	}
	if err := r.validate(); err != nil {
		return Burden{}, err
	}
	c, err := g.chain(true)
	if err != nil {
		return Burden{}, err
	}
	odds := r.odds(true)
	if k, stuck := c.endless(&odds); stuck {
		return Burden{}, &EndlessError{c.rules.Line(c.state[k]), "at these rates nobody can finish the game from here"}
	}
	visits := c.visits(c.start, &odds, c.laps(&odds))
	var b Burden
	b.ambiguity(c, visits)
	withheld := map[int]float64{} // by node: chance that its rally is withheld
	changes := 0.0
	for n := range c.nodes {
		before := c.rules.Places(c.state[n])
		side := c.serving(n)
		for _, e := range [2]struct {
			p      float64
			winner Side
		}{{odds.win[c.nodes[n].who], side}, {odds.lose[c.nodes[n].who], side.Other()}} {
			next, did, _ := c.rules.Apply(c.state[n], rally.RallyTo(e.winner))
			p := visits[n] * e.p
			if did.Has(rally.Withheld) {
				withheld[n] += e.p
			}
			if did.Has(rally.EndsDue) {
				changes += p
			}
			if next.Phase() != rally.Playing {
				continue
			}
			after := c.rules.Places(next)
			for s := A; s <= B; s++ {
				switch {
				case c.rules.Format().Game.Sides == format.Singles:
					if after.Standing[s] != before.Standing[s] {
						b.Moves += p
					}
				case after.At[s] != before.At[s]:
					b.Moves += 2 * p
				}
			}
			if after.Server != before.Server {
				b.Turns += p
			}
			if did.Has(rally.SideOut) {
				b.SideOuts += p
			}
		}
	}
	game := c.rules.Format().Last
	if game.ChangeEndsAt > 0 {
		b.EndChange = changes
	}
	plain, err := g.Figures(r)
	if err != nil {
		return Burden{}, err
	}
	use := func(rule string, binds, games float64, without func(*format.Game)) error {
		other := Solo(f, n)
		other.Shape = ""
		without(&other.Game)
		other.Last = other.Game
		u := Use{Rule: rule, Binds: binds, Games: games}
		if other.Validate() == nil {
			h, err := NewGame(other, 1, o)
			if err != nil {
				return err
			}
			fig, err := h.Figures(r)
			if err != nil {
				return err
			}
			u.Swing, u.Length = math.Abs(plain.Win-fig.Win), plain.Mean-fig.Mean
		}
		b.Specials = append(b.Specials, u)
		return nil
	}
	if game.Freeze != format.NoFreeze {
		binds := 0.0
		for n, p := range withheld {
			binds += visits[n] * p
		}
		if err := use("freeze: "+game.Freeze.String(), binds, c.ever(&odds, withheld), func(g *format.Game) { g.Freeze = format.NoFreeze }); err != nil {
			return Burden{}, err
		}
	}
	if game.WinBy > 1 {
		// The margin binds when a point at the target does not end the game.
		beyond := 0.0
		for _, e := range plain.Finals {
			if e.Score[e.Winner] > int(game.Target) {
				beyond += e.Chance
			}
		}
		if err := use("win by", beyond, beyond, func(g *format.Game) { g.WinBy = 1 }); err != nil {
			return Burden{}, err
		}
	}
	if game.Cap != 0 {
		free := game
		free.Cap = 0
		capped := 0.0
		for _, e := range plain.Finals {
			if !free.Won(uint8(e.Score[e.Winner]), uint8(e.Score[e.Winner.Other()])) {
				capped += e.Chance
			}
		}
		if err := use("cap", capped, capped, func(g *format.Game) { g.Cap = 0 }); err != nil {
			return Burden{}, err
		}
	}
	if game.Servers == 2 && game.FirstTurn == 1 {
		if err := use("one server in the first turn", 1, 1, func(g *format.Game) { g.FirstTurn = 2 }); err != nil {
			return Burden{}, err
		}
	}
	return b, nil
}

// ambiguity groups states by what the call says and looks for two servers.
func (b *Burden) ambiguity(c *chain, visits []float64) {
	type call struct {
		score  [2]uint8
		side   Side
		number uint8
	}
	servers := map[call]map[rally.Person]bool{}
	key := func(n int) (call, rally.Person) {
		p := c.rules.Places(c.state[n])
		return call{c.score[n], c.serving(n), p.Number}, p.Server
	}
	for n := range c.nodes {
		k, server := key(n)
		if servers[k] == nil {
			servers[k] = map[rally.Person]bool{}
		}
		servers[k][server] = true
	}
	all, unclear := 0.0, 0.0
	for n := range c.nodes {
		k, _ := key(n)
		all += visits[n]
		if len(servers[k]) > 1 {
			unclear += visits[n]
			b.AmbiguousStates += 1 / float64(len(c.nodes))
		}
	}
	b.Ambiguous = unclear / all
}

// ever returns the chance that something happens at least once in a game, given
// the chance with which the rally played at some nodes makes it happen.
func (c *chain) ever(o *odds, at map[int]float64) float64 {
	// What follows is followed only while it has not happened: the chance that
	// it never does is that of reaching a final by other rallies alone.
	without := *c
	without.nodes = append([]node(nil), c.nodes...)
	// A rally that makes it happen leads to a final of its own worth nothing.
	x := make([]float64, c.size()+1)
	for i := range c.finals {
		x[c.finalAt()+i] = 1
	}
	dead := int32(len(x) - 1)
	for n, p := range at {
		if p > 0 {
			without.nodes[n].down = dead
		}
	}
	// The loop of two frozen sides is open now, so the plan is made anew, and
	// values are iterated: what is left decays at least as fast as the game.
	without.plan, without.endplan, without.loops = nil, 0, nil
	for moved := 1.0; moved > 1e-15; {
		moved = 0
		for n := len(c.nodes) - 1; n >= 0; n-- {
			nd := &without.nodes[n]
			y := o.win[nd.who]*without.follow(x, nd.up) + o.lose[nd.who]*without.follow(x, nd.down)
			moved = math.Max(moved, math.Abs(y-x[n]))
			x[n] = y
		}
	}
	return 1 - x[c.start]
}

func (c *chain) follow(x []float64, to int32) float64 {
	if int(to) >= c.slotAt() && int(to) < c.size() {
		return x[c.cuts[int(to)-c.slotAt()]]
	}
	return x[to]
}
