package record

import (
	"errors"
	"io/fs"
	"strconv"
	"sync"
	"time"

	"github.com/evencourt/evencourt/rally"
)

// Match is a match that is kept while it is played: its log, its record, its names
// and its clock in one. Every entry is checked first, then written and made safe on
// the disk, and only then part of the log, so that what was answered is in the file
// and what could not be written never happened. Make one with [KeepFile], or with [Keep]
// of a [Writer] that [Create], [Resume] or [NewWriter] made. It is safe for use by
// several goroutines.
//
// Words for it are one call away: referee.New(m.Rules(), m.Setup()).
type Match struct {
	mu      sync.Mutex
	w       *Writer
	clock   func() int64
	board   *rally.Board
	changed chan struct{}
}

// Keep keeps the match of a Writer, which from then on belongs to it, and its log
// too. Elapsed times are those of clock, in milliseconds; of nil, those of the
// machine since 1970, which go on where they were after a restart.
func Keep(w *Writer, clock func() int64) *Match {
	if clock == nil {
		clock = func() int64 { return time.Now().UnixMilli() }
	}
	return &Match{w: w, clock: clock, board: rally.NewBoard(w.log, w.check.out.Setup), changed: make(chan struct{})}
}

// KeepFile keeps the match of the record at a path: it goes on with the one that is there,
// as [Resume] does, or begins one with these names and this log, as [Create] does.
// Times are those of the machine.
func KeepFile(path string, u rally.Setup, l *rally.Log) (*Match, error) {
	_, w, err := Resume(path)
	if errors.Is(err, fs.ErrNotExist) {
		w, err = Create(path, u, l)
	}
	if err != nil {
		return nil, err
	}
	return Keep(w, nil), nil
}

// Request asks for an entry. As JSON it is what a device sends: {"id": "p1-7", "n": 12,
// "do": "A", "ms": 1795760000000}, of which only "do" is needed.
type Request struct {
	// ID names the request, so that it may be sent again by whoever had no
	// answer: it adds its entry once. At most [MostRequest] bytes; "" for none. It is
	// kept in the record, and so known after a restart.
	ID string `json:"id,omitempty"`
	// N is the number that the entry is to have: it is refused as "stale" where
	// another device has been there first. 0 for whichever is the next.
	N     int         `json:"n,omitempty"`
	Entry rally.Entry `json:"do"`
	// Time is when it happened, on the clock of the match, for what was entered on
	// a device without a connection; 0, and what has yet to come, for now.
	Time int64 `json:"ms,omitempty"`
}

// MostRequest is the most bytes that the name of a request can have.
const MostRequest = 64

// Done says what a request has added.
type Done struct {
	N       int            `json:"n"`                 // number of the entry
	Effects rally.Effects  `json:"did"`               // what it did
	Changes []rally.Change `json:"changes,omitempty"` // what a correction changed of earlier entries
	Again   bool           `json:"again"`             // the request had been carried out before; nothing was added
}

// Do adds an entry. The error is that of [rally.Log.Do] where the log does not take
// it, and an [*Error] otherwise; then neither log nor record has changed. An error of
// the disk is final where it leaves open what the file holds; every later call
// returns it, and the match goes on with [Resume].
func (m *Match) Do(q Request) (Done, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.w.Append(); err != nil {
		return Done{}, err
	}
	l := m.w.log
	if n := m.w.check.requests[q.ID]; n != 0 {
		return m.again(q, n)
	}
	if n := l.Len() + 1; q.N != 0 && q.N != n {
		return Done{}, failure(stale, "n", "is "+strconv.Itoa(q.N)+", but the next entry is number "+strconv.Itoa(n))
	}
	trial := *l
	did, err := trial.Do(q.Entry)
	if err != nil {
		return Done{}, err
	}
	ms := m.clock()
	if q.Time > 0 && q.Time < ms {
		ms = q.Time
	}
	if ms < m.w.check.ms {
		ms = -1 // a clock that was set back
	}
	err = m.w.whole(func() error {
		err := m.w.entry(q.Entry, ms, trial.Rules().Line(trial.State()), q.ID)
		if err == nil {
			err = m.w.Sync()
		}
		return err
	})
	if err != nil {
		return Done{}, err
	}
	_, _ = l.Do(q.Entry) // as it was tried
	l.Stamp(ms)
	m.tell()
	return Done{N: l.Len(), Effects: did, Changes: l.Changes(l.Len())}, nil
}

