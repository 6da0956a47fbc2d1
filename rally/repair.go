package rally

// amend repairs the record: entry n says what did not happen, e did; an e of 0
// strikes the entry. Later entries are folded again. It is refused, and names
// the entry, if one of them would now be refused, or belong to another game or
// another phase of it. What comes after the first entry that reads otherwise is gone through
// twice, but as events alone and only until both readings meet, unless a correction stands
// among them. Once the sheet is returned it needs a stated reason.
func (l *Log) amend(e Entry) error {
	switch n := e.Target; {
	case n < 1 || n > len(l.entries):
		return &EntryError{Refusal: Malformed, Reason: "no-entry"}
	case l.now.state.Phase() == Closed && e.Note == "":
		return l.closed()
	case e.Event != 0 && (l.entries[n-1].Kind() >= Undo || e.Event.Kind() >= Undo):
		return refuse(n, LogOnly, "struck-only")
	}
	trial := *l
	trial.add(Event(Amend), l.now, &correction{entry: &e})
	old := l.reaching(e.Target)
	f := old // as the trial reads
	f.log = &trial
	was, is := l.live(len(l.entries))[old.from:], trial.live(len(trial.entries))[old.from:]
	plain, last := l.plain(old.from, was, is), len(was) // from last on both read the same
	for last > 0 && was[last-1] == is[last-1] {
		last--
	}
	if i := e.Target - 1 - old.from; i >= plain {
		last = len(was) // whether the entry holds is still to be seen
	} else if was[i] == 0 {
		return refuse(e.Target, NotNow, "not-held")
	}
	met, elsewhere, err := passEvents(&old, &f, was[:plain], is[:plain], last)
	if err == nil && !met {
		elsewhere, err = takeSteps(&old, &f, was[plain:], is[plain:], e.Target, elsewhere)
	}
	switch {
	case err != nil:
		return err
	case elsewhere != 0:
		return refuse(elsewhere, NotNow, "elsewhere")
	case met:
		f.now = l.now
	}
	return l.correctTo(&correction{entry: &e}, f.now)
}

// plain returns how many of the entries after entry n, as they read before and with
// a repair, are events and repairs alone at which no later correction looks.
func (l *Log) plain(n int, was, is []Event) int {
	plain := len(was)
	for i := range was {
		if !corrects(was[i]) && !corrects(is[i]) {
			continue
		}
		plain = min(plain, i)
		if reach := l.correction(n + i + 1).reach(); reach > 0 {
			plain = min(plain, reach-1-n)
		}
	}
	return plain
}

// corrects reports whether what stands in the place of an entry has its own place
// in the fold: repairs have none, they have been carried out.
func corrects(e Event) bool { return e.Kind() > Amend }

// passEvents goes through entries that are events alone as they read before and as they
// read now: once where both are the same, which they are for good from entry last on. It
// returns whether the two readings have met there, and the first entry that would
// belong elsewhere.
func passEvents(old, f *folding, was, is []Event, last int) (met bool, elsewhere int, _ *EntryError) {
	for i, e := range was {
		same := e == is[i]
		if old.now == f.now && same {
			if i >= last {
				return true, elsewhere, nil
			}
			old.now, _ = old.now.passing(e)
			f.now = old.now
			continue
		}
		if same && elsewhere == 0 && belongs(e) && place(e, old.now.state) != place(e, f.now.state) {
			elsewhere = old.from + i + 1
		}
		var refusal Refusal
		old.now, _ = old.now.passing(e)
		if f.now, refusal = f.now.passing(is[i]); refusal != NotRefused {
			return false, 0, refuse(f.from+i+1, refusal, "")
		}
	}
	for _, reading := range []*folding{old, f} {
		reading.from, reading.begun = reading.from+len(was), reading.now.state
	}
	return false, elsewhere, nil
}

// passing is the version after what stands in the place of an entry, if it is an event.
func (v version) passing(e Event) (version, Refusal) {
	if e == 0 || e.Kind() >= Undo {
		return v, NotRefused
	}
	next, _, refusal := v.after(e)
	return next, refusal
}

// takeSteps reads what is left of both readings, corrections among it, with every step.
// The first entry that would belong elsewhere is the one found before, if any was.
func takeSteps(old, f *folding, was, is []Event, target, elsewhere int) (int, *EntryError) {
	old.steps = make([]Step, 0, len(was))
	same := 0 // so many entries more read as before: they are gone through once
	for old.now == f.now && same < len(was) && was[same] == is[same] {
		same++
	}
	old.takeAll(was[:same])
	if same > 0 {
		f.now = old.now
	}
	f.steps = append(make([]Step, 0, len(is)), old.steps...)
	old.takeAll(was[same:])
	if target > old.from {
		if st := old.step(target); st.N == 0 || !st.Holds {
			return 0, refuse(target, NotNow, "not-held")
		}
	}
	for i := same; i < len(is); i++ {
		var before Step
		if i < len(was) {
			before = old.steps[i]
		}
		if err := f.take(is[i]); err != nil {
			err.N = f.last()
			return 0, err
		}
		if elsewhere == 0 && moved(&before, &f.steps[i]) {
			elsewhere = f.last()
		}
	}
	return elsewhere, nil
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
