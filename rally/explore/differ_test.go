package explore_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
)

func texts(events []rally.Event) string {
	words := make([]string, len(events))
	for i, e := range events {
		words[i] = e.String()
	}
	return strings.Join(words, " ")
}

func TestCompare(t *testing.T) {
	all := explore.Alphabets()
	for _, c := range []struct {
		name, x, y string
		alphabet   int
		events     int    // length of the shortest difference, 0 for none
		clause     string // what makes it
	}{
		// 2025 rule 12.B: the winning point is won on serve; 2026 drops it. Whoever
		// scores serves next, so at 10-0 the other side must win a rally first.
		{"the last rally point of 2026", "rally-doubles-11@2025", "rally-doubles-11@2026", 0, 12, "game.freeze"},
		{"a target", "sideout-doubles-11@2026", "sideout-doubles-15@2026", 0, 6, "game.change_ends_at"},
		{"side-out did not change from 2025 to 2026", "sideout-doubles-11@2025", "sideout-doubles-11@2026", 0, 0, "none"},
		{"a wrong server: fault or replay", "sideout-doubles-11@2022", "sideout-doubles-11@2025", 1, 1, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := explore.Compare(mustParse(c.x), mustParse(c.y), all[c.alphabet])
			require.NoError(t, err)
			if got.Difference == nil {
				require.Equal(t, 0, c.events)
				require.True(t, got.Proved)
				t.Logf("proved on %d pairs", got.Pairs)
				return
			}
			t.Logf("%s: %v", texts(got.Difference.Events), got.Difference.Clauses)
			require.NotEqual(t, got.Difference.Outcomes[0], got.Difference.Outcomes[1])
			if c.events > 0 {
				require.Len(t, got.Difference.Events, c.events)
			}
			require.NotEmpty(t, got.Difference.Clauses)
			if c.clause != "" {
				require.Equal(t, c.clause, got.Difference.Clauses[0].Field)
			}
		})
	}
}

func TestFormatNeverDiffersFromItself(t *testing.T) {
	f := mustParse("sideout-doubles-11@2025")
	for _, a := range explore.Alphabets()[:2] {
		got, err := explore.Compare(f, f, a)
		require.NoError(t, err)
		require.Nil(t, got.Difference)
		require.True(t, got.Proved, a.Name)
	}
}

func TestEditionChanges(t *testing.T) {
	if testing.Short() {
		t.Skip("compares editions switch by switch")
	}
	list, err := explore.EditionChanges("sideout-doubles-11", format.E2022, format.E2023Aug, nil)
	require.NoError(t, err)
	shown := map[string]string{}
	for _, c := range list {
		if c.Shown != nil {
			shown[c.Field] = texts(c.Shown.Events)
		} else {
			t.Logf("%s %v: proved over %v, searched %v", c.Field, c.Values, c.Proved, c.Searched)
		}
	}
	t.Log(shown)
	require.Contains(t, shown, "order-error")
}
