package serviceorder

// Orders in which turns are counted: the score says when a turn ends. Their
// states hold who serves and, in doubles, which way round the order goes.

// around is the state in which the order goes the other way round: since the
// mid-game end change fell due. It is a bit that only partners who swap need.
const around = swapABit

// counted is what an order has to know where turns are counted.
type counted struct {
	serves, firstTurn uint8  // points of a turn, and of the first; 0 where turns are not counted
	turn              uint8  // doubles: first score of a side at which the order turns around, 0 for none
	single            uint16 // score of both from which on each point is a turn
}

// ends reports whether a turn ends with the point that made the scores a and b.
func (c *counted) ends(a, b int) bool {
	inTurns := a + b - int(c.firstTurn)
	return min(a, b) >= int(c.single) || inTurns >= 0 && inTurns%int(c.serves) == 0
}

// turnsAround reports whether the order turns around with a point of the side
// that has own now.
func (c *counted) turnsAround(own, other uint8) bool {
	return c.turn != 0 && own == c.turn && other < c.turn
}

// point is the state after a point of the winner, the scores being those after it.
func (r Service) point(s Turn, winner Side, a, b uint8) Turn {
	if r.counted.ends(int(a), int(b)) {
		s = r.nextTurn(s)
	}
	if r.counted.turnsAround(own(winner, a, b), own(winner.Other(), a, b)) {
		s ^= around
	}
	return s
}

// nextTurn gives the serve to who receives. Partners serve in turn: A's with every
// turn of A, B's with every turn of A too, so that no rule need know who began; by
// which of them a side began is seen in [Service.Server]. Where the order has turned
// around, it is B's turns that they change with.
func (r Service) nextTurn(s Turn) Turn {
	s ^= sideBit
	if r.doubles && (s.Side() == A) == (s&around == 0) {
		s ^= partnerBit
	}
	return s
}

// countedServer returns who serves.
func (r Service) countedServer(s Turn) Person {
	side := s.Side()
	if !r.doubles {
		return PersonOf(side, 1)
	}
	p := s.Starters()[side] ^ Person(s/partnerBit&1)
	if s.First() == B && side == A {
		return p.Partner()
	}
	return p
}

// countedValid reports whether points have led from the start of a game to s. In
// doubles what the other side had when the order turned around is not known.
func (r Service) countedValid(s Turn, a, b uint8) bool {
	c := &r.counted
	if c.turn == 0 || max(a, b) < c.turn {
		return s == r.afterPoints(s, int(a)+int(b), -1)
	}
	for other := range min(int(c.turn), int(min(a, b))+1) {
		if s == r.afterPoints(s, int(a)+int(b), int(c.turn)+other) {
			return true
		}
	}
	return false
}

// afterPoints is the state that as many points lead to in the game of s, at one of
// which the order turned around. Up to level one short of the target the score is
// of no matter, and from there on both sides have that.
func (r Service) afterPoints(s Turn, points, turned int) Turn {
	s = s&^Moving | Turn(s.First())
	for n := 1; n <= points; n++ {
		level := n / 2
		if n < 2*int(r.counted.single) {
			level = 0
		}
		if r.counted.ends(level, n-level) {
			s = r.nextTurn(s)
		}
		if n == turned {
			s ^= around
		}
	}
	return s
}

// ByParityTo returns the score that neither side may reach for a rally to be found
// from the parity of the scores alone: 0 where it never can, 255 where it always can.
func (r Service) ByParityTo() uint8 {
	c := &r.counted
	switch {
	case c.serves == 0:
		return 255
	case c.serves > 2:
		return 0
	case c.turn != 0:
		return uint8(min(c.single, uint16(c.turn)))
	}
	return uint8(min(c.single, 255))
}

// Follows reports whether starting servers can be those of a game that comes after
// another one. In doubles of table tennis the first receiver is the player who
// served to the first server in the game before; partners of a pair who begin are
// therefore both the same as before or both the other ones.
func (r Service) Follows(before, now Starters) bool {
	return !r.doubles || r.receiversFree || (before[A] == now[A]) == (before[B] == now[B])
}
