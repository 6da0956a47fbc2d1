package rally

import "github.com/evencourt/evencourt/format"

// Explanation says why an event was refused, in codes; rally/referee puts it
// into words.
type Explanation struct {
	Event   string   `json:"event"`
	Refusal Refusal  `json:"refusal"` // NotRefused: the event would be accepted
	Grounds []Ground `json:"grounds"` // the clause that decides, and a second one where it needs it; none if accepted
	// Instead are kinds of events that meet the same need and may come: for a
	// second medical need, stopping for safety; where no break can begin, that a
	// suspected concussion is recorded.
	Instead KindSet `json:"instead"`
	Help    bool    `json:"help"`    // call qualified help first
	Allowed KindSet `json:"allowed"` // what may come next
}

// Ground is a clause on which a decision rests, with what is known of it in the
// edition of the match.
type Ground struct {
	Clause format.Clause `json:"clause"`
	Source format.Source `json:"source"`
	// Setting: the clause does not stand in that edition; the rules of this event
	// bring it, and Source is empty.
	Setting bool `json:"setting,omitempty"`
}

// Grounds returns the clauses of a decision with their sources.
func (r *Rules) Grounds(g Grounds) []Ground {
	var out []Ground
	for _, c := range [2]format.Clause{g.First(), g.Second()} {
		if c != 0 {
			source, stands := c.Source(r.format.Edition)
			out = append(out, Ground{c, source, !stands})
		}
	}
	return out
}

// needs are the events with which somebody who is hurt or ill comes before the
// referee.
const needs KindSet = 1<<MedicalRequest | 1<<BloodTimeOut | 1<<IllnessTimeOut | 1<<PlayOnAlone | 1<<Concussion

// Why explains what [Rules.Apply] would say to an event: the refusal, the rules
// behind it with their sources, and what is allowed instead. A medical need is
// never answered by the refusal alone: help comes first, and play may be stopped
// for safety where it is going on.
func (r *Rules) Why(s State, e Event) Explanation {
	_, _, refusal, by := r.Decide(s, e)
	x := Explanation{Event: e.String(), Refusal: refusal, Allowed: r.Allowed(s)}
	if refusal == NotRefused {
		return x
	}
	x.Grounds = r.Grounds(by)
	switch k := e.Kind(); {
	case needs.Has(k):
		x.Help = true
		x.Instead = (1<<RefereeTimeOut | 1<<IllnessTimeOut | 1<<BloodTimeOut) & x.Allowed
		if x.Instead == 0 && k != PlayOnAlone && k != Concussion {
			x.Instead = 1 << Concussion & x.Allowed // no break, but what must be on record can be
		}
	case refusal == AbsentDue:
		x.Instead = 1 << RallyWon
	}
	return x
}

// AbsentFault returns the event to enter when a player who is out is due to
// serve or receive: his side loses the rally. It is false if none is due, and
// after a suspected concussion, with which no rally is played.
func (r *Rules) AbsentFault(s State) (Event, bool) {
	if s.Phase() != Playing || s.concussed() {
		return 0, false
	}
	side, due := r.absentDue(s)
	return FaultTo(side.Other(), AbsentPlayer), due
}
