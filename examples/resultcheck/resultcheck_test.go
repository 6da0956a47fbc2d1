package main

import (
	"bytes"
	"compress/gzip"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// check runs the program and returns its exit status and what it printed.
func check(stdin string, args ...string) (status int, stdout, stderr string) {
	var out, errs bytes.Buffer
	status = run(args, strings.NewReader(stdin), &out, &errs)
	return status, out.String(), errs.String()
}

func TestSampleOfTheLadder(t *testing.T) {
	status, out, stderr := check("", "autumn-ladder.csv")
	require.Equal(t, findings, status, stderr)
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
	require.Equal(t, findings, status)
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
			require.Equal(t, unreadable, status)
			require.NotEmpty(t, stderr)
		})
	}
}
