package rally_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Random logs over every kind of entry, changes of format included. A log that
// goes wrong is told by its format and seed, from which it can be played again.

// logEntries is how many entries are tried: EVENCOURT_LOG_ENTRIES, else few.
func logEntries(t *testing.T) int {
	if n, err := strconv.Atoi(os.Getenv("EVENCOURT_LOG_ENTRIES")); err == nil {
		return n
	}
	if testing.Short() {
		return 4_000
	}
	return 12_000
}

// writer makes up entries for a log.
type writer struct {
	*rand.Rand
	log   *rally.Log
	lines []string // positions seen, to be stated
	ids   []string // formats to change to
}

func (w *writer) pick(of ...string) string { return of[w.IntN(len(of))] }

// event makes up an event: mostly rallies, so that games get on.
func (w *writer) event() rally.Event {
	side, person := rally.Side(w.IntN(2)), rally.Person(w.IntN(4))
	switch n := w.IntN(100); {
	case n < 62:
		return rally.RallyTo(side)
	case n < 72:
		return rally.RallyTo(side).WithIncident(w.incident())
	case n < 75:
		i := w.incident()
		i.Since = rally.StillLive
		return rally.EventOf(rally.Stop).WithIncident(i)
	case n < 78:
		return rally.Start(side, rally.Starters{rally.A1 + rally.Person(w.IntN(2)), rally.B1 + rally.Person(w.IntN(2))})
	case n < 80:
		return rally.FaultTo(side, rally.Fault(w.IntN(19)))
	case n < 82:
		return rally.Choose(side, rally.Choice(1+w.IntN(4)))
	case n < 83:
		return rally.Late(side, w.IntN(2000))
	case n < 91:
		return rally.EventOf(rally.EndsChanged)
	}
	k := rally.Kind(1 + w.IntN(int(rally.SheetReturned)))
	switch k {
	case rally.MatchForfeit, rally.DoubleForfeit, rally.Retirement, rally.Withdrawal, rally.Abandon, rally.GameForfeit:
		if w.IntN(4) > 0 { // they end too many matches
			k = rally.TimeOut
		}
	case rally.RallyWon, rally.Stop, rally.FirstChoice, rally.LateArrival, rally.StartGame:
		k = rally.TechnicalWarning
	}
	e := rally.OfPerson(k, person)
	if _, err := e.MarshalText(); err != nil {
		if e = rally.OfSide(k, side); e.String() == "?" {
			e = rally.EventOf(k)
		}
	}
	return e
}

func (w *writer) incident() rally.Incident {
	return rally.Incident{Mistakes: rally.Mistakes(1 << w.IntN(8)), Reach: rally.Reach(w.IntN(6)), Stopper: rally.Stopper(w.IntN(4)),
		Asked: w.IntN(9) == 0, Misled: w.IntN(12) == 0}
}

// entry makes up an entry; a third of them are corrections.
func (w *writer) entry() rally.Entry {
	late := w.log.Len() + 1 - w.IntN(min(w.log.Len()+1, 1+w.IntN(30))) // mostly one of the last
	switch n := w.IntN(100); {
	case n < 68:
		return w.event().Entry()
	case n < 74:
		return rally.Entry{Kind: rally.Undo}
	case n < 77:
		return rally.Entry{Kind: rally.Redo}
	case n < 84:
		e := rally.Entry{Kind: rally.Amend, Target: late, Event: w.event(), Note: w.pick("", "", "as the second referee says")}
		if w.IntN(3) == 0 {
			e.Event = 0
		}
		return e
	case n < 91:
		target := late
		for m := w.log.Len(); m >= 1 && w.IntN(6) > 0; m-- { // mostly the last rally
			if w.log.Entry(m).Kind == rally.RallyWon {
				target = m
				break
			}
		}
		side := rally.Side(w.IntN(2))
		if e, ok := w.log.Holds(target); ok {
			side = e.Side()
		}
		return rally.Entry{Kind: rally.RuleOn, Target: target, Event: rally.RallyTo(side).WithIncident(w.incident())}
	case n < 96:
		return rally.Entry{Kind: rally.Rewind, Target: late}
	case n < 98 && len(w.lines) > 0:
		return rally.Entry{Kind: rally.SetPosition, Line: w.pick(w.lines...)}
	}
	return rally.Entry{Kind: rally.ChangeFormat, Format: mustParse(w.pick(w.ids...)), Next: w.IntN(2) == 0, Note: "director"}
}

