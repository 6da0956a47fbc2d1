package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally/explore"
)

// A position is asked about in words, and answered with the library's figures.
func TestAt(t *testing.T) {
	line := "explain sideout-doubles-11@2026 -at 4-9,other,2 -only at"
	text, x := ask(t, line), asJSON[explanation](t, line)
	g, err := explore.NewGameModel(parsed(t, "sideout-doubles-11@2026"), 1, explore.Opening{})
	require.NoError(t, err)
	at, err := g.At(explore.Position{Score: [2]int{4, 9}, Serving: explore.B, Number: 2}, x.Strength.rates())
	require.NoError(t, err)
	require.Equal(t, at, x.At.PositionFigures)
	require.Equal(t, []string{percent(at.Win)}, row(t, text, "At one position", "the better side wins the game"))
	require.Len(t, x.At.Penalties, 4, "against either side, in both ways")
	for _, wrong := range []string{"4", "4-9", "4-9,nobody", "4-9,other,3", "a-b,other", "4-9,other,1,1"} {
		_, err := readPosition(wrong)
		require.Error(t, err, wrong)
	}
	for args, want := range map[string]string{
		"-at 4-9,other":    "its servers have numbers",
		"-at 40-9,other,1": "cannot come to it",
		"-only at":         "-at says at which position",
		"-only bell":       "-bell says after how many minutes",
	} {
		var out, errs strings.Builder
		require.Equal(t, program.Failed, run(strings.Fields("explain sideout-doubles-11@2026 "+args), nil, &out, &errs))
		require.Contains(t, errs.String(), want)
	}
}

func TestPenaltyPart(t *testing.T) {
	text := ask(t, "explain sideout-doubles-11@2026 -only penalty")
	// Between equal sides, from a dense matrix written apart.
	require.Equal(t, "8.4", row(t, text, "What a penalty point costs", "4-4, server 1")[0])
	require.Equal(t, "14.3", row(t, text, "What a penalty point costs", "8-8, server 2")[0])
	require.Equal(t, "20.3", row(t, text, "What a penalty point costs", "10-10, server 1")[0])
}

func TestBellPart(t *testing.T) {
	line := "explain sideout-doubles-11@2026 -bell 12 -only bell"
	text, x := ask(t, line), asJSON[explanation](t, line)
	require.Equal(t, []string{percent(x.Bell.Draw.Win), percent(x.Bell.Point.Win)}, row(t, text, "A first game against the clock", "the better side wins the game"))
	require.Greater(t, x.Bell.Draw.Tie, 0.05)
	require.Zero(t, x.Bell.Point.Tie)
	require.InDelta(t, x.Bell.Draw.Level, x.Bell.Draw.Tie, 1e-12)
}

// Losing a rally can pay in rally scoring by parity if partners serve unlike;
// from states enumerated anew by hand it does from 14 in a hundred on.
func TestIncentivesOfUnlikePartners(t *testing.T) {
	quiet := asJSON[explanation](t, "explain rally-doubles-11@2026 -p 0.42,0.58 -shares 0.42 -servers 0.30")
	require.Empty(t, quiet.Incentives.Found)
	require.NotEmpty(t, quiet.Unlike.Found)
	text := strings.Join(strings.Fields(ask(t, "explain rally-doubles-11@2026 -p 0.42,0.58 -shares 0.42 -servers 0.30 -only incentives")), " ")
	require.Contains(t, text, "with partners who serve alike: never")
	require.Contains(t, text, "with partners who serve unlike: the first of each side wins 30.0 % of serves more than the second: losing the next rally by side")
	fixed := asJSON[explanation](t, "explain fixed-doubles-21-win-on-serve -p 0.42,0.58 -shares 0.42 -servers 0.30")
	for _, f := range fixed.Unlike.Found {
		require.NotEqual(t, "losing the next rally", actWords(f.Act))
	}
}

func TestTimeOfADay(t *testing.T) {
	c := asJSON[comparison](t, "compare rally-doubles-21@2026 sideout-doubles-11@2026 -matches 20 -slot 500")
	// Simulated apart: 3.21 and 35.71 in a hundred days, give or take 0.06 and 0.20.
	require.InDelta(t, 0.0321, *c.Formats[0].Time.Overrun, 0.0012)
	require.InDelta(t, 0.3571, *c.Formats[1].Time.Overrun, 0.0040)
	four := asJSON[comparison](t, "compare rally-doubles-21@2026 sideout-doubles-11@2026 -matches 20 -courts 4 -slot 125")
	require.Greater(t, *four.Formats[0].Time.Overrun, *c.Formats[0].Time.Overrun)
	text := ask(t, "compare rally-doubles-7 rally-doubles-11 -slot 0 -only time")
	require.NotContains(t, text, "needs more than")
	sum := 0.0
	for _, p := range c.Formats[0].Time.Law {
		sum += p
	}
	require.InDelta(t, 1, sum, 1e-9)
	require.NotEmpty(t, c.Formats[0].Law)
}
