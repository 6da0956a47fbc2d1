package rally

// Log is a match as the list of its entries: what was entered, in order, and
// every correction. Nothing is ever erased; the state is a fold over the
// entries that still hold. Make one with [NewLog]. A Log is not safe for use by
// several goroutines.
type Log struct {
	rules    *Rules // those in force now
	first    *Rules // those it began with
	start    State
	now      State
	rare     bool   // times or pending is in use
	pending  *Rules // in force from the next game
	entries  []Event
	payloads []payload
	times    []int64 // elapsed milliseconds; nil if no entry has any
}

// payload is what a correction carries; its entry holds the index.
type payload struct {
	target int    // entry number, from 1
	event  Event  // what is put in its place; 0 strikes it
	text   string // line, or format id
	note   string // authority or stated reason
	next   bool   // from the next game
	rules  *Rules // of a new format
}

// NewLog begins a log at a state: a match before its first game, or a position
// from which it is taken up.
func NewLog(r *Rules, start State) *Log { return &Log{rules: r, first: r, start: start, now: start} }

// Grow makes room for n more entries, so that adding them does not allocate.
func (l *Log) Grow(n int) {
	if cap(l.entries)-len(l.entries) < n {
		l.entries = append(make([]Event, 0, len(l.entries)+n), l.entries...)
	}
}

// State returns the state now.
func (l *Log) State() State { return l.now }

// Rules returns the rules in force now.
func (l *Log) Rules() *Rules { return l.rules }

// Begin returns the rules and the state with which the log began.
func (l *Log) Begin() (*Rules, State) { return l.first, l.start }

// Len returns the number of entries, corrections included.
func (l *Log) Len() int { return len(l.entries) }

// Apply adds an event. A refused event is not added.
func (l *Log) Apply(e Event) (Effects, Refusal) {
	next, did, refusal := l.rules.Apply(l.now, e)
	if refusal != NotRefused {
		return 0, refusal
	}
	l.now = next
	l.entries = append(l.entries, e)
	if l.rare {
		l.afterEntry()
	}
	return did, NotRefused
}

// afterEntry does what few logs need after an entry.
func (l *Log) afterEntry() {
	if l.times != nil {
		l.times = append(l.times, noTime)
	}
	if l.pending != nil && l.now.Phase() != Playing {
		l.rules, l.pending = l.pending, nil
	}
}

// noTime marks an entry without an elapsed time.
const noTime = -1

// Stamp gives the last entry an elapsed time, in milliseconds from any fixed
// moment of the match; a negative one is ignored. Times never change a state;
// see [Timing]. Take them from a clock that never goes back: a record leaves a
// time out that is earlier than one before it.
func (l *Log) Stamp(ms int64) {
	if len(l.entries) == 0 || ms < 0 {
		return
	}
	for len(l.times) < len(l.entries) {
		l.times = append(l.times, noTime)
	}
	l.times[len(l.entries)-1] = ms
	l.rare = true
}

// Time returns the elapsed time of entry n (from 1), if it has one.
func (l *Log) Time(n int) (ms int64, ok bool) {
	if n < 1 || n > len(l.times) || l.times[n-1] == noTime {
		return 0, false
	}
	return l.times[n-1], true
}

func (l *Log) payload(n int) payload { return l.payloads[l.entries[n-1].bits(secondsAt, 16)] }

// Reset empties the log and begins again at a state, keeping its memory.
func (l *Log) Reset(start State) {
	l.rules, l.start, l.now, l.pending, l.rare = l.first, start, start, nil, false
	l.entries, l.payloads, l.times = l.entries[:0], l.payloads[:0], nil
}
