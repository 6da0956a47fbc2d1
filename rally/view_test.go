package rally_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
)

// Geometry of the court as the referee sees it (common practice): the right
// court is the far one for the side on his right, the near one for the side on
// his left; server and receiver are one near, one far; a side-out or an end
// change flips the serving hand, both together cancel; where ends and first
// serve alternate every game opens with the serving side on the same hand.
func TestViewGeometry(t *testing.T) {
	require.Equal(t, rally.Far, rally.RightHand.Depth(rally.Right))
	require.Equal(t, rally.Near, rally.RightHand.Depth(rally.Left))
	require.Equal(t, rally.Near, rally.LeftHand.Depth(rally.Right))
	require.Equal(t, rally.Far, rally.LeftHand.Depth(rally.Left))

	for _, id := range []string{"sideout-doubles-11-of3@2025", "rally-doubles-15-of5@2026", "sideout-singles-11-of3@2025"} {
		for left := rally.A; left <= rally.B; left++ {
			checkViews(t, id, left)
		}
	}
}

func checkViews(t *testing.T, id string, left rally.Side) {
	views, games := 0, map[rally.Hand]bool{}
	roam(t, id, 12, steps(20_000), func(rules *rally.Rules, before rally.State, e rally.Event, after rally.State, did rally.Effects, refusal rally.Refusal) {
		v := rules.View(after, left)
		require.NotEqual(t, v.Hands[rally.A], v.Hands[rally.B])
		if refusal != rally.NotRefused || after.Phase() != rally.Playing {
			return
		}
		views++
		require.NotEqual(t, v.Server.Depth, v.Receiver.Depth, rules.Line(after))
		require.NotEqual(t, v.Server.Hand, v.Receiver.Hand)
		if before.Phase() == rally.Playing {
			was := rules.View(before, left)
			flips := did.Has(rally.SideOut) != did.Has(rally.EndsMade)
			require.Equal(t, flips, v.Server.Hand != was.Server.Hand, "%s: %s", e, did)
		}
		if e.Kind() == rally.StartGame {
			first, _ := after.First()
			hand := v.Server.Hand ^ rally.Hand(first)
			if after.EndsSwapped() {
				hand = hand.Other()
			}
			games[hand] = true
		}
	})
	require.Greater(t, views, 100)
	require.Len(t, games, 1, "the opening hand follows from first serve and ends alone")
}

func TestEveryGameOpensOnTheSameHand(t *testing.T) {
	rules := rally.MustCompile(mustParse("sideout-doubles-11-of5@2025"))
	s := rules.New(rally.A)
	hands := map[rally.Hand]bool{}
	games := 0
	for i := 0; s.Phase() != rally.Over; i++ {
		opening := s.Phase() != rally.Playing
		w := rally.Side(games & 1) // each side wins in turn
		next, did, refusal := rules.Apply(s, rally.RallyTo(w))
		require.Equal(t, rally.NotRefused, refusal)
		if opening {
			first, _ := next.First()
			hands[rules.View(next, rally.A).Hands[first]] = true
		}
		if did.Has(rally.GameWon) {
			games++
		}
		s = next
	}
	require.Equal(t, 5, games)
	require.Len(t, hands, 1)
}

func TestViewOfACourt(t *testing.T) {
	rules := rally.MustCompile(mustParse("sideout-doubles-11-of3@2025"))
	s, err := rules.ParseLine(goodLine)
	require.NoError(t, err)
	v := rules.View(s, rally.A)
	require.Equal(t, rally.Spot{Person: rally.A1, Court: rally.Right, Hand: rally.LeftHand, Depth: rally.Near}, *v.Server)
	require.Equal(t, rally.Spot{Person: rally.B2, Court: rally.Right, Hand: rally.RightHand, Depth: rally.Far}, *v.Receiver)
	require.Len(t, v.Spots, 4)
	require.False(t, rules.View(rally.State{}, rally.A).Playing)
}
