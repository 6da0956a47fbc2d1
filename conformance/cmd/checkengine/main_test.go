package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
)

// This test program plays all parts: the tests, the runner in a process of its
// own, so that its memory can be measured, and the engines.
func TestMain(m *testing.M) {
	if name := os.Getenv("EVENCOURT_HOSTILE"); name != "" && len(os.Args) > 1 && os.Args[1] == "engine" {
		if len(os.Args) > 2 {
			name = os.Args[2]
		}
		playHostile(name)
		return
	}
	if file := os.Getenv("EVENCOURT_RUNNER"); file != "" {
		code := run(os.Args[1:], os.Stdout, os.Stderr)
		if err := os.WriteFile(file, []byte(strconv.Itoa(peak())), 0o666); err != nil {
			panic(err)
		}
		os.Exit(code)
	}
	os.Exit(m.Run())
}

type result struct {
	code           int
	stdout, stderr string
	report         *conformance.Report
	megabytes      int
}

// peak is the most memory that this process has had, in megabytes; 0 where the
// system does not tell. What a parent is told of a child counts the parent too.
func peak() int {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	_, rest, _ := strings.Cut(string(status), "VmHWM:")
	kilobytes, _ := strconv.Atoi(strings.Fields(rest + " 0")[0])
	return kilobytes / 1024
}

// runner runs the runner in its own process against a hostile engine.
func runner(t *testing.T, engine string, flags ...string) result {
	t.Helper()
	dir := t.TempDir()
	file, memory := filepath.Join(dir, "report.json"), filepath.Join(dir, "memory")
	args := append(append([]string{"-json", file}, flags...), "--", os.Args[0], "engine")
	cmd := exec.Command(os.Args[0], args...)
	cmd.Env = append(os.Environ(), "EVENCOURT_RUNNER="+memory, "EVENCOURT_HOSTILE="+engine)
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	err := cmd.Run()
	if _, exited := err.(*exec.ExitError); err != nil && !exited {
		t.Fatal(err)
	}
	r := result{code: cmd.ProcessState.ExitCode(), stdout: stdout.String(), stderr: stderr.String()}
	text, err := os.ReadFile(memory)
	require.NoError(t, err)
	r.megabytes, err = strconv.Atoi(string(text))
	require.NoError(t, err)
	if data, err := os.ReadFile(file); err == nil {
		r.report = new(conformance.Report)
		require.NoError(t, json.Unmarshal(data, r.report))
	}
	return r
}

