package rally_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
)

var harbour = rally.Setup{Match: `Harbour "Lane" <ladder>`, Court: "2", Referee: "Noor Haddad\u2028\x01", Began: "2026-11-27T09:30:00+01:00", Left: rally.B, Sides: [2]rally.Team{
	{Name: "Quay", Players: [2]rally.Player{{ID: "io", Name: "Imani Okafor", Mark: "band"}, {Name: "Tomasz Zieliński"}}},
	{Players: [2]rally.Player{{Name: "Priya Raman"}, {}}}}}

// shown are entries of a match with everything in it that a board draws.
var shown = []string{"fcA:defer", "fcB:receive", "gA1B1", "A", "A:net", "B", "undo", "redo", "tA", "in", "B", "twB", "mB2", "aidB2", "mB2+", "in",
	"A", "A", "A", "A", "A", "A", "A", "A", "undo", "undo", "redo", "amend 5 B", "rewind 22", "A"}

// TestBoardFollows draws a log after every entry, by one board that follows it and by
// one that reads it from its beginning: as JSON, which is that of package
// encoding/json, what the schema allows, and reads back.
func TestBoardFollows(t *testing.T) {
	schema, err := jsonschema.Compile("snapshot.schema.json")
	require.NoError(t, err)
	rules := rally.MustCompile(mustParse("sideout-doubles-11-of3@2026"))
	l := rally.NewLog(rules, rally.State{})
	board := rally.NewBoard(l, harbour)
	ms, clocks := int64(0), 0
	script := append([]string{""}, shown...)
	for i := 0; i < len(script); i++ {
		text := script[i]
		if text != "" {
			_, err := l.Enter(text)
			require.NoError(t, err, "%d: %s", i, text)
			if i%5 == 0 {
				board.AppendJSON(nil, ms) // drawn before the entry has its time
			}
			l.Stamp(ms)
		}
		if i == len(script)-1 && l.State().Game() < 2 { // on, into the second game
			if l.State().Phase() == rally.Between {
				script = append(script, "tB", "gB1A1", "B")
			} else {
				script = append(script, "A")
			}
		}
		ms += 7000
		raw := board.AppendJSON(nil, ms)
		v := board.Snapshot(ms)
		require.Equal(t, string(rally.NewBoard(l, harbour).AppendJSON(nil, ms)), string(raw), "%d: %s", i, text)
		require.Equal(t, string(raw), string(v.AppendJSON(nil)))
		std, err := json.Marshal(v)
		require.NoError(t, err)
		require.JSONEq(t, string(std), string(raw))
		var loose any
		require.NoError(t, json.Unmarshal(raw, &loose))
		require.NoError(t, schema.Validate(loose))
		var back rally.Snapshot
		require.NoError(t, json.Unmarshal(raw, &back), "a second device reads it")
		require.Equal(t, v, back)

		clock, running := rally.ClockAt(l, ms)
		require.Equal(t, running, v.Clock != nil)
		if running {
			clocks++
			require.Equal(t, clock, *v.Clock)
			if late, _ := rally.ClockAt(l, ms+10_000_000); late.Limit > 0 {
				require.NotZero(t, late.Asks&l.Rules().Allowed(l.State()), "what is over asks for something that may come: %s", late.Interval)
			}
		}
		if n, ok := l.Undoable(); ok {
			require.Equal(t, l.Entry(n).String(), v.Undo)
		} else {
			require.Empty(t, v.Undo)
		}
		var finals []rally.GameScore
		for _, g := range l.Result().Games {
			if g.How == rally.PlayedGame {
				finals = append(finals, g)
			}
		}
		require.Equal(t, finals, slices.Clip(append([]rally.GameScore(nil), v.Finals...)))
	}
	require.Greater(t, clocks, 4)
	v := board.Snapshot(ms)
	require.Equal(t, 2, v.Game)
	require.Len(t, v.Finals, 1)
	require.Equal(t, "Imani Okafor", v.Setup.Name(rally.A1))
}

