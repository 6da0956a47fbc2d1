package explore

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
)

// Penalty is what a penalty point does to a side that it is given against, at
// one position.
type Penalty struct {
	Position
	Against Side `json:"against"`
	// Removed: the point comes off the side's own score, and at nothing goes to
	// the opponents; otherwise the opponents are awarded one. Which of them holds
	// is the edition's.
	Removed bool    `json:"removed"`
	Before  float64 `json:"before"` // the side's chance of the game without it
	After   float64 `json:"after"`
}

// Cost is how much of its chance the side loses.
func (p *Penalty) Cost() float64 { return p.Before - p.After }

// Penalties returns what one penalty point costs at every position of the game,
// against either side and in both ways that editions know. Left out is what
// leads to a score that rallies alone cannot come to. The ladder is not
// followed: it is the first technical foul of a match. A sport whose penalties
// the library does not know has none.
func (g *GameModel) Penalties(r Rates) ([]Penalty, error) {
	c, o, err := g.at(r)
	if err != nil {
		return nil, err
	}
	if _, _, refusal := g.rules.Apply(c.state[0], rally.OfSide(rally.TechnicalFoul, A)); refusal == rally.NotInEdition {
		return nil, nil
	}
	l := c.rounds(o)
	win, visits := c.winning(o, l), c.visits(c.start, o, l)
	type sum struct{ weight, before, after float64 }
	sums := map[Penalty]*sum{}
	var order []Penalty
	for _, foul := range []format.Clause{clause.FoulAwards, clause.FoulRemoves} {
		f := g.rules.Format()
		f.Rulings.Take(foul)
		rules, err := rally.Compile(f)
		if err != nil {
			return nil, err
		}
		for n := range c.nodes {
			for against := A; against <= B; against++ {
				next, did, refusal := rules.Apply(c.state[n], rally.OfSide(rally.TechnicalFoul, against))
				if refusal != rally.NotRefused || !did.Has(rally.PenaltyPoint) {
					continue
				}
				after := 0.0
				if next.Phase() != rally.Playing {
					if _, winner, _ := next.Outcome(); winner == A {
						after = 1
					}
				} else if to, known := c.find(next); known {
					after = win[to]
				} else {
					continue
				}
				key := Penalty{Position: c.position(n), Against: against, Removed: foul == clause.FoulRemoves}
				s := sums[key]
				if s == nil {
					s = new(sum)
					sums[key] = s
					order = append(order, key)
				}
				w := 1.0
				if c.detailed {
					w = visits[n]
				}
				s.weight += w
				s.before += w * of(against, win[n])
				s.after += w * of(against, after)
			}
		}
	}
	for i := range order {
		if s := sums[order[i]]; s.weight > 0 {
			order[i].Before, order[i].After = s.before/s.weight, s.after/s.weight
		}
	}
	return order, nil
}

// of returns the chance of a side, given that of A.
func of(side Side, p float64) float64 {
	if side == B {
		return 1 - p
	}
	return p
}