// Every hostile engine gets a failing report of the right kind, and the runner
// stays small.
func TestHostileEngines(t *testing.T) {
	const never = conformance.Outcome("")
	// The core profile shows what an engine does as well as the whole corpus.
	// What the report of a whole failed run takes, one of them shows; in
	// .ci/deep all that play for long, and what is derived too.
	core := []string{"-written", "-profile", "core"}
	whole := []string{"-written"}
	switch {
	case os.Getenv("EVENCOURT_DEEP") != "":
		core, whole = nil, nil
	case testing.Short():
		whole = core
	}
	for i, test := range []struct {
		engine  string
		code    int
		outcome conformance.Outcome // of every failure but those not reached
		says    string              // in the first failure, or on standard error
		flags   []string
	}{
		{"accepts all", 1, conformance.Wrong, "", core},
		{"refuses all", 1, conformance.Wrong, "refused", core},
		{"echoes the events", 1, conformance.Wrong, "", core},
		{"right score, wrong places", 1, conformance.Wrong, "", core},
		{"repeats the last answer", 1, conformance.Unreadable, "the answer is to request", core},
		{"noise after the start", 1, conformance.Crashed, "exit status 0; it says: \"all tests passed\"", core},
		{"crashes at case 30", 1, conformance.Crashed, "exit status 2", core},
		{"hangs", 1, conformance.TimedOut, "no answer within 8s", append(slices.Clone(core), "-timeout", "8s", "-restarts", "1")},
		{"floods its output", 1, conformance.Unreadable, "the answer is to request 1", core},
		{"floods stderr", 1, conformance.Crashed, "exit status 3", []string{"-restarts", "0", "-written"}},
		{"answers out of order", 1, conformance.Unreadable, "the answer is to request", core},
		{"invalid UTF-8", 1, conformance.Unreadable, "not UTF-8", []string{"-profile", "sideout-doubles"}},
		{"a line of 100 MB", 1, conformance.Unreadable, "longer than 1048576 bytes", core},
		{"half an answer", 1, conformance.Unreadable, "not readable", core},
		{"deep nesting", 1, conformance.Unreadable, "not readable", core},
		{"one answer too few", 1, conformance.Unreadable, "1 answers to a start and", []string{"-profile", "plumbing"}},
		{"errs on everything", 1, conformance.Errored, "no", core},
		{"errs at length", 1, conformance.Errored, "woe woe", whole},
		{"names fields in capitals", 1, conformance.Unreadable, `field "LINE" is "line" here`, []string{"-written", "-profile", "plumbing"}},
		{"draws on the screen", 1, never, "", []string{"-written", "-profile", "plumbing"}},
		{"skips everything", 1, never, "", core},
		{"claims nothing", 1, never, "", core},
		{"claims what was not offered", 2, never, "claims format chess", nil},
		{"echoes its input", 2, never, "does not answer start", nil},
		{"noise on stderr and exit 0", 2, never, `exit status 0; it says: "all tests passed"`, nil},
		{"hangs at once", 2, never, "no answer within 100ms", []string{"-timeout", "100ms"}},
		{"another version", 2, never, "it speaks version 2 of the protocol, this runner version 1", nil},
	} {
		t.Run(test.engine, func(t *testing.T) {
			if testing.Short() && i%2 == 1 {
				t.Skip("every other of them")
			}
			t.Parallel()
			r := runner(t, test.engine, append([]string{"-quiet"}, test.flags...)...)
			require.Equal(t, test.code, r.code, r.stderr)
			require.Less(t, r.megabytes, megabytes, "memory of the runner")
			require.NotContains(t, r.stdout+r.stderr, "\x1b")
			require.NotContains(t, r.stdout, "\nconformant, claiming everything")
			if test.code == couldNotRun {
				require.Nil(t, r.report)
				require.Equal(t, 1, strings.Count(r.stderr, "\n"), "one line: %s", r.stderr)
				require.Contains(t, r.stderr, test.says)
				return
			}
			require.NotNil(t, r.report)
			require.NotEqual(t, conformance.Conformant, r.report.Verdict)
			if test.outcome == never {
				require.Empty(t, r.report.Failures)
				return
			}
			require.Equal(t, conformance.NotConformant, r.report.Verdict)
			require.NotEmpty(t, r.report.Failures)
			for _, f := range r.report.Failures {
				if f.Outcome != test.outcome && f.Outcome != conformance.NotReached {
					t.Fatalf("%s", f.String())
				}
			}
			first := r.report.Failures[0]
			require.Equal(t, test.outcome, first.Outcome)
			require.Contains(t, first.String(), test.says)
			require.Contains(t, r.stdout, first.ID+": "+first.Title, "the failure is printed")
			require.Contains(t, r.stdout, "clause ", "and what decides it")
		})
	}
}

func TestHonestEnginePasses(t *testing.T) {
	for _, engine := range []string{"honest", "unknown fields"} {
		r := runner(t, engine, "-profile", "plumbing,rally-2025")
		require.Equal(t, 0, r.code, r.stdout)
		require.Equal(t, conformance.Conformant, r.report.Verdict)
		require.Contains(t, r.stderr, " runs, 0 failed", "progress")
	}
	r := runner(t, "unknown fields", "-strict", "-quiet")
	require.Equal(t, couldNotRun, r.code)
	require.Contains(t, r.stderr, `unknown field "mood"`)
}

