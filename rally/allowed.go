package rally

import "iter"

// choices yields the events that a screen can have a button for, in the order of
// their kinds: a rally without a fault or incident, or that which an absent player
// loses; a stop by the referee; a late arrival of no seconds. What else rides on
// an event does not decide whether it may come.
func choices(yield func(Event) bool) {
	for k := RallyWon; k < Undo; k++ {
		if !choicesOf(k, yield) {
			return
		}
	}
}

func choicesOf(k Kind, yield func(Event) bool) bool {
	switch forms[k].shape {
	case wordShape:
		return yield(EventOf(k))
	case stopShape:
		return yield(EventOf(k).WithIncident(Incident{Stopper: ByReferee}))
	case personShape:
		return yield(OfPerson(k, A1)) && yield(OfPerson(k, A2)) && yield(OfPerson(k, B1)) && yield(OfPerson(k, B2))
	case sideShape, secondsShape:
		return yield(OfSide(k, A)) && yield(OfSide(k, B))
	}
	for side := A; side <= B; side++ {
		switch forms[k].shape {
		case rallyShape:
			if !yield(RallyTo(side)) || !yield(FaultTo(side, AbsentPlayer)) {
				return false
			}
		case startShape:
			for n := range Person(4) {
				if !yield(Start(side, Starters{A1 + n&1, B1 + n>>1})) {
					return false
				}
			}
		case choiceShape:
			for c := ChooseServe; c <= ChooseDefer; c++ {
				if !yield(Choose(side, c)) {
					return false
				}
			}
		}
	}
	return true
}

// Events yields the very events that may come next: every one of them is accepted
// by [Rules.Apply], and no other is but for what may ride on one that is yielded. A
// rally stands for itself with any fault and any incident, a stop for itself with
// any claim, a late arrival for any number of seconds. A screen draws its buttons
// from it, side by side and player by player: when A has used its time-outs, tB is
// there and tA is not.
func (r *Rules) Events(s State) iter.Seq[Event] {
	return func(yield func(Event) bool) {
		choices(func(e Event) bool {
			return !r.comes(s, e) || yield(e)
		})
	}
}

// comes reports whether a choice may come. The rally that an absent player loses is one
// only while that is due: till then it is a rally with a fault as any other.
func (r *Rules) comes(s State, e Event) bool {
	if e.Fault() == AbsentPlayer {
		if due, now := r.AbsentFault(s); !now || e != due {
			return false
		}
	}
	_, _, refusal := r.Apply(s, e)
	return refusal == NotRefused
}

// Allowed returns the kinds of the events that may come next, as a summary of
// [Rules.Events]: that a kind is in the set does not say for whom.
func (r *Rules) Allowed(s State) KindSet {
	var set KindSet
	choices(func(e Event) bool {
		if !set.Has(e.Kind()) && r.comes(s, e) {
			set |= 1 << e.Kind()
		}
		return true
	})
	return set
}
