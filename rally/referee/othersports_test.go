package referee_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
)

// Of sports of which the library holds the scoring only no word of pickleball is
// said: no side out, no server number, no kitchen. What is due is.
func TestOtherSportsHaveNoWordsOfPickleball(t *testing.T) {
	for _, shape := range []string{"table-tennis-doubles-11", "tie-break-7", "beach-doubles-21-of3", "squash-doubles-11"} {
		t.Run(shape, func(t *testing.T) {
			f, err := format.Parse(shape)
			require.NoError(t, err)
			g := referee.New(rally.MustCompile(f), rally.Setup{})
			s := rally.MustCompile(f).New(rally.A)
			changes := 0
			for n := range 12 {
				for _, d := range g.Now(s) {
					require.Contains(t, []string{"duty.note", "duty.say-end-change"}, string(d.Text.Code))
				}
				duties, next := g.After(s, rally.RallyTo(rally.Side(n&1)))
				require.Len(t, duties, 1)
				if code := string(duties[0].Text.Code); code == "duty.say-end-change" {
					changes++
				} else {
					require.Equal(t, "duty.note", code)
				}
				s = next
			}
			require.Equal(t, shape == "tie-break-7" || shape == "beach-doubles-21-of3" || shape == "table-tennis-doubles-11", changes > 0)
		})
	}
}
