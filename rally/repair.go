package rally

import "slices"

// amend repairs the record: entry n says what did not happen, e did; an e of 0
// strikes the entry. Later entries are folded again. It is refused, and names
// the entry, if one of them would now be refused, or belong to another game or
// another phase of it. What comes before the first entry that reads otherwise is gone
// through once; what comes after it twice, but as events alone and only until both readings
// meet, unless a correction stands among them. Once the sheet is returned it needs a stated reason.
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
	if n := e.Target; !slices.ContainsFunc(was, corrects) && !slices.ContainsFunc(is, corrects) {
		if was[n-1] == 0 {
			return refuse(n, NotNow, "that entry no longer holds")
		}
		to, err := l.repaired(was, is, same)
		if err != nil {
			return err
		}
		return l.correctTo(&correction{entry: &e}, to)
	}
	old := folding{log: l, now: l.begun, steps: make([]Step, 0, len(is))}
	old.takeAll(was[:same])
	f := folding{log: &trial, now: old.now, steps: old.steps} // step by step in the place of the old ones
	if slices.ContainsFunc(was[same:], corrects) {
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
		return belongsElsewhere(elsewhere)
	}
	return l.correctTo(&correction{entry: &e}, f.now)
}

// corrects reports whether what stands in the place of an entry has its own place
// in the fold: repairs have none, they have been carried out.
func corrects(e Event) bool { return e.Kind() > Amend }

func belongsElsewhere(n int) *EntryError {
	return refuse(n, NotNow, "that entry would belong to another game, or to another phase of it")
}

// repaired returns the version in which a log without corrections ends when it
// reads otherwise, from the entry after so many that read the same.
func (l *Log) repaired(was, is []Event, same int) (version, *EntryError) {
	v := l.begun
	for _, e := range was[:same] {
		if e != 0 && e.Kind() < Undo {
			v, _, _ = v.after(e)
		}
	}
	last := len(was) // from here on both read the same
	for last > same && was[last-1] == is[last-1] {
		last--
	}
	old, elsewhere := v, 0
	for i, e := range was {
		if i < same {
			continue
		}
		if i >= last && old == v {
			v = l.now // the two readings have met
			break
		}
		if e == is[i] && elsewhere == 0 && belongs(e) && place(e, old.state) != place(e, v.state) {
			elsewhere = i + 1
		}
		if e != 0 && e.Kind() < Undo {
			old, _, _ = old.after(e)
		}
		if e = is[i]; e != 0 && e.Kind() < Undo {
			var refusal Refusal
			if v, _, refusal = v.after(e); refusal != NotRefused {
				return v, refuse(i+1, refusal, "")
			}
		}
	}
	if elsewhere != 0 {
		return v, belongsElsewhere(elsewhere)
	}
	return v, nil
}

// moved reports whether an entry has come to belong to another game or to
// another phase of it. What is repaired may.
func moved(was, is *Step) bool {
	return was.N != 0 && is.N != 0 && was.Event == is.Event && belongs(is.Event) &&
		place(was.Event, was.Before) != place(is.Event, is.Before)
}

// belongs reports whether an entry belongs to a game: a stated position or a
// repair belongs to none, nor does what is taken back.
func belongs(e Event) bool {
	k := e.Kind()
	return e != 0 && k != SetPosition && (k < Undo || k > Amend)
}

// A spot is a phase of a game.
type spot struct {
	game  int
	phase Phase
}

// place returns to what an event belongs that comes after a state: what is entered
// before a game is of the coming one, though it may forfeit it, and a rally is
// always of play.
func place(e Event, before State) spot {
	at := spot{before.Game(), before.Phase()}
	if at.phase == Before || at.phase == Between {
		at.game++
	}
	switch e.Kind() {
	case RallyWon, Replay, Stop:
		at.phase = Playing
	}
	return at
}
