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
		if r.someComes(s, k) {
			set |= 1 << k
		}
	}
	return set
}

// someComes tries the events of a kind up to what cannot turn a refusal into
// an acceptance: incidents change what a rally does, not whether it can be,
// and every fault but an absent player's is alike.
func (r *Rules) someComes(s State, k Kind) bool {
	comes := func(e Event) bool {
		_, _, refusal := r.Apply(s, e)
		return refusal == NotRefused
	}
	switch forms[k].shape {
	case wordShape:
		return comes(Of(k))
	case stopShape:
		return comes(Of(k).WithIncident(Incident{Stopper: ByReferee}))
	}
	for p := A1; p <= B2; p++ {
		side := p.Side()
		switch forms[k].shape {
		case sideShape, personShape:
			if comes(OfPerson(k, p) & (shapeMasks[forms[k].shape] | 127<<kindAt)) {
				return true
			}
		case rallyShape:
			if comes(RallyTo(side)) || comes(FaultTo(side, AbsentPlayer)) {
				return true
			}
		case startShape:
			for n := A1; n <= A2; n++ {
				if comes(Start(side, Starters{A1 + n, B1 + p&1})) {
					return true
				}
			}
		case choiceShape:
			for c := ChooseServe; c <= ChooseDefer; c++ {
				if comes(Choose(side, c)) {
					return true
				}
			}
		case secondsShape:
			if comes(Late(side, 0)) || comes(Late(side, 65535)) {
				return true
			}
		}
	}
	return false
}
