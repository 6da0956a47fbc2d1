// Package openrecords finds what tests compare the library with and what is
// not part of this repository: open match records and published tables.
//
// They are looked for in a folder named shared beside a folder above the test,
// or where the environment variable EVENCOURT_RECORDS says: data/… are match
// records, facts/… tables. A test that does not find its file is skipped with
// a message.
package openrecords

import (
	"os"
	"path/filepath"
	"testing"
)

// Find returns where a file is, such as "data/badminton-tour/games.tsv".
func Find(t testing.TB, name string) string {
	t.Helper()
	at, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	folders := []string{}
	if folder := os.Getenv("EVENCOURT_RECORDS"); folder != "" {
		folders = append(folders, folder)
	}
	for up := filepath.Dir(at); up != at; at, up = up, filepath.Dir(up) {
		folders = append(folders, filepath.Join(up, "shared"))
	}
	for _, folder := range folders {
		path := filepath.Join(folder, filepath.FromSlash(name))
		if _, err := os.Stat(path); err == nil {
			return path
		}
	}
	t.Skipf("no %s here: set EVENCOURT_RECORDS to a folder that has it", name)
	return ""
}

// Read returns the content of a file.
func Read(t testing.TB, name string) []byte {
	t.Helper()
	content, err := os.ReadFile(Find(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// Open opens a file until the test is over.
func Open(t testing.TB, name string) *os.File {
	t.Helper()
	f, err := os.Open(Find(t, name))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}
