package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

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
