package pack

import (
	"fmt"
	"math/bits"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/serviceorder"
)

// Order is an order of service as masks. What is asked of it is a number of eight
// bits, and each answer is one bit: whether an odd number of the bits of the
// question is set in the mask. The bits, from the lowest: the partner serves; the
// second server serves, or the order goes the other way round; what is remembered
// of the serving side; the same of the other side; the score of the serving side is
// odd; that of the other side; the serving side did not serve first, in Foul: the
// score that moved is its own; one, always set. Scores are those after the rally.
// The first four are the state within a game, and the four masks of a transition
// say what becomes of them. Masks of 0 at the end are left out.
type Order struct {
	// Start asks with the second bit set if the first turn is a short one.
	Start []int `json:"start,omitempty"`
	Kept  []int `json:"kept,omitempty"`  // the serving side won the rally
	First []int `json:"first,omitempty"` // it lost it with the first of two servers
	// Out is a side-out, or the end of a turn. Side and scores are those of the new
	// serving side, the first four bits still those from before.
	Out  []int `json:"out,omitempty"`
	Foul []int `json:"foul,omitempty"` // a penalty moved a score
	// Places are: the partner of the starting server serves; the partner of the
	// starting server of the other side receives; the serve comes from the left
	// court; it is received there.
	Places []int `json:"places,omitempty"`
	// Valid are masks of which every one must be even for a state to be one of this
	// order at these scores. Where turns are counted the total says more.
	Valid []int `json:"valid,omitempty"`
	// Is holds what else the order has, by the names in the README.
	Is string `json:"is,omitempty"`
}

// most is the highest score of which masks are checked.
const most = 40

// orders fills in every order that a format can have.
func (b *builder) orders(p *Pack) error {
	p.Core.Orders, p.Sports.Orders, p.Rulings.Orders = map[string]Order{}, map[string]Order{}, map[string]Order{}
	whole := map[string]Order{}
	for order := format.ByParity; order <= format.InTurn; order++ {
		for sides := format.Singles; sides <= format.Doubles; sides++ {
			for servers := uint8(1); servers <= 2; servers++ {
				for _, reading := range []format.Clause{0, clause.FixedCourtFoulSame, clause.SwapFoulStays} {
					f, ok := playable(order, sides, servers, reading)
					if !ok {
						continue
					}
					o, err := masks(f)
					if err != nil {
						return fmt.Errorf("pack: order %v: %w", order, err)
					}
					key := fmt.Sprintf("%d,%d,%d", order, sides, servers)
					switch {
					case reading != 0 && same(whole[key], o):
					case reading != 0:
						p.Rulings.Orders[key+","+reading.String()] = o
					case order >= format.CountedTurns:
						whole[key], p.Sports.Orders[key] = o, o
					default:
						whole[key] = o
						p.Rulings.Orders[key] = Order{Foul: o.Foul, Valid: o.Valid}
						o.Foul, o.Valid = nil, nil
						p.Core.Orders[key] = o
					}
				}
			}
		}
	}
	return nil
}

func same(a, b Order) bool { return fmt.Sprint(a) == fmt.Sprint(b) }

// playable returns a format with that order, if one can have it.
func playable(order format.Order, sides format.Sides, servers uint8, reading format.Clause) (format.Format, bool) {
	g := format.Game{Sides: sides, Scorer: format.EitherSide, Servers: servers, FirstTurn: 1, Order: order, Target: 11, WinBy: 2}
	e := format.Default
	switch order {
	case format.CountedTurns:
		g.Serves, g.ChangeEndsAt, e = 3, 5, format.TableTennis2001
	case format.TieBreak:
		g.Serves, g.ChangeEndsAt, e = 3, 5, format.Tennis2025
	}
	f := format.Custom(e, g, format.Series{Games: 1, NextServe: format.OtherSide})
	if reading != 0 {
		f.Rulings.Take(reading)
	}
	return f, f.Validate() == nil
}

// A sample is a question and the bits of its right answer.
type sample struct{ asked, answer int }

// The bits of a question.
const (
	partner = 1 << iota
	second
	own
	other
	ownOdd
	otherOdd
	notFirst
	one

	moves = ownOdd - 1 // the bits that are the state within a game
)

// observed is an order of the library as a pack sees it.
type observed struct {
	serviceorder.Service
	doubles, counted bool
}

// swap are the bits of [serviceorder.Turn] in which something is remembered of A
// and of B; where turns are counted the one of A says that the order has turned
// around.
var swap = [2]serviceorder.Turn{8, 16}

