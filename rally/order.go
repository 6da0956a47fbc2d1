package rally

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/serviceorder"
)

// Order returns the state of the order of service: who serves, as which of
// the servers of the turn, and who the starting servers are. It is meaningful
// only while a game is in play.
func (s State) Order() serviceorder.Turn {
	return serviceorder.Turn(s.play&orderMask | s.play>>fixedAt&7<<5)
}

func (s State) withOrder(o serviceorder.Turn) State {
	s.play = s.play&^(orderMask|fixedMask) | uint64(o)&orderMask | uint64(o>>5)<<fixedAt
	return s
}

// WithOrder returns s with another state of the order of service: the same
// score with other people serving, as an auditor supposes it. It is false
// outside play and where the format cannot be in that order at that score.
func (r *Rules) WithOrder(s State, o serviceorder.Turn) (State, bool) {
	a, b := s.scores()
	if s.Phase() != Playing || !r.game(s).order.Valid(o, a, b) {
		return s, false
	}
	s = s.withOrder(o)
	return s, true
}

// WithScores returns s with other scores: the same people serving as the same
// servers at another score. It is false where the format cannot be there.
func (r *Rules) WithScores(s State, a, b int) (State, bool) {
	if min(a, b) < 0 || max(a, b) > format.MostPoints {
		return s, false
	}
	next := s.withScores(uint8(a), uint8(b))
	if s.Phase() == Playing && !r.game(s).order.Valid(s.Order(), uint8(a), uint8(b)) {
		return s, false
	}
	if field, _ := r.impossible(next); field != "" {
		return s, false
	}
	return next, true
}
