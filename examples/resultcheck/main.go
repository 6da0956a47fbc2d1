// Resultcheck reads results and logs of matches and says what cannot be so.
//
//	go run ./examples/resultcheck [flags] FILE…
//
// A FILE is a table (CSV with a header; comma, semicolon or tab; columns in
// any order, listed in README.md; a header with an unknown one is answered with
// the list), JSON Lines of finals or logs, or a record of one match; plain or
// gzip; "-" is standard input. Every finding has a stable code and key, a place
// and a sentence. The input is never edited: proposals go to a new column of
// the file that -out names.
//
// Exit status: 0 nothing found (notes aside), 1 something found, 2 something
// could not be read.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"github.com/evencourt/evencourt/rally/audit"
)

// Exit statuses.
const (
	clean      = 0
	findings   = 1
	unreadable = 2
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("resultcheck", flag.ContinueOnError)
	flags.SetOutput(stderr)
	formatID := flags.String("format", "sideout-doubles-11-of3", "format of rows that name none: an id, or a FILE.json with a scoring")
	report := flags.String("report", "text", "text, json or html")
	accept := flags.String("accept", "", "FILE of findings waived with a reason: a key, a blank, the reason")
	out := flags.String("out", "", "write the table to FILE with a new column of proposals")
	explain := flags.String("explain", "", "print what findings of CODE mean, and the rule")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: resultcheck [flags] FILE…")
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return clean
	} else if err != nil {
		return unreadable
	}
	fail := func(err error) int {
		fmt.Fprintln(stderr, "resultcheck:", err)
		return unreadable
	}
	if *explain != "" {
		return printExplanation(*explain, stdout, fail)
	}
	if flags.NArg() == 0 {
		flags.Usage()
		return unreadable
	}
	waived, err := openAccepted(*accept)
	if err != nil {
		return fail(err)
	}
	printer, err := newPrinter(*report, stdout)
	if err != nil {
		return fail(err)
	}
	c := &checker{formats: newFormats(*formatID), waived: waived, printer: printer, stderr: stderr}
	if _, err := c.formats.get(""); err != nil {
		return fail(err)
	}
	if *out != "" {
		if flags.NArg() != 1 {
			return fail(errors.New("-out wants one input"))
		}
		for _, name := range []string{flags.Arg(0), *accept, *formatID} {
			if sameFile(*out, name) {
				return fail(fmt.Errorf("-out: %s is read; want another file", name))
			}
		}
		file, err := os.Create(*out)
		if err != nil {
			return fail(err)
		}
		defer file.Close()
		c.proposals = newProposals(file)
	}
	status := clean
	for _, name := range flags.Args() {
		if err := c.file(name, stdin); err != nil {
			status = fail(fmt.Errorf("%s: %w", name, err))
		}
	}
	if err := c.finish(); err != nil {
		return fail(err)
	}
	if status == clean && c.count.serious() > 0 {
		status = findings
	}
	return status
}

// sameFile reports whether two names are names of one file.
func sameFile(a, b string) bool {
	one, err := os.Stat(a)
	if err != nil {
		return a == b
	}
	other, err := os.Stat(b)
	return err == nil && os.SameFile(one, other)
}

func printExplanation(code string, stdout io.Writer, fail func(error) int) int {
	var c audit.Code
	if err := c.UnmarshalText([]byte(code)); err != nil || c == audit.NoCode {
		return fail(fmt.Errorf("no such code: %q; CODES.md of rally/audit lists them", code))
	}
	fmt.Fprintf(stdout, "%s (%s)\n%s\nRule: %s\n", c, c.Severity(), audit.English.Explain(c), c.Rule())
	return clean
}
