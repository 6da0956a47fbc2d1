// Command drill trains referees with seeded exercises from the matches of an
// invented ladder, and marks each answer with its clause and its reason.
//
//	go run ./examples/drill -level practice-court -n 20
//	go run ./examples/drill -level retraining -since 2022
//	go run ./examples/drill -seed 7 -sheet > exercises.html
//
// The same seed gives the same drill. Output is plain lines, so that a screen
// reader can follow; the end of the input ends the drill with the results. A
// drill confers no qualification, and never asks anybody to judge a condition
// or a return to play.
package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/words"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// most is the most exercises of one drill.
const most = 500

// options are what a drill is made from.
type options struct {
	seed     uint64
	n        int
	level    level
	edition  format.Edition
	since    format.Edition
	language *words.Language
	sheet    bool
}

// run is the whole program; it returns the exit code: 0 after a drill, 2 for a
// request that makes no drill.
func run(args []string, in io.Reader, out, complaints io.Writer) int {
	return program.Run(command(func(o options) error {
		exercises := newMaker(o).exercises(o.n)
		if o.sheet {
			return writePage(out, o, exercises)
		}
		runSession(o, exercises, in, out)
		return nil
	}), args, in, out, complaints)
}

// command is the command line, and what to do once it has been read.
func command(drill func(options) error) *cli.Command {
	var o options
	var levelName, edition, since, tag string
	return &cli.Command{
		Name:  "drill",
		Usage: "trains referees; it confers no qualification",
		Flags: []cli.Flag{
			&cli.Uint64Flag{Name: "seed", Destination: &o.seed, Value: 1, Usage: "the same `SEED` gives the same drill"},
			&cli.IntFlag{Name: "n", Destination: &o.n, Value: 10, Usage: fmt.Sprintf("how many exercises, 1 to %d", most)},
			&cli.StringFlag{Name: "level", Destination: &levelName, Value: levels[0].name, Usage: "`LEVEL`: " + levelNames()},
			&cli.StringFlag{Name: "edition", Destination: &edition, Value: format.Default.String(), Usage: "`EDITION`: " + editionNames(format.E2026)},
			&cli.StringFlag{Name: "since", Destination: &since, Usage: "for retraining: the `EDITION` that the trainee knows"},
			texts.Flag(&tag),
			&cli.BoolFlag{Name: "sheet", Destination: &o.sheet, Usage: "write a page of exercises with an answer key, as HTML"},
		},
		Action: func(_ context.Context, c *cli.Command) error {
			if c.Args().Present() {
				return fmt.Errorf("unknown argument %q; there are only options, see -h", program.Shorten(c.Args().First()))
			}
			if o.n < 1 || o.n > most {
				return fmt.Errorf("-n must be 1 to %d, not %d", most, o.n)
			}
			var ok bool
			if o.level, ok = levelNamed(levelName); !ok {
				return fmt.Errorf("unknown level %q; there are %s", program.Shorten(levelName), levelNames())
			}
			var err error
			if o.language, err = texts.Language(tag); err != nil {
				return err
			}
			if o.edition, ok = editionNamed(edition); !ok {
				return fmt.Errorf("unknown edition %q; there are %s", program.Shorten(edition), editionNames(format.E2026))
			}
			if err := o.retrain(since); err != nil {
				return err
			}
			return drill(o)
		},
	}
}

// retrain settles the edition that a retraining starts from: the one given, or
// the newest one since which a ruling has changed.
func (o *options) retrain(since string) error {
	if o.level.name != retraining {
		if since != "" {
			return fmt.Errorf("-since goes with -level %s only", retraining)
		}
		return nil
	}
	if o.edition == format.E1999 {
		return fmt.Errorf("no edition before %s is known; there are %s", o.edition, editionNames(format.E2026))
	}
	if since == "" {
		for o.since = o.edition - 1; o.since > format.E1999 && len(newMaker(*o).changed) == 0; {
			o.since--
		}
		return nil
	}
	known, ok := editionNamed(since)
	if !ok || known >= o.edition {
		return fmt.Errorf("-since %q is no edition before %s; there are %s", program.Shorten(since), o.edition, editionNames(o.edition-1))
	}
	o.since = known
	return nil
}

func editionNamed(name string) (format.Edition, bool) {
	for _, e := range format.Editions(format.Pickleball) {
		if e.String() == name {
			return e, true
		}
	}
	return 0, false
}

func editionNames(last format.Edition) string {
	var names []string
	for _, e := range format.Editions(format.Pickleball) {
		if e <= last {
			names = append(names, e.String())
		}
	}
	return strings.Join(names, ", ")
}
