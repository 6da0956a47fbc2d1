package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
)

const threePairs = `Date,Round,Event,Home,Away,Score
2026-09-05,1,doubles,Imani / Tomasz,Priya / Lars,11-8 9-11 11-5
2026-09-12,2,doubles,Priya / Lars,Mei-Lin / Rafael,11-4 11-9
2026-09-19,3,doubles,Mei-Lin / Rafael,Imani / Tomasz,11-8 11-6
`

// Three pairs that each beat one: the point difference decides the first place,
// and the meeting of the other two the second (by hand).
func TestStandings(t *testing.T) {
	status, out, stderr := check(threePairs, "standings", "-")
	require.Equal(t, program.Nothing, status, stderr)
	lines := strings.Split(out, "\n")
	require.Equal(t, "1. Lars+Priya: won 1, lost 1, tied 0, games 3-2, points 46-44", lines[1])
	require.Equal(t, "    difference of points: 2 against -1", lines[2])
	require.Equal(t, "2. Mei-Lin+Rafael: won 1, lost 1, tied 0, games 2-2, points 35-36", lines[3])
	require.Contains(t, out, "    matches won against each other: 1 against 0, level until then: Imani+Tomasz, Mei-Lin+Rafael")
	status, _, stderr = check(threePairs, "standings", "--by", "club", "-")
	require.Equal(t, program.Failed, status)
	require.Contains(t, stderr, "want pair, player or team")
}

func TestMeetings(t *testing.T) {
	status, out, _ := check(threePairs, "meetings", "-")
	require.Equal(t, program.Nothing, status)
	require.Empty(t, out)
	status, out, _ = check(strings.Join(strings.SplitAfter(threePairs, "\n")[:3], ""), "meetings", "-")
	require.Equal(t, program.Found, status)
	require.Equal(t, "doubles: Imani+Tomasz and Mei-Lin+Rafael have met 0 times, 1 is due\n", strings.ReplaceAll(out, "1 are due", "1 is due"))
}

// Those who have not played yet are due as well: rows of a plan without a score,
// and sides that stand in no row. What cannot be read or be so is said.
func TestWhoHasToPlayYet(t *testing.T) {
	entries := filepath.Join(t.TempDir(), "entries.txt")
	require.NoError(t, os.WriteFile(entries, []byte("# autumn\nann + bea\ncid+dot\neve+fay\ngus+hal\n"), 0o600))
	text := "Date,Home,Away,Score\n2026-09-05,bea / ann,cid / dot,11-8 11-10\n,ann / bea,eve / fay,\n2026-09-19,cid / dot,eve / fay,x\n"
	status, out, stderr := check(text, "meetings", "-entries", entries, "-")
	require.Equal(t, program.Found, status, stderr)
	require.Equal(t, `ann+bea and eve+fay have met 0 times, 1 is due
ann+bea and gus+hal have met 0 times, 1 is due
cid+dot and eve+fay have met 0 times, 1 is due
cid+dot and gus+hal have met 0 times, 1 is due
eve+fay and gus+hal have met 0 times, 1 is due
1 row is left out since something of the result cannot be read; a check says what
1 match counts as it stands, and cannot be so; a check says why
`, out)
	_, out, _ = check(text, "standings", "-")
	require.Contains(t, out, "1. ann+bea: won 1, lost 0, tied 0, games 2-0, points 22-18\n")
	status, _, stderr = check("Event,Home,Away,Score\none,ann / bea,cid / dot,11-8 11-9\ntwo,ann / bea,cid / dot,11-8 11-9\n", "meetings", "-entries", entries, "-")
	require.Equal(t, program.Failed, status)
	require.Contains(t, stderr, "of one event; these are of one, two")
}

func TestLadder(t *testing.T) {
	ladder := filepath.Join(t.TempDir(), "ladder.txt")
	require.NoError(t, os.WriteFile(ladder, []byte("Priya+Lars\nMei-Lin+Rafael\nImani+Tomasz\n"), 0o600))
	status, out, stderr := check(threePairs, "ladder", "--start", ladder, "-")
	require.Equal(t, program.Nothing, status, stderr)
	require.Contains(t, out, "2026-09-12: Lars+Priya beat Mei-Lin+Rafael: the higher one won, nothing moves (2 to 2)\n")
	require.True(t, strings.HasSuffix(out, "1. Mei-Lin+Rafael\n2. Imani+Tomasz\n3. Lars+Priya\n"), out)
	status, out, _ = check(threePairs, "ladder", "--start", ladder, "--reach", "1", "-")
	require.Equal(t, program.Nothing, status)
	require.Contains(t, out, "too many places apart")
}

func TestTeams(t *testing.T) {
	text := `date,round,event,team_a,team_b,a1,b1,score
2026-09-05,1,one,Harbour,Lane,ann,bea,11-8
2026-09-05,1,two,Harbour,Lane,cid,dot,8-11
2026-09-05,1,three,Harbour,Lane,eve,fay,11-4
2026-09-12,2,one,Lane,Harbour,bea,ann,11-8
`
	status, out, stderr := check(text, "teams", "--format", "sideout-singles-11", "--parts", "one,two,three", "-")
	require.Equal(t, program.Found, status, stderr)
	require.Contains(t, out, "2026-09-05: Harbour - Lane 2-1, won by Harbour\n")
	require.Contains(t, out, "    two is missing\n    three is missing\n")
	status, _, stderr = check(text, "teams", "-")
	require.Equal(t, program.Failed, status)
	require.Contains(t, stderr, "-parts")
}
