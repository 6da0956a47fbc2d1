// Resultcheck reads results and logs of matches and says what cannot be so.
//
//	go run ./examples/resultcheck [options] FILE…
//
// A FILE is a table (CSV with a header; comma, semicolon or tab; columns in
// any order, listed in README.md; a header with an unknown one is answered with
// the list), JSON Lines of finals or logs, or a record of one match; plain or
// gzip; "-" is standard input. Every finding has a stable code and key, a place
// and a sentence. The input is never edited: proposals go to a new column of
// the file that -out names.
//
// Exit code: 0 nothing found (notes aside), 1 something found, 2 something could
// not be read or written.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"runtime/debug"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
	"github.com/evencourt/evencourt/rally/words"
)

func main() {
	if debug.SetMemoryLimit(-1) == math.MaxInt64 { // nobody said otherwise
		debug.SetMemoryLimit(memory)
	}
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// memory is what the collector tries to stay below: explaining logs leaves a lot
// behind.
const memory = 34 << 20

// options are what the command line says.
type options struct {
	format, report, accept, out, repaired, explain, columns, dates string
	propose                                                        bool
	language                                                       *words.Language
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	var o options
	var tag string
	ready := func() (err error) {
		o.language, err = texts.Language(tag)
		return err
	}
	return program.Run(&cli.Command{
		Name:      "resultcheck",
		Usage:     "says what cannot be so in results and logs of matches",
		ArgsUsage: "FILE…",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Destination: &o.format, Value: "sideout-doubles-11-of3", Usage: "`FORMAT` of rows that name none: an id, or a FILE.json with a scoring"},
			&cli.StringFlag{Name: "report", Destination: &o.report, Value: "text", Usage: "`KIND` of report: text, json or html"},
			&cli.StringFlag{Name: "accept", Destination: &o.accept, Usage: "`FILE` of findings waived with a reason: a key, a blank, the reason"},
			&cli.StringFlag{Name: "out", Destination: &o.out, Usage: "write the table to `FILE` with a new column of proposals"},
			&cli.StringFlag{Name: "repaired", Destination: &o.repaired, Usage: "write logs as they probably were to `FILE`"},
			&cli.StringFlag{Name: "explain", Destination: &o.explain, Usage: "print what findings of `CODE` mean, and the rule"},
			&cli.StringFlag{Name: "columns", Destination: &o.columns, Usage: "what columns hold: a `FILE` with lines HEADER = MEANING, or such pairs with commas between; no meaning passes a column over"},
			&cli.BoolFlag{Name: "propose-columns", Destination: &o.propose, Usage: "print what the columns are taken for, as a file for -columns"},
			&cli.StringFlag{Name: "dates", Destination: &o.dates, Usage: "`ORDER` of dates that a file leaves open: day or month first"},
			program.LanguageFlag(&tag),
		},
		Commands: o.seasonCommands(&tag, ready, stdin, stdout, stderr),
		Action: func(_ context.Context, c *cli.Command) error {
			if err := ready(); err != nil {
				return err
			}
			if o.explain != "" {
				return printExplanation(o.explain, o.language, stdout)
			}
			return o.check(c.Args().Slice(), stdin, stdout, stderr)
		},
	}, args, stdin, stdout, stderr)
}

