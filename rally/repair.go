package rally

import "slices"

// amend repairs the record: entry n says what did not happen, e did; an e of 0
// strikes the entry. Later entries are folded again. It is refused, and names
// the entry, if one of them would now be refused, or belong to another game or
// another phase of it. What comes before the first entry that reads otherwise is gone
// through once, what comes after it twice. Once the sheet is returned it needs a stated reason.
func (l *Log) amend(e Entry) error {
	switch n := e.Target; {
	case n < 1 || n > len(l.entries):
		return &EntryError{Refusal: Malformed, Reason: "no such entry"}
	case l.now.state.Phase() == Closed && e.Note == "":
		return &EntryError{Refusal: MatchClosed, Reason: "only an amendment with a stated reason opens it again"}
	case e.Event != 0 && (l.entries[n-1].Kind() >= Undo || e.Event.Kind() >= Undo):
		return refuse(n, LogOnly, "a correction can only be struck")
	}
	trial := *l
	trial.add(Event(Amend), l.now, &correction{entry: &e})
	was, is := l.live(len(l.entries)), trial.live(len(trial.entries))
	same := 0 // so many entries read as before: they are gone through once
	for same < len(was) && was[same] == is[same] {
		same++
	}
	old := folding{log: l, now: l.begun, steps: make([]Step, 0, len(is))}
	old.takeAll(was[:same])
	f := folding{log: &trial, now: old.now, steps: old.steps} // step by step in the place of the old ones
	if slices.ContainsFunc(was[same:], func(e Event) bool { return e.Kind() > Amend }) {
		f.steps = append(make([]Step, 0, len(is)), old.steps...) // a correction may reach back among the first ones
	}
	old.takeAll(was[same:])
	if st := &old.steps[e.Target-1]; st.N == 0 || !st.Holds {
		return refuse(e.Target, NotNow, "that entry no longer holds")
	}
	elsewhere := 0 // the first entry that would belong elsewhere
	for i := same; i < len(is); i++ {
		var before Step
		if i < len(was) {
			before = old.steps[i]
		}
		if err := f.take(is[i]); err != nil {
			err.N = i + 1
			return err
		}
		if elsewhere == 0 && moved(&before, &f.steps[i]) {
			elsewhere = i + 1
		}
	}
	if elsewhere != 0 {
		return refuse(elsewhere, NotNow, "that entry would belong to another game, or to another phase of it")
	}
	return l.correctTo(&correction{entry: &e}, f.now)
}

// moved reports whether an entry has come to belong to another game or to
// another phase of it. What is repaired may, and a stated position or a repair belongs to none.
func moved(was, is *Step) bool {
	if k := is.Event.Kind(); was.N == 0 || is.N == 0 || was.Event != is.Event || k == SetPosition || k >= Undo && k <= Amend {
		return false
	}
	return was.phase() != is.phase() || was.game() != is.game()
}

// game returns the game to which an entry belongs: what is entered before a game
// is of the coming one, though it may forfeit it.
func (st *Step) game() int {
	n := st.Before.Game()
	if p := st.Before.Phase(); p == Before || p == Between {
		n++
	}
	return n
}

// phase returns the phase to which an entry belongs: a rally is always of play.
func (st *Step) phase() Phase {
	switch st.Event.Kind() {
	case RallyWon, Replay, Stop:
		return Playing
	}
	return st.Before.Phase()
}
