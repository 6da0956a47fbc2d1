package serviceorder

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
)

// Service are the order of service of a game. The zero value is not usable; see
// [New].
type Service struct {
	order      format.Order
	doubles    bool
	servers    uint8
	firstTurn  uint8
	sameServer bool // fixed courts: a penalty leaves the server as he is
	stay       bool // swap on own serve: a penalty moves nobody
	counted    counted
	// receiversFree: who receives first in the next game is for the sides to say.
	receiversFree bool
}

// New returns the order that a game is served in. Rulings decide the open
// points of penalties: fixed-court-foul and swap-foul.
func New(g format.Game, r format.Rulings) Service {
	c := counted{serves: g.Serves, firstTurn: g.FirstTurn, single: format.MostPoints + 1}
	if g.Order == format.CountedTurns {
		c.single = uint16(g.Target) - 1
		if g.Sides == format.Doubles {
			c.turn = g.ChangeEndsAt
		}
	}
	return Service{
		counted:       c,
		receiversFree: g.Order != format.CountedTurns,
		order:         g.Order,
		doubles:       g.Sides == format.Doubles,
		servers:       g.Servers,
		firstTurn:     g.FirstTurn,
		sameServer:    r.Takes(clause.FixedCourtFoulSame),
		stay:          r.Takes(clause.SwapFoulStays),
	}
}

// Start returns the state in which a game opens, with the scores it opens at:
// 0-0, or a point for a side whose opponents brought a penalty. The starting
// server of the first side serves, from the court that his score dictates; the
// opening turn begins with the last server numbers.
func (r Service) Start(first Side, st Starters, a, b uint8) Turn {
	s := Prepare(first, st) | Turn(first)
	if r.order.Counted() {
		return r.afterPoints(s, int(a)+int(b), -1) // points that nobody served for are counted too
	}
	if r.order == format.SwapOnServe {
		// Partners open where the score puts them, as if they had swapped for it.
		s |= Turn(a&1)*swapABit | Turn(b&1)*swapBBit
	}
	if r.servers == 2 && r.firstTurn == 1 {
		s |= secondBit
	}
	return s
}

// Rally returns the state after a rally that winner won. The scores are those
// after the rally; scored says whether the winner's score moved.
func (r Service) Rally(s Turn, winner Side, scored bool, a, b uint8) Turn {
	switch {
	case r.order.Counted() && scored:
		return r.point(s, winner, a, b)
	case r.order.Counted():
		return s
	}
	if r.order == format.FixedCourts {
		s &^= partnerBit // whom a penalty had left serving serves no longer
	}
	side := s.Side()
	switch {
	case winner == side:
		if scored && r.order == format.SwapOnServe {
			s ^= swapABit << side
		}
		return s
	case r.servers == 2 && s&secondBit == 0:
		return s ^ partnerBit | secondBit
	}
	return r.sideOut(s, a, b)
}

// sideOut gives the serve to the other side. The player who opens the turn is
// the one standing in the court of his side's score: the right one by parity.
func (r Service) sideOut(s Turn, a, b uint8) Turn {
	s = (s ^ sideBit) &^ (partnerBit | secondBit)
	side := s.Side()
	odd := Turn(own(side, a, b) & 1)
	switch {
	case r.order == format.InTurn && r.doubles:
		return s ^ swapABit<<side.Other() // whose partner is next
	case !r.doubles || r.order == format.FixedCourts || r.order == format.InTurn:
		return s
	case r.order == format.SwapOnServe:
		return s | (odd^s.swapped(side))*partnerBit
	}
	return s | odd*partnerBit
}

// Penalty returns the state after a penalty moved the score of one side by
// one point; the scores are those after it. Side and server number stay.
func (r Service) Penalty(s Turn, moved Side, a, b uint8) Turn {
	switch {
	case r.order == format.SwapOnServe && !r.stay:
		s ^= swapABit << moved
	case r.order == format.SwapOnServe && moved == s.Side() && r.servers == 1:
		s ^= partnerBit // nobody moves: who stands in the court of the score serves
	case r.order == format.FixedCourts && moved == s.Side() && r.sameServer:
		s ^= partnerBit
	}
	return s
}

// PenaltyBy returns the clause by which everybody stands after a penalty point.
func (r Service) PenaltyBy() format.Clause {
	switch {
	case r.order == format.SwapOnServe && r.stay:
		return clause.SwapFoulStays
	case r.order == format.SwapOnServe:
		return clause.SwapFoulSwaps
	case r.order == format.FixedCourts && r.sameServer:
		return clause.FixedCourtFoulSame
	case r.order == format.FixedCourts:
		return clause.FixedCourtFoulParity
	}
	return clause.FoulPlaces
}

// Exchange returns the state after partners exchanged their fixed courts.
// It is false for every other order.
func (r Service) Exchange(s Turn, side Side) (Turn, bool) {
	if r.order != format.FixedCourts {
		return s, false
	}
	return s ^ startABit<<side, true
}

// Numbers reports whether the order has server numbers.
func (r Service) Numbers() bool { return r.servers == 2 }

// Valid reports whether s can be a state of this order at these scores.
// Bits without use must be zero; where one server has the whole turn the
// places decide who he is.
func (r Service) Valid(s Turn, a, b uint8) bool {
	side := s.Side()
	switch r.order {
	case format.CountedTurns, format.TieBreak:
		return r.countedValid(s, a, b)
	case format.InTurn:
		swapped := s.swapped(A) ^ s.swapped(B)
		return s&(partnerBit|secondBit) == 0 && (r.doubles || s&(swapABit|swapBBit|startABit|startBBit) == 0) &&
			(!r.doubles || (swapped == 0) == (side == s.First()))
	}
	if s&secondBit != 0 && r.servers == 1 {
		return false
	}
	if r.order != format.SwapOnServe && s&(swapABit|swapBBit) != 0 {
		return false
	}
	if !r.doubles && s&(partnerBit|startABit|startBBit) != 0 {
		return false
	}
	if r.order == format.SwapOnServe && r.servers == 1 {
		return s/partnerBit&1 == Turn(own(side, a, b)&1)^s.swapped(side)
	}
	if r.order == format.FixedCourts && s&partnerBit != 0 {
		return r.sameServer
	}
	// Opening turn of the second kind of game: nothing more can be said from
	// score and number alone, see Settle.
	return true
}

func own(s Side, a, b uint8) uint8 {
	if s == B {
		return b
	}
	return a
}