// TestRandomLogs: whatever is entered, a log stays one that its own rules
// allow, and says truly what it did.
func TestRandomLogs(t *testing.T) {
	all, taken := 0, map[rally.Kind]int{}
	ids := everyEdition()
	seed, _ := strconv.ParseUint(os.Getenv("EVENCOURT_LOG_SEED"), 10, 64) // from which one to go on
	for ; all < logEntries(t); seed++ {
		id := ids[int(seed*7919%uint64(len(ids)))]
		w := &writer{Rand: rand.New(rand.NewPCG(seed, 26)), ids: ids}
		if w.IntN(2) == 0 { // mostly a change that can be made
			w.ids = kin(ids, id)
		}
		rules := rally.MustCompile(mustParse(id))
		start := rules.New(rally.Side(w.IntN(2)))
		if w.IntN(8) == 0 {
			start = rally.State{}
		}
		w.log = rally.NewLog(rules, start)
		for range 40 + w.IntN(300) {
			all++
			e := w.entry()
			if fault := w.step(e, taken); fault != "" {
				text := ""
				for n := 1; n <= w.log.Len(); n++ {
					text += w.log.Entry(n).String() + "; "
				}
				require.FailNow(t, fault, "seed %d, %s, entry %q after: %s", seed, id, e.String(), text)
			}
		}
	}
	t.Logf("%d entries, taken by kind: %v", all, taken)
}

// everyEdition are all shapes in all editions they stand in.
func everyEdition() (ids []string) {
	for _, shape := range format.Shapes() {
		for _, e := range format.EditionsOf(shape) {
			ids = append(ids, shape+"@"+e.String())
		}
	}
	return ids
}

// kin are the formats with as many players as one of them.
func kin(ids []string, of string) (out []string) {
	for _, id := range ids {
		if mustParse(id).Game.Sides == mustParse(of).Game.Sides {
			out = append(out, id)
		}
	}
	return out
}

// step adds an entry and says what is wrong then.
func (w *writer) step(e rally.Entry, taken map[rally.Kind]int) string {
	l := w.log
	before, rules, pending, n := l.State(), l.Rules(), l.Pending(), l.Len()
	undo, undoable := l.Undoable()
	redo, redoable := l.Redoable()
	var old []rally.Step
	l.Each(func(st rally.Step) bool { old = append(old, st); return true })
	finals := fmt.Sprint(l.Result())
	would, changes, wouldErr := l.Would(e)
	if l.State() != before || l.Rules() != rules || l.Len() != n || fmt.Sprint(l.Result()) != finals {
		return "asking changed the log"
	}
	did, err := l.Do(e)
	if no := (*rally.EntryError)(nil); errors.As(err, &no) && no.By == 0 {
		return "no clause refuses it: " + no.Error()
	}
	if (err == nil) != (wouldErr == nil) || did != would {
		return fmt.Sprintf("asked, it would have been %v %v, and was %v %v", would, wouldErr, did, err)
	}
	if err != nil {
		u, uok := l.Undoable()
		r, rok := l.Redoable()
		if l.State() != before || l.Rules() != rules || l.Pending() != pending || l.Len() != n || u != undo || uok != undoable || r != redo || rok != redoable {
			return "a refused entry changed something: " + err.Error()
		}
		return ""
	}
	taken[e.Kind]++
	if l.Len() != n+1 || l.Entry(n+1) != e {
		return "the entry is not the last: " + l.Entry(n+1).String()
	}
	if back, err := rally.ParseEntry(e.String()); err != nil || back != e {
		return fmt.Sprintf("its text is that of another entry: %v %v", back, err)
	}
	s := l.State()
	line := l.Rules().Line(s)
	if as, err := l.Rules().ParseLine(line); err != nil || as != s {
		return fmt.Sprintf("it leads to no position of its rules: %v: %s (before: %s)", err, line, rules.Line(before))
	}
	if w.IntN(4) == 0 {
		w.lines = append(w.lines, line)
	}
	if folded, r, p, refused := l.Folded(); refused || folded != s || r.Format() != l.Rules().Format() || p != l.Pending() {
		return fmt.Sprintf("folded it is another position: %v: %s, not %s", refused, r.Line(folded), line)
	}
	if fault := w.told(old, changes, e); fault != "" {
		return fault
	}
	if !e.Corrects() {
		for side := rally.A; side <= rally.B; side++ {
			most := 1
			if did.Has(rally.Point | rally.PenaltyPoint) {
				most = 2 // by the 1999 text a rally can bring a point and a foul another
			}
			if d := s.Score(side) - before.Score(side); s.Game() == before.Game() && (d > most || d < -1) {
				return "the score has leapt"
			}
			tookBack := e.Kind == rally.LateArrival // where both sides are late the clock forfeits nothing
			if s.Won(side) < before.Won(side) && !tookBack || s.TimeOutsUsed(side) < 0 {
				return "something won or used is gone"
			}
		}
	}
	if u, ok := l.Undoable(); ok && w.IntN(6) == 0 {
		trial := *l
		if _, err := trial.Do(rally.Entry{Kind: rally.Undo}); err != nil {
			return "it cannot be undone: " + err.Error()
		}
		if u == n+1 && (trial.State() != before || trial.Rules() != rules || trial.Pending() != pending) {
			return "undone, it is not what it was"
		}
		if _, err := trial.Do(rally.Entry{Kind: rally.Redo}); err != nil || trial.State() != s || trial.Rules().Format() != l.Rules().Format() {
			return fmt.Sprintf("redone, it is not what it was: %v", err)
		}
	}
	if fault := w.explained(); fault != "" {
		return fault
	}
	l.Result()
	rally.Timing(l)
	rally.NewBoard(l, rally.Setup{}).AppendJSON(nil, 0)
	return ""
}

