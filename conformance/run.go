package conformance

import (
	"slices"
	"strings"

	"github.com/evencourt/evencourt/format"
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

// Reporter is an engine that says what is reported of the match where it stands.
type Reporter interface{ Report() Reported }

// Answer is what an engine says after an event.
type Answer struct {
	Line    string   `json:"line"`
	Call    string   `json:"call"`              // score call; outside play anything, and never compared
	Effects []string `json:"effects,omitempty"` // in the order of [Effects]
	Refused string   `json:"refused,omitempty"` // one of [Refusals], or "" if the event was accepted

	// What an engine may say besides; it is not compared.
	Changes []Change `json:"changes,omitempty"` // what a correction changed of earlier entries
	Help    bool     `json:"help,omitempty"`    // call qualified help first
	Instead []string `json:"instead,omitempty"` // events that meet the need of a refused one
}

// Change is what a correction changed of an earlier entry: what it did before
// and what it does now, nothing where it does not hold.
type Change struct {
	N      int  `json:"n"` // number of the entry, from 1
	Before *Did `json:"before,omitempty"`
	After  *Did `json:"after,omitempty"`
}

// Did is what an entry did.
type Did struct {
	Effects []string `json:"effects"`
	Score   string   `json:"score"`           // after it, A-B
	Final   bool     `json:"final,omitempty"` // it ended a game at that score
}

// events are the single events of a step.
func (s *Step) events() []string {
	if s.Entry != "" {
		return []string{s.Entry}
	}
	return strings.Split(s.Do, " ")
}

// entries are the events of all steps.
func (c *Case) entries() []string {
	var out []string
	for i := range c.Steps {
		out = append(out, c.Steps[i].events()...)
	}
	return out
}

// Run plays a case in one of its formats and returns the first place at which
// the engine parts from it, or nil.
func Run(engine Engine, c Case, formatID string) *Failure {
	return RunSubject(InProcess(engine, Identity{}), c, formatID)
}

// RunSubject is [Run] for an engine in any place.
func RunSubject(s Subject, c Case, formatID string) *Failure {
	f := play(s, &c, formatID)
	if f != nil {
		if parsed, err := format.Parse(formatID); err == nil {
			f.Rules = c.Rules(&parsed)
		}
	}
	return f
}

// play has a subject play a case and judges its answers.
func play(s Subject, c *Case, formatID string) *Failure {
	events := c.entries()
	p := s.Play(formatID, c.begin(), events)
	if p.Outcome == Passed && len(p.Answers) != len(events)+1 {
		p = Played{Outcome: Unreadable, Reason: "not one answer to the start and to each event"}
	}
	if p.Outcome != Passed {
		f := failure(c, formatID, p.Outcome)
		f.Got, f.URL = p.Reason, p.URL
		return f
	}
	f := judge(c, formatID, p.Answers)
	if f != nil || c.Reported == nil {
		return f
	}
	reporter, ok := s.(interface {
		Report(formatID string, start Start, events []string) (Reported, Played)
	})
	if !ok {
		p = Played{Outcome: Skipped, Reason: "does not say what is reported of a match"}
	}
	var got Reported
	if ok {
		got, p = reporter.Report(formatID, c.begin(), events)
	}
	switch {
	case p.Outcome != Passed:
		f = failure(c, formatID, p.Outcome)
		f.Got, f.URL = p.Reason, p.URL
	case got.String() != c.Reported.String():
		f = failure(c, formatID, Wrong)
		f.Step, f.Event, f.What, f.Expected, f.Got = len(c.Steps), len(events), "reported", c.Reported.String(), Printable(got.String())
	}
	return f
}

// judge compares the answers of an engine with a case.
func judge(c *Case, formatID string, answers []Answer) *Failure {
	fail := func(step, event int, entry, what, expected, got string) *Failure {
		f := failure(c, formatID, Wrong)
		f.Step, f.Event, f.Entry = step, event, entry
		f.What, f.Expected, f.Got = what, expected, Printable(got)
		if step > 0 {
			f.Name = c.Steps[step-1].Name
		}
		return f
	}
	last := answers[0]
	switch {
	case last.Refused != "":
		return fail(0, 0, "", "refused", "", last.Refused)
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
			a = answers[event]
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

// RunAll plays every case of the files in every one of its formats, whatever
// profile it belongs to, and derived.
func RunAll(engine Engine, files []File) (*Report, error) {
	return Check(everyFormat{InProcess(engine, Identity{Name: "in process"})}, Options{Files: files, Profiles: []Profile{everything}})
}

var everything = Profile{Name: "all", About: "Every case in every format.", Features: []string{"*"}, Shapes: []string{"*"}}

// everyFormat claims what it is asked to.
type everyFormat struct{ Subject }

// Report passes on what the subject says.
func (s everyFormat) Report(formatID string, start Start, events []string) (Reported, Played) {
	return s.Subject.(*inProcess).Report(formatID, start, events)
}

func (everyFormat) Claim(_ Profile, formats []string) ([]string, string, error) {
	return formats, "", nil
}

// TB is the part of a test that [Test] needs; *testing.T and *testing.B have it.
type TB[T any] interface {
	Helper()
	Errorf(format string, args ...any)
	Run(name string, test func(T)) bool
}

// Test plays the whole corpus against an engine, written and derived, each run
// as a subtest FEATURE/CASE/FORMAT or FEATURE/CASE/DERIVATION/FORMAT.
func Test[T TB[T]](t T, engine Engine) {
	t.Helper()
	files, err := Load()
	if err != nil {
		t.Errorf("%v", err)
		return
	}
	all, err := jobs(files, []Profile{everything}, Selection{})
	if err != nil {
		t.Errorf("%v", err)
		return
	}
	subject := InProcess(engine, Identity{})
	sections(t, all, func(j *job) string { return j.file.Feature }, func(t T, all []job) {
		sections(t, all, func(j *job) string { return j.c.ID }, func(t T, all []job) {
			for i := range all {
				j := &all[i]
				name := j.format
				if j.derivation != "" {
					name = j.derivation + "/" + j.format
				}
				t.Run(name, func(t T) {
					t.Helper()
					if f := j.play(subject); f != nil {
						f.Rules = j.c.Rules(j.parsed)
						t.Errorf("%s", f)
					}
				})
			}
		})
	})
}

// sections runs a subtest for each stretch of jobs that have a name in common.
func sections[T TB[T]](t T, all []job, name func(*job) string, test func(T, []job)) {
	for len(all) > 0 {
		n := 1
		for n < len(all) && name(&all[n]) == name(&all[0]) {
			n++
		}
		part := all[:n]
		t.Run(name(&part[0]), func(t T) { test(t, part) })
		all = all[n:]
	}
}
