package rally_test

import (
	"math/rand/v2"
	"os/exec"
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
)

// The stream of the benchmarks: random rallies of games of doubles to 11 by
// two, with the start of each game and the end change in it. Symbols: 0 and 1
// a rally won by A and B, 2 the start of a game, 3 the end change.
type stream struct {
	rules   *rally.Rules
	symbols []uint8
	events  []rally.Event
	games   [][]rally.Event // the same, game by game
	table   []uint32        // the anchor: next state by (state<<2 | symbol)
	rallies int
}

const benchFormat = "sideout-doubles-11@2026"

// newStream plays random games until they hold n rallies. The score part that
// the anchor needs is every reachable state of one game, folded above level
// one short of the target with parity kept, finals folded into the start.
func newStream(n int, seed uint64) *stream {
	rules := rally.MustCompile(mustParse(benchFormat))
	st := &stream{rules: rules}
	start := rally.Start(rally.A, rally.Starters{rally.A1, rally.B1})
	fresh := rules.New(rally.A)
	rng := rand.New(rand.NewPCG(11, seed))
	s := fresh
	add := func(symbol uint8, e rally.Event) {
		st.symbols, st.events = append(st.symbols, symbol), append(st.events, e)
		next, _, refusal := rules.Apply(s, e)
		if refusal != rally.NotRefused {
			panic(refusal.String())
		}
		s = next
	}
	var ends []int // of each game in events
	for st.rallies < n {
		add(2, start)
		for s.Phase() == rally.Playing {
			if s.EndChangeDue() {
				add(3, rally.EventOf(rally.EndsChanged))
			}
			side := rally.Side(rng.IntN(2))
			add(uint8(side), rally.RallyTo(side))
			st.rallies++
		}
		s = fresh
		ends = append(ends, len(st.events))
	}
	from := 0
	for _, to := range ends {
		st.games = append(st.games, st.events[from:to])
		from = to
	}
	st.table = anchorTable(rules, start)
	return st
}

// anchorTable enumerates the states of a game as (scores, server, number).
func anchorTable(rules *rally.Rules, start rally.Event) []uint32 {
	type key struct {
		a, b   int
		side   rally.Side
		server rally.Person
		number uint8
	}
	keyOf := func(s rally.State) key {
		a, b := s.Score(rally.A), s.Score(rally.B)
		for a+b > 22 && a > 10 && b > 10 {
			a, b = a-2, b-2
		}
		side, _ := s.Serving()
		p := rules.Places(s)
		return key{a, b, side, p.Server, p.Number}
	}
	root, _, _ := rules.Apply(rules.New(rally.A), start)
	ids := map[key]uint32{keyOf(root): 0}
	states := []rally.State{root}
	var table []uint32
	for i := 0; i < len(states); i++ {
		row := [4]uint32{0, 0, uint32(i), uint32(i)} // starts and end changes are identities
		for w := range 2 {
			next, _, _ := rules.Apply(states[i], rally.RallyTo(rally.Side(w)))
			if next.Phase() != rally.Playing {
				continue // a final is folded into the start
			}
			id, seen := ids[keyOf(next)]
			if !seen {
				id = uint32(len(states))
				ids[keyOf(next)] = id
				states = append(states, next)
			}
			row[w] = id
		}
		for w := range row {
			table = append(table, row[w]<<2)
		}
	}
	size := 1
	for size < len(table) {
		size *= 2
	}
	return append(table, make([]uint32, size-len(table))...)
}

//go:noinline
func anchorPass(tab []uint32, mask uint32, symbols []uint8) uint32 {
	s := uint32(0)
	for _, w := range symbols {
		s = tab[(s|uint32(w))&mask]
	}
	return s
}

//go:noinline
func applyPass(r *rally.Rules, fresh rally.State, events []rally.Event) (s rally.State, did rally.Effects) {
	s = fresh
	for _, e := range events {
		next, effects, refusal := r.Apply(s, e)
		if refusal != rally.NotRefused {
			panic(refusal.String())
		}
		did |= effects
		if effects&rally.GameWon != 0 {
			next = fresh
		}
		s = next
	}
	return s, did
}

//go:noinline
func logPass(r *rally.Rules, fresh rally.State, events []rally.Event, l *rally.Log) (n int) {
	for _, e := range events {
		effects, refusal := l.Apply(e)
		if refusal != rally.NotRefused {
			panic(refusal.String())
		}
		if effects&rally.GameWon != 0 {
			n += l.Len()
			l.Reset(fresh)
		}
	}
	return n
}

