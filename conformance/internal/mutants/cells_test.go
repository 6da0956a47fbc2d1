package mutants

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// cells are the changes of one cell of a shape's row: each bound of its games by
// one either way, every other freeze and order, and how its match goes on.
func cells() map[string]func(*format.Format) {
	out := map[string]func(*format.Format){
		"play-all":    func(f *format.Format) { f.Match.PlayAll = !f.Match.PlayAll },
		"change-ends": func(f *format.Format) { f.Match.ChangeEnds = !f.Match.ChangeEnds },
	}
	for n := format.OtherSide; n <= format.Chosen; n++ {
		out[fmt.Sprintf("next-serve=%v", n)] = func(f *format.Format) { f.Match.NextServe = n }
	}
	bounds := map[string]func(*format.Game) *uint8{
		"target":     func(g *format.Game) *uint8 { return &g.Target },
		"win-by":     func(g *format.Game) *uint8 { return &g.WinBy },
		"cap":        func(g *format.Game) *uint8 { return &g.Cap },
		"ends-at":    func(g *format.Game) *uint8 { return &g.ChangeEndsAt },
		"ends-every": func(g *format.Game) *uint8 { return &g.ChangeEndsEvery },
		"time-outs":  func(g *format.Game) *uint8 { return &g.TimeOuts },
		"serves":     func(g *format.Game) *uint8 { return &g.Serves },
	}
	for which, game := range map[string]func(*format.Format) *format.Game{
		"game": func(f *format.Format) *format.Game { return &f.Game },
		"last": func(f *format.Format) *format.Game { return &f.Last },
	} {
		for name, bound := range bounds {
			for _, by := range []int{-1, 1} {
				out[fmt.Sprintf("%s %s%+d", which, name, by)] = func(f *format.Format) {
					if b := bound(game(f)); *b > 0 || by > 0 {
						*b = uint8(int(*b) + by)
					}
				}
			}
		}
		for z := format.NoFreeze; z <= format.BothAtPoint; z++ {
			out[fmt.Sprintf("%s freeze=%v", which, z)] = func(f *format.Format) { game(f).Freeze = z }
		}
		for o := format.ByParity; o <= format.InTurn; o++ {
			out[fmt.Sprintf("%s order=%v", which, o)] = func(f *format.Format) { game(f).Order = o }
		}
	}
	return out
}

// A run is a case as it is played in one format, as it is written or derived.
type run struct {
	c          *conformance.Case
	id         string
	f          format.Format
	derivation string
}

// played is the case to play; nil if there is none so derived in this format.
func (r *run) played() *conformance.Case {
	if r.derivation == "" {
		return r.c
	}
	return r.c.Derive(r.derivation, &r.f)
}

// runsOf sorts the runs of the hand-written cases, derived ones last, by a key.
// Formats of one's own are left out.
func runsOf(t *testing.T, key func(*format.Format) string) map[string][]run {
	files, err := conformance.Load()
	require.NoError(t, err)
	runs := map[string][]run{}
	for _, derivation := range append([]string{""}, conformance.Derivations()...) {
		for i := range files {
			for j := range files[i].Cases {
				c := &files[i].Cases[j]
				for _, entry := range c.Formats {
					if c.Generated || strings.Contains(entry, "+") {
						continue
					}
					ids, err := conformance.Expand(entry)
					require.NoError(t, err)
					for _, id := range ids {
						f, err := format.Parse(id)
						require.NoError(t, err)
						runs[key(&f)] = append(runs[key(&f)], run{c, id, f, derivation})
					}
				}
			}
		}
	}
	return runs
}

// noticedBy holds, by the name of a change, what noticed it last: it is asked
// first where the same is changed in another shape or edition.
type noticedBy map[string]run

// notices plays runs by changed rules until one fails, which is asked first from
// now on: what notices one change is likely to notice another. Changes says
// whether the rules of any are changed at all and still are rules.
func (by noticedBy) notices(name string, runs []run, change func(*format.Format)) (changes, seen bool) {
	first := func(i int) {
		r := runs[i]
		copy(runs[1:i+1], runs[:i])
		runs[0] = r
	}
	known := by[name]
	if i := slices.IndexFunc(runs, func(r run) bool { return r.c == known.c && r.derivation == known.derivation }); i > 0 {
		first(i)
	}
	engine, compiles := data("", "", change), map[string]bool{} // ids of which the change leaves a format
	broken, _ := engine.New()
	for i, r := range runs {
		if _, asked := compiles[r.id]; !asked {
			f := r.f
			change(&f)
			f.Shape = ""
			_, err := rally.Compile(f)
			compiles[r.id] = err == nil && engine.touches(r.f)
		}
		if !compiles[r.id] {
			continue
		}
		c := r.played()
		if c == nil {
			continue
		}
		failure := conformance.Run(broken, *c, r.id)
		if failure != nil && failure.Outcome == conformance.Wrong {
			by[name] = r
			first(i)
			return true, true
		}
		changes = changes || failure == nil // else it cannot take up the line
	}
	return changes, false
}

// A wrong cell in the table of shapes is noticed by a case of that shape, as it
// is written or derived.
func TestEveryCellOfAShapeIsNoticed(t *testing.T) {
	if testing.Short() {
		t.Skip("plays every case of a shape for each of its cells")
	}
	runs := runsOf(t, func(f *format.Format) string { return f.Shape })
	noticed, by := 0, noticedBy{}
	for _, shape := range format.Shapes() {
		for name, change := range cells() {
			if runs[shape][0].f.Match.Games == 1 && !strings.HasPrefix(name, "last") {
				continue // its only game is the last
			}
			changes, seen := by.notices(name, runs[shape], change)
			if seen {
				noticed++
			}
			if changes && !seen {
				t.Errorf("no case of %s notices %s", shape, name)
			}
		}
	}
	t.Logf("%d cells", noticed)
}
