package conformance

import (
	"fmt"
	"strings"
)

// Failure is a case that did not pass in a format: the first place at which
// the engine parts from it, or why it gave no answers.
type Failure struct {
	Feature  string  `json:"feature,omitempty"` // known when run by [Check]
	ID       string  `json:"case"`
	Title    string  `json:"title"`
	Format   string  `json:"format"`
	Outcome  Outcome `json:"outcome"`
	Clause   Clause  `json:"clause"`
	Step     int     `json:"step"`                 // from 1; 0 for the start
	Name     string  `json:"checkpoint,omitempty"` // name of the checkpoint, if it has one
	Event    int     `json:"event"`                // number of the event in the case, from 1; 0 for the start
	Entry    string  `json:"entry,omitempty"`      // the event; empty for the start
	What     string  `json:"what,omitempty"`       // what differs: line, call, effects or refused
	Expected string  `json:"expected,omitempty"`
	Got      string  `json:"got,omitempty"`   // or the reason why there was no answer
	Field    string  `json:"field,omitempty"` // first field in which two lines differ
	URL      string  `json:"url,omitempty"`
	Foreseen bool    `json:"foreseen,omitempty"` // the manifest of expected failures has it
}

func failure(c *Case, formatID string, o Outcome) *Failure {
	return &Failure{ID: c.ID, Title: c.Title, Format: formatID, Clause: c.Clause, Outcome: o}
}

// String says on a few lines what was expected and what came, and marks the
// first field in which two lines differ.
func (f *Failure) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n  format %s, ", f.ID, f.Title, f.Format)
	switch {
	case f.Outcome != Wrong:
		fmt.Fprintf(&b, "%s: %s\n", f.Outcome, orNone(f.Got))
	case f.Event == 0:
		b.WriteString("at the start")
	default:
		fmt.Fprintf(&b, "event %d %q (step %d", f.Event, f.Entry, f.Step)
		if f.Name != "" {
			fmt.Fprintf(&b, ", %s", f.Name)
		}
		b.WriteString(")")
	}
	if f.Outcome == Wrong {
		fmt.Fprintf(&b, ": %s\n  expected %s\n  got      %s\n", f.What, orNone(f.Expected), orNone(f.Got))
	}
	if f.What == "line" {
		if name, at, want, got := f.Difference(); name != "" {
			fmt.Fprintf(&b, "           %s^ first differing field: %s, expected %q, got %q\n", strings.Repeat(" ", at), name, want, got)
		}
	}
	c := f.Clause
	fmt.Fprintf(&b, "  clause %s %s %s (%s): %s", c.Document, c.Edition, c.Rule, c.Mark, c.Claim)
	return b.String()
}

// Difference names the first field in which the expected line and the one that
// came differ, at which byte of the latter it stands, and both its values.
func (f *Failure) Difference() (field string, at int, want, got string) {
	if f.What != "line" {
		return "", 0, "", ""
	}
	return firstDifference(f.Expected, f.Got)
}

// orNone keeps an empty answer visible.
func orNone(s string) string {
	if s == "" {
		return "(nothing)"
	}
	return s
}
