package main

import (
	"encoding/json"
	"os"
	"testing"

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
	t.Chdir(t.TempDir())
	if err := os.MkdirAll("conformance/internal/mutants", 0o777); err != nil {
		t.Fatal(err)
	}
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
