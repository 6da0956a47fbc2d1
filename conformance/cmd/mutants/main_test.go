package main

import (
	"encoding/json"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/internal/mutants"
)

// From the matrix that stands in the repository the command writes the page
// that stands there too; playing the mutants anew takes a minute.
func TestWritesThePage(t *testing.T) {
	matrix, err := os.ReadFile("../../internal/mutants/matrix.json")
	if err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile("../../MUTANTS.md")
	if err != nil {
		t.Fatal(err)
	}
	var rows []mutants.Row
	if err := json.Unmarshal(matrix, &rows); err != nil {
		t.Fatal(err)
	}
	inFolder(t)
	if err := write(rows); err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("conformance/MUTANTS.md")
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Error("MUTANTS.md is not that of matrix.json: go run ./conformance/cmd/mutants")
	}
}

// A mutant that no case kills is something found: it stands in the matrix and in
// the exit code. What cannot be written was not measured.
func TestExitCodes(t *testing.T) {
	files, err := conformance.Load()
	require.NoError(t, err)
	trivial := slices.DeleteFunc(files, func(f conformance.File) bool { return f.Feature != "plumbing" })
	require.Len(t, trivial, 1)
	require.Equal(t, 0, code(nil))
	require.Equal(t, 2, code(write(nil)), "there is no such folder here")
	inFolder(t)
	require.Equal(t, 1, code(run(trivial)), "ten trivial cases kill every mutant")
	var rows []mutants.Row
	text, err := os.ReadFile("conformance/internal/mutants/matrix.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &rows))
	require.True(t, slices.ContainsFunc(rows, func(r mutants.Row) bool { return len(r.Kills) == 0 }))
	require.True(t, slices.ContainsFunc(rows, func(r mutants.Row) bool { return len(r.Kills) > 0 }))
}

// inFolder goes where the command can write.
func inFolder(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.MkdirAll("conformance/internal/mutants", 0o777))
}
