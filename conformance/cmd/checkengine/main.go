// Command checkengine checks an engine in any language against the corpus,
// over the protocol of conformance/PROTOCOL.md:
//
//	go run ./conformance/cmd/checkengine -- node engine.js
//
// It exits with 0 if the engine is conformant, 1 if it is partial or not, and
// 2 if it could not be run. With -diff it prints the shortest sequence of
// events on which two engines differ:
//
//	go run ./conformance/cmd/checkengine -diff -format sideout-doubles-11@2026 -- node a.js -- node b.js
//
// With -digests it computes the digests of an engine and compares them with
// the published table.
package main

import (
	"bufio"
	"cmp"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/protocol"
	"github.com/evencourt/evencourt/format"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// memory is what the runner asks to stay within, whatever an engine sends.
const memory = 48 << 20

// The exit codes.
const (
	conformant    = 0
	notConformant = 1
	couldNotRun   = 2
)

// settings are what the command line says.
type settings struct {
	profiles, features        string
	cases                     string
	timeout                   time.Duration
	strict, quiet, list       bool
	most, restarts            int
	json, junit, record       string
	only, marks               string
	written                   bool
	limit                     time.Duration
	expected, writeExpected   string
	asExpected, diff, digests bool
	format, alphabet          string
	depth                     int
	stdout, stderr            io.Writer
	given                     []string // the flags as given, for the report
}

func run(args []string, stdout, stderr io.Writer) int {
	debug.SetMemoryLimit(memory)
	out := bufio.NewWriter(stdout)
	s := &settings{stdout: out, stderr: stderr}
	code, err := s.run(args)
	if err = cmp.Or(err, out.Flush()); err != nil {
		fmt.Fprintf(stderr, "checkengine: %s\n", strings.ReplaceAll(strings.TrimPrefix(err.Error(), "conformance: "), "\n", " "))
		return couldNotRun
	}
	return code
}

const usage = `checkengine [flags] -- COMMAND ARGS...          check an engine against the corpus
checkengine -digests [flags] -- COMMAND ARGS... compare its digests with the published table
checkengine -diff [flags] -- A... -- B...       shortest sequence on which two engines differ
checkengine -list                               list the profiles
`

func (s *settings) run(args []string) (int, error) {
	f := flag.NewFlagSet("checkengine", flag.ContinueOnError)
	f.SetOutput(io.Discard)
	f.StringVar(&s.profiles, "profile", "", "profiles to check, with commas between; default all that the engine claims")
	f.StringVar(&s.features, "feature", "", "features to check, with commas between; default all")
	f.StringVar(&s.only, "case", "", "cases to check, such as c0139 or c0139/mirrored, with commas between")
	f.StringVar(&s.marks, "mark", "", "check only where the rules are known so well: read, paraphrase, paraphrase-low, common-practice, derived, memory, open")
	f.BoolVar(&s.written, "written", false, "only the cases as they are written, none derived")
	f.DurationVar(&s.limit, "limit", time.Hour, "time limit for all cases together")
	f.StringVar(&s.cases, "cases", "", "folder of case files instead of the embedded corpus")
	f.DurationVar(&s.timeout, "timeout", 5*time.Second, "time limit for each case")
	f.IntVar(&s.restarts, "restarts", 10, "how often an engine that breaks off is started again")
	f.BoolVar(&s.strict, "strict", false, "a field in an answer that the protocol does not know is an error")
	f.BoolVar(&s.quiet, "quiet", false, "no progress on standard error")
	f.BoolVar(&s.list, "list", false, "list the profiles and end")
	f.IntVar(&s.most, "failures", 20, "most failures to print; all of them stand in the reports")
	f.StringVar(&s.json, "json", "", "write a report as JSON to this file")
	f.StringVar(&s.junit, "junit", "", "write a report as JUnit XML to this file")
	f.StringVar(&s.record, "record", "", "write every message to this file")
	f.StringVar(&s.expected, "expected", "", "manifest of expected failures")
	f.StringVar(&s.writeExpected, "write-expected", "", "write the manifest that foresees what this run finds")
	f.BoolVar(&s.asExpected, "as-expected", false, "with -expected: exit with 0 if all went as the manifest says, even if partial")
	f.BoolVar(&s.diff, "diff", false, "compare two engines with each other")
	f.BoolVar(&s.digests, "digests", false, "compare digests with the published table")
	f.StringVar(&s.format, "format", "", "format ids, with commas between; default all that the engine claims")
	f.StringVar(&s.alphabet, "alphabet", "A B", "with -diff: the events to try, with spaces between")
	f.IntVar(&s.depth, "depth", 64, "with -diff: longest sequence")
	before, commands := split(args)
	s.given = before
	if err := f.Parse(before); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			fmt.Fprint(s.stdout, usage)
			f.SetOutput(s.stdout)
			f.PrintDefaults()
			return conformant, nil
		}
		return 0, err
	}
	switch {
	case s.timeout <= 0 || s.limit <= 0:
		return 0, errors.New("-timeout and -limit must be above 0")
	case s.restarts < 0 || s.most < 0 || s.depth < 0:
		return 0, errors.New("-restarts, -failures and -depth must be 0 or more")
	}
	// "checkengine COMMAND" without -- is understood too.
	if rest := f.Args(); len(rest) > 0 {
		if len(commands) > 0 && !s.diff {
			return 0, fmt.Errorf("%q stands before --; flags begin with -", rest[0])
		}
		commands = append([][]string{rest}, commands...)
		s.given = before[:len(before)-len(rest)]
	}
	if s.list {
		return conformant, s.printProfiles()
	}
	if s.diff || s.digests {
		// What would be passed over in silence is refused.
		var idle []string
		f.Visit(func(set *flag.Flag) {
			if !slices.Contains([]string{"diff", "digests", "format", "alphabet", "depth", "timeout", "restarts", "strict", "quiet", "record"}, set.Name) {
				idle = append(idle, "-"+set.Name)
			}
		})
		if len(idle) > 0 {
			return 0, fmt.Errorf("%s: not with -diff or -digests", strings.Join(idle, " "))
		}
	}
	want := 1
	if s.diff {
		want = 2
	}
	if len(commands) != want || slices.ContainsFunc(commands, func(c []string) bool { return len(c) == 0 }) {
		return 0, fmt.Errorf("want %d command(s) after --, not %d; -help shows how", want, len(commands))
	}
	switch {
	case s.diff:
		return s.runDiff(commands[0], commands[1])
	case s.digests:
		return s.runDigests(commands[0])
	}
	return s.check(commands[0])
}