// again answers a request that entry n was made by.
func (m *Match) again(q Request, n int) (Done, error) {
	l, had := m.w.log, m.w.log.Entry(n)
	if today, pinned := m.w.check.today[had.Format]; pinned && had != q.Entry {
		had.Format = today // what its id says now, which may be otherwise since it was stored
	}
	if had != q.Entry {
		return Done{}, failure(badField, "request", "is that of another entry, number "+strconv.Itoa(n))
	}
	out := Done{N: n, Again: true, Changes: l.Changes(n)}
	l.Each(func(st rally.Step) bool {
		if st.N == n {
			out.Effects = st.Effects
		}
		return st.N < n
	})
	return out, nil
}

// Name supplies or changes names; see [Writer.Setup].
func (m *Match) Name(u rally.Setup) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	err := m.w.whole(func() error {
		err := m.w.Setup(u)
		if err == nil {
			err = m.w.Sync()
		}
		return err
	})
	if err == nil {
		m.board = rally.NewBoard(m.w.log, u)
		m.tell()
	}
	return err
}

// tell wakes who waits for a change.
func (m *Match) tell() {
	close(m.changed)
	m.changed = make(chan struct{})
}

// Changed returns a channel that is closed when the match changes next, or is closed. Ask for it
// before you draw, and no change is missed.
func (m *Match) Changed() <-chan struct{} {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.changed
}

// Snapshot returns all that a screen draws at this moment.
func (m *Match) Snapshot() rally.Snapshot {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.board.Snapshot(m.clock())
}

// AppendJSON appends the snapshot of this moment; see [rally.Board.AppendJSON].
func (m *Match) AppendJSON(dst []byte) []byte {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.board.AppendJSON(dst, m.clock())
}

// Read lends the log to a function that does not add to it and does not keep it.
func (m *Match) Read(f func(*rally.Log)) {
	m.mu.Lock()
	defer m.mu.Unlock()
	f(m.w.log)
}

// Rules returns the rules in force now.
func (m *Match) Rules() *rally.Rules {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.w.log.Rules()
}

// Setup returns the names of the match.
func (m *Match) Setup() rally.Setup {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.w.check.out.Setup
}

// Close writes what [Writer.End] writes if the match is over, and closes the file.
func (m *Match) Close() error {
	m.mu.Lock()
	defer m.mu.Unlock()
	var err error
	if m.w.log.State().Phase() >= rally.Over {
		err = m.w.whole(m.w.End)
	}
	if closed := m.w.Close(); err == nil {
		err = closed
	}
	m.tell()
	return err
}

// whole carries out what writes lines, or leaves log, file and Writer as they were:
// what a failed write has put into the file is cut off again. Where that cannot be
// known to have succeeded, the Writer writes nothing more.
func (w *Writer) whole(write func() error) error {
	if w.err != nil {
		return w.err
	}
	size, check, out := w.size, w.check, *w.check.out
	lines, log := *w.check.lines, *w.check.out.Log
	err := write()
	if err == nil {
		return nil
	}
	for id, n := range w.check.requests {
		if n > len(check.held) {
			delete(w.check.requests, id)
		}
	}
	*check.out, *check.lines, w.check = out, lines, check
	*w.check.out.Log = log
	if w.size == size {
		w.err = nil // nothing came into the file
	} else if w.file != nil && w.alone() == nil && w.file.Truncate(size) == nil {
		w.size, w.err = size, nil
	}
	return err
}
