// Formatlab tells a rules committee what a format, or a change of one, does.
//
//	go run ./examples/formatlab compare sideout-doubles-11@2026 rally-doubles-21@2026
//	go run ./examples/formatlab explain rally-doubles-11@2025
//	go run ./examples/formatlab diff sideout-doubles-11@2022 sideout-doubles-11@2025
//	go run ./examples/formatlab fit match.jsonl…
//	go run ./examples/formatlab table
//	go run ./examples/formatlab write sideout-doubles-11+target=13 > mine.json
//
// A format is a named id, SHAPE@EDITION, with changes appended as +NAME=VALUE,
// where NAME is a switch of the rulings or a field of a game or match
// (+target=13, +first_turn=2, +freeze=none); or FILE.json with a format in
// full, as write prints it; or "-" for one on standard input. Every command
// prints tables, prints its figures as JSON with -json, and writes a page with
// charts that needs nothing else with -html FILE.
//
// Figures are exact for their model: rallies are independent, and the chance of
// winning one depends only on who serves. Fit tests that on recorded rallies.
//
// Exit status: 0 the question was answered, whatever the answer; 1 the answer
// could not be written; 2 the question makes no sense, and one line says why.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/evencourt/evencourt/examples/progress"
)

// Exit statuses.
const (
	answered  = 0
	unwritten = 1
	unasked   = 2
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// A command answers one kind of question.
type command struct {
	name  string
	takes string // its arguments
	about string
	parts []string // names of the parts of its answer, in order
	flags func(*flag.FlagSet, *options)
	// answer reads the arguments, refuses what makes no sense before any work,
	// and works.
	answer func(q *question) (*answer, error)
}

// A question is a command line, read.
type question struct {
	*options
	args  []string
	stdin io.Reader
	bar   *progress.Bar
}

// An answer is a document for people, and its figures for programs.
type answer struct {
	document
	figures any
}

var commands = []command{
	compareCommand, explainCommand, diffCommand, fitCommand, tableCommand, writeCommand,
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	fail := func(err error) int {
		fmt.Fprintln(stderr, "formatlab:", strings.ReplaceAll(err.Error(), "\n", " "))
		return unasked
	}
	if len(args) == 0 {
		usage(stderr)
		return unasked
	}
	if args[0] == "help" || args[0] == "-h" || args[0] == "-help" || args[0] == "--help" {
		usage(stdout)
		return answered
	}
	c, ok := commandNamed(args[0])
	if !ok {
		return fail(fmt.Errorf("no command %q; there are %s", shorten(args[0]), commandNames()))
	}
	o, rest, err := parse(c, args[1:])
	if errors.Is(err, flag.ErrHelp) {
		help(stdout, c)
		return answered
	}
	if err != nil {
		return fail(fmt.Errorf("%s: %w", c.name, err))
	}
	q := &question{options: o, args: rest, stdin: stdin, bar: progress.New(stderr)}
	a, err := c.answer(q)
	q.bar.Clear()
	if err != nil {
		return fail(fmt.Errorf("%s: %w", c.name, err))
	}
	a.keep(o.only)
	if err := a.write(o, stdout); err != nil {
		fmt.Fprintln(stderr, "formatlab:", err)
		return unwritten
	}
	return answered
}

// write writes the answer in the forms that were asked for.
func (a *answer) write(o *options, stdout io.Writer) error {
	if o.html != "" {
		var page strings.Builder
		if err := writePage(&page, &a.document); err != nil {
			return err
		}
		if o.html == "-" {
			_, err := io.WriteString(stdout, page.String())
			return err
		}
		if err := os.WriteFile(o.html, []byte(page.String()), 0o644); err != nil {
			return err
		}
	}
	if o.json {
		e := json.NewEncoder(stdout)
		e.SetIndent("", "  ")
		return e.Encode(a.figures)
	}
	return a.writeText(stdout)
}

func commandNamed(name string) (*command, bool) {
	for i := range commands {
		if commands[i].name == name {
			return &commands[i], true
		}
	}
	return nil, false
}

func commandNames() string {
	var names []string
	for _, c := range commands {
		names = append(names, c.name)
	}
	return strings.Join(names, ", ")
}

func usage(w io.Writer) {
	fmt.Fprintln(w, "formatlab says what a format, or a change of one, does.")
	for _, c := range commands {
		fmt.Fprintf(w, "  formatlab %s [flags] %s\n        %s\n", c.name, c.takes, c.about)
	}
	fmt.Fprintln(w, "A format is SHAPE@EDITION, with changes as +NAME=VALUE, or FILE.json, or - for standard input.")
	fmt.Fprintln(w, "formatlab COMMAND -h lists the flags of a command.")
}

func help(w io.Writer, c *command) {
	fmt.Fprintf(w, "formatlab %s [flags] %s\n%s\n", c.name, c.takes, c.about)
	flags, _ := flagsOf(c)
	flags.SetOutput(w)
	flags.PrintDefaults()
}

// shorten keeps outside text short in a message.
func shorten(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "..."
	}
	return s
}