// split takes the flags and the commands apart, at every --.
func split(args []string) (flags []string, commands [][]string) {
	flags = args
	for i, a := range args {
		if a != "--" {
			continue
		}
		if commands == nil {
			flags = args[:i]
		}
		commands = append(commands, nil)
		for _, b := range args[i+1:] {
			if b == "--" {
				break
			}
			commands[len(commands)-1] = append(commands[len(commands)-1], b)
		}
	}
	return flags, commands
}

func (s *settings) printProfiles() error {
	profiles, err := conformance.Profiles()
	if err != nil {
		return err
	}
	for _, p := range profiles {
		fmt.Fprintf(s.stdout, "%-18s %s\n", p.Name, p.About)
	}
	return nil
}

// load reads what is to be checked.
func (s *settings) load() (o conformance.Options, err error) {
	if s.cases == "" {
		o.Files, err = conformance.Load()
	} else if o.Files, err = conformance.Read(os.DirFS(s.cases)); err == nil && len(o.Files) == 0 {
		err = fmt.Errorf("no case files in %s", s.cases)
	}
	if err != nil {
		return o, err
	}
	if s.cases != "" {
		findings, err := conformance.Lint(o.Files)
		if err != nil {
			return o, err
		}
		if len(findings) > 0 {
			var all strings.Builder
			for _, f := range findings {
				fmt.Fprintf(&all, "; %s", f)
			}
			return o, fmt.Errorf("%d faults in the case files%s", len(findings), all.String())
		}
	}
	o.Limit, o.Only.Written = s.limit, s.written
	o.Only.Features, o.Only.Cases, o.Only.Formats = listed(s.features), listed(s.only), listed(s.format)
	for _, name := range listed(s.marks) {
		var m format.Mark
		if err := m.UnmarshalText([]byte(name)); err != nil {
			return o, fmt.Errorf("-mark: %w", err)
		}
		o.Only.Marks = append(o.Only.Marks, m)
	}
	profiles, err := conformance.Profiles()
	if err != nil {
		return o, err
	}
	if o.Profiles, err = conformance.Choose(profiles, listed(s.profiles)); err != nil {
		return o, err
	}
	if s.expected != "" {
		data, err := os.ReadFile(s.expected)
		if err != nil {
			return o, err
		}
		if o.Expected, err = conformance.ReadExpected(data); err != nil {
			return o, fmt.Errorf("%s: %w", s.expected, err)
		}
	}
	return o, nil
}

