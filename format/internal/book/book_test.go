package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What the packages hold of the book is what the book says.
func TestGeneratedFilesAreCurrent(t *testing.T) {
	made, err := pages("../..")
	require.NoError(t, err)
	require.Len(t, made, 4+len(languages))
	for name, want := range made {
		got, err := os.ReadFile(name)
		require.NoError(t, err)
		require.True(t, string(want) == string(got), "%s: run go generate ./format", name)
	}
}

// A slip in the book is named, with the line where there is one.
func TestSlipsAreNamed(t *testing.T) {
	const sound = `edition E1 1 pickleball 2001-01-01
default 1
switch late line
  What comes late.
  stands late-stands
clause late-stands engine 1..
  en It stands.
  de Es bleibt.
  1 4.A read a book
`
	_, err := read(sound)
	require.NoError(t, err)
	tests := []struct{ name, old, new, says string }{
		{"day", "2001-01-01", "2001-1-1", "line 1: 2001-1-1 is no day"},
		{"default", "default 1", "default 2", `line 2: no edition is called "2"`},
		{"no default", "default 1\n", "", "no edition is the default"},
		{"what is moved", "late line", "late mood", "line 3: a switch moves one of [line result clock words]"},
		{"clause of a reading", "stands late-stands", "stands late-falls", "the switch late names late-falls, and there is no such clause"},
		{"reading without a clause", "stands late-stands", "stands", "line 5: want a reading and its clause"},
		{"who goes by it", "engine", "coach", "line 6: nobody is called coach"},
		{"gap", "1..", "1 1..", `line 6: 1..: a clause that comes back after a gap, and no other, does so "again"`},
		{"no gap", "1..", "again 1..", `line 6: 1..: a clause that comes back after a gap, and no other, does so "again"`},
		{"period", "1..", "1..3", `line 6: no edition is called "3"`},
		{"language", "  de Es bleibt.\n", "", `the clause late-stands has no sentence in "de"`},
		{"mark", "read", "guessed", "line 9: want a period, a number or -, and a mark: one of [read paraphrase paraphrase-low common-practice derived memory open]"},
		{"head", "switch late line", "swich late line", `line 3: want an edition, the default, a switch or a clause, in this order, not "swich late line"`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			require.Contains(t, sound, test.old)
			_, err := read(strings.Replace(sound, test.old, test.new, 1))
			require.EqualError(t, err, test.says)
		})
	}
	_, err = read(sound + strings.SplitAfterN(sound, "\n", 6)[5])
	require.EqualError(t, err, "the clause late-stands stands twice")
}
