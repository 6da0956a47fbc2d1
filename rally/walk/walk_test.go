package walk_test

import (
	"errors"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/walk"
)

func rules(id string) *rally.Rules {
	f, err := format.Parse(id)
	if err != nil {
		panic(err)
	}
	return rally.MustCompile(f)
}

// namedFormats are all shapes, each in its newest edition, and those that
// play differently in 2025 in that one as well.
func namedFormats() []string {
	var out []string
	for _, shape := range format.Shapes() {
		out = append(out, shape)
		if strings.HasPrefix(shape, "rally-") {
			out = append(out, shape+"@2025")
		}
	}
	return out
}

func singleGames() []string {
	var out []string
	for _, id := range namedFormats() {
		if rules(id).Format().Match.Games == 1 {
			out = append(out, id)
		}
	}
	return out
}

var starters = rally.Starters{rally.A1, rally.B1}

func opening(t *testing.T, r *rally.Rules) rally.State {
	t.Helper()
	s, _, refusal := r.Apply(r.New(rally.A), rally.Start(rally.A, starters))
	require.Equal(t, rally.NotRefused, refusal)
	return s
}

func TestWalkOfGames(t *testing.T) {
	states := map[string]int{}
	for _, id := range singleGames() {
		r := rules(id)
		plan := walk.Plan{Rules: r, Root: opening(t, r), Alphabet: walk.Rallies()}
		g, err := plan.Walk()
		require.NoError(t, err, id)
		require.LessOrEqual(t, uint64(g.Len()), plan.Bound(), id)
		states[id] = g.Len()
		for i := range g.Len() {
			s := plan.Root
			path := g.Path(i)
			require.Len(t, path, g.Depth(i))
			for _, e := range path {
				next, _, refusal := r.Apply(s, e)
				require.Equal(t, rally.NotRefused, refusal)
				s = next
			}
			n, ok := g.Index(s)
			require.True(t, ok)
			require.Equal(t, i, n, "%s: %s", id, r.Line(s))
		}
	}
	// An independent model counts 957, 1773 and 3477 states in play and 24, 32
	// and 44 finals, folded with parity kept.
	require.Equal(t, 957+24, states["sideout-doubles-11"])
	require.Equal(t, 1773+32, states["sideout-doubles-15"])
	require.Equal(t, 3477+44, states["sideout-doubles-21"])
}

func TestPathsAreShortest(t *testing.T) {
	r := rules("sideout-doubles-11@2025")
	g, err := walk.Plan{Rules: r, Root: opening(t, r), Alphabet: walk.Rallies()}.Walk()
	require.NoError(t, err)
	for i := range g.Len() {
		for k := range g.Alphabet() {
			if e := g.Edge(i, k); e.To != walk.Refused {
				require.LessOrEqual(t, g.Depth(e.To), g.Depth(i)+1)
			}
		}
	}
}

