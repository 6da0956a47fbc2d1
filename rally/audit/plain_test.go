package audit

import (
	"math/rand"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
)

// What is passed over as plain is what no check would have found anything about.
func TestPlainMatchesHaveNoFindings(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	pick := func(list ...string) string { return list[rng.Intn(len(list))] }
	passed, checked := 0, 0
	for _, id := range []string{"sideout-doubles-11-of3", "sideout-singles-15", "rally-doubles-21-of3", "badminton-singles-21-of3"} {
		f, err := format.Parse(id)
		require.NoError(t, err)
		finals, err := NewFinals(f)
		require.NoError(t, err)
		scores := []Score{{11, 8}, {11, 3}, {7, 11}, {15, 13}, {13, 15}, {21, 19}, {19, 21}, {30, 29}, {12, 11}, {0, 0}, NoScore()}
		for range 50_000 {
			m := ReportedMatch{Winner: MaybeSide(rng.Intn(3))}
			m.Sides[0].Players = [2]string{pick("p1", "p2", "p1", ""), pick("p3", "p4", "", "")}
			m.Sides[1].Players = [2]string{pick("p5", "p6", "p1", ""), pick("p7", "p3", "", "")}
			fitting := scores[rng.Intn(len(scores))]
			for range rng.Intn(4) {
				s := fitting
				if rng.Intn(4) == 0 {
					s = scores[rng.Intn(len(scores))]
				}
				m.Games = append(m.Games, s)
			}
			if rng.Intn(20) == 0 {
				m.TimeOuts = []Score{{3, 0}}
			}
			if !finals.plain(&m) {
				checked++
				continue
			}
			passed++
			found := finals.breaks(&m, Place{}, finals.played(&m, &Place{}, finals.people(&m, &Place{}, nil)))
			require.Empty(t, found, "%+v", m)
		}
	}
	require.Greater(t, passed, 1000)
	require.Greater(t, checked, 1000)
}
