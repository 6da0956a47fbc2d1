package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

// recorded is the record of a match with these entries, A serving first.
func recorded(t *testing.T, id, entries string) string {
	t.Helper()
	f, err := format.Parse(id)
	require.NoError(t, err)
	rules := rally.MustCompile(f)
	log := rally.NewLog(rules, rules.New(rally.A))
	for _, e := range strings.Fields(entries) {
		_, err := log.Enter(e)
		require.NoError(t, err, e)
	}
	setup := rally.Setup{Match: "L10"}
	for s, ids := range [2][2]string{{"p1", "p2"}, {"p3", "p4"}} {
		for i, p := range ids {
			if i == 0 || f.Game.Sides == format.Doubles {
				setup.Sides[s].Players[i] = rally.Player{ID: p}
			}
		}
	}
	var out bytes.Buffer
	require.NoError(t, record.Write(&out, setup, log))
	return out.String()
}

func times(n int, e string) string { return strings.Repeat(e+" ", n) }

// A record proves its result; what it reports is checked like any other.
func TestRecords(t *testing.T) {
	won := times(11, "A")
	// 11-10, a point of B taken off, and A scores: 12-9.
	penalty := times(10, "A") + times(10, "B") + "A tfB A"
	tests := []struct {
		name   string
		record string
		status int
		want   []string
	}{
		{"one game", recorded(t, "sideout-doubles-11", won), program.Nothing, nil},
		{"two games of three", recorded(t, "sideout-singles-11-of3", won+"A "+won), program.Nothing, nil},
		{"retired in game 2", recorded(t, "sideout-doubles-11-of3@2024", won+"gB1A1 B B A A retA"), program.Nothing, nil},
		{"retired, points lost", recorded(t, "sideout-doubles-11-of3@2021", won+"gB1A1 B B A A retA"), program.Nothing, nil},
		{"forfeited", recorded(t, "sideout-doubles-11-of3@2026", won+"mfB"), program.Nothing, nil},
		{"withdrawn", recorded(t, "sideout-doubles-11-of3@2026", "wdB"), program.Nothing, nil},
		{"both forfeited", recorded(t, "sideout-doubles-11-of3@2026", "A dmf"), program.Nothing, nil},
		{"abandoned", recorded(t, "sideout-doubles-11-of3@2026", won+"gB1A1 B abandon"), program.Nothing, nil},
		{"still going on", recorded(t, "sideout-doubles-11", "A A A"), program.Nothing, nil},
		{"a final that a recorded foul explains", recorded(t, "rally-singles-11@2026", penalty), program.Nothing, nil},
		{"torn in its last line", strings.TrimSpace(recorded(t, "sideout-doubles-11", won))[:4000], program.Found, []string{"error: this row cannot be read: torn: "}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			status, stdout, stderr := check(test.record, "-")
			lines := strings.Split(strings.TrimSpace(stdout), "\n")
			require.Contains(t, lines[0], "0 rows, 1 match, 1 log", stderr)
			if test.status == program.Nothing {
				require.Len(t, lines, 1, stdout)
			}
			for _, want := range test.want {
				require.Contains(t, stdout, want)
			}
			require.Equal(t, test.status, status, stdout+stderr)
		})
	}
}
