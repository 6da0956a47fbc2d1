package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
)

// The sheet of the README: A scores twice, its only server loses the serve; B
// scores with both its servers; A's first server, now at two, scores. Who that is
// follows from the even score at which the turn began: the starting server. By hand.
func TestSheet(t *testing.T) {
	var lines []string
	for line := range strings.SplitSeq(section(t, readme(t), "## Sheets, standings, meetings, ladders, teams"), "\n") {
		if text := strings.TrimPrefix(line, "    "); text != line && !strings.HasPrefix(text, "resultcheck") {
			lines = append(lines, text)
		}
	}
	require.Len(t, lines, 9)
	status, out, errs := check(strings.Join(lines, "\n"), "sheet", "-")
	require.Equal(t, program.Nothing, status, out+errs)
	require.Equal(t, "-: 3-2, called 3-2-1: A1 serves from the left court to B2\n", out)

	for name, c := range map[string]struct {
		change, to string
		status     int
		want       string
	}{
		"without starters":  {"starters A1 B1\n", "", program.Found, "4 states agree with the marks; what settles it:"},
		"turns unmarked":    {"A 2 2 / 1", "A 2 2 1", program.Found, "no game leaves these marks"},
		"an odd time-out":   {"time-out B 2-0", "time-out B 1-2", program.Found, "the time-out of side B is noted at 1-2, which no moment of the game has"},
		"the other court":   {"stands A left", "stands A right", program.Found, "no game leaves these marks"},
		"an odd mark":       {"A 2 2 / 1", "A 2 3 / 1", program.Failed, "line 4: '3' is no mark"},
		"an odd word":       {"number 1", "numbre 1", program.Failed, `line 7: "numbre" is no matter of a sheet; there are format`},
		"no side":           {"serving A", "serving C", program.Failed, "line 6: serving: want A or B"},
		"no court":          {"stands A left", "stands A", program.Failed, "line 8: stands: want a side and"},
		"no score":          {"time-out B 2-0", "time-out B 20", program.Failed, "line 9: time-out: want a side"},
		"no format":         {"format sideout-doubles-11@2026", "format triples", program.Failed, "triples"},
		"no starters":       {"starters A1 B1", "starters A1 A2", program.Failed, "line 3: starters: want"},
		"a number too high": {"number 1", "number 12", program.Failed, "line 7: number: want"},
	} {
		t.Run(name, func(t *testing.T) {
			status, out, errs := check(strings.Replace(strings.Join(lines, "\n")+"\n", c.change, c.to, 1), "sheet", "-")
			require.Equal(t, c.status, status, out+errs)
			require.Contains(t, out+errs, c.want)
		})
	}
	status, out, _ = check("first A\nA "+strings.Repeat("1", 11)+"\nB\n", "sheet", "-format", "sideout-singles-11", "-")
	require.Equal(t, program.Nothing, status)
	require.Equal(t, "-: 11-0, and the game is over\n", out)
}
