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
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/referee"
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
	language *referee.Language
	sheet    bool
}

// run is the whole program: 0 after a drill, 2 for a request that makes no
// drill.
func run(args []string, in io.Reader, out, complaints io.Writer) int {
	o, err := parse(args, out)
	if errors.Is(err, flag.ErrHelp) {
		return 0
	}
	if err != nil {
		fmt.Fprintln(complaints, "drill:", err)
		return 2
	}
	exercises := newDeck(o).deal(o.n)
	if o.sheet {
		if err := writePage(out, o, exercises); err != nil {
			fmt.Fprintln(complaints, "drill:", err)
			return 1
		}
		return 0
	}
	hold(o, exercises, in, out)
	return 0
}

func parse(args []string, out io.Writer) (options, error) {
	o := options{}
	var levelName, edition, since, tag string
	flags := flag.NewFlagSet("drill", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.Uint64Var(&o.seed, "seed", 1, "the same seed gives the same drill")
	flags.IntVar(&o.n, "n", 10, fmt.Sprintf("how many exercises, 1 to %d", most))
	flags.StringVar(&levelName, "level", levels[0].name, "one of "+levelNames())
	flags.StringVar(&edition, "edition", format.Default.String(), "one of "+editionNames(format.E2026))
	flags.StringVar(&since, "since", "", "for retraining: the edition that the trainee knows")
	flags.StringVar(&tag, "language", "en", "one of "+languageTags())
	flags.BoolVar(&o.sheet, "sheet", false, "write a page of exercises with an answer key, as HTML")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			flags.SetOutput(out)
			fmt.Fprintln(out, "drill trains referees; it confers no qualification.")
			flags.PrintDefaults()
		}
		return o, oneLine(err)
	}
	if flags.NArg() > 0 {
		return o, fmt.Errorf("unknown argument %q; there are only flags, see -h", shorten(flags.Arg(0)))
	}
	if o.n < 1 || o.n > most {
		return o, fmt.Errorf("-n must be 1 to %d, not %d", most, o.n)
	}
	var ok bool
	if o.level, ok = levelNamed(levelName); !ok {
		return o, fmt.Errorf("unknown level %q; there are %s", shorten(levelName), levelNames())
	}
	if o.language, ok = languages[tag]; !ok {
		return o, fmt.Errorf("unknown language %q; there is %s", shorten(tag), languageTags())
	}
	if o.edition, ok = editionNamed(edition); !ok {
		return o, fmt.Errorf("unknown edition %q; there are %s", shorten(edition), editionNames(format.E2026))
	}
	return o, o.retrain(since)
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
		for o.since = o.edition - 1; o.since > format.E1999 && len(newDeck(*o).changed) == 0; {
			o.since--
		}
		return nil
	}
	known, ok := editionNamed(since)
	if !ok || known >= o.edition {
		return fmt.Errorf("-since %q is no edition before %s; there are %s", shorten(since), o.edition, editionNames(o.edition-1))
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

func oneLine(err error) error {
	if errors.Is(err, flag.ErrHelp) {
		return err
	}
	return errors.New(strings.ReplaceAll(shorten(err.Error()), "\n", " "))
}

func shorten(s string) string {
	if r := []rune(s); len(r) > 80 {
		return string(r[:80]) + "..."
	}
	return s
}
