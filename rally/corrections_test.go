package rally_test

import (
	"math/rand/v2"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
)

// trials is how many random positions a format are tried: many more with
// EVENCOURT_LOG_ENTRIES, for the deep run.
func trials(few int) int {
	if os.Getenv("EVENCOURT_LOG_ENTRIES") != "" {
		return 100 * few
	}
	if testing.Short() {
		return few
	}
	return 3 * few
}

// happened plays up to n made-up events that are accepted.
func (w *writer) happened(n int) {
	for range 4 * n {
		if w.log.Len() >= n || w.log.State().Phase() >= rally.Over {
			return
		}
		w.log.Apply(w.event())
	}
}

func randomLog(id string, seed uint64) *writer {
	rules := rally.MustCompile(mustParse(id))
	w := &writer{Rand: rand.New(rand.NewPCG(seed, 41))}
	w.log = rally.NewLog(rules, rules.New(rally.Side(w.IntN(2))))
	return w
}

// A ruling inside its window is the rally entered as ruled in the first place,
// whatever happened since that nobody had to judge.
func TestRulingIsTheRallyAsRuled(t *testing.T) {
	ids := everyEdition()
	ruled, later := 0, 0
	for k, id := range ids {
		if !strings.HasPrefix(id, "sideout-doubles-11") && !strings.HasPrefix(id, "rally-doubles-11") && k%9 != 0 {
			continue
		}
		for seed := range trials(20) {
			w := randomLog(id, uint64(seed))
			w.happened(w.IntN(60))
			for w.log.State().Phase() < rally.Over { // the last is a rally
				_, refusal := w.log.Apply(rally.RallyTo(rally.Side(w.IntN(2))))
				if refusal == rally.NotRefused {
					break
				}
				if undo(w.log) != nil {
					break // nothing is left, or a suspected concussion
				}
			}
			n := w.log.Len()
			if n == 0 || w.log.Entry(n).Kind != rally.RallyWon || w.log.State().Phase() == rally.Closed {
				continue
			}
			e := rally.RallyTo(w.log.Entry(n).Event.Side()).WithIncident(w.incident())
			over := rally.RallyOver
			if w.log.State().Phase() != rally.Playing {
				over = rally.GameOver
			}
			i, _ := e.Incident()
			i.Since = over
			// The same entries, the last as ruled.
			first := rally.NewLog(w.log.Initial())
			for m := 1; m < n; m++ {
				_, err := first.Do(w.log.Entry(m))
				require.NoError(t, err)
			}
			_, asRuled := first.Do(e.WithIncident(i).Entry())
			var since []string
			var follows error
			if w.log.State().Phase() == rally.Playing && w.IntN(2) == 0 {
				since = [][]string{{"ref", "in"}, {"blood"}, {"ejA1"}, {"vwA"}, {"eqB1"}}[w.IntN(5)]
			}
			for _, text := range since {
				if _, err := w.log.Enter(text); err == nil && follows == nil {
					_, follows = first.Enter(text)
				}
			}
			_, err := w.log.Do(rally.Entry{Kind: rally.RuleOn, Target: n, Event: e})
			if err != nil {
				continue // its window, or it would stand
			}
			require.NoError(t, asRuled, "%s seed %d", id, seed)
			if follows != nil {
				continue // as ruled the match was over, and nothing came after it
			}
			ruled++
			if first.Len() > n {
				later++
			}
			require.Equal(t, line(first), line(w.log), "%s seed %d: rule %d %s", id, seed, n, e)
		}
	}
	require.NotZero(t, later)
	t.Logf("%d rulings, %d of them with something since", ruled, later)
}

func line(l *rally.Log) string { return l.Rules().Line(l.State()) }

