package rally

import "github.com/evencourt/evencourt/serviceorder"

// Order returns the state of the order of service: who serves, as which of
// the servers of the turn, and who the starting servers are. It is meaningful
// only while a game is in play.
func (s State) Order() serviceorder.State { return s.order() }

// WithOrder returns s with another state of the order of service: the same
// score with other people serving, as an auditor supposes it. It is false
// outside play and where the format cannot be in that order at that score.
func (r *Rules) WithOrder(s State, o serviceorder.State) (State, bool) {
	a, b := s.scores()
	if s.Phase() != Playing || !r.game(s.Game()).order.Valid(o, a, b) {
		return s, false
	}
	s.setOrder(o)
	return s, true
}
