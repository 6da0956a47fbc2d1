package rally

// Log is a match as the list of its entries: what was entered, in order, and
// every correction. Nothing is ever erased; the state is a fold over the
// entries that hold. Make one with [NewLog]: the zero Log has no rules, and
// panics. Reads may run at the same time; a Log is not safe for use by several goroutines while
// one of them adds to it.
type Log struct {
	begun version
	now   version
	// The capacity of entries ends where something is to be done besides
	// adding a word: after every markEvery entries, and while a change of
	// format is pending at once. So adding asks one question, and rarely more.
	entries []Event
	room    []Event // the same entries, with all the memory that there is for more
	marks   []mark
	times   []int64 // elapsed milliseconds; may be shorter than entries
}

// version is what a log leaves of a match after one of its entries.
type version struct {
	state   State
	rules   *Rules // in force
	pending *Rules // in force from the entry that opens the next game; nil for none
}

// mark keeps the version after an entry: after every correction, and after
// every so many events, so that no version is far from one that is kept. An
// entry never changes, nor does the version that it once left.
type mark struct {
	n    int // number of the entry
	kept version
	*correction
}

// correction is what the log keeps of an entry that corrects.
type correction struct {
	entry *Entry // nil for undo and redo, which carry nothing
	rules *Rules // of a change of format
	// Undo takes entries back in the reverse of their order, and redo brings
	// them again. Both are links: from an undo or redo to the last entry that
	// is still to be taken back, and to the last undo still to be taken back.
	top    int // of an undo or redo: the last entry but undo and redo that is not taken back
	target int // of an undo the entry it takes back, of a redo the undo it takes back
	redo   int // of an undo or redo: the undo that a redo now would take back; 0 for none
}

// markEvery is how many events there are at most between two marks.
const markEvery = 64

// NewLog begins a log at a state: a match before its first game, or a position
// from which it is taken up.
func NewLog(r *Rules, start State) *Log {
	v := version{state: start, rules: r}
	return &Log{begun: v, now: v}
}

// MarshalText refuses: a log is written by package record.
func (l *Log) MarshalText() ([]byte, error) {
	return nil, noText("a log has no text of its own: keep record.Notation, or a record")
}

// Grow makes room for n more entries, so that adding plain events does not
// allocate.
func (l *Log) Grow(n int) {
	if held := len(l.entries); cap(l.room)-held < n {
		l.room = append(make([]Event, 0, held+n), l.entries...)
	}
	if more := (len(l.entries)+n)/markEvery - len(l.entries)/markEvery; cap(l.marks)-len(l.marks) < more {
		l.marks = append(make([]mark, 0, len(l.marks)+more), l.marks...)
	}
	l.limit()
}

// State returns the state now.
func (l *Log) State() State { return l.now.state }

// Rules returns the rules in force now.
func (l *Log) Rules() *Rules { return l.now.rules }

// Initial returns the rules and the state with which the log began.
func (l *Log) Initial() (*Rules, State) { return l.begun.rules, l.begun.state }

// At returns the state and the rules that the log had when it held n entries, for a
// screen that goes back and forth: 0 is its beginning, [Log.Len] is now. It is false
// for a number that there has not been.
func (l *Log) At(n int) (State, *Rules, bool) {
	if n < 0 || n > len(l.entries) {
		return State{}, nil, false
	}
	v := l.at(n)
	return v.state, v.rules, true
}

// Len returns the number of entries, corrections included.
func (l *Log) Len() int { return len(l.entries) }

// Apply adds an event. A refused event is not added.
func (l *Log) Apply(e Event) (Effects, Refusal) {
	entries := l.entries
	n := len(entries)
	if n >= cap(entries) {
		return l.apply(e)
	}
	play, did, ok := l.now.rules.game(l.now.state).play(l.now.state.play, e)
	if !ok {
		return l.apply(e)
	}
	l.now.state.play = play
	entries = entries[:n+1]
	entries[n] = e
	l.entries = entries
	return did, NotRefused
}

// apply is Apply for all but a plain rally that needs nothing but to add a word.
func (l *Log) apply(e Event) (Effects, Refusal) {
	if n := len(l.entries); n < cap(l.entries) {
		next, did, refusal := l.now.rules.apply(l.now.state, e)
		if refusal == NotRefused {
			l.now.state = next
			l.entries = l.entries[:n+1]
			l.entries[n] = e
		}
		return did, refusal
	}
	next, did, refusal := l.now.after(e)
	if refusal != NotRefused {
		return 0, refusal
	}
	l.add(e, next, nil)
	return did, NotRefused
}

// ApplyAll adds events in turn until one is refused. It returns how many it
// took, what they did together, and why the next one was refused.
func (l *Log) ApplyAll(events []Event) (taken int, did Effects, refusal Refusal) {
	for taken < len(events) && refusal == NotRefused {
		n := len(l.entries)
		from, room := taken, cap(l.entries)-n
		r, s := l.now.rules, l.now.state
		for _, e := range events[from:min(len(events), from+room)] {
			var now Effects
			if play, plain, ok := r.game(s).play(s.play, e); ok {
				s.play, now = play, plain
			} else if s, now, refusal = r.apply(s, e); refusal != NotRefused {
				break
			}
			did |= now
			taken++
		}
		l.now.state = s
		l.entries = append(l.entries, events[from:taken]...) // within the room
		if refusal == NotRefused && taken < len(events) {
			var now Effects
			if now, refusal = l.apply(events[taken]); refusal == NotRefused {
				did |= now
				taken++
			}
		}
	}
	return taken, did, refusal
}