// bits are the first four bits of a question.
func (o observed) bits(s serviceorder.Turn, a, b uint8) int {
	at := func(cond bool, bit int) int {
		if cond {
			return bit
		}
		return 0
	}
	side := s.Side()
	if o.counted {
		return at(o.doubles && o.Server(s, a, b).Player() == 2, partner) | at(s&swap[0] != 0, second)
	}
	return at(!s.ByStarter(), partner) | at(s.Number() == 2, second) | at(s&swap[side] != 0, own) | at(s&swap[side.Other()] != 0, other)
}

// question is what is asked of a state at scores.
func (o observed) question(s serviceorder.Turn, a, b uint8) int {
	x := o.bits(s, a, b) | one
	if s.Side() == serviceorder.B {
		a, b = b, a
	}
	x |= int(a&1)*ownOdd | int(b&1)*otherOdd
	if s.Side() != s.First() {
		x |= notFirst
	}
	return x
}

// all visits every state of the order at every score.
func (o observed) all(visit func(s serviceorder.Turn, a, b uint8)) {
	for a := range uint8(most) {
		for b := range uint8(most) {
			for n := range serviceorder.Turn(64) { // the moving bits and who served first
				if o.Valid(n, a, b) {
					visit(n, a, b)
				}
			}
		}
	}
}

// samples are questions of each kind with their right answers.
type samples struct {
	start, kept, first, out, foul, places []sample

	around bool // the order has turned around
}

// masks finds the masks of an order, and sees that they tell all of it: with turns
// of two and of three points where they are counted.
func masks(f format.Format) (Order, error) {
	var all samples
	o := all.take(f)
	if f.Game.Order.Counted() {
		f.Game.Serves--
		all.take(f)
	}
	var made Order
	for _, fit := range []struct {
		name    string
		samples []sample
		masks   *[]int
	}{{"start", all.start, &made.Start}, {"kept", all.kept, &made.Kept}, {"first", all.first, &made.First}, {"out", all.out, &made.Out},
		{"foul", all.foul, &made.Foul}, {"places", all.places, &made.Places}} {
		for bit := range 4 {
			mask, ok := maskFor(fit.samples, bit)
			if !ok {
				return made, fmt.Errorf("no mask tells bit %d of %s", bit, fit.name)
			}
			*fit.masks = append(*fit.masks, mask)
		}
		for n := len(*fit.masks); n > 0 && (*fit.masks)[n-1] == 0; n-- {
			*fit.masks = (*fit.masks)[:n-1]
		}
	}
	var err error
	made.Valid, err = o.validMasks()
	made.Is = o.is(f, all.around)
	return made, err
}

// take asks everything of a format's order.
func (all *samples) take(f format.Format) observed {
	o := observed{serviceorder.New(f.Game, f.Rulings), f.Game.Sides == format.Doubles, f.Game.Order.Counted()}
	for side := serviceorder.A; side <= serviceorder.B; side++ {
		for short := range 2 {
			g := f.Game
			g.FirstTurn = max(g.Servers, g.Serves) - uint8(short)
			if g.FirstTurn == 0 {
				continue
			}
			r := serviceorder.New(g, f.Rulings)
			for par := range uint8(4) {
				a, b := par>>1, par&1
				s := r.Start(side, serviceorder.Starters{serviceorder.A1, serviceorder.B1}, a, b)
				all.start = append(all.start, sample{o.question(s, a, b)&^moves | short*second, o.bits(s, a, b)})
			}
		}
	}
	o.all(func(s serviceorder.Turn, a, b uint8) {
		side := s.Side()
		x := o.question(s, a, b)
		all.places = append(all.places, sample{x, o.placed(s, a, b)})
		for winner := serviceorder.A; winner <= serviceorder.B; winner++ {
			for _, scored := range []bool{winner == side || o.counted, true} {
				a, b := a, b
				if scored && winner == serviceorder.A {
					a++
				} else if scored {
					b++
				}
				next := o.Rally(s, winner, scored, a, b)
				now, after := o.bits(s, a, b), o.bits(next, a, b)
				if o.counted && (now^after)&second != 0 {
					all.around, after = true, after^second // which is no matter of masks
				}
				switch x := o.question(next, a, b)&^moves | now; {
				case next.Side() != side:
					all.out = append(all.out, sample{x, after})
				case winner == side || o.counted:
					all.kept = append(all.kept, sample{x, after})
				default:
					all.first = append(all.first, sample{x, after})
				}
			}
			next, x := o.Penalty(s, winner, a, b), x&^notFirst // the scores being those after it
			if winner == side {
				x |= notFirst
			}
			all.foul = append(all.foul, sample{x, o.bits(next, a, b)})
		}
	})
	return o
}

