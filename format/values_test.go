package format_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
)

// testdata/values.txt holds the value of every switch in every edition, written
// down apart from the table of clauses from which the code works it out.
func TestValuesOfEveryEdition(t *testing.T) {
	text, err := os.ReadFile("testdata/values.txt")
	require.NoError(t, err)
	seen := map[format.Switch]bool{}
	for line := range strings.Lines(string(text)) {
		id, spans, _ := strings.Cut(strings.TrimSpace(line), ": ")
		var s format.Switch
		require.NoError(t, s.UnmarshalText([]byte(id)))
		require.False(t, seen[s], id)
		seen[s] = true
		told := map[format.Edition]bool{}
		for span := range strings.FieldsSeq(spans) {
			editions, want, _ := strings.Cut(span, "=")
			first, last, several := strings.Cut(editions, "..")
			if !several {
				last = first
			}
			var from, to format.Edition
			require.NoError(t, from.UnmarshalText([]byte(first)))
			require.NoError(t, to.UnmarshalText([]byte(last)))
			within := false
			for _, e := range format.Editions(from.Document()) {
				if within = within || e == from; within {
					r := format.RulingsOf(e)
					require.Equal(t, want, r.Text(s), "%s in %s", s, e)
					told[e] = true
				}
				if e == to {
					break
				}
			}
		}
		for _, d := range format.Documents() {
			for _, e := range format.Editions(d) {
				later := d == format.Pickleball && format.Default.Before(e) // it is written down when it becomes the default
				require.True(t, told[e] || later, "%s in %s has no value written down", s, e)
			}
		}
	}
	require.Len(t, seen, len(format.Switches()))
}
