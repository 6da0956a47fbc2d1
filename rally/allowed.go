package rally

// KindSet is a set of event kinds.
type KindSet uint64

// Has reports whether the set holds k.
func (s KindSet) Has(k Kind) bool { return s>>k&1 != 0 }

// Names lists the kinds by name.
func (s KindSet) Names() []string {
	var out []string
	for k := RallyWon; k < kindCount; k++ {
		if s.Has(k) {
			out = append(out, k.String())
		}
	}
	return out
}

// Allowed returns the kinds of events that may come next, so that a screen can
// grey the others: a kind is in the set exactly when some event of it would be
// accepted. It is computed by trying them.
func (r *Rules) Allowed(s State) KindSet {
	var set KindSet
	for k := RallyWon; k < Undo; k++ {
		for _, e := range trials[k] {
			if _, _, refusal := r.Apply(s, e); refusal == NotRefused {
				set |= 1 << k
				break
			}
		}
	}
	return set
}

// trials are for each kind the events that decide whether any of it can come.
var trials = func() (t [kindCount][]Event) {
	for k := RallyWon; k < Undo; k++ {
		t[k] = representatives(k)
	}
	return
}()

// representatives lists the events of a kind up to what cannot turn a refusal
// into an acceptance: incidents change what a rally does, not whether it can
// be, and every fault but an absent player's is alike.
func representatives(k Kind) []Event {
	var out []Event
	switch forms[k].shape {
	case wordShape:
		return []Event{Of(k)}
	case stopShape:
		return []Event{Of(k).WithIncident(Incident{Stopper: ByReferee})}
	case sideShape:
		return []Event{OfSide(k, A), OfSide(k, B)}
	case personShape:
		for p := A1; p <= B2; p++ {
			out = append(out, OfPerson(k, p))
		}
	case rallyShape:
		for s := A; s <= B; s++ {
			out = append(out, RallyTo(s), FaultTo(s, AbsentPlayer))
		}
	case startShape:
		for n := 0; n < 8; n++ {
			out = append(out, Start(Side(n&1), Starters{A1 + Person(n>>1&1), B1 + Person(n>>2&1)}))
		}
	case choiceShape:
		for s := A; s <= B; s++ {
			for c := ChooseServe; c <= ChooseDefer; c++ {
				out = append(out, Choose(s, c))
			}
		}
	case secondsShape:
		for s := A; s <= B; s++ {
			out = append(out, Late(s, 0), Late(s, 65535))
		}
	}
	return out
}
