package main

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
)

// A table with a row a rally is audited as a log, row by row; what it probably
// was can be had as lines, and those hold together.
func TestTableOfRallies(t *testing.T) {
	rows := []string{"Match ID,Rally,Server,Point to,Score"}
	for i, score := range []string{"1-0", "2-0", "3-0", "5-0", "5-0", "6-0", "7-0", "8-0", "9-0", "10-0", "11-0"} {
		rows = append(rows, "L7,"+strconv.Itoa(i+1)+",A1,Home,"+score)
	}
	text := strings.Join(rows, "\n") + "\n"
	out := filepath.Join(t.TempDir(), "repaired.jsonl")
	status, said, errs := check(text, "-format", "sideout-doubles-11", "-repaired", out, "-")
	require.Equal(t, program.Found, status, errs)
	require.Contains(t, said, "11 rows, 0 matches, 1 log: 2 errors")
	require.Contains(t, said, "  Rally: n\n")
	require.Contains(t, said, "-:5: error: match L7: row 4: 5-0 is recorded, it was 4-0: certain, unless an error more was made than this takes [log-score-wrong/L7/g1/r4]")
	repaired, err := os.ReadFile(out)
	require.NoError(t, err)
	require.Contains(t, string(repaired), `{"game":1,"n":4,"winner":"A","server":"A1","receiver":"B2","call":"3-0-2","score":[4,0]}`)
	require.Contains(t, string(repaired), `"finals":[[11,0]]`)
	status, said, _ = check(string(repaired), "-")
	require.Equal(t, program.Nothing, status, said)

	status, _, errs = check(text, "-format", "sideout-doubles-11", "-out", out, "-")
	require.Equal(t, program.Failed, status)
	require.Contains(t, errs, "-repaired writes logs")
	status, _, errs = check("match,games\nm,11-8\n", "-repaired", out, "-")
	require.Equal(t, program.Failed, status)
	require.Contains(t, errs, "no log was read that could be explained")
	after, err := os.ReadFile(out)
	require.NoError(t, err)
	require.Equal(t, repaired, after, "nothing is touched before the new one is whole")
	status, _, errs = check(text, "-out", out, "-repaired", out, "-")
	require.Equal(t, program.Failed, status)
	require.Contains(t, errs, "names that file already")
}

// A log without winners comes back with those that its scores tell.
func TestRepairedHasWinners(t *testing.T) {
	line := `{"match":"L8","format":"rally-singles-11","first":"A","rows":[{"score":[1,0]},{"score":[1,1]},{"score":[2,1]}]}` + "\n"
	out := filepath.Join(t.TempDir(), "repaired.jsonl")
	status, _, errs := check(line, "-repaired", out, "-")
	require.Equal(t, program.Nothing, status, errs)
	repaired, err := os.ReadFile(out)
	require.NoError(t, err)
	require.Equal(t, 3, strings.Count(string(repaired), `"winner"`))
	require.Contains(t, string(repaired), `{"game":1,"n":2,"winner":"B","server":"A1","receiver":"B1","call":"1-0","score":[1,1]}`)
}

// What apps write in rows of logs is read.
func TestRowsOfApps(t *testing.T) {
	for name, row := range map[string]string{
		"numbers of rallies, and clocks": `{"rally":1,"winner":"A","time":12000.5}`,
		"a score in words":               `{"n":1,"winner":"A","score":"1-0"}`,
		"a score by sides":               `{"n":1,"winner":"A","score":{"a":1,"b":0}}`,
		"home and away":                  `{"n":1,"winner":"A","score":{"home":1,"away":0}}`,
		"small letters":                  `{"n":1,"winner":"a","serving":"a"}`,
		"a call with spaces":             `{"n":1,"winner":"A","call":"0 - 0 - 2"}`,
	} {
		t.Run(name, func(t *testing.T) {
			status, out, errs := check(`{"match":"L","format":"sideout-doubles-11","first":"A","rows":[`+row+"]}\n", "-")
			require.Equal(t, program.Nothing, status, out+errs)
			require.Contains(t, out, "1 row, 0 matches, 1 log: 0 errors, 0 warnings")
		})
	}
	status, _, errs := check(`[{"match":"L","games":[[11,8]]}]`, "-")
	require.Equal(t, program.Failed, status)
	require.Contains(t, errs, "one list in JSON, not JSON Lines")
}
