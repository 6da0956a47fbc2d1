package referee_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// A ruling that no text settles says so, in every language and in short too, and
// no other does; why it is so says of each rule how well it is known.
func TestRulingsSayWhatNoTextSettles(t *testing.T) {
	english := words.English()
	german, _ := words.ByTag("de")
	open, settled := map[format.Edition]int{}, 0
	for _, edition := range format.Editions(format.Pickleball) {
		g, rules := guide(t, "sideout-doubles-11@"+edition.String())
		s := play(t, rules, rules.New(rally.A), "gA1B1", "A", "B", "B")
		for _, text := range []string{"A?call,rallyover,byA", "B?call,rallyover,byB", "A?server,served", "B?receiver,rallyover", "A?side,rallyover",
			"stop?call,struck,byB", "stop?server,struck,byref", "stop?~call,returned,byA", "stop?server,receiver,returned,byA", "stop?receiver,called,byB"} {
			e, err := rally.ParseEvent(text)
			require.NoError(t, err, text)
			ruling := g.Ruling(s, e)
			if len(ruling.Grounds) == 0 {
				continue // refused in this edition
			}
			unsettled := false
			for i, why := range ruling.Why() {
				source := ruling.Grounds[i].Source
				unsettled = unsettled || source.Mark == format.Open
				require.Contains(t, english.Say(why), english.Say(words.For(ruling.Grounds[i].Clause)))
				if source.Document != 0 {
					require.Contains(t, english.Say(why), english.Say(words.New(words.Code("mark."+source.Mark.String()))), "%s in %s", text, edition)
				}
			}
			if unsettled {
				open[edition]++
			} else {
				settled++
			}
			for _, said := range []string{english.Say(ruling.Text), english.Short(ruling.Text)} {
				require.Equal(t, unsettled, strings.Contains(said, "No text settles this"), "%s in %s: %s", text, edition, said)
			}
			for _, said := range []string{german.Say(ruling.Text), german.Short(ruling.Text)} {
				require.Equal(t, unsettled, strings.Contains(said, "Kein Text entscheidet das"), "%s in %s: %s", text, edition, said)
			}
		}
	}
	require.NotZero(t, open[format.E2024], "a wrong score claimed after the rally")
	require.Greater(t, settled, 50)
	t.Log(open, settled)
}