// A folded walk and the engine, side by side: from the root on, whatever pair
// of states they come to, every letter does the same and everybody stands in
// the same place. All pairs are visited to far beyond the target.
func TestFoldingIsSound(t *testing.T) {
	alphabets := map[string][]rally.Event{
		"rallies":   walk.Play(),
		"penalties": append(walk.Play(), rally.OfSide(rally.TechnicalFoul, rally.A), rally.OfSide(rally.TechnicalWarning, rally.A)),
	}
	deep := os.Getenv("EVENCOURT_DEEP") != "" // penalties to 15 and 21 as well
	pairs, folded := 0, 0
	for _, id := range namedFormats() {
		r := rules(id)
		f := r.Format()
		for name, alphabet := range alphabets {
			if f.Match.Games > 3 || name == "penalties" && (f.Match.Games > 1 || f.Game.Target > 11 && !deep) {
				continue
			}
			secondGame := func(s rally.State) bool { return s.Game() > 1 }
			narrow, err := walk.Plan{Rules: r, Root: opening(t, r), Alphabet: alphabet, Stop: secondGame}.Walk()
			require.NoError(t, err, id)
			type pair struct {
				s rally.State
				n int
			}
			seen := map[pair]bool{{opening(t, r), 0}: true}
			apart := 0
			for todo := []pair{{opening(t, r), 0}}; len(todo) > 0; {
				p := todo[len(todo)-1]
				todo = todo[:len(todo)-1]
				rep := narrow.State(p.n)
				if rep != p.s {
					apart++
				}
				if r.Places(p.s) != r.Places(rep) || r.Frozen(p.s, rally.A) != r.Frozen(rep, rally.A) || r.Frozen(p.s, rally.B) != r.Frozen(rep, rally.B) {
					require.Fail(t, "places or freezes differ", "%s: %s folds into %s", id, r.Line(p.s), r.Line(rep))
				}
				if secondGame(p.s) || max(p.s.Score(rally.A), p.s.Score(rally.B)) > int(f.Game.Target)+7+max(2, walk.FoldOf(f.Game, 0).Step) {
					continue
				}
				for k, e := range alphabet {
					next, did, refusal := r.Apply(p.s, e)
					edge := narrow.Edge(p.n, k)
					if did != edge.Did || refusal != edge.Refusal {
						require.Fail(t, "an event does other things", "%s: %s: %s: %s %s, folded %s %s", id, r.Line(p.s), e, did, refusal, edge.Did, edge.Refusal)
					}
					if to := (pair{next, edge.To}); refusal == rally.NotRefused && !seen[to] {
						seen[to] = true
						todo = append(todo, to)
					}
				}
			}
			if f.Last.Cap == 0 && f.Last.WinBy > 1 {
				require.NotZero(t, apart, "%s folds nothing", id)
			}
			pairs, folded = pairs+len(seen), folded+apart
		}
	}
	t.Logf("%d pairs of states, %d of them of a state and another it folds into", pairs, folded)
}

func TestWalkIsBounded(t *testing.T) {
	r := rules("sideout-doubles-11")
	_, err := walk.Plan{Rules: r, Root: opening(t, r), Alphabet: walk.Rallies(), Unfolded: true, Most: 5000}.Walk()
	var size *walk.SizeError
	require.ErrorAs(t, err, &size)
	require.Equal(t, 5000, size.Most)
	require.Greater(t, size.Depth, 50)
	for _, bad := range []walk.Plan{{}, {Rules: r}, {Rules: r, Alphabet: walk.Rallies(), Most: -1}} {
		_, err := bad.Walk()
		var plan *walk.PlanError
		require.True(t, errors.As(err, &plan), "%v", err)
	}
}

func TestAlphabetsAreWellFormed(t *testing.T) {
	r := rules("sideout-doubles-11")
	s := opening(t, r)
	for _, list := range [][]rally.Event{walk.Play(), walk.Incidents(), walk.Breaks(), walk.Penalties(), walk.Openings()} {
		seen := map[rally.Event]bool{}
		for _, e := range list {
			_, _, refusal := r.Apply(s, e)
			require.NotEqual(t, rally.Malformed, refusal, e.String())
			require.False(t, seen[e], e.String())
			seen[e] = true
		}
	}
}

// The table is equal to the one step function in every named format of one
// game: on every entry, and along random games with starts and end changes.
func TestTableAgreesWithApply(t *testing.T) {
	for _, id := range singleGames() {
		r := rules(id)
		for _, first := range []rally.Side{rally.A, rally.B} {
			table, err := walk.NewTable(r, first, starters)
			require.NoError(t, err, id)
			entries, mask := table.Entries()
			for i := range table.Len() {
				s, ok := table.At(uint32(i) << 2)
				require.True(t, ok)
				for w := range uint32(2) {
					next, did, _ := r.Apply(s, rally.RallyTo(rally.Side(w)))
					entry := entries[(uint32(i)<<2|w)&mask]
					require.Equal(t, did.Has(rally.GameWon), entry&walk.Ended != 0)
					if did.Has(rally.GameWon) {
						_, winner, _ := next.Outcome()
						require.Equal(t, winner == rally.B, entry&walk.WonB != 0)
						require.Zero(t, entry&^(walk.Ended|walk.WonB))
						continue
					}
					want, ok := table.Find(next)
					require.True(t, ok)
					require.Equal(t, want, entry)
				}
				require.Equal(t, uint32(i)<<2, entries[uint32(i)<<2|walk.SymbolStart])
				require.Equal(t, uint32(i)<<2, entries[uint32(i)<<2|walk.SymbolEnds])
			}
			replayRandomly(t, id, r, table, first)
		}
	}
}

