package rally_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
)

// What is given before the match climbs on what is brought, in whatever order
// the two were entered (13.G.4 of 2025, read: the offender starts with it on
// record; 2026 gives penalties before the match).
func TestLadderAsksNoOrderOfEntries(t *testing.T) {
	rules := rally.MustCompile(mustParse("sideout-doubles-11-of3@2026"))
	after := func(events string) rally.State {
		s := rules.New(rally.A)
		for _, text := range strings.Fields(events) {
			e, err := rally.ParseEvent(text)
			require.NoError(t, err)
			var refusal rally.Refusal
			s, _, refusal = rules.Apply(s, e)
			require.Equal(t, rally.NotRefused, refusal, "%s of %s", text, events)
		}
		return s
	}
	for _, c := range []struct{ brought, given, why string }{
		{"cwA1", "twA", "two warnings make a foul"},
		{"cwA1", "tfA", "a foul on top of a warning forfeits the game"},
		{"cfA2", "twA", "a warning on top of a foul forfeits the game"},
		{"cfA2", "tfA", "a second foul forfeits the match"},
		{"cwA1", "twB", "sides do not climb on each other"},
		{"cfA1", "tfB", "both open with a point: none does"},
		{"cvA1", "twA", "a verbal warning climbs with nothing"},
		{"cwA1 cwA2", "twA", "a warning on top of two that were brought forfeits the game"},
		{"cwA1 cwA2=", "twA", "what a pair brings counts once"},
		{"cwA1 cfA1", "twA", "the sum of both"},
	} {
		require.Equal(t, rules.Line(after(c.brought+" "+c.given)), rules.Line(after(c.given+" "+c.brought)), c.why)
	}
	brought := after("cfA1 cfA2 cwA1 cwA2")
	require.Equal(t, 2, brought.Opens(rally.B), "two fouls that do not climb")
	require.Equal(t, rally.Before, brought.Phase())
	same := after("cwA1 twA cwA2=")
	require.Equal(t, 1, same.Opens(rally.B))
	require.Equal(t, rally.Between, after("cwA1 twA cwA2= cfA1").Phase(), "the warning that was given climbs on the foul")
	require.Equal(t, rally.Before, after("cwA1 cwA2 cfA1").Phase(), "nothing was given")
	made := after("twA cwA1")
	require.Equal(t, 1, made.Opens(rally.B), "the foul that the two made")
	require.Equal(t, rally.Between, after("tfA cwA1").Phase(), "the first game is forfeited")
}
