package audit_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/audit"
)

// Rows of logs as sources spell them say the same.
func TestSpellingsOfRows(t *testing.T) {
	read := func(row string) (*audit.RallyLog, error) {
		_, l, err := audit.ReadLine([]byte(`{"match":"m","format":"sideout-doubles-11","first":"A","rows":[`+row+`]}`), 1)
		return l, err
	}
	want, err := read(`{"n":7,"ms":12001,"winner":"A","score":[1,0],"call":"0-0-2"}`)
	require.NoError(t, err)
	for _, row := range []string{
		`{"rally":7,"time":12000.5,"winner":"a","score":"1-0","call":"0 - 0 - 2"}`,
		`{"row":7,"elapsed":12001,"won_by":"A","score":{"a":1,"b":0},"call":"0-0-2"}`,
		`{"rally":7,"time":"0:12.001","winner":"home","score_after":"1:0","call":"0-0-2","shots":11,"court":"L"}`,
		`{"n":7,"timestamp":"00:00:12.001","winning_team":1,"score":[1,0],"score_call":"0-0-2","comment":"long"}`,
		`{"number":7,"elapsed_ms":12000.6,"point_to":"a","score":{"home":1,"away":0},"call":"0-0 -2"}`,
	} {
		got, err := read(row)
		require.NoError(t, err, row)
		require.Equal(t, want.Rows, got.Rows, row)
	}
	for row, says := range map[string]string{
		`{"winner":"A","serwer":"A1"}`: "is it server",
		`{"n":1,"rally":2}`:            "says what n says",
		`{"score":"one-nil"}`:          "score",
		`{"winner":"nobody"}`:          "want A or B",
		`{"score":{"a":1,"c":0}}`:      "score",
		`{"ms":-1}`:                    "ms",
		`{"winner":"A","call":"x y"}`:  "call",
	} {
		_, err := read(row)
		require.ErrorContains(t, err, says, row)
	}
}
