package referee_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// Of sports of which the library holds the scoring only no word of pickleball is
// said: no side out, no server number, no kitchen. What is due is.
func TestOtherSportsHaveNoWordsOfPickleball(t *testing.T) {
	english := words.English()
	german, _ := words.ByTag("de")
	for _, shape := range []string{"table-tennis-doubles-11", "tie-break-7", "beach-doubles-21-of3", "squash-doubles-11"} {
		t.Run(shape, func(t *testing.T) {
			f, err := format.Parse(shape)
			require.NoError(t, err)
			g := referee.New(rally.MustCompile(f), rally.Setup{})
			s := rally.MustCompile(f).New(rally.A)
			changes := 0
			for n := range 12 {
				_, did, refusal := rally.MustCompile(f).Apply(s, rally.RallyTo(rally.Side(n&1)))
				require.Equal(t, rally.NotRefused, refusal)
				word := g.ResultWord(did)
				require.NotContains(t, english.Say(word), "side out")
				require.Contains(t, []string{"point", "hand-out"}, english.Say(word))
				require.Contains(t, []string{"Punkt", "Aufschlag an die Gegner"}, german.Say(word))
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

// The word after a rally, format by format: that the receivers scored is said with
// the side out where they can.
func TestResultWord(t *testing.T) {
	for _, c := range []struct{ id, server, receiver, second string }{
		{"sideout-doubles-11@2026", "point", "side out", "second server"},
		{"sideout-singles-11@2026", "point", "side out", "side out"},
		{"rally-doubles-11@2026", "point", "point, side out", "point, side out"},
		{"fixed-doubles-21@2025", "point", "point, side out", "point, side out"},
		{"badminton-singles-21-of3@badminton-2006", "point", "service over", "service over"},
		{"table-tennis-singles-11@table-tennis-2001", "point", "point", "point"},
		{"beach-doubles-21-of3@beach-2025", "point", "point", "point"},
		{"tie-break-7@tennis-2025", "point", "point", "point"},
		{"squash-doubles-11@squash-doubles-2010", "point", "hand-out", "hand-out"},
	} {
		t.Run(c.id, func(t *testing.T) {
			g, rules := guide(t, c.id)
			s := play(t, rules, rules.New(rally.A), "gA1B1")
			var said []string
			for _, winner := range []rally.Side{rally.A, rally.B, rally.A} { // the server, the receivers, and them again
				next, did, refusal := rules.Apply(s, rally.RallyTo(winner))
				require.Equal(t, rally.NotRefused, refusal)
				said, s = append(said, words.English().Say(g.ResultWord(did))), next
			}
			require.Equal(t, []string{c.server, c.receiver, c.second}, said)
			_, did, _ := rules.Apply(s, rally.EventOf(rally.Replay))
			require.Equal(t, "replay", words.English().Say(g.ResultWord(did)))
		})
	}
}