// add appends the word of an entry that leads to a version, and what a
// correction carries.
func (l *Log) add(e Event, to version, c *correction) {
	if cap(l.room) == len(l.entries) {
		l.room = append(make([]Event, 0, max(8, 2*len(l.entries))), l.entries...)
	}
	l.entries = append(l.room[:len(l.entries)], e)
	l.now = to
	if n := len(l.entries); c != nil || n%markEvery == 0 {
		l.marks = append(l.marks, mark{n, to, c})
	}
	l.limit()
}

// limit sets the capacity of the entries to where the next mark is due.
func (l *Log) limit() {
	n := len(l.entries)
	end := min(cap(l.room), n-n%markEvery+markEvery-1)
	if l.now.pending != nil {
		end = n
	}
	l.entries = l.room[:n:max(n, end)]
}

// after returns the version after an event, and what the event did.
func (v version) after(e Event) (version, Effects, Refusal) {
	if v.pending == nil {
		if play, did, ok := v.rules.game(v.state).play(v.state.play, e); ok {
			v.state.play = play
			return v, did, NotRefused
		}
	}
	next, did, refusal := v.rules.Apply(v.state, e)
	if v.pending == nil || v.state.Phase() == Playing {
		v.state = next
		return v, did, refusal
	}
	if did.Has(TimeOutCharged) {
		next, did, refusal = v.charged(e, next, did)
	}
	// The entry that opens the coming game, or forfeits it unplayed, is the first
	// under the new format.
	opens := false
	switch k := e.Kind(); k {
	case RallyWon, Replay, Stop, StartGame:
		opens = true
	case LateArrival:
		opens = did&(GameForfeited|MatchForfeited) != 0
	default:
		opens = did.Has(GameForfeited) && next.Game() > v.state.Game()
	}
	if opens {
		v.state, v.rules, v.pending = v.pending.opening(v.state), v.pending, nil
		next, did, refusal = v.rules.Apply(v.state, e)
	}
	v.state = next
	return v, did, refusal
}

// charged counts a time-out for the coming game, which gives as many as the
// format has that comes into force with it.
func (v version) charged(e Event, next State, did Effects) (State, Effects, Refusal) {
	side := e.Side()
	switch left := v.pending.TimeOutsAllowed(v.state) - v.state.TimeOutsUsed(side) - 1; {
	case left == 0:
		return next, did | LastTimeOut, NotRefused
	case left > 0:
		return next, did &^ LastTimeOut, NotRefused
	}
	used := timeOutsAt + 4*int(side)
	none := v.state.withLedger(used, 4, uint64(v.rules.TimeOutsAllowed(v.state)))
	next, did, refusal := v.rules.Apply(none, e)
	if next.Phase() != v.state.Phase() || next.Game() != v.state.Game() {
		return next, did, refusal
	}
	return next.withLedger(used, 4, uint64(v.state.TimeOutsUsed(side))), did, refusal
}

// at returns the version that entry n left when it was entered, from 0: the
// nearest one kept, and the events since.
func (l *Log) at(n int) version {
	v, from := l.begun, 0
	if i := l.markBefore(n); i >= 0 {
		v, from = l.marks[i].kept, l.marks[i].n
	}
	for _, e := range l.entries[from:n] {
		v, _, _ = v.after(e)
	}
	return v
}

// markBefore returns the index of the last mark at or before entry n, or -1.
func (l *Log) markBefore(n int) int {
	low, high := 0, len(l.marks) // the first mark after n is at low
	for low < high {
		if mid := (low + high) / 2; l.marks[mid].n <= n {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low - 1
}

// correction returns what the log keeps of entry n, if it corrects; nil if not.
func (l *Log) correction(n int) *correction {
	if n < 1 || l.entries[n-1].Kind() < Undo {
		return nil
	}
	return l.marks[l.markBefore(n)].correction
}

// Entry returns entry n (from 1) as it was entered; the zero Entry if there is
// none.
func (l *Log) Entry(n int) Entry {
	if n < 1 || n > len(l.entries) {
		return Entry{}
	}
	if c := l.correction(n); c != nil && c.entry != nil {
		return *c.entry
	}
	e := l.entries[n-1]
	if e.Kind() < Undo {
		return e.Entry()
	}
	return Entry{Kind: e.Kind()}
}

// appendEntry appends the text of entry n, which there is.
func (l *Log) appendEntry(dst []byte, n int) []byte {
	if e := l.entries[n-1]; e.Kind() < Undo {
		return e.appendWord(dst)
	}
	e := l.Entry(n)
	return e.appendText(dst)
}

// noTime marks an entry without an elapsed time.
const noTime = -1

// Stamp gives the last entry an elapsed time, in milliseconds from any fixed
// moment, such as 1970, from which a clock goes on after a restart; a negative one is
// ignored. Times never change a state; see [Timing]. Take them from a clock that never
// goes back: a record leaves a time out that is earlier than one before it.
func (l *Log) Stamp(ms int64) {
	if len(l.entries) == 0 || ms < 0 {
		return
	}
	for len(l.times) < len(l.entries) {
		l.times = append(l.times, noTime)
	}
	l.times[len(l.entries)-1] = ms
}

// Time returns the elapsed time of entry n (from 1), if it has one.
func (l *Log) Time(n int) (ms int64, ok bool) {
	if n < 1 || n > len(l.times) || l.times[n-1] == noTime {
		return 0, false
	}
	return l.times[n-1], true
}

// Reset empties the log and begins again at a state, keeping its memory.
func (l *Log) Reset(start State) {
	l.begun.state, l.now = start, version{state: start, rules: l.begun.rules}
	l.entries, l.marks, l.times = l.room[:0], l.marks[:0], l.times[:0]
	l.limit()
}
