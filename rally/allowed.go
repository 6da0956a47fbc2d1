package rally

import "iter"

// choices are the events that a screen can have a button for, in the order of
// their kinds: a rally without a fault or incident, or by the fault of an absent
// player; a stop by the referee; a late arrival of no seconds. What rides on an
// event does not decide whether it may come.
var choices = func() []Event {
	var out []Event
	for k := RallyWon; k < Undo; k++ {
		switch forms[k].shape {
		case wordShape:
			out = append(out, Of(k))
		case stopShape:
			out = append(out, Of(k).WithIncident(Incident{Stopper: ByReferee}))
		case personShape:
			for p := A1; p <= B2; p++ {
				out = append(out, OfPerson(k, p))
			}
		default:
			for side := A; side <= B; side++ {
				switch forms[k].shape {
				case sideShape, secondsShape:
					out = append(out, OfSide(k, side))
				case rallyShape:
					out = append(out, RallyTo(side), FaultTo(side, AbsentPlayer))
				case startShape:
					for n := range Person(4) {
						out = append(out, Start(side, Starters{A1 + n&1, B1 + n>>1}))
					}
				case choiceShape:
					for c := ChooseServe; c <= ChooseDefer; c++ {
						out = append(out, Choose(side, c))
					}
				}
			}
		}
	}
	return out
}()

// choiceWords are the texts of the choices.
var choiceWords = func() []string {
	var out []string
	for _, e := range choices {
		out = append(out, e.String())
	}
	return out
}()

// Events yields the very events that may come next: every one of them is accepted
// by [Rules.Apply], and no other is but for what may ride on one that is yielded. A
// rally stands for itself with any fault and any incident, a stop for itself with
// any claim, a late arrival for any number of seconds. A screen draws its buttons
// from it, side by side and player by player: when A has used its time-outs, tB is
// there and tA is not.
func (r *Rules) Events(s State) iter.Seq[Event] {
	return func(yield func(Event) bool) {
		for _, e := range choices {
			if _, _, refusal := r.Apply(s, e); refusal == NotRefused && !yield(e) {
				return
			}
		}
	}
}

// Allowed returns the kinds of the events that may come next, as a summary of
// [Rules.Events]: that a kind is in the set does not say for whom.
func (r *Rules) Allowed(s State) KindSet {
	var set KindSet
	for e := range r.Events(s) {
		set |= 1 << e.Kind()
	}
	return set
}
