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
	// Swing is by how much the rule moves A's chance of the game, Length how many
	// rallies it adds: with it less without it.
	Swing  float64 `json:"swing"`
	Length float64 `json:"length"`
}

// BurdenOf returns the burden of game n of a format from an opening. A rule can
// help one side where it serves first and hurt it where it does not:
// [MeanBurden] averages.
func BurdenOf(f format.Format, n int, o Opening, r Rates) (Burden, error) {
	g, err := NewGameModel(f, n, o)
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
	visits := c.visits(c.start, &odds, c.rounds(&odds))
	var b Burden
	b.ambiguity(c, visits)
	withheld := b.follow(c, &odds, visits)
	s := specials{format: SingleGame(f, n), opening: o, rates: r}
	if s.plain, err = g.Figures(r); err != nil {
		return Burden{}, err
	}
	b.Specials, err = s.all(c, &odds, visits, withheld)
	return b, err
}

// MeanBurden averages two burdens of one format: over who serves first.
func MeanBurden(first, second Burden) Burden {
	mean := func(x, y float64) float64 { return (x + y) / 2 }
	out := Burden{Ambiguous: mean(first.Ambiguous, second.Ambiguous), AmbiguousStates: mean(first.AmbiguousStates, second.AmbiguousStates),
		Moves: mean(first.Moves, second.Moves), Turns: mean(first.Turns, second.Turns), SideOuts: mean(first.SideOuts, second.SideOuts),
		EndChange: mean(first.EndChange, second.EndChange)}
	for i, u := range first.Specials {
		v := second.Specials[i]
		out.Specials = append(out.Specials, Use{u.Rule, mean(u.Binds, v.Binds), mean(u.Games, v.Games), mean(u.Swing, v.Swing), mean(u.Length, v.Length)})
	}
	return out
}

// follow sums over all rallies of a game what players and serve do after them,
// and returns for every node the chance that its rally is withheld.
func (b *Burden) follow(c *chain, o *odds, visits []float64) map[int]float64 {
	withheld := map[int]float64{}
	singles := c.rules.Format().Game.Sides == format.Singles
	for n := range c.nodes {
		before := c.rules.Places(c.state[n])
		side := c.serving(n)
		for _, e := range [2]struct {
			p      float64
			winner Side
		}{{o.win[c.nodes[n].who], side}, {o.lose[c.nodes[n].who], side.Other()}} {
			next, did, _ := c.rules.Apply(c.state[n], rally.RallyTo(e.winner))
			p := visits[n] * e.p
			if did.Has(rally.Withheld) {
				withheld[n] += e.p
			}
			if did.Has(rally.EndsDue) {
				b.EndChange += p
			}
			if next.Phase() != rally.Playing {
				continue
			}
			after := c.rules.Places(next)
			for s := A; s <= B; s++ {
				switch {
				case singles && after.Standing[s] != before.Standing[s]:
					b.Moves += p
				case !singles && after.At[s] != before.At[s]:
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
	return withheld
}

// specials weighs the special rules of a game against the game without them.
type specials struct {
	format  format.Format // of the one game
	opening Opening
	rates   Rates
	plain   Figures // with all rules
}

// use compares with the game that a change makes of it.
func (s *specials) use(rule string, binds, games float64, without func(*format.Game)) (Use, error) {
	u := Use{Rule: rule, Binds: binds, Games: games}
	other := s.format
	other.Shape = ""
	without(&other.Game)
	other.Last = other.Game
	if other.Validate() != nil {
		return u, nil
	}
	g, err := NewGameModel(other, 1, s.opening)
	if err != nil {
		return u, err
	}
	fig, err := g.Figures(s.rates)
	u.Swing, u.Length = s.plain.Win-fig.Win, s.plain.Mean-fig.Mean
	return u, err
}

// chance sums the chances of the finals that are so.
func (s *specials) chance(is func(won, lost uint8) bool) float64 {
	sum := 0.0
	for _, e := range s.plain.Finals {
		if is(uint8(e.Score[e.Winner]), uint8(e.Score[e.Winner.Other()])) {
			sum += e.Chance
		}
	}
	return sum
}

// all weighs every special rule that the game has.
func (s *specials) all(c *chain, o *odds, visits []float64, withheld map[int]float64) ([]Use, error) {
	game := s.format.Last
	var out []Use
	var failed error
	add := func(rule string, binds, games float64, without func(*format.Game)) {
		u, err := s.use(rule, binds, games, without)
		if err != nil && failed == nil {
			failed = err
		}
		out = append(out, u)
	}
	if game.Freeze != format.NoFreeze {
		binds := 0.0
		for n, p := range withheld {
			binds += visits[n] * p
		}
		add("freeze: "+game.Freeze.String(), binds, c.ever(o, withheld), func(g *format.Game) { g.Freeze = format.NoFreeze })
	}
	if game.WinBy > 1 {
		// The margin binds when a point at the target does not end the game.
		beyond := s.chance(func(won, _ uint8) bool { return won > game.Target })
		add("win by", beyond, beyond, func(g *format.Game) { g.WinBy = 1 })
	}
	if game.Cap != 0 {
		free := game
		free.Cap = 0
		capped := s.chance(func(won, lost uint8) bool { return !free.Won(won, lost) })
		add("cap", capped, capped, func(g *format.Game) { g.Cap = 0 })
	}
	if game.Servers == 2 && game.FirstTurn == 1 {
		add("one server in the first turn", 1, 1, func(g *format.Game) { g.FirstTurn = 2 })
	}
	return out, failed
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
