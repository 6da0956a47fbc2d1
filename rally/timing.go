package rally

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
)

// Interval is a stretch of time that a rule bounds: "none", "time-out", "medical",
// "equipment", "end-change" or "between-games".
type Interval uint8

// The intervals.
const (
	noInterval Interval = iota
	timeOutInterval
	medicalInterval
	equipmentInterval
	endChangeInterval
	betweenGamesInterval
)

var intervalNames = []string{"none", "time-out", "medical", "equipment", "end-change", "between-games"}

var intervalClause = [...]format.Clause{
	timeOutInterval:      clause.TimeOutClock,
	medicalInterval:      clause.Medical,
	equipmentInterval:    clause.EquipmentClock,
	endChangeInterval:    clause.EndChangeClock,
	betweenGamesInterval: clause.BetweenGamesClock,
}

// intervalAsks are the kinds of events that say what follows when an interval is over.
var intervalAsks = [...]KindSet{
	timeOutInterval:      1 << TimeIn,
	medicalInterval:      1<<TimeIn | 1<<PlayOnAlone | 1<<Retirement,
	equipmentInterval:    1 << TimeIn,
	endChangeInterval:    1 << EndsChanged,
	betweenGamesInterval: 1 << StartGame,
}

// Clock is an interval that is running. Clocks manage a match; they never set
// how long care may take, and their expiry retires nobody: it asks for input.
type Clock struct {
	Interval  Interval `json:"interval"`
	Entry     int      `json:"entry"`     // number of the entry that began it
	Since     int64    `json:"since"`     // elapsed milliseconds at which it began
	Limit     int64    `json:"limit"`     // milliseconds allowed; 0 for a reasonable time
	Remaining int64    `json:"remaining"` // milliseconds left; negative when over
	NoticeAt  int64    `json:"notice_at"` // elapsed milliseconds of the next notice; -1 for none
	Asks      KindSet  `json:"asks"`      // when it is over: kinds of events that say what follows
	// Clause says why it began: of medical time, whether from the request, from the
	// arrival of help or, where nobody entered that, from the finding.
	Clause format.Clause `json:"clause"`
}

// Overrun is an interval that took longer than its rule allows.
type Overrun struct {
	Interval Interval      `json:"interval"`
	Began    int           `json:"began"` // entry that began it
	Ended    int           `json:"ended"` // entry that ended it
	Took     int64         `json:"took"`  // milliseconds
	Limit    int64         `json:"limit"` // milliseconds
	Clause   format.Clause `json:"clause"`
	Source   format.Source `json:"source"` // of the clause, in the edition of that game
}

// timer follows the intervals of a log through its stamped entries.
type timer struct {
	l        *Log
	running  Clock
	medical  [4]Clock // of the players who are cared for in this break
	rules    *Rules
	overruns []Overrun
}

// Timing returns the intervals that took longer than the edition allows, in
// their order. Entries without an elapsed time bound nothing.
//
// The medical clock of a player starts at the entry that help has arrived at him;
// where nobody entered it, at the one that finds his condition valid; at the
// request where the edition says so. Two players hurt at once have a clock each,
// in one break.
func Timing(l *Log) []Overrun { return newTimer(l).overruns }

// ClockAt returns the interval running at an elapsed time, with what remains
// of it and when the next notice is due.
func ClockAt(l *Log, ms int64) (Clock, bool) { return newTimer(l).at(ms) }

func (t *timer) at(ms int64) (Clock, bool) {
	c := t.running
	if c.Interval == noInterval {
		return Clock{}, false
	}
	if c.Limit > 0 {
		c.Remaining = c.Since + c.Limit - ms
		notice := int64(t.l.now.rules.format.Rulings.Number(clause.NoticeClock)) * 1000
		c.NoticeAt = -1
		if at := c.Since + c.Limit - notice; notice > 0 && ms <= at {
			c.NoticeAt = at
		}
	}
	if c.Remaining < 0 {
		c.Asks = intervalAsks[c.Interval]
	}
	return c, true
}

func newTimer(l *Log) *timer {
	t := &timer{l: l, rules: l.begun.rules}
	l.Each(func(st Step) bool {
		t.step(st)
		return true
	})
	return t
}

func (t *timer) step(st Step) {
	ms, stamped := t.l.Time(st.N)
	t.rules = st.Rules
	did := st.Effects
	if did.Has(BreakEnded) || did.Has(BreakBegan) || did.Has(GameStarted) ||
		t.running.Interval == endChangeInterval && (did.Has(EndsMade) || st.Event.Kind() == RallyWon) {
		t.stop(st.N, ms, stamped)
	}
	switch {
	case st.Event.Kind() == HelpArrived:
		t.care(st.Event.Person(), st.N, ms, stamped, clause.MedicalFromArrival)
	case did.Has(MedicalUsedUp):
		t.care(st.Event.Person(), st.N, ms, stamped, clause.MedicalFromFinding)
	case did.Has(BreakBegan):
		b, owner := st.After.Break()
		switch b {
		case TimeOutBreak:
			t.begin(timeOutInterval, st.N, ms, stamped)
		case EquipmentBreak:
			t.begin(equipmentInterval, st.N, ms, stamped)
		case MedicalBreak:
			if st.After.Medical(owner) == MedicalUsed { // granted, it had to wait
				t.care(owner, st.N, ms, stamped, clause.MedicalInBreak)
			} else if st.Rules.takes(clause.MedicalFromRequest) {
				t.care(owner, st.N, ms, stamped, clause.MedicalFromRequest)
			}
		}
	case did.Has(EndsDue):
		t.begin(endChangeInterval, st.N, ms, stamped)
	case st.After.Phase() == Between && (did.Has(GameWon) || did.Has(GameForfeited)):
		t.begin(betweenGamesInterval, st.N, ms, stamped)
	case st.After.Phase() == Over:
		t.running, t.medical = Clock{}, [4]Clock{}
	}
}

// care begins the clock of a player by a clause, unless it runs already.
func (t *timer) care(p Person, n int, ms int64, stamped bool, from format.Clause) {
	if t.medical[p].Interval == noInterval {
		t.begin(medicalInterval, n, ms, stamped)
		if stamped {
			t.running.Clause = from
		}
		t.medical[p] = t.running
	}
}

func (t *timer) begin(i Interval, n int, ms int64, stamped bool) {
	t.running = Clock{}
	if stamped {
		t.running = Clock{Interval: i, Entry: n, Since: ms, NoticeAt: -1, Clause: intervalClause[i],
			Limit: int64(t.rules.format.Rulings.Number(intervalClause[i])) * 1000}
	}
}

func (t *timer) stop(n int, ms int64, stamped bool) {
	if t.running.Interval != medicalInterval {
		t.ended(t.running, n, ms, stamped)
	}
	for _, c := range t.medical {
		t.ended(c, n, ms, stamped)
	}
	t.running, t.medical = Clock{}, [4]Clock{}
}

func (t *timer) ended(c Clock, n int, ms int64, stamped bool) {
	if c.Interval == noInterval || !stamped || c.Limit == 0 || ms-c.Since <= c.Limit {
		return
	}
	bound := intervalClause[c.Interval]
	source, _ := bound.Source(t.rules.format.Edition)
	t.overruns = append(t.overruns, Overrun{c.Interval, c.Entry, n, ms - c.Since, c.Limit, bound, source})
}