func replayRandomly(t *testing.T, id string, r *rally.Rules, table *walk.Table, first rally.Side) {
	rng := rand.New(rand.NewPCG(7, uint64(first)))
	var symbols []byte
	won := [2]int{}
	for range 40 {
		s, _, _ := r.Apply(r.New(first), rally.Start(first, starters))
		at := uint32(0)
		symbols = append(symbols, walk.SymbolStart)
		for s.Phase() == rally.Playing {
			if s.EndChangeDue() {
				s, _, _ = r.Apply(s, rally.EventOf(rally.EndsChanged))
				at = table.Replay(at, []byte{walk.SymbolEnds})
				symbols = append(symbols, walk.SymbolEnds)
			}
			found, ok := table.Find(s)
			require.True(t, ok)
			require.Equal(t, found, at, "%s: %s", id, r.Line(s))
			stands, _ := table.At(at)
			require.Equal(t, r.Places(s), r.Places(stands))
			w := rng.IntN(2)
			s, _, _ = r.Apply(s, rally.RallyTo(rally.Side(w)))
			at = table.Replay(at, []byte{byte(w)})
			symbols = append(symbols, byte(w))
		}
		_, winner, _ := s.Outcome()
		won[winner]++
		require.NotZero(t, at&walk.Ended)
	}
	a, b := table.Wins(symbols)
	require.Equal(t, won, [2]int{a, b}, id)
}

func TestTableRefusesMatches(t *testing.T) {
	_, err := walk.NewTable(rules("sideout-doubles-11-of3"), rally.A, starters)
	require.ErrorContains(t, err, "single games")
	_, err = walk.NewTable(nil, rally.A, starters)
	require.Error(t, err)
	_, err = walk.NewTable(rules("sideout-singles-11"), rally.A, rally.Starters{rally.A2, rally.B1})
	require.ErrorContains(t, err, "no-such-player")
}

// BenchmarkReplay times the table against a bare pass over an equal stream.
func BenchmarkReplay(b *testing.B) {
	r := rules("sideout-doubles-11@2026")
	table, err := walk.NewTable(r, rally.A, starters)
	require.NoError(b, err)
	rng := rand.New(rand.NewPCG(11, 2))
	var symbols []byte
	rallies := 0
	for rallies < 1<<20 {
		symbols = append(symbols, walk.SymbolStart)
		s, _, _ := r.Apply(r.New(rally.A), rally.Start(rally.A, starters))
		for s.Phase() == rally.Playing {
			if s.EndChangeDue() {
				s, _, _ = r.Apply(s, rally.EventOf(rally.EndsChanged))
				symbols = append(symbols, walk.SymbolEnds)
			}
			w := rng.IntN(2)
			s, _, _ = r.Apply(s, rally.RallyTo(rally.Side(w)))
			symbols = append(symbols, byte(w))
			rallies++
		}
	}
	tab, mask := table.Entries()
	anchor := 0.0
	for _, pass := range []struct {
		name string
		run  func()
	}{
		{"anchor", func() { bare(tab, mask, symbols) }},
		{"replay", func() { table.Replay(0, symbols) }},
		{"interleaved", func() { table.Wins(symbols) }},
	} {
		b.Run(pass.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				pass.run()
			}
			ns := float64(b.Elapsed().Nanoseconds()) / float64(b.N) / float64(rallies)
			if pass.name == "anchor" {
				anchor = ns
			}
			b.ReportMetric(ns, "ns/rally")
			b.ReportMetric(ns/anchor, "x-anchor")
		})
	}
}

//go:noinline
func bare(tab []uint32, mask uint32, symbols []byte) uint32 {
	s := uint32(0)
	for _, w := range symbols {
		s = tab[(s|uint32(w))&mask]
	}
	return s
}