// A log with repairs of any entries leads where the repaired entries lead.
func TestRepairedLogIsTheRepairedEntries(t *testing.T) {
	repairs := 0
	for k, id := range everyEdition() {
		if k%3 != 0 && testing.Short() {
			continue
		}
		for seed := range trials(6) {
			w := randomLog(id, uint64(1000+seed))
			w.happened(20 + w.IntN(60))
			for range 6 {
				e := rally.Entry{Kind: rally.Amend, Target: 1 + w.IntN(max(1, w.log.Len())), Event: w.event(), Note: "seen from the other end"}
				if w.IntN(3) == 0 {
					e.Event = 0
				}
				if _, err := w.log.Do(e); err == nil {
					repairs++
				}
			}
			clean := rally.NewLog(w.log.Initial())
			for n := 1; n <= w.log.Len(); n++ {
				if e, holds := w.log.Holds(n); holds {
					_, refusal := clean.Apply(e)
					require.Equal(t, rally.NotRefused, refusal)
				}
			}
			require.Equal(t, line(clean), line(w.log), "%s seed %d", id, seed)
			require.Equal(t, clean.Result(), w.log.Result())
		}
	}
	require.NotZero(t, repairs)
	t.Logf("%d repairs", repairs)
}

// Wherever a rewind goes back to, the position is one of the rules in force:
// it never crosses a change of format.
func TestRewindsAcrossChangesOfFormat(t *testing.T) {
	ids := everyEdition()
	tried, taken := 0, 0
	for seed := uint64(0); tried < min(trials(1000), 10_000); seed++ {
		id := ids[int(seed*37%uint64(len(ids)))]
		w := randomLog(id, 5000+seed)
		w.happened(w.IntN(50))
		other := kin(ids, id)
		changed := 0
		for range 20 {
			e := rally.Entry{Kind: rally.ChangeFormat, Format: mustParse(other[w.IntN(len(other))]), Next: w.IntN(2) == 0, Note: "director"}
			if _, err := w.log.Do(e); err == nil {
				changed = w.log.Len()
				break
			}
		}
		if changed == 0 {
			continue
		}
		w.happened(w.log.Len() + w.IntN(60))
		rules := w.log.Rules()
		for n := 1; n <= w.log.Len(); n++ {
			trial := *w.log
			tried++
			if rewind(&trial, n) != nil {
				continue
			}
			taken++
			require.GreaterOrEqual(t, n, changed, "%s seed %d: back to %d across %d", id, seed, n, changed)
			require.Equal(t, rules, trial.Rules())
			s, err := trial.Rules().ParseLine(line(&trial))
			require.NoError(t, err, "%s seed %d", id, seed)
			require.Equal(t, trial.State(), s)
		}
	}
	t.Logf("%d rewinds tried, %d taken", tried, taken)
}

// Undo and redo allocate as much in a long log as in a short one, and so does
// a stated position: nothing is gone through again.
func TestUndoCostsTheSameInAnyLog(t *testing.T) {
	cost := func(entries int, texts ...string) float64 {
		log := begin(t, "sideout-doubles-11@2025", "gA1B1")
		for log.Len() < entries {
			log.Apply(rally.EventOf(rally.Replay))
		}
		log.Grow(100_000)
		var all []rally.Entry
		for _, text := range texts {
			e, err := rally.ParseEntry(text)
			require.NoError(t, err)
			all = append(all, e)
		}
		return testing.AllocsPerRun(200, func() {
			for _, e := range all {
				_, err := log.Do(e)
				require.NoError(t, err)
			}
		})
	}
	set := "set " + line(begin(t, "sideout-doubles-11@2025", "gA1B1"))
	require.InDelta(t, cost(10, "undo", "redo"), cost(60_000, "undo", "redo"), 1)
	require.InDelta(t, cost(10, set), cost(60_000, set), 1)
}

// A repair, a ruling and a rewind need as much room as going through the log once at
// most, and near its end next to nothing, though another correction stands in it.
func TestCorrectionsGoThroughTheLogOnce(t *testing.T) {
	log := begin(t, "sideout-singles-11@2022", "gA1B1")
	for log.Len() < 20_000 {
		log.Apply(rally.RallyTo(rally.Side(log.Len() % 2))) // whoever receives wins
	}
	enter(t, log, "A", "rule 20001 A?server", "A")
	room := func(do func()) float64 {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		do()
		runtime.ReadMemStats(&after)
		return float64(after.TotalAlloc - before.TotalAlloc)
	}
	once := room(func() { log.Each(func(rally.Step) bool { return true }) })
	for entry, most := range map[string]float64{
		"rewind 2": 1.05, "rewind 20001": 0.1, "rule 20003 A?server": 0.1, "amend 2 A": 0.3, "amend 20003 B": 0.3,
	} {
		e, err := rally.ParseEntry(entry)
		require.NoError(t, err)
		trial := *log
		used := room(func() { _, err = trial.Do(e) }) / once
		require.NoError(t, err, entry)
		t.Logf("%s: %.2f of going through the log", entry, used)
		require.Less(t, used, most, entry)
	}
}