// explained asks now and then whether what may come next can come and nothing else
// can, and whether refusals are explained as they are.
func (w *writer) explained() string {
	if w.IntN(8) > 0 {
		return ""
	}
	rules, s := w.log.Rules(), w.log.State()
	allowed := rules.Allowed(s)
	for e := range rules.Events(s) {
		if _, _, refusal := rules.Apply(s, e); refusal != rally.NotRefused || !allowed.Has(e.Kind()) {
			return fmt.Sprintf("%s may come and is refused: %v", e, refusal)
		}
	}
	for range 6 {
		e := w.event()
		next, did, refusal := rules.Apply(s, e)
		why := rules.Why(s, e)
		switch {
		case why.Refusal != refusal || why.Allowed != allowed:
			return fmt.Sprintf("%s is refused as %v, explained as %v", e, refusal, why.Refusal)
		case refusal == rally.NotRefused && !allowed.Has(e.Kind()):
			return e.String() + " comes though its kind may not"
		case refusal != rally.NotRefused && (len(why.Grounds) == 0 || next != s || did != 0):
			return e.String() + " is refused without a clause, or not without effect"
		case refusal != rally.NotRefused && rally.KindSet(1<<rally.MedicalRequest|1<<rally.BloodTimeOut|1<<rally.IllnessTimeOut).Has(e.Kind()) && !why.Help:
			return e.String() + ": a medical need is refused and help is not called"
		}
	}
	return ""
}

// told compares what an entry is said to have changed with what it did change.
func (w *writer) told(old []rally.Step, changes []rally.Change, e rally.Entry) string {
	type reads struct {
		holds, final bool
		effects      rally.Effects
	}
	was, is := map[int]reads{}, map[int]reads{}
	read := func(into map[int]reads, st rally.Step) {
		into[st.N] = reads{st.Holds, st.Final, st.Effects}
	}
	for _, st := range old {
		read(was, st)
	}
	w.log.Each(func(st rally.Step) bool { read(is, st); return true })
	said := map[int]rally.Change{}
	for _, c := range changes {
		if _, twice := said[c.N]; twice || c.N >= w.log.Len() {
			return "a change is told twice or of itself"
		}
		said[c.N] = c
	}
	for n := 1; n < w.log.Len(); n++ {
		c, told := said[n]
		if told && (c.Before.Holds != was[n].holds || c.Before.Effects != was[n].effects || c.After.Holds != is[n].holds || c.After.Effects != is[n].effects) {
			return fmt.Sprintf("of entry %d it is told %v, and it is %v, %v", n, c, was[n], is[n])
		}
		if !told && was[n] != is[n] {
			return fmt.Sprintf("entry %d reads %v, not %v, and that is not told", n, is[n], was[n])
		}
		if told && was[n] == is[n] && !c.Before.Final {
			return fmt.Sprintf("entry %d is told changed and reads the same: %v", n, c)
		}
	}
	if !e.Corrects() && len(changes) > 0 {
		return "an event changed earlier entries"
	}
	return ""
}