// check audits the files; one that cannot be read does not keep the others from
// being read.
func (o *options) check(names []string, stdin io.Reader, stdout, stderr io.Writer) error {
	if len(names) == 0 {
		return errors.New("want at least one FILE; -h shows how")
	}
	waived, err := openAccepted(o.accept)
	if err != nil {
		return err
	}
	printer, err := newPrinter(o.report, o.language, stdout)
	if err != nil {
		return err
	}
	tables, err := o.tables()
	if err != nil {
		return err
	}
	c := &checker{formats: newFormats(o.format), options: tables, effort: audit.NewEffort(), propose: o.propose, waived: waived, printer: printer, stdout: stdout, stderr: stderr}
	if _, err := c.formats.get(""); err != nil {
		return err
	}
	if o.out != "" {
		if len(names) != 1 {
			return errors.New("-out wants one input")
		}
		file, err := o.create("out", o.out, names, stdin)
		if err != nil {
			return err
		}
		defer file.Discard()
		c.proposals = newProposals(file, o.language)
	}
	if o.repaired != "" {
		if o.repaired == o.out {
			return errors.New("-repaired: -out names that file already")
		}
		file, err := o.create("repaired", o.repaired, names, stdin)
		if err != nil {
			return err
		}
		defer file.Discard()
		c.repaired = newRepaired(file)
	}
	var failed error
	for _, name := range names {
		if err := c.file(name, stdin); err != nil {
			program.Complain(stderr, "resultcheck", fmt.Errorf("%s: %w", name, err))
			failed = program.ErrFailed
		}
	}
	if err := c.unmapped(); failed == nil && err != nil {
		program.Complain(stderr, "resultcheck", err)
		failed = program.ErrFailed
	}
	if failed == nil {
		failed = errors.Join(c.proposals.finish(), c.repaired.finish())
	}
	if o.propose || failed != nil && c.count == (counts{}) {
		return failed // nothing was read: a summary would look like a clean bill
	}
	if err := c.finish(); err != nil {
		return err
	}
	if failed == nil && c.count.serious() > 0 {
		return program.ErrFound
	}
	return failed
}

// tables are what the reader of tables is told.
func (o *options) tables() (intake.Options, error) {
	out := intake.Options{Format: o.format, Mapping: intake.Mapping{}}
	switch o.dates {
	case "":
	case "day", "month":
		day := o.dates == "day"
		out.DayFirst = &day
	default:
		return out, fmt.Errorf("-dates: want day or month, not %q", program.Shorten(o.dates))
	}
	if o.columns == "" {
		return out, nil
	}
	if !strings.Contains(o.columns, "=") {
		file, err := os.Open(o.columns)
		if err != nil {
			return out, fmt.Errorf("-columns: %w", err)
		}
		defer file.Close()
		if out.Mapping, err = intake.ReadMapping(file); err != nil {
			return out, fmt.Errorf("-columns: %s: %w", o.columns, err)
		}
		return out, nil
	}
	for pair := range strings.SplitSeq(o.columns, ",") {
		if err := out.Mapping.Add(pair); err != nil {
			return out, fmt.Errorf("-columns: %w", err)
		}
	}
	return out, nil
}

// create begins a file that an option names. It takes the place of what bears
// its name when all is written, and never that of something that is read.
func (o *options) create(option, out string, names []string, stdin io.Reader) (*program.File, error) {
	begin := func() (*program.File, error) {
		file, err := program.Create(out)
		if err != nil {
			return nil, fmt.Errorf("-%s: %w", option, err)
		}
		return file, nil
	}
	there, err := os.Stat(out)
	if err != nil {
		return begin()
	}
	for _, name := range append([]string{o.accept, o.format, o.columns}, names...) {
		read, err := os.Stat(name)
		is := fmt.Errorf("%s is read", name)
		if file, ok := stdin.(*os.File); ok && name == "-" {
			read, err = file.Stat()
			is = fmt.Errorf("%s is standard input", out)
		}
		if err == nil && os.SameFile(there, read) {
			return nil, fmt.Errorf("-%s: %w; want another file", option, is)
		}
	}
	return begin()
}

func printExplanation(code string, l *words.Language, stdout io.Writer) error {
	c := audit.FindingCode(code)
	if c.Severity() == 0 {
		return fmt.Errorf("no such code: %q; CODES.md of rally/audit lists them", program.Shorten(code))
	}
	fmt.Fprintln(stdout, l.Say(words.New("check.code", words.Name("code", code), severity(c.Severity()))))
	fmt.Fprintln(stdout, l.Say(c.Meaning()))
	for _, rule := range c.Clauses() {
		fmt.Fprintln(stdout, l.Say(words.New("check.rule", words.Within("rule", words.For(rule)))))
	}
	return nil
}