func BenchmarkUndo(b *testing.B) {
	for _, entries := range []int{10, 60_000} {
		b.Run(strconv.Itoa(entries), func(b *testing.B) {
			log := begin(b, "sideout-doubles-11@2025", "gA1B1")
			for log.Len() < entries {
				log.Apply(rally.EventOf(rally.Replay))
			}
			for range b.N {
				_ = undo(log)
				_ = redo(log)
			}
		})
	}
}

func BenchmarkAmend(b *testing.B) {
	for _, entries := range []int{60, 60_000} {
		b.Run(strconv.Itoa(entries), func(b *testing.B) {
			log := begin(b, "sideout-doubles-11@2025", "gA1B1")
			for log.Len() < entries {
				log.Apply(rally.EventOf(rally.Replay))
			}
			for i := range b.N {
				trial := *log
				_, err := trial.Do(rally.Entry{Kind: rally.Amend, Target: 2 + i%3, Event: rally.RallyTo(rally.A)})
				require.NoError(b, err)
			}
		})
	}
}

// What a correction changed is told beforehand and afterwards: by entry, what
// it did and does, and the finals that are withdrawn.
func TestChangesAreTold(t *testing.T) {
	tests := []struct {
		name, id string
		entries  []string
		entry    string
		want     string
	}{
		{"a repair turns the rallies after it round", "sideout-doubles-11@2025", words("A B A"), "amend 2 A", "2: side-out 1-0 > point 2-0; 3: second-server 1-0 > point 3-0"},
		{"a ruling and the start of the next game", "sideout-doubles-11-of3@2022", join(run("A", 11), words("gB1A1")), "rule 11 A?server",
			"11: point,game-won 11-0 final > side-out,overruled 10-0; 12: game-started 0-0 > gone"},
		{"a rewind", "sideout-doubles-11@2025", words("A A tA B"), "rewind 1", "2: point 2-0 > gone; 3: time-out-charged,break 2-0 > gone,time-out-charged,break; 4: side-out,time-in 2-0 > gone,time-in"},
		{"a final is withdrawn", "sideout-doubles-11-of3@2025", join(run("A", 11), words("B")), "set " + with(), "11: point,game-won 11-0 final > point,game-won 11-0"},
		{"an undo", "sideout-doubles-11@2025", words("A B"), "undo", "2: side-out 1-0 > gone"},
		{"an event changes nothing", "sideout-doubles-11@2025", words("A B"), "B", ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			log := begin(t, test.id, test.entries...)
			e, err := rally.ParseEntry(test.entry)
			require.NoError(t, err)
			before, n := log.State(), log.Len()
			_, would, err := log.Would(e)
			require.NoError(t, err)
			require.Equal(t, before, log.State())
			require.Equal(t, n, log.Len())
			enter(t, log, test.entry)
			require.Equal(t, would, log.Changes(log.Len()))
			var got []string
			for _, c := range would {
				got = append(got, strconv.Itoa(c.N)+": "+told(c.Before)+" > "+told(c.After))
			}
			require.Equal(t, test.want, strings.Join(got, "; "))
		})
	}
}

func told(d rally.Did) string {
	if !d.Holds {
		out := "gone"
		if d.Effects != 0 {
			out += "," + strings.ReplaceAll(d.Effects.String(), "break,time-out-charged", "time-out-charged,break")
		}
		return out
	}
	out := strings.ReplaceAll(d.Effects.String(), "break,time-out-charged", "time-out-charged,break") + " " + strconv.Itoa(d.Score[rally.A]) + "-" + strconv.Itoa(d.Score[rally.B])
	if d.Final {
		out += " final"
	}
	return out
}
