package explore

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/walk"
)

// A check that cannot fail proves nothing: every invariant must reject some
// rally whose outcome has been falsified, or some format that it does not go with.
func TestEveryInvariantCanFail(t *testing.T) {
	// The first three are of every state in every format; a state that breaks
	// them cannot be made from outside the engine.
	for _, inv := range invariants[3:] {
		failed := false
		for _, shape := range format.Shapes() {
			f, err := format.Parse(shape)
			require.NoError(t, err)
			if f.Match.Games > 1 || failed {
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
					failed = failed || !inv.about(f) && !inv.state(r, s)
					continue
				}
				for w := range 2 {
					e, other := g.Edge(i, w), g.Edge(i, 1-w)
					for _, false := range []step{
						{r, &f.Last, s, g.State(e.To), Side(1 - w), e.Did},
						{r, &f.Last, s, g.State(other.To), Side(w), e.Did},
						{r, &f.Last, s, g.State(e.To), Side(w), other.Did},
						{r, &f.Last, s, g.State((e.To + 5) % g.Len()), Side(w), e.Did},
					} {
						failed = failed || !inv.rally(&false)
					}
				}
			}
		}
		require.True(t, failed, inv.name)
	}
}
