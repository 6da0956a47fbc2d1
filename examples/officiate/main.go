// Officiate guides a referee through a match of pickleball, rally by rally:
// what to call, who serves to whom from which court, who stands where seen from
// the referee's post, end changes, breaks, games. At the end it proves the
// result: it writes its own record, reads it back and plays it again.
//
//	officiate                     a best-of-three match that comes with the program
//	officiate -brief              the same, one line an entry
//	officiate -file match.jsonl   another record; - for standard input
//	officiate -live               a match from the keyboard, one short word a rally
//	officiate -live -resume FILE  goes on with a match that was broken off
//
// The match that comes with the program is invented, with all its names. The
// event's officials and the rulebook in force prevail over anything said here.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/evencourt/evencourt/rally"
)

func main() {
	start := time.Now()
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, func() time.Duration { return time.Since(start) }))
}

// options are the flags of the program.
type options struct {
	brief  bool
	file   string
	live   bool
	resume string
	save   string
	format string
	first  string
	left   string
	names  string
}

// run is the whole program; it returns the exit code: 0, or 2 for bad input.
// clock says how much time has passed since the program began.
func run(args []string, in io.Reader, out, errs io.Writer, clock func() time.Duration) int {
	var o options
	flags := flag.NewFlagSet("officiate", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.BoolVar(&o.brief, "brief", false, "one line an entry")
	flags.StringVar(&o.file, "file", "", "record to officiate; - for standard input (default: the match that comes with the program)")
	flags.BoolVar(&o.live, "live", false, "take the match from the keyboard")
	flags.StringVar(&o.resume, "resume", "", "with -live: record to go on with")
	flags.StringVar(&o.save, "save", "", "with -live: new file for the record (default match-DATE-TIME.jsonl)")
	flags.StringVar(&o.format, "format", "sideout-doubles-11-of3", "with -live: format id, SHAPE or SHAPE@EDITION")
	flags.StringVar(&o.first, "first", "", "with -live: side that serves first, A or B (default: the first choice is entered)")
	flags.StringVar(&o.left, "left", "A", "with -live: side on the referee's left at the first serve, A or B")
	flags.StringVar(&o.names, "names", "", `with -live: names of A1,A2,B1,B2, divided by commas; in singles A1,B1`)
	err := flags.Parse(args)
	switch {
	case err == flag.ErrHelp:
		flags.SetOutput(out)
		fmt.Fprintln(out, "officiate guides a referee through a match; without flags, through one that comes with it.")
		flags.PrintDefaults()
		return 0
	case err == nil:
		given := map[string]bool{}
		flags.Visit(func(f *flag.Flag) { given[f.Name] = true })
		err = o.check(given, flags.Args())
	}
	if err == nil && o.live {
		err = o.takeLive(in, out, clock)
	} else if err == nil {
		err = o.officiate(in, out)
	}
	if err != nil {
		fmt.Fprintln(errs, "officiate: "+oneLine(err))
		return 2
	}
	return 0
}

// check refuses flags that would change nothing.
func (o *options) check(given map[string]bool, rest []string) error {
	begins := given["format"] || given["first"] || given["left"] || given["names"]
	switch {
	case len(rest) > 0:
		return fmt.Errorf("nothing is read from the command line but flags, found %q; -h lists them", rest[0])
	case o.live && o.file != "":
		return fmt.Errorf("-file replays a record and -live takes a match from the keyboard: give one of them, or -live -resume FILE")
	case !o.live && (given["resume"] || given["save"] || begins):
		return fmt.Errorf("-resume, -save, -format, -first, -left and -names go with -live")
	case o.live && o.brief:
		return fmt.Errorf("-live is one line an entry already: leave -brief out")
	case o.resume != "" && o.save != "":
		return fmt.Errorf("-resume goes on in its own file: leave -save out")
	case o.resume != "" && begins:
		return fmt.Errorf("-resume goes on as the record began: leave -format, -first, -left and -names out")
	}
	return nil
}

// oneLine puts an error into one line.
func oneLine(err error) string { return strings.Join(strings.Fields(err.Error()), " ") }

// readSide reads a side from a flag.
func readSide(name, text string) (rally.Side, error) {
	switch strings.ToUpper(text) {
	case "A":
		return rally.A, nil
	case "B":
		return rally.B, nil
	}
	return 0, fmt.Errorf("-%s is side A or B, not %q", name, text)
}
