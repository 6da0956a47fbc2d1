package serviceorder

import "github.com/evencourt/evencourt/format"

// Places says where everybody stands at the next serve. In singles both
// entries of a side hold its one player, and Standing says in which court.
type Places struct {
	Server   Person       `json:"server"`
	Receiver Person       `json:"receiver"`
	Court    Court        `json:"court"`    // the server's
	Receives Court        `json:"receives"` // the receiver's
	At       [2][2]Person `json:"at"`       // by side and court: who stands there, if Known
	Standing [2]Court     `json:"standing"` // singles: the court each side's player stands in, if Known
	Number   uint8        `json:"number"`   // server number 1 or 2; 0 where the order has none
	// AnyReceives: either partner may receive, or nobody says which of them does;
	// Receiver is one of them.
	AnyReceives bool `json:"any_receives"`
}

// Known reports whether everybody has a court of his own at the next serve.
func (p *Places) Known() bool { return p.Court != NoCourt && !p.AnyReceives }

// String says who serves from where to whom, such as "A1@L#2 to B2"; "-" for the
// zero value.
func (p Places) String() string {
	if p == (Places{}) {
		return "-"
	}
	out := p.Server.String()
	if p.Court != NoCourt {
		out += "@" + p.Court.String()
	}
	if p.Number != 0 {
		out += "#" + string('0'+rune(p.Number))
	}
	out += " to " + p.Receiver.String()
	if p.AnyReceives {
		out += " or " + p.Receiver.Partner().String()
	}
	return out
}

// Places returns where everybody stands in state s at these scores.
func (r Service) Places(s Turn, a, b uint8) Places {
	side, other := s.Side(), s.Side().Other()
	var p Places
	if r.servers == 2 {
		p.Number = 1 + uint8(s/secondBit&1)
	}
	p.Court = r.Court(s, a, b)
	p.Receives = p.Court
	if r.order >= format.CountedTurns && r.doubles {
		return r.inTurns(s, p, a, b)
	}
	if !r.doubles {
		p.Server, p.Receiver = PersonOf(side, 1), PersonOf(other, 1)
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

// inTurns are the places of doubles in which partners serve in turn.
func (r Service) inTurns(s Turn, p Places, a, b uint8) Places {
	side, other := s.Side(), s.Side().Other()
	p.Server = r.Server(s, a, b)
	if r.order != format.CountedTurns {
		p.Receiver, p.Receives, p.AnyReceives = s.Starters()[other], NoCourt, true
		return p
	}
	p.Receiver = r.Server(r.nextTurn(s), a, b)
	p.At[side], p.At[other] = [2]Person{p.Server, p.Server.Partner()}, [2]Person{p.Receiver, p.Receiver.Partner()}
	return p
}

// Court returns the court of the next serve.
func (r Service) Court(s Turn, a, b uint8) Court {
	switch {
	case r.order == format.InTurn, r.order == format.CountedTurns && !r.doubles:
		return NoCourt
	case r.order == format.CountedTurns:
		return Right
	case r.order == format.TieBreak:
		return Court((a + b) & 1)
	}
	side := s.Side()
	if !r.doubles || r.order == format.FixedCourts {
		return Court(own(side, a, b)&1) ^ Court(s/partnerBit&1)
	}
	return Court(s/partnerBit&1) ^ Court(r.turned(s, side, a, b))
}

// Server returns the person who serves next.
func (r Service) Server(s Turn, a, b uint8) Person {
	side := s.Side()
	if !r.doubles {
		return PersonOf(side, 1)
	}
	st := s.Starters()[side]
	switch {
	case r.order.Counted():
		return r.countedServer(s)
	case r.order == format.InTurn:
		return st ^ Person(s.swapped(side))
	case r.order == format.FixedCourts:
		return st ^ Person(r.Court(s, a, b))
	}
	return st ^ Person(s/partnerBit&1)
}

// turned is 1 if the starting server of a side stands left.
func (r Service) turned(s Turn, side Side, a, b uint8) Turn {
	switch r.order {
	case format.SwapOnServe:
		return s.swapped(side)
	case format.FixedCourts:
		return 0
	}
	return Turn(own(side, a, b) & 1)
}
