package explore

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Incentive is a moment at which doing badly would help.
type Incentive struct {
	Act    rally.Event   `json:"act"`    // what helps the actor: losing the rally, a foul, a time-out, retiring
	Actor  Side          `json:"actor"`  // who does it
	Line   string        `json:"line"`   // canonical line of the state
	Path   []rally.Event `json:"path"`   // a shortest way there
	Rates  Rates         `json:"rates"`  // at which it helps
	Stay   float64       `json:"stay"`   // actor's chance without it: of a rally, after winning it
	After  float64       `json:"after"`  // actor's chance after it
	Raises float64       `json:"raises"` // After - Stay
}

// IncentiveReport says whether a format ever rewards what it should not.
type IncentiveReport struct {
	Format  string   `json:"format"`
	Acts    []string `json:"acts"`    // what was tried
	Moments int      `json:"moments"` // states times choices compared
	Rates   int      `json:"rates"`   // pairs of strengths
	// Found are the strongest incentive of each act, with a shortest way to a
	// state that has one. None found is a proof for these rates: every reachable
	// state was compared.
	Found []Incentive `json:"found"`
}

// perverse is the least gain that counts, well above the error of figures.
const perverse = 1e-12

// Incentives compares, in every reachable state of every kind of game and at
// every pair of strengths, what each act is worth to the side whose act it is:
// losing the rally against winning it, and a time-out, a technical foul and
// retiring against not doing so. Chances are those of the match.
func Incentives(f format.Format, rates []Rates) (IncentiveReport, error) {
	out := IncentiveReport{Format: f.ID(), Rates: len(rates), Acts: []string{"losing a rally", "time-out", "technical foul", "retirement"}}
	if len(rates) == 0 {
		return out, &InputError{"rates", "none given"}
	}
	strongest := map[rally.Kind]*Incentive{}
	for _, first := range []Side{A, B} {
		m, err := NewMatchModel(f, Opening{First: first})
		if err != nil {
			return out, err
		}
		for _, r := range rates {
			if err := m.incentives(r, strongest, &out.Moments); err != nil {
				return out, err
			}
		}
	}
	for _, k := range []rally.Kind{rally.RallyWon, rally.TimeOut, rally.TechnicalFoul, rally.Retirement} {
		if i := strongest[k]; i != nil {
			out.Found = append(out.Found, *i)
		}
	}
	return out, nil
}

// incentives looks at every game that the match can come to. A side's chance
// of the match is linear in its chance of the game, and rises with it unless
// winning the game is itself worth less than losing it, which is looked at too.
func (m *MatchModel) incentives(r Rates, strongest map[rally.Kind]*Incentive, moments *int) error {
	win := map[gameKind]float64{}
	for _, k := range m.kinds() {
		p, err := m.games[k].Win(r)
		if err != nil {
			return err
		}
		win[k] = p
	}
	memo := map[stage]float64{}
	var value func(s stage) float64
	value = func(s stage) float64 {
		if winner, tie, over := m.over(s); over {
			switch {
			case tie:
				return 0.5
			case winner == A:
				return 1
			}
			return 0
		}
		if v, known := memo[s]; known {
			return v
		}
		p := win[m.kind(s)]
		v := p*value(m.after(s, A)) + (1-p)*value(m.after(s, B))
		memo[s] = v
		return v
	}
	value(m.start())
	for s := range memo {
		k := m.kind(s)
		won, lost := value(m.after(s, A)), value(m.after(s, B))
		if err := m.games[k].incentives(r, won, lost, strongest, moments); err != nil {
			return err
		}
	}
	return nil
}

// incentives compares the acts in every state of one game, where A's chance of
// the match is won after winning it and lost after losing it.
func (g *GameModel) incentives(r Rates, won, lost float64, strongest map[rally.Kind]*Incentive, moments *int) error {
	c, o, err := g.at(r)
	if err != nil {
		return err
	}
	x := c.winning(o, c.rounds(o))
	chance := func(p float64, side Side) float64 {
		v := lost + (won-lost)*p
		if side == B {
			return 1 - v
		}
		return v
	}
	note := func(n int, act rally.Event, actor Side, stay, after float64) {
		*moments++
		if after-stay <= perverse {
			return
		}
		if was := strongest[act.Kind()]; was != nil && was.Raises >= after-stay {
			return
		}
		strongest[act.Kind()] = &Incentive{Act: act, Actor: actor, Line: c.rules.Line(c.state[n]), Path: c.path(n), Rates: r,
			Stay: stay, After: after, Raises: after - stay}
	}
	for n := range c.nodes {
		serving := c.serving(n)
		up, down := x[c.nodes[n].up], x[c.nodes[n].down]
		note(n, rally.RallyTo(serving.Other()), serving, chance(up, serving), chance(down, serving))
		note(n, rally.RallyTo(serving), serving.Other(), chance(down, serving.Other()), chance(up, serving.Other()))
		for side := A; side <= B; side++ {
			now := chance(x[n], side)
			note(n, rally.OfSide(rally.Retirement, side), side, now, 0)
			for _, k := range []rally.Kind{rally.TimeOut, rally.TechnicalFoul} {
				e := rally.OfSide(k, side)
				next, did, refusal := c.rules.Apply(c.state[n], e)
				if refusal != rally.NotRefused {
					continue
				}
				if did.Has(rally.GameWon) || next.Phase() != rally.Playing {
					_, winner, _ := next.Outcome()
					p := 0.0
					if winner == A {
						p = 1
					}
					note(n, e, side, now, chance(p, side))
					continue
				}
				if to, ok := c.find(next); ok {
					note(n, e, side, now, chance(x[to], side))
				}
			}
		}
	}
	return nil
}

// find returns the node of an engine state in play. It is false for a score
// that rallies alone do not come to.
func (c *chain) find(s rally.State) (int, bool) {
	if s.EndChangeDue() {
		s, _, _ = c.rules.Apply(s, rally.EventOf(rally.EndsChanged))
	}
	n, ok := c.index[c.fold.standing(c.rules, s)]
	return int(n), ok
}

// path returns a shortest sequence of events to the node, end changes made.
func (c *chain) path(n int) []rally.Event {
	type from struct {
		n  int
		by rally.Event
	}
	came := map[int]from{c.start: {-1, 0}}
	todo := []int{c.start}
	for len(todo) > 0 && todo[0] != n {
		at := todo[0]
		todo = todo[1:]
		side := c.serving(at)
		for _, e := range [2]struct {
			to int32
			by Side
		}{{c.nodes[at].up, side}, {c.nodes[at].down, side.Other()}} {
			if to, ok := c.nodeAt(e.to); ok {
				if _, seen := came[to]; !seen {
					came[to] = from{at, rally.RallyTo(e.by)}
					todo = append(todo, to)
				}
			}
		}
	}
	var back []rally.Event
	for at := n; at != c.start; {
		f, ok := came[at]
		if !ok {
			return nil
		}
		back = append(back, f.by)
		at = f.n
	}
	out := make([]rally.Event, 0, len(back))
	for i := len(back) - 1; i >= 0; i-- {
		out = append(out, back[i])
	}
	return out
}
