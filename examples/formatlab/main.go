// Formatlab tells a rules committee what a format, or a change of one, does.
//
//	go run ./examples/formatlab compare sideout-doubles-11@2026 rally-doubles-21@2026
//	go run ./examples/formatlab explain rally-doubles-11@2025
//	go run ./examples/formatlab diff sideout-doubles-11@2022 sideout-doubles-11@2025
//	go run ./examples/formatlab fit match.jsonl…
//	go run ./examples/formatlab table
//	go run ./examples/formatlab rule 2025 receiver
//	go run ./examples/formatlab write sideout-doubles-11+target=13 > mine.json
//
// A format is a named id, SHAPE@EDITION, with changes appended as +NAME=VALUE,
// where NAME is a switch of the rulings or a field of a game or match
// (+target=13, +first-turn=2, +freeze=none); or FILE.json with a format in
// full, as write prints it; or "-" for one on standard input. Every command
// prints tables, prints its figures as JSON with -json, and writes a page with
// charts that needs nothing else with -html FILE.
//
// Figures are exact for their model: rallies are independent, and the chance of
// winning one depends only on who serves. Fit tests that on recorded rallies.
//
// Exit code: 0 the question was answered; 1 likewise, and diff found a
// difference; 2 the question makes no sense or the answer could not be written,
// and one line says why.
package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/program"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// A command answers one kind of question.
type command struct {
	name  string
	takes string // its arguments
	about string
	parts []string // names of the parts of its answer, in order
	flags func(*options) []cli.Flag
	// answer reads the arguments, refuses what makes no sense before any work,
	// and works.
	answer func(q *question) (*answer, error)
}

// A question is a command line, read.
type question struct {
	*options
	args  []string
	stdin io.Reader
	bar   program.Bar
}

// An answer is a document for people, and its figures for programs.
type answer struct {
	document
	figures any
	found   bool // what was looked for, a difference
}

var commands = []command{
	compareCommand, explainCommand, diffCommand, fitCommand, tableCommand, ruleCommand, writeCommand,
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := &cli.Command{
		Name:  "formatlab",
		Usage: "says what a format, or a change of one, does",
		Description: "A format is SHAPE@EDITION, with changes as +NAME=VALUE, or FILE.json, or - for standard input.\n" +
			"formatlab COMMAND -h lists the options of a command.",
		Action: func(_ context.Context, c *cli.Command) error {
			if !c.Args().Present() {
				return fmt.Errorf("want a command: %s; -h says more", commandNames())
			}
			return fmt.Errorf("no command %q; there are %s", program.Shorten(c.Args().First()), commandNames())
		},
	}
	for i := range commands {
		c.Commands = append(c.Commands, commands[i].line(func(q *question) error {
			q.stdin, q.bar = stdin, program.NewBar(stderr)
			a, err := commands[i].answer(q)
			q.bar.Clear()
			if err != nil {
				return err
			}
			a.keep(q.only)
			if err := a.write(q.options, stdout); err != nil {
				return err
			}
			if a.found {
				return program.ErrFound
			}
			return nil
		}))
	}
	return program.Run(c, args, stdin, stdout, stderr)
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
		if err := program.WriteFile(o.html, []byte(page.String())); err != nil {
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

func commandNames() string {
	var names []string
	for _, c := range commands {
		names = append(names, c.name)
	}
	return strings.Join(names, ", ")
}
