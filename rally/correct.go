package rally

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
)

// Do adds an entry: an event, or a correction, which changes nothing that is
// written but how it is read. A correction is carried out whole or refused
// with an [*EntryError]; what it changed of earlier entries is told by
// [Log.Changes]. Undo and redo cost the same in a log of any length; a repair,
// a ruling or a rewind costs going through what comes after the entry that it names,
// and after those that corrections of later entries name: the log once at most, or twice
// what comes after a repaired entry at which a ruling or a rewind looks.
func (l *Log) Do(e Entry) (Effects, error) {
	did, err := l.do(e)
	if err != nil {
		if of, ok := err.(*EntryError); ok {
			of.Text = shorten(e.String())
			switch {
			case of.By != 0:
			case of.Refusal == Malformed:
				of.By = clause.EventWords
			default:
				of.By = correctedBy[e.Kind]
			}
		}
		return 0, err
	}
	return did, nil
}

// Enter adds an entry given as text, corrections and changes of format too; see
// [ParseEntry] and [Log.Do]. Texts of strangers are read with [ParseEvent] first.
func (l *Log) Enter(text string) (Effects, error) {
	e, err := ParseEntry(text)
	if err != nil {
		return 0, err
	}
	return l.Do(e)
}

// Would returns what [Log.Do] would say to an entry, and what it would change
// of earlier ones, without adding it.
func (l *Log) Would(e Entry) (Effects, []Change, error) {
	trial := *l // what it adds lies beyond the entries of l, and is overwritten there
	did, err := trial.Do(e)
	if err != nil {
		return 0, nil, err
	}
	return did, trial.Changes(trial.Len()), nil
}

// correctedBy are the clauses by which a correction is made, and is refused where
// no rule of its matter says so.
var correctedBy = [...]Grounds{Undo: clause.EntryRepair, Redo: clause.EntryRepair, Amend: clause.EntryRepair, RuleOn: clause.EntryRepair,
	Rewind: clause.Rewind, SetPosition: clause.StatedPosition, ChangeFormat: clause.ChangeOfFormat}

// closed refuses a correction of a match whose sheet was returned.
func (l *Log) closed() *EntryError {
	return &EntryError{Refusal: MatchClosed, By: clause.SheetReopened, Reason: "reopen"}
}

func (l *Log) do(e Entry) (Effects, error) {
	if reason := e.malformed(); reason != "" {
		return 0, &EntryError{Refusal: Malformed, Reason: reason}
	}
	if !e.Corrects() {
		did, refusal := l.Apply(e.Event)
		if refusal != NotRefused {
			_, _, _, by := l.now.rules.Decide(l.now.state, e.Event)
			return 0, &EntryError{Refusal: refusal, By: by}
		}
		return did, nil
	}
	if _, reopens := l.Redoable(); l.now.state.Phase() == Closed && e.Kind != Amend && !(e.Kind == Redo && reopens) {
		return 0, l.closed()
	}
	switch e.Kind {
	case Undo:
		return 0, l.undo()
	case Redo:
		return 0, l.redo()
	case Amend:
		return 0, l.amend(e)
	case SetPosition:
		return 0, l.setPosition(e)
	}
	f := folding{log: l, now: l.now}
	c := &correction{entry: &e}
	if e.Kind == ChangeFormat {
		if e.Format == (format.Format{}) {
			return 0, &EntryError{Refusal: Malformed, Reason: "beside"}
		}
		var err error
		if c.rules, err = Compile(e.Format); err != nil {
			return 0, &EntryError{Refusal: Malformed, Reason: "format", Detail: err.Error()}
		}
	} else {
		f = l.reaching(e.Target)
		f.steps = make([]Step, 0, len(l.entries)-f.from+1)
		f.takeAll(l.live(len(l.entries))[f.from:])
	}
	f.steps = append(f.steps, Step{})
	to, did, err := f.correct(c)
	if err != nil {
		return 0, err
	}
	return did, l.correctTo(c, to)
}

// correctTo adds a correction that leads to a version.
func (l *Log) correctTo(c *correction, to version) error {
	if err := l.lifts(to.state, c.entry.Kind == Amend && c.entry.Note != ""); err != nil {
		return err
	}
	l.add(Event(c.entry.Kind), to, c)
	return nil
}

// lifts refuses what would silently lift a suspected concussion.
func (l *Log) lifts(to State, reason bool) *EntryError {
	for p := A1; p <= B2; p++ {
		if l.now.state.Absence(p) == Concussed && to.Absence(p) != Concussed && !reason {
			return &EntryError{Refusal: NotNow, By: clause.Concussion, Reason: "concussion"}
		}
	}
	return nil
}

// top returns the last of the first n entries that is itself no undo or redo
// and was not taken back by one; 0 if there is none.
func (l *Log) top(n int) int {
	if c := l.correction(n); c != nil && c.entry == nil {
		return c.top
	}
	return n
}

// Undoable returns the number of the entry that an undo would take back. There
// is none once the sheet is returned, and none where that is a suspected
// concussion.
func (l *Log) Undoable() (n int, ok bool) {
	if l.now.state.Phase() == Closed {
		return 0, false
	}
	if !l.now.state.concussed() {
		n = l.top(len(l.entries))
		return n, n != 0
	}
	n, _, err := l.undoing()
	return n, err == nil
}

// undoing returns the entry that an undo takes back, and the version that it
// leads to.
func (l *Log) undoing() (n int, to version, err error) {
	if n = l.top(len(l.entries)); n == 0 {
		return 0, to, &EntryError{Refusal: NotNow, Reason: "no-undo"}
	}
	to = l.at(n - 1)
	if lifts := l.lifts(to.state, false); lifts != nil {
		lifts.N = n
		return 0, to, lifts
	}
	return n, to, nil
}

// undo takes back the last entry that was not, across game ends if need be.
func (l *Log) undo() error {
	n, to, err := l.undoing()
	if err != nil {
		return err
	}
	undo := len(l.entries) + 1
	l.add(Event(Undo), to, &correction{target: n, top: l.top(n - 1), redo: undo})
	return nil
}

// redoable returns the undo that a redo would take back; 0 if there is none.
func (l *Log) redoable() int {
	if c := l.correction(len(l.entries)); c != nil && c.entry == nil {
		return c.redo
	}
	return 0
}

// Redoable returns the number of the entry that a redo would bring back. Once
// the sheet is returned that can only be the amendment that had opened it.
func (l *Log) Redoable() (n int, ok bool) {
	undo := l.redoable()
	if undo == 0 {
		return 0, false
	}
	n = l.correction(undo).target
	if l.now.state.Phase() == Closed && l.entries[n-1].Kind() != Amend {
		return 0, false
	}
	return n, true
}

// redo takes the last undo back, unless something was entered since.
func (l *Log) redo() error {
	undo := l.redoable()
	if undo == 0 {
		return &EntryError{Refusal: NotNow, Reason: "no-redo"}
	}
	n := l.correction(undo).target
	l.add(Event(Redo), l.at(n), &correction{target: undo, top: n, redo: l.redoBefore(undo)})
	return nil
}

// redoBefore returns the undo that could be taken back before entry undo.
func (l *Log) redoBefore(undo int) int {
	if c := l.correction(undo - 1); c != nil && c.entry == nil {
		return c.redo
	}
	return 0
}
