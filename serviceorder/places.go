package serviceorder

import "github.com/evencourt/evencourt/format"

// Places says where everybody stands at the next serve. In singles both
// entries of a side hold its one player, and Standing says in which court.
type Places struct {
	Server   Person       `json:"server"`
	Receiver Person       `json:"receiver"`
	Court    Court        `json:"court"`    // the server's
	Receives Court        `json:"receives"` // the receiver's
	At       [2][2]Person `json:"at"`       // by side and court: who stands there
	Standing [2]Court     `json:"standing"` // singles: the court each side's player stands in
	Number   uint8        `json:"number"`   // server number 1 or 2; 0 where the order has none
}

// Places returns where everybody stands in state s at these scores.
func (r Rules) Places(s State, a, b uint8) Places {
	side, other := s.Side(), s.Side().Other()
	var p Places
	if r.servers == 2 {
		p.Number = 1 + uint8(s/secondBit&1)
	}
	p.Court = r.Court(s, a, b)
	p.Receives = p.Court
	if !r.doubles {
		p.Server, p.Receiver = Of(side, 1), Of(other, 1)
		if r.order == format.HalfCourt {
			p.Receives = Court(own(other, a, b) & 1)
		}
		p.At = [2][2]Person{{A1, A1}, {B1, B1}}
		p.Standing[side], p.Standing[other] = p.Court, p.Receives
		return p
	}
	st := s.Starters()
	for side := A; side <= B; side++ {
		turned := r.turned(s, side, a, b)
		p.At[side][Right] = st[side] ^ Person(turned)
		p.At[side][Left] = p.At[side][Right].Partner()
	}
	p.Server = p.At[side][p.Court]
	p.Receiver = p.At[other][p.Court]
	return p
}

// Court returns the court of the next serve.
func (r Rules) Court(s State, a, b uint8) Court {
	side := s.Side()
	if !r.doubles || r.order == format.FixedCourts {
		return Court(own(side, a, b)&1) ^ Court(s/partnerBit&1)
	}
	return Court(s/partnerBit&1) ^ Court(r.turned(s, side, a, b))
}

// Server returns the person who serves next.
func (r Rules) Server(s State, a, b uint8) Person {
	side := s.Side()
	if !r.doubles {
		return Of(side, 1)
	}
	st := s.Starters()[side]
	if r.order == format.FixedCourts {
		return st ^ Person(r.Court(s, a, b))
	}
	return st ^ Person(s/partnerBit&1)
}

// turned is 1 if the starting server of a side stands left.
func (r Rules) turned(s State, side Side, a, b uint8) State {
	switch r.order {
	case format.SwapOnServe:
		return s.swapped(side)
	case format.FixedCourts:
		return 0
	}
	return State(own(side, a, b) & 1)
}
