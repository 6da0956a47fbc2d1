// Package intake reads the tables that people send: whatever encoding, commas,
// titles, column names, words and dates a spreadsheet or a club's own habits
// give them. It turns every row into a match of [audit], and says beforehand, in
// one line a column, what it takes for what.
//
// A [Reader] looks at the beginning of the data, finds the encoding, the comma,
// the header and what each column holds, and settles what has to be the same
// for a whole file: the order of day and month, whether the winner's score comes
// first, which letters name the sides. Rows that are spelt as [audit.ReadHeader]
// documents cost nothing more than reading them.
//
// A table with a row a rally is told by its columns: [Reader.Logs] reads it.
//
// Nothing is guessed silently. A column that cannot be told is passed over and
// said, or refused if it may hold results; [ReadMapping] settles it.
package intake

import (
	"fmt"
	"strings"
)

// Options are what the reader of a table may be told.
type Options struct {
	// Mapping says for headers what they mean, before anything is guessed.
	Mapping Mapping
	// Format is the format of rows that name none, and of rows that say only
	// "singles" or "doubles".
	Format string
	// DayFirst settles dates such as 3/4/2026 that the file leaves open.
	DayFirst *bool
	// Rallies says that every row is a rally, even if no column tells it.
	Rallies bool
}

// A ColumnError reports columns that may hold results and of which nobody can
// say what they are. It names all of them, each with the nearest name known. The
// reader that comes with it can do nothing but [Reader.WriteMapping].
type ColumnError struct {
	Row     int // row of the header, as a spreadsheet counts
	Reason  string
	Unknown []UnknownColumn
}

// UnknownColumn is a column that is not known, and the name that is nearest.
type UnknownColumn struct {
	Column  string `json:"column"`
	Nearest string `json:"nearest,omitempty"`
}

// Error implements error.
func (e *ColumnError) Error() string {
	if len(e.Unknown) == 0 {
		return fmt.Sprintf("row %d: %s", e.Row, e.Reason)
	}
	var words []string
	for _, u := range e.Unknown {
		word := quote(u.Column)
		if u.Nearest != "" {
			word += " (" + u.Nearest + "?)"
		}
		words = append(words, word)
	}
	return fmt.Sprintf("row %d: %s: %s; a mapping of columns settles it", e.Row, e.Reason, strings.Join(words, ", "))
}

// A KindError reports data that is no table at all.
type KindError struct{ Kind string }

// Error implements error.
func (e *KindError) Error() string {
	return "is " + e.Kind + ", not a table in text: save it as CSV UTF-8"
}

// quote keeps a message short and printable.
func quote(s string) string {
	if r := []rune(s); len(r) > 40 {
		s = string(r[:40]) + "…"
	}
	return fmt.Sprintf("%q", s)
}
