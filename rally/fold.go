package rally

import "github.com/evencourt/evencourt/format/clause"

// Step is one entry as the log reads now. An entry that was undone or struck
// has none; one that was rewound past, and a start of a game that a ruling
// took away, no longer holds. [Log.Each] makes them; the zero Step is no entry.
type Step struct {
	N       int    // entry number, from 1
	Event   Event  // what happened: as entered or as amended; of a correction its kind only
	Rules   *Rules // in force after it
	Before  State  // as it was entered, or would have been as amended
	After   State
	Effects Effects // as the log reads now: a ruling changes those of its rally, a rewind leaves what is on record
	Holds   bool
	Final   bool // it ended a game, and that final stands

	back  State // to which a rewind goes back: After, or as a ruling has it
	ruled bool
}

// Each calls f for every entry that was neither undone nor struck, in their
// order and as the log reads now, until f returns false. It can be ranged over; the
// time of an entry is [Log.Time] of its number:
//
//	for st := range log.Each {
func (l *Log) Each(f func(Step) bool) {
	for _, st := range l.read(len(l.entries)) {
		if st.N != 0 && !f(st) {
			return
		}
	}
}

// Holds returns what holds in the place of entry n: the event that was entered
// or put there. It is false for a correction, and for what was undone, struck
// or rewound past.
func (l *Log) Holds(n int) (Event, bool) {
	if n < 1 || n > len(l.entries) || l.entries[n-1].Kind() >= Undo {
		return 0, false
	}
	st := l.read(len(l.entries))[n-1]
	return st.Event, st.Holds
}

// live returns what stands in the place of each of the first n entries: the
// entry's own word, what an amendment put there, or 0 if it was undone or
// struck. The latest correction of an entry that is itself live decides.
func (l *Log) live(n int) []Event {
	out := append([]Event(nil), l.entries[:n]...)
	var decided []bool
	for ; n >= 1; n-- {
		if k := l.entries[n-1].Kind(); k < Undo || k > Amend || out[n-1] == 0 {
			continue
		}
		c := l.correction(n)
		target, e := c.target, Event(0)
		if c.entry != nil {
			target, e = c.entry.Target, c.entry.Event
		}
		if decided == nil {
			decided = make([]bool, len(out))
		}
		if !decided[target-1] {
			decided[target-1] = true
			out[target-1] = e
		}
	}
	return out
}

// read returns the first n entries as they read with no later ones: by number,
// from 0, with an empty Step for what was undone or struck.
func (l *Log) read(n int) []Step {
	f := folding{log: l, begun: l.begun.state, now: l.begun, steps: make([]Step, 0, n)}
	f.takeAll(l.live(n))
	return f.steps
}

// folding is a log being read from its beginning, or from after an entry up to
// which it still reads as it did then.
type folding struct {
	log   *Log
	from  int   // that entry
	begun State // after it
	now   version
	steps []Step // of the entries after it
}

// reaching begins to read a log where a correction of entry n makes it necessary:
// nothing before is read otherwise, nor looked at by what comes after.
func (l *Log) reaching(n int) folding {
	from := min(max(n-1, 0), len(l.entries))
	for i := len(l.marks) - 1; i >= 0 && l.marks[i].n > from; i-- {
		if c := l.marks[i].correction; c != nil && c.reach() > 0 {
			from = min(from, c.reach()-1)
		}
	}
	v := l.at(from)
	return folding{log: l, from: from, begun: v.state, now: v}
}

// reach returns the first entry that a correction looks at or reads otherwise; 0
// for none: a stated position and a change of format are of their moment.
func (c *correction) reach() int {
	if c.entry != nil {
		return c.entry.Target
	}
	return c.target
}

// repairs reports whether a word is that of a repair, which has no place of its own
// in the fold.
func repairs(e Event) bool { return e.Kind() >= Undo && e.Kind() <= Amend }

// step returns the step of entry n.
func (f *folding) step(n int) *Step { return &f.steps[n-1-f.from] }

// last returns the number of the entry being read.
func (f *folding) last() int { return f.from + len(f.steps) }

// takeAll reads the next entries of a log that exists, and so folds.
func (f *folding) takeAll(entries []Event) {
	for _, e := range entries {
		f.take(e)
	}
}

// take reads the next entry, of which e is what stands in its place.
func (f *folding) take(e Event) *EntryError {
	f.steps = append(f.steps, Step{})
	n := f.last()
	if e == 0 {
		return nil
	}
	before, to, did, refused := f.now.state, f.now, Effects(0), (*EntryError)(nil)
	if k := e.Kind(); k < Undo {
		var refusal Refusal
		to, did, refusal = f.now.after(e)
		if refusal != NotRefused {
			refused = &EntryError{Refusal: refusal}
		}
	} else if k > Amend {
		to, did, refused = f.correct(f.log.correction(n))
	}
	if refused != nil {
		return refused
	}
	f.now = to
	st := f.step(n)
	st.N, st.Event, st.Rules, st.Effects, st.Holds = n, e, to.rules, did, true
	st.Before, st.After, st.back = before, to.state, to.state
	st.Final = e.Kind() < Undo && did&(GameWon|GameForfeited) != 0
	return nil
}

// correct carries out a correction that has its own place in the fold. None
// reaches a match whose sheet was returned before it, as the log reads now.
func (f *folding) correct(c *correction) (version, Effects, *EntryError) {
	if f.now.state.Phase() == Closed {
		return version{}, 0, &EntryError{Refusal: MatchClosed, By: clause.SheetReopened}
	}
	switch c.entry.Kind {
	case RuleOn:
		return f.rule(c.entry.Target, c.entry.Event)
	case Rewind:
		to, err := f.rewind(c.entry.Target)
		return to, 0, err
	case SetPosition:
		to, err := f.set(c.entry.Line)
		return to, 0, err
	}
	to, err := f.change(c)
	return to, 0, err
}

// holding returns the step of entry n, or why it can be neither ruled on nor
// rewound to.
func (f *folding) holding(n int) (*Step, *EntryError) {
	if n <= f.from || n >= f.last() {
		return nil, &EntryError{Refusal: Malformed, Reason: "no-entry"}
	}
	if st := f.step(n); st.Holds {
		return st, nil
	}
	return nil, &EntryError{N: n, Refusal: NotNow, Reason: "not-held"}
}

// refuse is a correction that cannot be carried out because of an entry.
func refuse(n int, r Refusal, reason EntryReason) *EntryError {
	return &EntryError{N: n, Refusal: r, Reason: reason}
}
