package explore

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/walk"
)

// A check that cannot fail proves nothing: every invariant must reject, in a
// format that it goes with, some place or rally that has been falsified.
func TestEveryInvariantCanFail(t *testing.T) {
	compile := func(id string) *rally.Rules {
		f, err := format.Parse(id)
		require.NoError(t, err)
		return rally.MustCompile(f)
	}
	// Neither reads the lines of other formats; in the second all move by parity.
	stranger, byParity := compile("badminton-doubles-21-of3"), compile("rally-doubles-11@2026")
	for _, inv := range invariants {
		failed := false
		for _, shape := range format.Shapes() {
			f, err := format.Parse(shape)
			require.NoError(t, err)
			if f.Match.Games > 1 || failed || !inv.about(f) {
				continue
			}
			r := rally.MustCompile(f)
			root, _, _ := r.Apply(r.New(A), rally.Start(A, rally.Starters{rally.A1, rally.B1}))
			g, err := walk.Plan{Rules: r, Root: root, Alphabet: walk.Rallies()}.Walk()
			require.NoError(t, err)
			for i := range g.Len() {
				s := g.State(i)
				if s.Phase() != rally.Playing {
					continue
				}
				if inv.state != nil {
					failed = failed || !inv.state(&moment{stranger, s, r.Places(s)})
					for _, false := range falsified(r.Places(s)) {
						failed = failed || !inv.state(&moment{r, s, false})
					}
					continue
				}
				for w := range 2 {
					e, other := g.Edge(i, w), g.Edge(i, 1-w)
					for _, false := range []step{
						{r, &f.Last, s, g.State(e.To), Side(1 - w), e.Did},
						{r, &f.Last, s, g.State(other.To), Side(w), e.Did},
						{r, &f.Last, s, g.State(e.To), Side(w), other.Did},
						{r, &f.Last, s, g.State((e.To + 5) % g.Len()), Side(w), e.Did},
						{byParity, &f.Last, s, g.State(e.To), Side(w), e.Did},
						{r, &f.Last, s, g.State(e.To), Side(w), e.Did ^ rally.Point},
					} {
						failed = failed || !inv.rally(&false)
					}
				}
			}
		}
		require.True(t, failed, inv.name)
	}
}

// falsified are places that are not so: server and receiver exchanged, the
// other court, everybody of one side in his partner's place.
func falsified(p rally.Places) []rally.Places {
	exchanged, across, moved := p, p, p
	exchanged.Server, exchanged.Receiver = p.Receiver, p.Server
	across.Court = 1 - p.Court
	moved.At[A] = [2]rally.Person{p.At[A][1], p.At[A][0]}
	return []rally.Places{exchanged, across, moved}
}