// TestEveryFieldIsWritten gives every field of a snapshot a value, so that one which
// AppendJSON forgets, or calls by another name, is seen.
func TestEveryFieldIsWritten(t *testing.T) {
	var v rally.Snapshot
	fill(reflect.ValueOf(&v).Elem())
	want, err := json.Marshal(v)
	require.NoError(t, err)
	require.JSONEq(t, string(want), string(v.AppendJSON(nil)))
}

// fill gives a value and all in it something that is not left out.
func fill(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem())
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i))
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			fill(v.Index(i))
		}
	case reflect.String:
		v.SetString("é\"<\n")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(7)
	default:
		v.SetUint(1)
	}
}

func TestNothingIsInventedBeforePlay(t *testing.T) {
	for _, c := range []struct{ name, line string }{{"before the first choice", ""}, {"with it", "A"}} {
		t.Run(c.name, func(t *testing.T) {
			rules := rally.MustCompile(mustParse("sideout-singles-11@2026"))
			start := rally.State{}
			if c.line != "" {
				start = rules.New(rally.A)
			}
			var drawn map[string]any
			require.NoError(t, json.Unmarshal(rally.NewBoard(rally.NewLog(rules, start), rally.Setup{}).AppendJSON(nil, -1), &drawn))
			for _, name := range []string{"serving", "server", "receiver", "court", "number", "winner", "break_of", "clock"} {
				require.NotContains(t, drawn, name)
			}
			require.Equal(t, map[string]any{"hands": []any{"left", "right"}, "playing": false}, drawn["view"])
			require.Empty(t, drawn["finals"])
			require.Equal(t, "", drawn["call"])
		})
	}
}

// What is yielded is accepted, and what a board says is refused is refused for
// that reason; between them they are every event that there is a button for.
func TestEventsThatMayCome(t *testing.T) {
	for _, id := range []string{"sideout-doubles-11-of3@2026", "rally-singles-11@2026", "fixed-doubles-21@2025"} {
		t.Run(id, func(t *testing.T) {
			n, buttons := 0, -1
			roam(t, id, 5, steps(12_000), func(rules *rally.Rules, _ rally.State, _ rally.Event, s rally.State, _ rally.Effects, _ rally.Refusal) {
				if n++; n%7 != 0 {
					return
				}
				v := rally.NewBoard(rally.NewLog(rules, s), rally.Setup{}).Snapshot(-1)
				require.Equal(t, v.Allowed, append([]rally.Event{}, slices.Collect(rules.Events(s))...))
				kinds := rally.KindSet(0)
				for _, e := range v.Allowed {
					_, _, refusal := rules.Apply(s, e)
					require.Equal(t, rally.NotRefused, refusal, e.String())
					kinds |= 1 << e.Kind()
				}
				require.Equal(t, kinds, rules.Allowed(s))
				for _, no := range v.Refused {
					_, _, refusal := rules.Apply(s, no.Event)
					require.Equal(t, no.Why, refusal)
				}
				absent := 0
				for _, e := range v.Allowed {
					if e.Fault() == rally.AbsentPlayer {
						absent++
					}
				}
				if buttons < 0 {
					buttons = len(v.Allowed) + len(v.Refused) - absent
				}
				require.Equal(t, buttons, len(v.Allowed)+len(v.Refused)-absent)
			})
			require.Greater(t, n, 300)
		})
	}
	rules := rally.MustCompile(mustParse("sideout-doubles-11@2026"))
	l := rally.NewLog(rules, rules.New(rally.A))
	for _, e := range []string{"gA1B1", "tA", "in", "tA", "in"} {
		_, err := l.Enter(e)
		require.NoError(t, err)
	}
	v := rally.NewBoard(l, rally.Setup{}).Snapshot(-1)
	require.Contains(t, v.Allowed, rally.OfSide(rally.TimeOut, rally.B))
	require.NotContains(t, v.Allowed, rally.OfSide(rally.TimeOut, rally.A))
	require.Contains(t, v.Refused, rally.Greyed{Event: rally.OfSide(rally.TimeOut, rally.A), Why: rally.NoneLeft})
}

