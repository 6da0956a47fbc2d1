package main

import (
	"os"
	"testing"
)

// The command writes the page that stands in the repository, and says so where
// it cannot.
func TestWritesThePage(t *testing.T) {
	want, err := os.ReadFile("../../CLAUSES.md")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if run() == nil {
		t.Error("wrote a page into a folder that is not there")
	}
	if err := os.Mkdir("conformance", 0o777); err != nil {
		t.Fatal(err)
	}
	if err := run(); err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("conformance/CLAUSES.md")
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Error("CLAUSES.md is not current: go run ./conformance/cmd/clauses")
	}
}