//go:noinline
func callPass(r *rally.Rules, fresh rally.State, events []rally.Event, l *rally.Log, buf []byte) (n int) {
	for _, e := range events {
		effects, refusal := l.Apply(e)
		if refusal != rally.NotRefused {
			panic(refusal.String())
		}
		n += len(r.AppendCall(buf[:0], l.State()))
		if effects&rally.GameWon != 0 {
			l.Reset(fresh)
		}
	}
	return n
}

//go:noinline
func batchPass(games [][]rally.Event, fresh rally.State, l *rally.Log) (n int) {
	for _, game := range games {
		if taken, did, refusal := l.ApplyAll(game); taken != len(game) || !did.Has(rally.GameWon) {
			panic(refusal.String())
		}
		n += l.Len()
		l.Reset(fresh)
	}
	return n
}

// A pass plays a stream once.
type pass struct {
	name string
	play func()
}

// passes are the anchor and the candidates over one stream.
func (st *stream) passes() []pass {
	fresh := st.rules.New(rally.A)
	mask := uint32(len(st.table) - 1)
	log := rally.NewLog(st.rules, fresh)
	log.Grow(1 << 12)
	buf := make([]byte, 16)
	return []pass{
		{"anchor", func() { anchorPass(st.table, mask, st.symbols) }},
		{"apply", func() { applyPass(st.rules, fresh, st.events) }},
		{"log", func() { log.Reset(fresh); logPass(st.rules, fresh, st.events, log) }},
		{"log+call", func() { log.Reset(fresh); callPass(st.rules, fresh, st.events, log, buf) }},
		{"batch", func() { log.Reset(fresh); batchPass(st.games, fresh, log) }},
	}
}

// BenchmarkRally times one rally of each pass against the anchor, over a
// million random rallies in eight parts. Passes are short and take turns, so
// that what else the machine does hits all of them alike, and of every part the
// least time counts; x-anchor is the ratio to the anchor's.
func BenchmarkRally(b *testing.B) {
	const parts, rounds = 8, 30
	perRally := map[string]float64{}
	var candidates []pass
	for part := range parts {
		st := newStream(1<<20/parts, uint64(part))
		passes := st.passes()
		least := make([]time.Duration, len(passes))
		for range rounds {
			for i, p := range passes {
				began := time.Now()
				p.play()
				if took := time.Since(began); least[i] == 0 || took < least[i] {
					least[i] = took
				}
			}
		}
		for i, p := range passes {
			perRally[p.name] += float64(least[i].Nanoseconds()) / float64(st.rallies) / parts
		}
		candidates = passes
	}
	for _, p := range candidates {
		b.Run(p.name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				p.play()
			}
			b.ReportMetric(perRally[p.name], "ns/rally")
			b.ReportMetric(perRally[p.name]/perRally["anchor"], "x-anchor")
		})
	}
}

func TestHotPathsDoNotAllocate(t *testing.T) {
	st := newStream(2000, 0)
	passes := append(st.passes(), pass{"line", func() {
		var line [400]byte
		if len(st.rules.AppendLine(line[:0], st.rules.New(rally.A))) == 0 {
			t.Error("no line")
		}
	}})
	for _, p := range passes {
		require.Zero(t, testing.AllocsPerRun(5, p.play), p.name)
	}
}

// TestPlainRalliesAreInlined guards what the speed of a rally hangs on: that
// the table is read where it is needed, without a call.
func TestPlainRalliesAreInlined(t *testing.T) {
	out, err := exec.Command("go", "build", "-gcflags=-m", ".").CombinedOutput()
	require.NoError(t, err, "%s", out)
	for _, want := range []string{
		`can inline \(\*game\)\.play`, `apply\.go:.* inlining call to \(\*game\)\.play`,
		`log\.go:.* inlining call to \(\*game\)\.play`,
	} {
		require.Regexp(t, regexp.MustCompile(want), string(out))
	}
}

// TestAnchorReplaysTheSameGames guards the anchor: it must do the work that it
// is the measure of.
func TestAnchorReplaysTheSameGames(t *testing.T) {
	st := newStream(5000, 0)
	games, folded := 0, 0
	for i, w := range st.symbols {
		if w == 2 && i > 0 {
			games++
		}
	}
	s := uint32(0)
	for i, w := range st.symbols {
		before := s
		s = st.table[(s|uint32(w))&uint32(len(st.table)-1)]
		if w < 2 && s == 0 && before != 0 && (i+1 == len(st.symbols) || st.symbols[i+1] == 2) {
			folded++
		}
	}
	require.Equal(t, games+1, folded)
}