func odd(x int) bool { return bits.OnesCount(uint(x))&1 == 1 }

// maskFor is the first mask that answers all samples.
func maskFor(samples []sample, bit int) (int, bool) {
	for mask := range 256 {
		fits := true
		for _, s := range samples {
			if odd(s.asked&mask) != (s.answer>>bit&1 == 1) {
				fits = false
				break
			}
		}
		if fits {
			return mask, true
		}
	}
	return 0, false
}

// placed are the bits that say how people stand.
func (o observed) placed(s serviceorder.Turn, a, b uint8) int {
	p := o.Places(s, a, b)
	out := 0
	if p.Server.Player() == 2 {
		out |= 1
	}
	if p.Receiver.Player() == 2 {
		out |= 2
	}
	if p.Court == rally.Left {
		out |= 4
	}
	if p.Receives == rally.Left {
		out |= 8
	}
	return out
}

// validMasks are the masks that tell the states of the order from others.
func (o observed) validMasks() ([]int, error) {
	found, spanned := []int{}, map[int]bool{0: true}
	states := map[int]bool{}
	o.all(func(s serviceorder.Turn, a, b uint8) { states[o.question(s, a, b)] = true })
	for mask := 1; mask < 256; mask++ {
		even := true
		for x := range states {
			even = even && !odd(x&mask)
		}
		if !even || spanned[mask] {
			continue
		}
		found = append(found, mask)
		for m := range spanned {
			spanned[m^mask] = true
		}
	}
	for x := one; x < 2*one; x++ {
		even := true
		for _, mask := range found {
			even = even && !odd(x&mask)
		}
		if even != states[x] && !o.counted { // or the total says more
			return nil, fmt.Errorf("masks do not tell whether %b is a state", x)
		}
	}
	return found, nil
}

// is lists what an order has besides its masks.
func (o observed) is(f format.Format, around bool) string {
	var out []string
	s := o.Start(serviceorder.A, serviceorder.Starters{serviceorder.A1, serviceorder.B1}, 0, 0)
	p := o.Places(s, 0, 0)
	_, exchange := o.Exchange(0, serviceorder.A)
	level := f.Game.Target - 1
	single := false // whether one point more ends a turn wherever the total stands
	if o.counted {
		single = true
		for n := range uint8(3) {
			s := serviceorder.Prepare(serviceorder.A, serviceorder.Starters{})
			single = single && o.Rally(s, serviceorder.A, true, level+n+1, level+n).Side() == serviceorder.B
		}
	}
	for _, x := range []struct {
		is   bool
		name string
	}{
		{o.Numbers(), "numbers"},
		{exchange, "exchange"},
		{p.Court == serviceorder.NoCourt, "no-court"},
		{p.AnyReceives, "any-receives"},
		{!f.Game.Order.TakesOver(format.ByParity), "turns"},
		{single, "single"},
		{around, "around"},
		{!o.Follows(serviceorder.Starters{serviceorder.A1, serviceorder.B1}, serviceorder.Starters{serviceorder.A1, serviceorder.B2}), "receiver-follows"},
	} {
		if x.is {
			out = append(out, x.name)
		}
	}
	return strings.Join(out, " ")
}

// freezes fits each freeze with a row of points below the target: a side is frozen
// at own or more, or at with or more while the other has other or more. The first
// row freezes nobody, another empty one the point that would win.
func (b *builder) freezes(p *Pack) error {
	var clauses []string
	for f := format.NoFreeze; f <= format.BothAtPoint; f++ {
		g := format.Game{Target: 21, WinBy: 2, Freeze: f}
		row, ok := fit(g)
		if !ok {
			return fmt.Errorf("pack: no row fits the freeze %v", f)
		}
		by := "-"
		if f != format.NoFreeze {
			var err error
			if by, err = freezeClause(f); err != nil {
				return err
			}
		}
		p.Core.Freezes, clauses = append(p.Core.Freezes, row), append(clauses, by)
	}
	p.Rulings.Freezes = strings.Join(clauses, " ")
	return nil
}

// always is more points below the target than any score has.
const always = 255

func fit(g format.Game) ([]int, bool) {
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
		return []int{}, true
	}
	if same(func(own, other int) bool { return g.Won(uint8(own+1), uint8(other)) }) {
		return []int{}, true
	}
	target := int(g.Target)
	for own := 1; own < 6; own++ {
		for other := range 6 {
			for _, with := range []int{1, 2, 3, 4, 5, always} {
				if same(func(a, b int) bool { return a >= target-own || other > 0 && b >= target-other && a >= target-with }) {
					return []int{own, other, with}, true
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
