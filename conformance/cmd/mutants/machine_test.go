package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// inEmptyRepository changes to a folder that has only what is written to.
func inEmptyRepository(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	if err := os.MkdirAll("conformance/mutants", 0o777); err != nil {
		t.Fatal(err)
	}
}

func TestWritesTheMachinePage(t *testing.T) {
	want, err := os.ReadFile("../../MACHINE.md")
	if err != nil {
		t.Fatal(err)
	}
	inEmptyRepository(t)
	if err := writeMachinePage(); err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("conformance/MACHINE.md")
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Error("MACHINE.md is not that of machine.json and reasons.json: go run ./conformance/cmd/mutants -page")
	}
}

// What .ci/mutants.sh leaves in a folder becomes the list and the page.
func TestReadsWhatTheToolLeft(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"serviceorder", "rally", "format"} {
		put(t, filepath.Join(dir, name+".json"),
			`{"files":[{"file_name":"`+name+`/p.go","mutations":[{"type":"ARITHMETIC_BASE","status":"LIVED","line":3,"column":13}]}]}`)
		put(t, filepath.Join(dir, "source", name, "p.go"), "package p\n\nconst n = 1 + 2\n")
	}
	inEmptyRepository(t)
	if err := readMachine(dir); err != nil {
		t.Fatal(err)
	}
	for file, want := range map[string]string{
		"conformance/mutants/machine.json": `"file": "rally/p.go"`,
		"conformance/MACHINE.md":           "| format/p.go:3 | `const n = 1 + 2` | ARITHMETIC_BASE 13 | **no reason yet** |",
	} {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), want) {
			t.Errorf("%s has no %q:\n%s", file, want, text)
		}
	}
	if err := readMachine(t.TempDir()); err == nil {
		t.Error("an empty folder was read")
	}
}

func TestReachWidensAProfile(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "p", "p.go"), "package p\n\nconst n = 1 + 2\n")
	profile := filepath.Join(dir, "profile")
	put(t, profile, "mode: set\n"+module+"/p/p.go:1.1,1.2 1 0\n")
	t.Chdir(dir)
	if err := reach(profile); err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(profile)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(got), "p.go:3.1,3.16 1 1\n") {
		t.Errorf("the declaration is missing:\n%s", got)
	}
	if err := reach(filepath.Join(dir, "nothing")); err == nil {
		t.Error("a profile that is not there was read")
	}
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}
