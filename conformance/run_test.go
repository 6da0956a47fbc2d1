package conformance

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

// replayer answers as the corpus says. It knows the case by its start and by
// what it is asked, so it is told which case comes.
type replayer struct {
	c    *Case
	at   Answer
	todo []string // events of the current step
	step int
	bend func(n int, a Answer) Answer // changes the answer to event n; nil leaves all
	n    int
}

func (r *replayer) Begin(string, Start) (Answer, error) {
	r.step, r.n, r.todo = 0, 0, nil
	r.at = Answer{Line: r.c.opening(), Call: r.c.Call}
	return r.bent(), nil
}

func (r *replayer) bent() Answer {
	if r.bend == nil {
		return r.at
	}
	return r.bend(r.n, r.at)
}

func (r *replayer) Do(string) Answer {
	s := r.c.Steps[r.step]
	if len(r.todo) == 0 {
		r.todo = s.events()
	}
	r.todo = r.todo[1:]
	r.n++
	r.at.Refused, r.at.Effects = s.Refused, nil
	if len(r.todo) == 0 {
		if s.Refused == "" {
			r.at = Answer{Line: s.Line, Call: s.Call, Effects: s.Effects}
		}
		r.step++
	}
	return r.bent()
}

// yes accepts everything and never moves.
type yes struct{ at Answer }

func (y *yes) Begin(_ string, s Start) (Answer, error) {
	y.at = Answer{Line: s.From}
	return y.at, nil
}

func (y *yes) Do(string) Answer { return y.at }

// echo answers with what it is asked.
type echo struct{}

func (echo) Begin(id string, _ Start) (Answer, error) { return Answer{Line: id}, nil }
func (echo) Do(entry string) Answer                   { return Answer{Line: entry, Call: entry} }

// lost knows no format.
type lost struct{}

func (lost) Begin(string, Start) (Answer, error) { return Answer{}, errors.New("no such format") }
func (lost) Do(string) Answer                    { panic("played without a match") }

func TestReplayOfTheCorpusPasses(t *testing.T) {
	for _, f := range loadAll(t) {
		for i := range f.Cases {
			c := &f.Cases[i]
			if failure := Run(&replayer{c: c}, *c, c.Formats[0]); failure != nil {
				t.Errorf("%s", failure)
			}
		}
	}
}

// Whatever answer of an engine is bent at whatever event of a short case, the
// case fails at that event.
func TestEveryBentAnswerIsSeen(t *testing.T) {
	bends := map[string]func(Answer) Answer{
		"line":    func(a Answer) Answer { a.Line += "x"; return a },
		"call":    func(a Answer) Answer { a.Call += "9"; return a },
		"effects": func(a Answer) Answer { a.Effects = append(slices.Clone(a.Effects), "help"); return a },
		"refused": func(a Answer) Answer { a.Refused += "x"; return a },
	}
	tried := 0
	for _, f := range loadAll(t) {
		for i := range f.Cases {
			c := &f.Cases[i]
			if c.events() >= long {
				continue
			}
			for _, what := range slices.Sorted(maps.Keys(bends)) {
				event := 0
				for _, s := range c.Steps {
					event++
					called := s.Call != ""
					if s.Refused != "" {
						called = false // the call is that of before; tried below
					}
					if what == "call" && !called {
						continue
					}
					bend := func(n int, a Answer) Answer {
						if n == event {
							return bends[what](a)
						}
						return a
					}
					failure := Run(&replayer{c: c, bend: bend}, *c, c.Formats[0])
					if failure == nil || failure.Event != event || failure.What != what {
						t.Fatalf("%s: %s bent at event %d: %v", c.ID, what, event, failure)
					}
					tried++
				}
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d answers were bent", tried)
	}
}

func TestRefusalLeavesTheCallAlone(t *testing.T) {
	files := loadAll(t)
	for _, f := range files {
		for i := range f.Cases {
			c := &f.Cases[i]
			if c.Call == "" || c.Steps[0].Refused == "" {
				continue
			}
			bend := func(n int, a Answer) Answer {
				if n == 1 {
					a.Call = "9-9"
				}
				return a
			}
			failure := Run(&replayer{c: c, bend: bend}, *c, c.Formats[0])
			if failure == nil || failure.What != "call" {
				t.Errorf("%s: %v", c.ID, failure)
			}
			return
		}
	}
	t.Error("no case begins with a refusal in play")
}

func TestBadEnginesFailEverything(t *testing.T) {
	files := loadAll(t)
	for name, e := range map[string]Engine{"yes": &yes{}, "echo": echo{}, "lost": lost{}} {
		report, err := RunAll(e, files)
		if err != nil {
			t.Fatal(err)
		}
		runs, failed := 0, 0
		for i, n := range report.Totals {
			if n.Feature != files[i].Feature || n.Cases != len(files[i].Cases) || n.Runs < n.Cases {
				t.Errorf("%s: total %+v", name, n)
			}
			runs += n.Runs
			failed += n.Failed
		}
		if failed != runs || len(report.Failures) != failed || report.Verdict != NotConformant {
			t.Errorf("%s: %d of %d runs failed, %d failures, %s", name, failed, runs, len(report.Failures), report.Verdict)
		}
	}
}

func TestFailureReads(t *testing.T) {
	f := Failure{ID: "c0001", Title: "the servers score", Format: "sideout-doubles-11@2026", Outcome: Wrong, Step: 2, Event: 3, Entry: "A",
		Name: "a checkpoint", What: "line", Expected: "L1 game=1 score=1-0 due=-", Got: "L1 game=1 score=2-0 due=-",
		Clause: Clause{Document: "pickleball", Edition: "2021", Rule: "4.B.4", Mark: "read", Claim: "The server keeps the serve."}}
	want := `c0001: the servers score
  format sideout-doubles-11@2026, event 3 "A" (step 2, a checkpoint): line
  expected L1 game=1 score=1-0 due=-
  got      L1 game=1 score=2-0 due=-
                     ^ first differing field: score, expected "1-0", got "2-0"
  clause pickleball 2021 4.B.4 (read): The server keeps the serve.`
	if got := f.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	f = Failure{ID: "c0002", Title: "none left", Format: "f", Outcome: Wrong, Step: 1, Event: 1, Entry: "tA", What: "refused", Expected: "none-left"}
	if got := f.String(); !strings.Contains(got, "expected none-left\n  got      (nothing)") {
		t.Errorf("got\n%s", got)
	}
	f = Failure{ID: "c0003", Title: "dead", Format: "f", Outcome: Crashed, Got: "it ended"}
	if got := f.String(); !strings.Contains(got, "format f, crashed: it ended\n") {
		t.Errorf("got\n%s", got)
	}
}

// record is a test that only notes what it is told.
type record struct{ errors, logs []string }

func (*record) Helper() {}
func (r *record) Errorf(format string, args ...any) {
	r.errors = append(r.errors, fmt.Sprintf(format, args...))
}
func (r *record) Logf(format string, args ...any) {
	r.logs = append(r.logs, fmt.Sprintf(format, args...))
}

func TestTestReportsFailuresAndTotals(t *testing.T) {
	var r record
	Test(&r, echo{})
	if len(r.errors) == 0 || len(r.logs) != len(loadAll(t)) {
		t.Errorf("%d errors, %d totals", len(r.errors), len(r.logs))
	}
}