// A manifest that a run writes foresees that run; an engine that does better
// then fails until the manifest is put right.
func TestExpectedFailures(t *testing.T) {
	manifest := filepath.Join(t.TempDir(), "expected.json")
	r := runner(t, "fails one case", "-quiet", "-profile", "rally-2025", "-write-expected", manifest)
	require.Equal(t, 1, r.code)
	require.Equal(t, conformance.NotConformant, r.report.Verdict)
	failed := len(r.report.Failures)
	require.Positive(t, failed)

	r = runner(t, "fails one case", "-quiet", "-profile", "rally-2025", "-expected", manifest)
	require.Equal(t, 1, r.code, "partial is not conformant")
	require.Equal(t, conformance.Partial, r.report.Verdict, r.stdout)
	require.Len(t, r.report.Failures, failed)
	r = runner(t, "fails one case", "-quiet", "-profile", "rally-2025", "-expected", manifest, "-as-expected")
	require.Equal(t, 0, r.code)

	r = runner(t, "honest", "-quiet", "-profile", "rally-2025", "-feature", "sideout-doubles,rally-singles", "-expected", manifest, "-as-expected")
	require.Equal(t, 0, r.code, "what was not to be played is not stale")
	require.Contains(t, r.stdout, "of a selection alone: features sideout-doubles, rally-singles\n")

	r = runner(t, "honest", "-quiet", "-profile", "rally-2025", "-expected", manifest, "-as-expected")
	require.Equal(t, 1, r.code, "an unexpected pass fails")
	require.Equal(t, conformance.NotConformant, r.report.Verdict)
	require.NotEmpty(t, r.report.Stale)
	require.Contains(t, r.stdout, "unexpected: case ")
}

func TestJUnit(t *testing.T) {
	file := filepath.Join(t.TempDir(), "report.xml")
	r := runner(t, "fails one case", "-quiet", "-profile", "rally-2025", "-junit", file)
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	var suites struct {
		Suites []struct {
			Tests    int `xml:"tests,attr"`
			Failures int `xml:"failures,attr"`
			Cases    []struct {
				Failure *struct {
					Text string `xml:",chardata"`
				} `xml:"failure"`
			} `xml:"testcase"`
		} `xml:"testsuite"`
	}
	require.NoError(t, xml.Unmarshal(data, &suites))
	tests, failures := 0, 0
	for _, s := range suites.Suites {
		require.Len(t, s.Cases, s.Tests)
		tests += s.Tests
		for _, c := range s.Cases {
			if c.Failure != nil {
				require.Contains(t, c.Failure.Text, "clause ")
				failures++
			}
		}
	}
	require.Equal(t, r.report.Profiles[0].Runs, tests)
	require.Equal(t, len(r.report.Failures), failures)
}