// TestBoardAsksAnew: a board that follows any log in any format, and asks again only
// where an answer may be another, draws what one does that tries every button.
func TestBoardAsksAnew(t *testing.T) {
	ids := everyEdition()
	drawn := 0
	for seed := uint64(1); drawn < steps(15_000); seed++ {
		id := ids[int(seed*7919%uint64(len(ids)))]
		w := &writer{Rand: rand.New(rand.NewPCG(seed, 27)), ids: kin(ids, id)}
		rules := rally.MustCompile(mustParse(id))
		w.log = rally.NewLog(rules, rules.New(rally.Side(w.IntN(2))))
		board := rally.NewBoard(w.log, harbour)
		for range 150 {
			e := w.entry()
			if w.IntN(3) > 0 {
				e = rally.RallyTo(rally.Side(w.IntN(2))).Entry() // so that games get far
			}
			if _, err := w.log.Do(e); err == nil {
				drawn++
				requireTried(t, w.log, board, fmt.Sprintf("seed %d, %s, after %s", seed, id, e))
			}
		}
	}
	log := begin(t, "rally-doubles-11@2026") // to where a score can hold no more
	board := rally.NewBoard(log, harbour)
	for _, e := range []string{"set L2 game=1 won=0:0 score=254-253 opens=0:0 serve=A1@R#- receive=B2 A=12 B=21 first=A start=A1B1 ends=1m due=- phase=play result=- break=- timeouts=0:0 medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----", "B", "A"} {
		enter(t, log, e)
		requireTried(t, log, board, e)
	}
	require.NotContains(t, board.Snapshot(-1).Allowed, rally.RallyTo(rally.A))
}

// TestLogAt goes back through random logs: every entry left the log in the state that
// At tells afterwards.
func TestLogAt(t *testing.T) {
	ids := everyEdition()
	for seed := uint64(1); seed < uint64(steps(400)); seed++ {
		id := ids[int(seed*7919%uint64(len(ids)))]
		w := &writer{Rand: rand.New(rand.NewPCG(seed, 28)), ids: kin(ids, id)}
		rules := rally.MustCompile(mustParse(id))
		w.log = rally.NewLog(rules, rules.New(rally.Side(w.IntN(2))))
		states, by := []rally.State{w.log.State()}, []*rally.Rules{rules}
		for range 150 {
			if _, err := w.log.Do(w.entry()); err == nil {
				states, by = append(states, w.log.State()), append(by, w.log.Rules())
			}
		}
		for n, want := range states {
			s, rules, ok := w.log.At(n)
			require.True(t, ok)
			require.Equal(t, want, s, "seed %d, %s, entry %d", seed, id, n)
			require.Equal(t, by[n].Format(), rules.Format())
		}
		for _, n := range []int{-1, len(states)} {
			_, _, ok := w.log.At(n)
			require.False(t, ok)
		}
	}
}

// requireTried holds what a board has drawn to what comes of trying every button.
func requireTried(t *testing.T, l *rally.Log, board *rally.Board, after string) {
	t.Helper()
	rules, s, v := l.Rules(), l.State(), board.Snapshot(-1)
	if fresh := rally.NewBoard(l, harbour).AppendJSON(nil, -1); string(fresh) != string(v.AppendJSON(nil)) {
		require.Fail(t, "not what a new board draws", after)
	}
	if may := slices.Collect(rules.Events(s)); !slices.Equal(may, v.Allowed) {
		require.Equal(t, may, v.Allowed, after)
	}
	for _, no := range v.Refused {
		if _, _, why := rules.Apply(s, no.Event); why != no.Why {
			require.Equal(t, why, no.Why, "%s %s", no.Event, after)
		}
	}
	for side := rally.A; side <= rally.B; side++ {
		_, did, _ := rules.Apply(s, rally.RallyTo(side))
		require.Equal(t, did.Has(rally.GameWon), v.GamePoint[side], after)
		require.Equal(t, did.Has(rally.MatchWon), v.MatchPoint[side], after)
	}
}