// listed are the words of a flag, none if it was not given.
func listed(flag string) []string {
	if flag == "" {
		return nil
	}
	return strings.Split(flag, ",")
}

func (s *settings) dial(command []string) (*protocol.Client, func() error, error) {
	o := protocol.Options{Timeout: s.timeout, Restarts: s.restarts, Strict: s.strict}
	if s.restarts == 0 {
		o.Restarts = -1 // there 0 is the default
	}
	closeRecord := func() error { return nil }
	if s.record != "" {
		f, err := os.Create(s.record)
		if err != nil {
			return nil, nil, err
		}
		o.Record, closeRecord = f, f.Close
	}
	c, err := protocol.Dial(command, o)
	if err != nil {
		_ = closeRecord()
		return nil, nil, err
	}
	return c, func() error { c.Close(); return closeRecord() }, nil
}

// check plays the corpus.
func (s *settings) check(command []string) (int, error) {
	o, err := s.load()
	if err != nil {
		return 0, err
	}
	for _, path := range []string{s.json, s.junit, s.writeExpected} {
		// What cannot be written is better known before a long run.
		if path == "" {
			continue
		}
		if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
			return 0, fmt.Errorf("cannot write %s: no such folder", path)
		}
	}
	client, hangUp, err := s.dial(command)
	if err != nil {
		return 0, err
	}
	if !s.quiet {
		o.Progress = s.progress()
	}
	report, err := conformance.Check(client, o)
	if errClose := hangUp(); err == nil {
		err = errClose
	}
	for _, process := range client.Left() {
		fmt.Fprintf(s.stderr, "the engine left a process behind: %s\n", process)
	}
	if err != nil {
		return 0, err
	}
	report.Command = strings.Join(append(append(append([]string{"checkengine"}, s.given...), "--"), command...), " ")
	s.print(report)
	if err := s.write(report); err != nil {
		return 0, err
	}
	if report.Verdict == conformance.Conformant || s.asExpected && o.Expected != nil && report.AsForeseen() {
		return conformant, nil
	}
	return notConformant, nil
}

// progress writes a line a second, and one at the end.
func (s *settings) progress() func(done, of, failed int) {
	var last time.Time
	return func(done, of, failed int) {
		if now := time.Now(); done == of || now.Sub(last) >= time.Second {
			last = now
			fmt.Fprintf(s.stderr, "%d of %d runs, %d failed\n", done, of, failed)
		}
	}
}

func (s *settings) print(r *conformance.Report) {
	failures, more := r.FailuresByCase(s.most)
	for _, text := range failures {
		fmt.Fprintf(s.stdout, "%s\n\n", text)
	}
	if more > 0 {
		fmt.Fprintf(s.stdout, "(%d more cases failed: -failures shows more, and all stand in the reports)\n\n", more)
	}
	skips, more := r.SkipsByCase(s.most)
	for _, line := range skips {
		fmt.Fprintln(s.stdout, line)
	}
	if more > 0 {
		fmt.Fprintf(s.stdout, "(%d more cases were skipped)\n", more)
	}
	fmt.Fprint(s.stdout, r.Summary())
}

func (s *settings) write(r *conformance.Report) error {
	if s.json != "" {
		if err := writeFile(s.json, r.WriteJSON); err != nil {
			return err
		}
	}
	if s.writeExpected != "" {
		text, err := r.Manifest()
		if err != nil {
			return err
		}
		if err := os.WriteFile(s.writeExpected, text, 0o666); err != nil {
			return err
		}
	}
	if s.junit == "" {
		return nil
	}
	return writeFile(s.junit, r.WriteJUnit)
}

func writeFile(path string, write func(io.Writer) error) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	return errors.Join(write(f), f.Close())
}