// Whatever is wrong with what the runner is given, it says so in one line and
// exits with 2.
func TestBadInput(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
		return path
	}
	wrongSchema := filepath.Dir(write("wrong/plumbing.json", `{"feature":"plumbing","about":"x","cases":[{"id":"c0001","tittle":"x"}]}`))
	faulty := filepath.Dir(write("faulty/plumbing.json", `{"feature":"chess","about":"x","cases":[]}`))
	empty := t.TempDir()
	engine := []string{"--", os.Args[0], "engine"}
	t.Setenv("EVENCOURT_HOSTILE", "honest")
	for _, test := range []struct {
		name string
		args []string
		says string
	}{
		{"nothing", nil, "want 1 command(s) after --, not 0"},
		{"an empty command", []string{"--"}, "want 1 command(s)"},
		{"an unknown flag", append([]string{"-what"}, engine...), "flag provided but not defined: -what"},
		{"an unknown profile", append([]string{"-profile", "chess"}, engine...), `unknown profile "chess", want plumbing, `},
		{"an unknown feature", append([]string{"-feature", "chess"}, engine...), `unknown feature "chess"`},
		{"a dead command", []string{"--", "/no/such/engine"}, "cannot start /no/such/engine"},
		{"a folder that is missing", append([]string{"-cases", filepath.Join(dir, "none")}, engine...), "no case files in"},
		{"a folder without cases", append([]string{"-cases", empty}, engine...), "no case files in"},
		{"cases of another schema", append([]string{"-cases", wrongSchema}, engine...), `case c0001: unknown field "tittle"`},
		{"cases that the linter refuses", append([]string{"-cases", faulty}, engine...), "feature-name"},
		{"a manifest that is missing", append([]string{"-expected", filepath.Join(dir, "none.json")}, engine...), "no such file"},
		{"a manifest that is none", append([]string{"-expected", write("torn.json", `{"expected":[`)}, engine...), "manifest of expected failures: unexpected EOF"},
		{"a manifest without reasons", append([]string{"-expected", write("mute.json", `{"corpus":"1","engine":"e","expected":[{"case":"c0001","outcome":"wrong","reason":""}]}`)}, engine...), "entry 1: field reason"},
		{"a manifest of unknown cases", append([]string{"-expected", write("old.json", `{"corpus":"1","engine":"e","expected":[{"case":"x","outcome":"wrong","reason":"r"}]}`)}, engine...), `no case "x"`},
		{"a manifest of unknown outcomes", append([]string{"-expected", write("odd.json", `{"corpus":"1","engine":"e","expected":[{"case":"c0001","outcome":"odd","reason":"r"}]}`)}, engine...), "field outcome"},
		{"a case that is not there", append([]string{"-case", "c9999"}, engine...), `no case "c9999" in corpus`},
		{"a format that no case is in", append([]string{"-format", "chess@2026"}, engine...), `no case is played in format "chess@2026"`},
		{"an unknown mark", append([]string{"-mark", "certain"}, engine...), "-mark: "},
		{"a filter of cases with -digests", append([]string{"-digests", "-case", "c0005", "-mark", "read"}, engine...), "-case -mark: not with -diff or -digests"},
		{"no time at all", append([]string{"-limit", "0s"}, engine...), "-timeout and -limit must be above 0"},
		{"a report nowhere", append([]string{"-json", filepath.Join(dir, "none", "r.json")}, engine...), "no such folder"},
		{"a difference without format", append(append([]string{"-diff"}, engine...), engine...), "-diff needs -format"},
		{"a difference of one", append([]string{"-diff", "-format", "rally-singles-7@2026"}, engine...), "want 2 command(s) after --, not 1"},
		{"a difference in no format", append(append([]string{"-diff", "-format", "chess"}, engine...), engine...), "chess"},
		{"an alphabet out of order", append(append([]string{"-diff", "-format", "rally-singles-7@2026", "-alphabet", "B A"}, engine...), engine...), "bytewise order"},
	} {
		t.Run(test.name, func(t *testing.T) {
			var stdout, stderr bytes.Buffer
			code := run(append([]string{"-quiet"}, test.args...), &stdout, &stderr)
			require.Equal(t, couldNotRun, code, stdout.String())
			require.Contains(t, stderr.String(), test.says)
			require.Equal(t, 1, strings.Count(stderr.String(), "\n"), stderr.String())
			require.Empty(t, stdout.String())
		})
	}
}

func TestListAndHelp(t *testing.T) {
	var stdout, stderr bytes.Buffer
	require.Zero(t, run([]string{"-list"}, &stdout, &stderr))
	require.Contains(t, stdout.String(), "sideout-doubles ")
	stdout.Reset()
	require.Zero(t, run([]string{"-help"}, &stdout, &stderr))
	require.Contains(t, stdout.String(), "-write-expected")
	require.Empty(t, stderr.String())
}

// The shortest sequence is printed as a worked example, with the case and the
// clause that decide.
func TestDiffPrintsAWorkedExample(t *testing.T) {
	var stdout, stderr bytes.Buffer
	t.Setenv("EVENCOURT_HOSTILE", "honest")
	code := run([]string{"-quiet", "-diff", "-format", "rally-singles-7@2026", "--", os.Args[0], "engine", "--", os.Args[0], "engine"}, &stdout, &stderr)
	require.Zero(t, code, stderr.String())
	require.Contains(t, stdout.String(), "no difference in any sequence of up to 64")
}