func TestBoardDoesNotAllocate(t *testing.T) {
	rules := rally.MustCompile(mustParse("sideout-doubles-11-of3@2026"))
	l := rally.NewLog(rules, rules.New(rally.A))
	l.Grow(1000)
	board := rally.NewBoard(l, harbour)
	buf := board.AppendJSON(make([]byte, 0, 1<<14), 0)
	winner := rally.A
	require.Zero(t, testing.AllocsPerRun(100, func() {
		l.Apply(rally.RallyTo(winner))
		winner = winner.Other()
		buf = board.AppendJSON(buf[:0], 0)
	}))
}

func TestSetsAreText(t *testing.T) {
	kinds := rally.KindSet(1<<rally.TimeOut | 1<<rally.Undo)
	require.Equal(t, "time-out,undo", kinds.String())
	require.Equal(t, []rally.Kind{rally.TimeOut, rally.Undo}, slices.Collect(kinds.All()))
	mistakes := rally.Mistakes(0).With(rally.WrongServer).With(rally.WrongCall)
	require.Equal(t, "server,call", mistakes.String())
	require.Equal(t, []rally.Mistake{rally.WrongServer, rally.WrongCall}, slices.Collect(mistakes.All()))
	did := rally.Point | rally.GameWon
	require.Equal(t, "point,game-won", did.String())
	require.Equal(t, []rally.Effects{rally.Point, rally.GameWon}, slices.Collect(did.All()))
	require.Equal(t, []rally.Carry{rally.CarriedVerbal, rally.CarriedFoul}, slices.Collect((rally.CarriedVerbal | rally.CarriedFoul).All()))
	for name, c := range map[string]struct{ value, back any }{
		"kinds": {kinds, new(rally.KindSet)}, "mistakes": {mistakes, new(rally.Mistakes)}, "effects": {did, new(rally.Effects)},
		"no kinds": {rally.KindSet(0), new(rally.KindSet)}, "no mistakes": {rally.Mistakes(0), new(rally.Mistakes)}, "no effects": {rally.Effects(0), new(rally.Effects)},
	} {
		t.Run(name, func(t *testing.T) {
			raw, err := json.Marshal(c.value)
			require.NoError(t, err)
			require.NoError(t, json.Unmarshal(raw, c.back))
			again, err := json.Marshal(c.back)
			require.NoError(t, err)
			require.Equal(t, string(raw), string(again))
			require.Error(t, json.Unmarshal([]byte(`"point,,x"`), c.back))
			require.Error(t, json.Unmarshal([]byte(`""`), c.back))
		})
	}
}

// BenchmarkBoard draws a board after every rally of a match; again, for another that
// watches; and after a time-out has begun or ended, when every button is asked anew.
// Passes are short, and the least time of them counts: what else the machine does is
// not in it.
func BenchmarkBoard(b *testing.B) {
	rules := rally.MustCompile(mustParse("sideout-doubles-11-of3@2026"))
	buf := make([]byte, 0, 1<<14)
	const draws = 100
	for _, c := range []struct {
		name string
		next func(l *rally.Log, n int)
	}{
		{"rally", func(l *rally.Log, n int) { l.Apply(rally.RallyTo(rally.Side(n / 2 & 1))) }},
		{"again", func(*rally.Log, int) {}},
		{"break", func(l *rally.Log, n int) {
			l.Apply([]rally.Event{rally.EventOf(rally.TimeIn), rally.EventOf(rally.RefereeTimeOut)}[n&1])
		}},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			least := time.Duration(0)
			for b.Loop() {
				b.StopTimer()
				l := rally.NewLog(rules, rules.New(rally.A))
				l.Grow(2 * draws)
				board := rally.NewBoard(l, harbour)
				l.Apply(rally.RallyTo(rally.A))
				board.AppendJSON(buf[:0], 0)
				b.StartTimer()
				began := time.Now()
				for n := range draws {
					c.next(l, n+1)
					buf = board.AppendJSON(buf[:0], 0)
				}
				if took := time.Since(began); least == 0 || took < least {
					least = took
				}
			}
			b.ReportMetric(float64(least.Nanoseconds())/draws, "ns/board")
			b.ReportMetric(float64(len(buf)), "bytes")
			b.ReportMetric(0, "ns/op")
		})
	}
}
