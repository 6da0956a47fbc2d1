package main

import (
	"bytes"
	"compress/gzip"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
)

// check runs the program and returns its exit status and what it printed.
func check(stdin string, args ...string) (status int, stdout, stderr string) {
	var out, errs bytes.Buffer
	status = run(args, strings.NewReader(stdin), &out, &errs)
	return status, out.String(), errs.String()
}

func TestSampleOfTheLadder(t *testing.T) {
	status, out, stderr := check("", "autumn-ladder.csv")
	require.Equal(t, program.Found, status, stderr)
	require.NotEmpty(t, out)
	table, err := os.ReadFile("autumn-ladder.csv")
	require.NoError(t, err)

	// The same table from standard input, packed, and behind a byte-order mark.
	_, again, _ := check(string(table), "-")
	require.Equal(t, strings.Count(out, "\n"), strings.Count(again, "\n"))
	packed := filepath.Join(t.TempDir(), "ladder.csv.gz")
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	_, err = w.Write(append([]byte("\xef\xbb\xbf"), table...))
	require.NoError(t, err)
	require.NoError(t, w.Close())
	require.NoError(t, os.WriteFile(packed, b.Bytes(), 0o600))
	status, again, _ = check("", packed)
	require.Equal(t, program.Found, status)
	require.Equal(t, strings.Count(out, "\n"), strings.Count(again, "\n"))

	after, err := os.ReadFile("autumn-ladder.csv")
	require.NoError(t, err)
	require.Equal(t, table, after, "the input is never edited")
}

func TestBadInputIsOneLineAndStatus2(t *testing.T) {
	tests := []struct {
		name string
		args []string
	}{
		{"no file", nil},
		{"missing file", []string{"no-such-file.csv"}},
		{"unknown format", []string{"-format", "triples", "autumn-ladder.csv"}},
		{"unknown report", []string{"-report", "paper", "autumn-ladder.csv"}},
		{"unknown code", []string{"-explain", "no-such-code"}},
		{"missing waivers", []string{"-accept", "no-such-file", "autumn-ladder.csv"}},
		{"output over input", []string{"-out", "autumn-ladder.csv", "autumn-ladder.csv"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			status, _, stderr := check("", test.args...)
			require.Equal(t, program.Failed, status)
			require.NotEmpty(t, stderr)
		})
	}
}

// A report that cannot be written is no report.
func TestOutputThatFails(t *testing.T) {
	for _, report := range []string{"text", "json", "html"} {
		var errs bytes.Buffer
		status := run([]string{"-report", report, "autumn-ladder.csv"}, strings.NewReader(""), full{}, &errs)
		require.Equal(t, program.Failed, status, report)
		require.Equal(t, "resultcheck: no space left\n", errs.String(), report)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

// Rows that are no CSV are not in the new table, all others are, in order and
// with the comma of the table; every kind of proposal is there.
func TestProposalsOfEveryKind(t *testing.T) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.csv"), filepath.Join(dir, "out.csv")
	table := "match;games;winner;status;by;format\n" +
		"m1;11-8 9-Nov;A;;;\n" +
		"m2;\"11-8;A;;;\n" + // a quote that nobody closes
		"m3;10-5;;retired;A;sideout-doubles-11-of3@2024\n" +
		"m4;;;retired;A;sideout-doubles-11-of3@2024\n" +
		"m5;7-4;;forfeited;B;sideout-doubles-11-of3@2026\n" +
		"m6;11-8 5-10;A;;;sideout-doubles-11-of3@2024\n" +
		"m7;15-12;A;;;sideout-doubles-11\n" +
		"m8;11-8 11-4;B;;;\n" +
		"m9;11-8;A;;;sideout-singles-11\n" +
		"m10;\n" // a row of another width
	require.NoError(t, os.WriteFile(in, []byte(table), 0o600))
	status, _, stderr := check("", "-out", out, in)
	require.Equal(t, program.Found, status, stderr)
	text, err := os.ReadFile(out)
	require.NoError(t, err)
	want := "match;games;winner;status;by;format;proposed\n" +
		"m1;11-8 9-Nov;A;;;;\n" +
		"m3;10-5;;retired;A;sideout-doubles-11-of3@2024;games: 10-12 0-11\n" +
		"m4;;;retired;A;sideout-doubles-11-of3@2024;games: 0-11 0-11\n" +
		"m5;7-4;;forfeited;B;sideout-doubles-11-of3@2026;games: 11-0 11-0\n" +
		"m6;11-8 5-10;A;;;sideout-doubles-11-of3@2024;status: retired, by: B, games: 11-8 12-10\n" +
		"m7;15-12;A;;;sideout-doubles-11;target: 15\n" +
		"m8;11-8 11-4;B;;;;winner: A, or the scores exchanged\n" +
		"m9;11-8;A;;;sideout-singles-11;\n" +
		"m10;;\n"
	require.Equal(t, want, string(text))
}
