package rally

import "github.com/evencourt/evencourt/format"

// Grounds are the clauses that a decision rests on, by their numbers in package
// format/clause: none, one, or two where it rests on two, such as a fault and the
// window in which it can still be called. Whoever decides returns them; they
// are never worked out afterwards.
//
// A refusal always has grounds. Of what is accepted, penalties, breaks, medical
// time, choices, forfeits and every ruling on an incident have; a rally or a
// replay without any has them only where a freeze withheld its point or it
// ended the game: all else follows from the format's scoring and order of
// service.
type Grounds uint32

// both joins the clause that decided and a second one that it needed.
func both(first, second Grounds) Grounds { return first | second<<16 }

// First returns the clause that decided; none is the zero clause.
func (g Grounds) First() format.Clause { return format.Clause(g & 0xffff) }

// Second returns the other clause that the decision needed.
func (g Grounds) Second() format.Clause { return format.Clause(g >> 16) }
