package pack

import (
	"fmt"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/serviceorder"
)

// Order is an order of service as tables. A moving state is a number below
// Moving; a cell is a character, the number plus 48. Scores come in by their
// parity.
type Order struct {
	// Start is the state in which a game opens: by first*4 + parityA*2 + parityB.
	Start string `json:"start"`
	// Rally is the state after a rally: by ((state*2 + winner)*2 + scored)*4 + parities,
	// which are those after it.
	Rally string `json:"rally"`
	// Penalty is the state after a penalty point: by (state*2 + side that moved)*4 + parities.
	Penalty string `json:"penalty"`
	// Places says how people stand: by state*4 + parities. 1: the server is in the
	// left court; 2: the receiver is; 4 and 8: A's and B's starting server stands
	// left; 16: second server; 32: the state is valid at these parities.
	Places string `json:"places"`
	// Numbers is 1 where servers are numbered, Exchange where partners may exchange.
	Numbers  int `json:"numbers"`
	Exchange int `json:"exchange"`
}

const parities = 4

// most is the highest score of which the tables are checked.
const most = 40

// orders fills in every order that a format can have.
func (b *builder) orders(p *Pack) error {
	p.Core.Orders = map[string]Order{}
	p.Core.Moving = int(serviceorder.Moving) + 1
	for order := format.ByParity; order <= format.HalfCourt; order++ {
		for sides := format.Singles; sides <= format.Doubles; sides++ {
			for servers := uint8(1); servers <= 2; servers++ {
				for first := uint8(1); first <= servers; first++ {
					for _, reading := range []format.Clause{0, clause.FixedCourtFoulSame, clause.SwapFoulStays} {
						f, ok := playable(order, sides, servers, first, reading)
						if !ok {
							continue
						}
						o, err := tables(serviceorder.New(f.Game, f.Rulings))
						if err != nil {
							return fmt.Errorf("pack: order %v: %w", order, err)
						}
						key := fmt.Sprintf("%d,%d,%d,%d", order, sides, servers, first)
						if plain := p.Core.Orders[key]; reading != 0 && plain == o {
							continue
						} else if reading != 0 {
							key += "," + reading.String()
						}
						p.Core.Orders[key] = o
					}
				}
			}
		}
	}
	return nil
}

// playable returns a format with that order, if one can have it.
func playable(order format.Order, sides format.Sides, servers, first uint8, reading format.Clause) (format.Format, bool) {
	f := format.Custom(format.Default, format.Game{Sides: sides, Scorer: format.EitherSide, Servers: servers,
		FirstTurn: first, Order: order, Target: 11, WinBy: 2}, format.Series{Games: 1, NextServe: format.OtherSide})
	if reading != 0 {
		f.Rulings.Take(reading)
	}
	return f, f.Validate() == nil
}

// tables computes the tables of an order, and sees that scores come in by
// their parity alone.
func tables(r serviceorder.Service) (Order, error) {
	states := int(serviceorder.Moving) + 1
	o := Order{}
	if r.Numbers() {
		o.Numbers = 1
	}
	if _, ok := r.Exchange(0, serviceorder.A); ok {
		o.Exchange = 1
	}
	cells := func(to *string, n int, cell func(state, n int, a, b uint8) int) error {
		table := make([]byte, states*n*parities)
		for i := range table {
			table[i] = 0
		}
		for a := range uint8(most) {
			for b := range uint8(most) {
				for state := range states {
					for k := range n {
						at, v := (state*n+k)*parities+int(a&1*2+b&1), byte(48+cell(state, k, a, b))
						if v > 48+63 {
							return fmt.Errorf("a cell holds %d", v-48)
						}
						if table[at] != 0 && table[at] != v {
							return fmt.Errorf("the scores come in by more than their parity, at %d-%d", a, b)
						}
						table[at] = v
					}
				}
			}
		}
		*to = string(table)
		return nil
	}
	for first := serviceorder.A; first <= serviceorder.B; first++ {
		for par := range uint8(parities) {
			o.Start += string(rune(48 + r.Start(first, serviceorder.Starters{}, par>>1, par&1)&serviceorder.Moving))
		}
	}
	for _, err := range []error{
		cells(&o.Rally, 4, func(state, k int, a, b uint8) int {
			return int(r.Rally(serviceorder.Turn(state), serviceorder.Side(k>>1), k&1 == 1, a, b) & serviceorder.Moving)
		}),
		cells(&o.Penalty, 2, func(state, k int, a, b uint8) int {
			return int(r.Penalty(serviceorder.Turn(state), serviceorder.Side(k), a, b) & serviceorder.Moving)
		}),
		cells(&o.Places, 1, func(state, _ int, a, b uint8) int {
			s := serviceorder.Turn(state)
			p := r.Places(s, a, b)
			cell := int(p.Court) + 2*int(p.Receives)
			for side := range serviceorder.B + 1 {
				if p.At[side][rally.Right].Player() == 2 {
					cell |= 4 << side
				}
			}
			if p.Number == 2 {
				cell |= 16
			}
			if r.Valid(s, a, b) {
				cell |= 32
			}
			return cell
		}),
	} {
		if err != nil {
			return o, err
		}
	}
	return o, nil
}

// freezes fits each freeze with a row: the clause; then points below the target:
// a side is frozen at own or more, or at with or more while the other has other
// or more. A row of a clause alone freezes the point that would win.
func (b *builder) freezes(p *Pack) error {
	for f := format.NoFreeze; f <= format.BothAtPoint; f++ {
		g := format.Game{Target: 21, WinBy: 2, Freeze: f}
		row, ok := fit(g)
		if !ok {
			return fmt.Errorf("pack: no row fits the freeze %v", f)
		}
		if f != format.NoFreeze {
			c, err := freezeClause(f)
			if err != nil {
				return err
			}
			row = append([]any{c}, row...)
		}
		p.Core.Freezes = append(p.Core.Freezes, row)
	}
	return nil
}

// always is more points below the target than any score has.
const always = 255

func fit(g format.Game) ([]any, bool) {
	same := func(frozen func(own, other int) bool) bool {
		for own := range most {
			for other := range most {
				if g.Frozen(uint8(own), uint8(other)) != frozen(own, other) {
					return false
				}
			}
		}
		return true
	}
	if same(func(int, int) bool { return false }) {
		return []any{}, true
	}
	if same(func(own, other int) bool { return g.Won(uint8(own+1), uint8(other)) }) {
		return []any{}, true
	}
	target := int(g.Target)
	for own := 1; own < 6; own++ {
		for other := range 6 {
			for _, with := range []int{1, 2, 3, 4, 5, always} {
				if same(func(a, b int) bool { return a >= target-own || other > 0 && b >= target-other && a >= target-with }) {
					return []any{own, other, with}, true
				}
			}
		}
	}
	return nil, false
}

// freezeClause is the clause by which a point is withheld.
func freezeClause(f format.Freeze) (string, error) {
	own := format.Custom(format.Default, format.Game{Sides: format.Doubles, Scorer: format.EitherSide, Servers: 1,
		Order: format.FixedCourts, Target: 21, WinBy: 2, Freeze: f}, format.Series{Games: 1, NextServe: format.OtherSide})
	r, err := rally.Compile(own)
	if err != nil {
		return "", err
	}
	s, _, _ := r.Apply(r.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
	s, ok := r.WithScores(s, 18, 20)
	_, did, _, by := r.Decide(s, rally.RallyTo(rally.B))
	if !ok || !did.Has(rally.Withheld) {
		return "", fmt.Errorf("pack: the freeze %v withholds nothing", f)
	}
	return by.First().String(), nil
}
