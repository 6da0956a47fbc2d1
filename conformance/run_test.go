package conformance

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
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

func (r *replayer) Report() Reported { return *r.c.Reported }

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
	files := slices.Clone(loadAll(t))
	if testing.Short() { // a case in ten of every file
		for i := range files {
			var some []Case
			for n := 0; n < len(files[i].Cases); n += 10 {
				some = append(some, files[i].Cases[n])
			}
			files[i].Cases = some
		}
	}
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
		Name: "a checkpoint", What: "line", Expected: "L2 game=1 score=1-0 due=-", Got: "L2 game=1 score=2-0 due=e ",
		Rules: []Rule{
			{Clause: clause.HoldsServe, Source: &format.Source{Document: format.Pickleball, Edition: format.E2021, Rule: "4.B.4", Mark: format.Read}},
			{Clause: clause.LateSideStands, Set: true},
		}, Because: "Nobody lost the rally."}
	want := `c0001: the servers score
  format sideout-doubles-11@2026, event 3 "A" (step 2, a checkpoint): line
  expected L2 game=1 score=1-0 due=-
  got      L2 game=1 score=2-0 due=e 
                     ^ score: expected "1-0", got "2-0"
  and      due: expected "-", got "e"
  and      end: expected "", got "one space too many"
  clause holds-serve: pickleball 2021 4.B.4 (read)
  clause late-side-stands: a setting of the format (open)
  because Nobody lost the rally.`
	if got := f.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	f = Failure{ID: "c0002", Title: "none left", Format: "f", Outcome: Wrong, Step: 1, Event: 1, Entry: "tA", What: "refused", Expected: "none-left"}
	if got := f.String(); !strings.Contains(got, "expected none-left\n  got      (nothing)") {
		t.Errorf("got\n%s", got)
	}
	f = Failure{ID: "c0003", Title: "dead", Format: "f", Outcome: Crashed, Got: "it ended"}
	if got := f.String(); !strings.Contains(got, "format f, crashed: it ended") {
		t.Errorf("got\n%s", got)
	}
}

// record is a test that only notes what it is told.
type record struct {
	runs, failed int
	names        map[string]bool
}

func (*record) Helper()                 {}
func (r *record) Errorf(string, ...any) { r.failed++ }
func (r *record) Run(name string, test func(*record)) bool {
	r.runs++
	r.names[name] = true
	test(r)
	return true
}

func TestTestReportsEveryRun(t *testing.T) {
	r := record{names: map[string]bool{}}
	Test(&r, echo{})
	for _, name := range []string{"plumbing", "c0139", "sideout-doubles-11@2026", "mirrored/sideout-doubles-11@2026"} {
		require.True(t, r.names[name], name)
	}
	features, cases := 0, 0
	for _, f := range loadAll(t) {
		features++
		cases += len(f.Cases)
	}
	require.Equal(t, r.runs-features-cases, r.failed, "echo fails all")
	require.Greater(t, r.failed, 50_000)
}

// Failures of a case are told once, with where else it failed.
func TestFailuresAreGroupedByCase(t *testing.T) {
	wrong := func(id, formatID, got string) *Failure {
		return &Failure{ID: id, Title: "t", Format: formatID, Outcome: Wrong, What: "line", Expected: "L1 due=-", Got: got}
	}
	r := Report{Failures: []*Failure{wrong("c0001", "f@2024", "L1 due=e"), wrong("c0001/mirrored", "f@2024", "L1 due=e"), wrong("c0001", "f@2025", "L1 due=e"),
		wrong("c0001", "g@2025", "L1 due=e"), wrong("c0002", "f@2024", "L1 due=p")}}
	texts, more := r.FailuresByCase(1)
	require.Len(t, texts, 1)
	require.Equal(t, 1, more)
	require.Contains(t, texts[0], "c0001: t\n  format f@2024 and 2 more (2025), mirrored in 1, at the start: line\n")
	require.Contains(t, r.byField(), "due differs first in 2 case(s), 5 run(s)\n")
}

// What is written item by item is the report.
func TestReportAsJSON(t *testing.T) {
	files := loadAll(t)
	r, err := RunAll(echo{}, files[:2])
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, r.WriteJSON(&b))
	require.Equal(t, len(r.Failures)+3, strings.Count(b.String(), "\n"))
	var value any
	require.NoError(t, json.Unmarshal(b.Bytes(), &value))
	require.NoError(t, schemaOf(t, "report.json").Validate(value))
	var back Report
	require.NoError(t, json.Unmarshal(b.Bytes(), &back))
	require.Equal(t, r.Failures, back.Failures)
	require.Equal(t, r.Totals, back.Totals)
	require.Equal(t, r.Stale, back.Stale)
}

func TestSelection(t *testing.T) {
	files := loadAll(t)
	profiles, err := Profiles()
	require.NoError(t, err)
	for _, tt := range []struct {
		name string
		only Selection
		runs int // or
		says string
	}{
		{"one case in one format", Selection{Cases: []string{"c0005"}, Formats: []string{"sideout-doubles-11-of3@2026"}}, 5, ""},
		{"as written", Selection{Cases: []string{"c0005"}, Formats: []string{"sideout-doubles-11-of3@2026"}, Written: true}, 1, ""},
		{"one derivation", Selection{Cases: []string{"c0005/mirrored"}, Formats: []string{"sideout-doubles-11-of3@2026"}}, 1, ""},
		{"one feature in one format", Selection{Features: []string{"plumbing"}, Formats: []string{"rally-singles-11@2026"}, Written: true}, 1, ""},
		{"no such feature", Selection{Features: []string{"chess"}}, 0, `unknown feature "chess"`},
		{"no such case", Selection{Cases: []string{"c9999"}}, 0, `no case "c9999"`},
		{"no such derivation", Selection{Cases: []string{"c0005/turned"}}, 0, `no case "c0005/turned"`},
		{"no such format", Selection{Formats: []string{"chess@2026"}}, 0, `no case is played in format "chess@2026"`},
		{"nothing left", Selection{Cases: []string{"c0005"}, Formats: []string{"rally-doubles-11@2026"}}, 0, "nothing to play: cases c0005; formats rally-doubles-11@2026"},
		{"another feature", Selection{Features: []string{"medical"}, Cases: []string{"c0005"}}, 0, "nothing to play: features medical; cases c0005"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			all, err := jobs(files, profiles, tt.only)
			if tt.says != "" {
				require.ErrorContains(t, err, tt.says)
				return
			}
			require.NoError(t, err)
			require.Len(t, all, tt.runs)
		})
	}
	read, err := jobs(files, profiles, Selection{Marks: []format.Mark{format.Read}})
	require.NoError(t, err)
	all, err := jobs(files, profiles, Selection{})
	require.NoError(t, err)
	require.NotEmpty(t, read)
	require.Less(t, len(read), len(all))
	for i := range read {
		require.Equal(t, format.Read, read[i].c.Mark(read[i].parsed), "%s in %s", read[i].c.ID, read[i].format)
	}
}

// After the limit nothing is played, and the report says so.
func TestLimit(t *testing.T) {
	r, err := Check(everyFormat{InProcess(new(Builtin), Identity{})}, Options{Limit: 1, Only: Selection{Cases: []string{"c0005"}}})
	require.NoError(t, err)
	require.Equal(t, NotConformant, r.Verdict)
	for _, f := range r.Failures {
		require.Equal(t, NotReached, f.Outcome)
		require.Contains(t, f.Got, "limit of 1ns")
	}
}
