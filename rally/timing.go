package rally

import "github.com/evencourt/evencourt/format"

// Interval is a stretch of time that a rule bounds.
type Interval uint8

// The intervals.
const (
	NoInterval Interval = iota
	TimeOutInterval
	MedicalInterval
	EquipmentInterval
	EndChangeInterval
	BetweenGamesInterval
)

var intervalNames = []string{"none", "time-out", "medical", "equipment", "end-change", "between-games"}

var intervalSwitch = [...]format.Switch{
	TimeOutInterval:      format.TimeOutSeconds,
	MedicalInterval:      format.MedicalSeconds,
	EquipmentInterval:    format.EquipmentSeconds,
	EndChangeInterval:    format.EndChangeSeconds,
	BetweenGamesInterval: format.BetweenGamesSeconds,
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
}

// Overrun is an interval that took longer than its rule allows.
type Overrun struct {
	Interval Interval      `json:"interval"`
	Began    int           `json:"began"` // entry that began it
	Ended    int           `json:"ended"` // entry that ended it
	Took     int64         `json:"took"`  // milliseconds
	Limit    int64         `json:"limit"` // milliseconds
	Rule     string        `json:"rule"`  // the switch that bounds it
	Source   format.Source `json:"source"`
}

// timer follows the intervals of a log through its stamped entries.
type timer struct {
	l        *Log
	running  Clock
	rules    *Rules
	overruns []Overrun
}

// Timing returns the intervals that took longer than the edition allows, in
// their order. Entries without an elapsed time bound nothing.
//
// The medical clock starts at the arrival of help where the edition says so;
// the entry nearest to it is the one that finds the condition valid. A
// request still open has no clock.
func Timing(l *Log) []Overrun { return newTimer(l).overruns }

// ClockAt returns the interval running at an elapsed time, with what remains
// of it and when the next notice is due.
func ClockAt(l *Log, ms int64) (Clock, bool) {
	c := newTimer(l).running
	if c.Interval == NoInterval {
		return Clock{}, false
	}
	if c.Limit > 0 {
		c.Remaining = c.Since + c.Limit - ms
		notice := int64(l.now.rules.format.Rulings[format.NoticeSeconds]) * 1000
		c.NoticeAt = -1
		if at := c.Since + c.Limit - notice; notice > 0 && ms <= at {
			c.NoticeAt = at
		}
	}
	if c.Interval == MedicalInterval && c.Remaining < 0 {
		c.Asks = 1<<TimeIn | 1<<PlayOnAlone | 1<<Retirement
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
		t.running.Interval == EndChangeInterval && (did.Has(EndsMade) || st.Event.Kind() == RallyWon) {
		t.stop(st.N, ms, stamped)
	}
	switch {
	case did.Has(MedicalUsedUp):
		t.begin(MedicalInterval, st.N, ms, stamped)
	case did.Has(BreakBegan):
		b, _ := st.After.Break()
		switch b {
		case TimeOutBreak:
			t.begin(TimeOutInterval, st.N, ms, stamped)
		case EquipmentBreak:
			t.begin(EquipmentInterval, st.N, ms, stamped)
		case MedicalBreak:
			if st.Rules.switchIs(format.MedicalClock, format.MedicalClockRequest) {
				t.begin(MedicalInterval, st.N, ms, stamped)
			}
		}
	case did.Has(EndsDue):
		t.begin(EndChangeInterval, st.N, ms, stamped)
	case st.After.Phase() == Between && (did.Has(GameWon) || did.Has(GameForfeited)):
		t.begin(BetweenGamesInterval, st.N, ms, stamped)
	case st.After.Phase() == Over:
		t.running = Clock{}
	}
}

func (t *timer) begin(i Interval, n int, ms int64, stamped bool) {
	if i == MedicalInterval && t.running.Interval == MedicalInterval {
		return // by the reading in which the clock starts at the request
	}
	t.running = Clock{}
	if stamped {
		t.running = Clock{Interval: i, Entry: n, Since: ms, NoticeAt: -1,
			Limit: int64(t.rules.format.Rulings[intervalSwitch[i]]) * 1000}
	}
}

func (t *timer) stop(n int, ms int64, stamped bool) {
	c := t.running
	t.running = Clock{}
	if c.Interval == NoInterval || !stamped || c.Limit == 0 || ms-c.Since <= c.Limit {
		return
	}
	s := intervalSwitch[c.Interval]
	source, _ := format.Origin(t.rules.format.Edition, s)
	t.overruns = append(t.overruns, Overrun{c.Interval, c.Entry, n, ms - c.Since, c.Limit, s.String(), source})
}