// Whatever the runner does, it asks as the schema says.
func TestRequestsAreBySchema(t *testing.T) {
	if testing.Short() {
		t.Skip("computes digests")
	}
	text, err := os.ReadFile("../../schema/protocol.json")
	require.NoError(t, err)
	schemas := jsonschema.NewCompiler()
	require.NoError(t, schemas.AddResource("https://evencourt.invalid/schema/protocol.json", bytes.NewReader(text)))
	t.Setenv("EVENCOURT_HOSTILE", "honest")
	asked := map[string]int{}
	for _, flags := range []string{"-profile plumbing", "-case c2430", "-diff -format rally-singles-7@2026 -depth 3", "-digests -format rally-singles-7@2026"} {
		file := filepath.Join(t.TempDir(), "messages")
		args := append(strings.Fields("-quiet -record "+file+" "+flags), "--", os.Args[0], "engine")
		if strings.HasPrefix(flags, "-diff") {
			args = append(args, "--", os.Args[0], "engine")
		}
		require.Zero(t, run(args, io.Discard, os.Stderr), flags)
		record, err := os.ReadFile(file)
		require.NoError(t, err)
		for line := range bytes.Lines(record) {
			var message struct{ To map[string]any }
			require.NoError(t, json.Unmarshal(line, &message))
			if message.To == nil {
				continue
			}
			cmd := message.To["cmd"].(string)
			if asked[cmd]++; asked[cmd] > 1000 {
				continue
			}
			schema, err := schemas.Compile("https://evencourt.invalid/schema/protocol.json#/$defs/" + cmd)
			require.NoError(t, err)
			require.NoError(t, schema.Validate(message.To), "%s: %s", flags, line)
		}
	}
	for _, cmd := range []string{"start", "profile", "case", "result", "tree", "stop"} {
		require.Positive(t, asked[cmd], cmd)
	}
}

// Who plays cases needs no other command to be compared.
func TestCaseAloneWillDo(t *testing.T) {
	t.Setenv("EVENCOURT_HOSTILE", "honest")
	alone := []string{"--", os.Args[0], "engine", "knows the command case alone"}
	var stdout, stderr bytes.Buffer
	code := run(append([]string{"-diff", "-format", "rally-singles-7@2026"}, append(alone, "--", os.Args[0], "engine", "turns the call round")...), &stdout, &stderr)
	require.Equal(t, notConformant, code, stderr.String())
	require.Contains(t, stdout.String(), "part after 1 event(s)")
	if testing.Short() {
		t.Skip("computes digests")
	}
	code = run(append([]string{"-digests", "-format", "rally-singles-7@2026"}, alone...), &stdout, &stderr)
	require.Zero(t, code, stderr.String())
	require.Contains(t, stdout.String(), "2 rows agree, 0 differ, 0 not played")
}

// What an engine calls is compared too, where both answer cases.
func TestDiffHearsTheCall(t *testing.T) {
	t.Setenv("EVENCOURT_HOSTILE", "honest")
	var stdout, stderr bytes.Buffer
	code := run([]string{"-quiet", "-diff", "-format", "rally-singles-7@2026", "--", os.Args[0], "engine", "--", os.Args[0], "engine", "turns the call round"}, &stdout, &stderr)
	require.Equal(t, notConformant, code, stderr.String())
	require.Contains(t, stdout.String(), "part after 1 event(s)")
	require.Contains(t, stdout.String(), "| effects=point call=1-0\n")
	require.Contains(t, stdout.String(), "| effects=point call=0-1\n")
	require.Contains(t, stdout.String(), "the corpus decides between them:")
}

// Of the cases that decide, the most direct comes first: the field in which
// the engines part, after the fewest events, in the format that was asked for.
func TestDiffNamesTheMostDirectCase(t *testing.T) {
	if testing.Short() {
		t.Skip("compares two engines to the end")
	}
	t.Setenv("EVENCOURT_HOSTILE", "honest")
	for _, test := range []struct{ name, format, first string }{
		{"in this format", "rally-singles-7@2026", "c0202 rally-singles-7: "},
		{"in another edition where this one has none", "sideout-singles-11@1999", "c0156 sideout-singles-11: "},
	} {
		t.Run(test.name, func(t *testing.T) {
			var stdout, stderr bytes.Buffer
			code := run([]string{"-quiet", "-diff", "-format", test.format, "--",
				os.Args[0], "engine", "--", os.Args[0], "engine", "a lead of one wins"}, &stdout, &stderr)
			require.Equal(t, notConformant, code, stderr.String())
			_, decides, _ := strings.Cut(stdout.String(), "the corpus decides between them:\n  ")
			require.True(t, strings.HasPrefix(decides, test.first), decides)
			require.Contains(t, decides, "hostile (first) has it right")
		})
	}
}
