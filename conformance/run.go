package conformance

import (
	"fmt"
	"slices"
	"strings"
)

// Engine is anything that can play a match of a format.
type Engine interface {
	// Begin puts the engine at the start of a match and answers with the line
	// and call there. An error means that it does not know the format, or
	// that the start is impossible in it.
	Begin(formatID string, start Start) (Answer, error)
	// Do takes one event. After a refusal it answers with the line and call
	// as they were, and no effects.
	Do(entry string) Answer
}

// Answer is what an engine says after an event.
type Answer struct {
	Line    string
	Call    string   // score call; outside play anything, and never compared
	Effects []string // in the order of [Effects]
	Refused string   // one of [Refusals], or "" if the event was accepted
}

// Failure is the first place at which an engine parts from a case.
type Failure struct {
	Feature  string // known when run by [RunAll]
	ID       string
	Title    string
	Format   string
	Clause   Clause
	Step     int    // from 1; 0 for the start
	Name     string // name of the checkpoint, if it has one
	Event    int    // number of the event in the case, from 1; 0 for the start
	Entry    string // the event; empty for the start
	What     string // what differs: begin, line, call, effects or refused
	Expected string
	Got      string
}

// String says on a few lines what was expected and what came, and marks the
// first field in which two lines differ.
func (f *Failure) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n  format %s, ", f.ID, f.Title, f.Format)
	if f.Event == 0 {
		b.WriteString("at the start")
	} else {
		fmt.Fprintf(&b, "event %d %q (step %d", f.Event, f.Entry, f.Step)
		if f.Name != "" {
			fmt.Fprintf(&b, ", %s", f.Name)
		}
		b.WriteString(")")
	}
	fmt.Fprintf(&b, ": %s\n  expected %s\n  got      %s\n", f.What, orNone(f.Expected), orNone(f.Got))
	if f.What == "line" {
		if name, want, got := firstDifference(f.Expected, f.Got); name != "" {
			fmt.Fprintf(&b, "  first differing field: >>> %s <<< expected %q, got %q\n", name, want, got)
		}
	}
	c := f.Clause
	fmt.Fprintf(&b, "  clause %s %s %s (%s): %s", c.Document, c.Edition, c.Rule, c.Mark, c.Claim)
	return b.String()
}

// orNone keeps an empty answer visible.
func orNone(s string) string {
	if s == "" {
		return "(nothing)"
	}
	return s
}

// events are the single events of a step.
func (s *Step) events() []string {
	if s.Entry != "" {
		return []string{s.Entry}
	}
	return strings.Split(s.Do, " ")
}

// Run plays a case in one of its formats and returns the first place at which
// the engine parts from it, or nil.
func Run(engine Engine, c Case, formatID string) *Failure {
	fail := func(step, event int, entry, what, expected, got string) *Failure {
		f := &Failure{ID: c.ID, Title: c.Title, Format: formatID, Clause: c.Clause, Step: step, Event: event,
			Entry: entry, What: what, Expected: expected, Got: got}
		if step > 0 {
			f.Name = c.Steps[step-1].Name
		}
		return f
	}
	last, err := engine.Begin(formatID, c.begin())
	switch {
	case err != nil:
		return fail(0, 0, "", "begin", "a match that begins", err.Error())
	case last.Refused != "":
		return fail(0, 0, "", "begin", "a match that begins", "refused: "+last.Refused)
	case last.Line != c.opening():
		return fail(0, 0, "", "line", c.opening(), last.Line)
	case c.Call != "" && last.Call != c.Call:
		return fail(0, 0, "", "call", c.Call, last.Call)
	}
	event := 0
	for i := range c.Steps {
		s := &c.Steps[i]
		var a Answer
		var entry string
		for _, entry = range s.events() {
			event++
			a = engine.Do(entry)
			if a.Refused != s.Refused {
				return fail(i+1, event, entry, "refused", s.Refused, a.Refused)
			}
			if s.Refused != "" {
				// A refusal changes nothing: what came before still holds.
				switch {
				case a.Line != last.Line:
					return fail(i+1, event, entry, "line", last.Line, a.Line)
				case fieldOf(last.Line, "phase") == "play" && a.Call != last.Call:
					return fail(i+1, event, entry, "call", last.Call, a.Call)
				case len(a.Effects) > 0:
					return fail(i+1, event, entry, "effects", "", strings.Join(a.Effects, " "))
				}
			}
			last = a
		}
		switch {
		case s.Refused != "":
		case s.Line != "" && a.Line != s.Line:
			return fail(i+1, event, entry, "line", s.Line, a.Line)
		case s.Call != "" && a.Call != s.Call:
			return fail(i+1, event, entry, "call", s.Call, a.Call)
		case s.Effects != nil && !slices.Equal(a.Effects, s.Effects):
			return fail(i+1, event, entry, "effects", strings.Join(s.Effects, " "), strings.Join(a.Effects, " "))
		}
	}
	return nil
}

// Total counts what was run of one feature.
type Total struct {
	Feature string
	Cases   int // cases of the feature
	Runs    int // cases times the formats of each
	Failed  int // runs that failed
}

// Report is what [RunAll] found.
type Report struct {
	Totals   []Total // by feature, in the order of the files
	Failures []Failure
}

// RunAll plays every case of the files in every one of its formats.
func RunAll(engine Engine, files []File) (Report, error) {
	var r Report
	for i := range files {
		t := Total{Feature: files[i].Feature, Cases: len(files[i].Cases)}
		for _, c := range files[i].Cases {
			for _, entry := range c.Formats {
				ids, err := Expand(entry)
				if err != nil {
					return Report{}, fmt.Errorf("case %s: %w", c.ID, err)
				}
				for _, id := range ids {
					t.Runs++
					if f := Run(engine, c, id); f != nil {
						f.Feature = t.Feature
						t.Failed++
						r.Failures = append(r.Failures, *f)
					}
				}
			}
		}
		r.Totals = append(r.Totals, t)
	}
	return r, nil
}

// TB is the part of a test that [Test] needs; *testing.T and *testing.B have it.
type TB interface {
	Helper()
	Errorf(format string, args ...any)
	Logf(format string, args ...any)
}

// Test plays the whole corpus against an engine and reports every failure and
// the totals by feature.
func Test(t TB, engine Engine) {
	t.Helper()
	files, err := Load()
	if err != nil {
		t.Errorf("%v", err)
		return
	}
	report, err := RunAll(engine, files)
	if err != nil {
		t.Errorf("%v", err)
		return
	}
	for i := range report.Failures {
		t.Errorf("%s", report.Failures[i].String())
	}
	for _, n := range report.Totals {
		t.Logf("%-18s %4d cases %6d runs %6d failed", n.Feature, n.Cases, n.Runs, n.Failed)
	}
}
