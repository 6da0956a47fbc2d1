// Officiate guides a referee through a match of pickleball, rally by rally:
// what to call, who serves to whom from which court, who stands where seen from
// the referee's post, end changes, breaks, games. At the end it proves the
// result: it writes its own record, reads it back and plays it again.
//
//	officiate                     a best-of-three match that comes with the program
//	officiate -brief              the same, one line an entry
//	officiate -file match.jsonl   another record; - for standard input
//	officiate -file LOG -sheet S.html  its match sheet, for printing; without -file a blank one
//	officiate -file LOG -marks M  where it parts from a sheet of paper; -claim SCORES, -ask QUESTION
//	officiate -live               a match from the keyboard, one short word a rally
//	officiate -live -resume FILE  goes on with a match that was broken off
//
// Exit code: 0 it was done, 1 the record does not prove its result, 2 it could
// not be done.
//
// The match that comes with the program is invented, with all its names. The
// event's officials and the rulebook in force prevail over anything said here.
package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

func main() {
	start := time.Now()
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, func() time.Duration { return time.Since(start) }))
}

// options are what the command line says.
type options struct {
	brief    bool
	file     string
	live     bool
	resume   string
	from     string
	save     string
	format   string
	first    string
	left     string
	names    string
	match    string
	court    string
	referee  string
	terse    bool
	sheet    string
	marks    string
	claim    string
	ask      string
	counts   bool
	bell     bool
	language *words.Language
}

// run is the whole program; it returns the exit code. clock says how much time
// has passed since the program began.
func run(args []string, in io.Reader, out, errs io.Writer, clock func() time.Duration) int {
	var o options
	var tag string
	return program.Run(&cli.Command{
		Name:  "officiate",
		Usage: "guides a referee through a match; without options, through one that comes with it",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "brief", Destination: &o.brief, Usage: "one line an entry"},
			&cli.StringFlag{Name: "file", Destination: &o.file, Usage: "officiate the record in `FILE`; - for standard input (default: the match that comes with the program)"},
			&cli.BoolFlag{Name: "live", Destination: &o.live, Usage: "take the match from the keyboard"},
			&cli.StringFlag{Name: "resume", Destination: &o.resume, Usage: "with -live: go on with the record in `FILE`"},
			&cli.StringFlag{Name: "from", Destination: &o.from, Usage: "with -live: go on with a `MATCH` in one line, as log notation prints it"},
			&cli.StringFlag{Name: "save", Destination: &o.save, Usage: "with -live: new `FILE` for the record (default: match-DATE-TIME.jsonl)"},
			&cli.StringFlag{Name: "format", Destination: &o.format, Value: "sideout-doubles-11-of3", Usage: "with -live: `FORMAT`, as SHAPE or SHAPE@EDITION"},
			&cli.StringFlag{Name: "first", Destination: &o.first, Usage: "with -live: `SIDE` that serves first, A or B (default: the first choice is entered)"},
			&cli.StringFlag{Name: "left", Destination: &o.left, Value: "A", Usage: "with -live: `SIDE` on the referee's left at the first serve, A or B"},
			&cli.StringFlag{Name: "names", Destination: &o.names, Usage: "with -live: `NAMES` of A1,A2,B1,B2, divided by commas; in singles A1,B1"},
			&cli.StringFlag{Name: "match", Destination: &o.match, Usage: "with -live: what the match is `CALLED`"},
			&cli.StringFlag{Name: "court", Destination: &o.court, Usage: "with -live: `COURT` on which it is played"},
			&cli.StringFlag{Name: "referee", Destination: &o.referee, Usage: "with -live: `NAME` of the referee"},
			&cli.BoolFlag{Name: "terse", Destination: &o.terse, Usage: "with -live: the calls and what is still open, for speech"},
			&cli.BoolFlag{Name: "bell", Destination: &o.bell, Usage: "with -live: a bell at end changes, ends of games and notices of the clock"},
			&cli.StringFlag{Name: "sheet", Destination: &o.sheet, Usage: "write the match sheet of -file as a page for printing to `FILE`; without -file a blank one of -format"},
			&cli.StringFlag{Name: "marks", Destination: &o.marks, Usage: "with -file: compare with the `MARKS` of a sheet, as 22/112/ 1/2/; of A and B, a game after the other"},
			&cli.StringFlag{Name: "claim", Destination: &o.claim, Usage: "with -file: compare with the `SCORES` that somebody claims, A first, as 11-7 9-11"},
			&cli.StringFlag{Name: "ask", Destination: &o.ask, Usage: "with -file: answer a `QUESTION` such as: score at B's second time-out, who served at 7-5 in game 2"},
			&cli.BoolFlag{Name: "counts", Destination: &o.counts, Usage: "only the entries that count, without what was undone, struck or rewound past"},
			program.LanguageFlag(&tag),
		},
		Action: func(_ context.Context, c *cli.Command) error {
			if err := o.check(c); err != nil {
				return err
			}
			var err error
			if o.language, err = texts.Language(tag); err != nil {
				return err
			}
			switch {
			case o.live:
				return o.takeLive(in, out, clock)
			case o.sheet != "":
				return o.saveSheet(in, out)
			case o.marks != "" || o.claim != "":
				return o.compare(in, out)
			case o.ask != "":
				return o.asked(in, out)
			}
			return o.officiate(in, out)
		},
	}, args, in, out, errs)
}

// check refuses options that would change nothing.
func (o *options) check(c *cli.Command) error {
	begins := c.IsSet("format") || c.IsSet("first") || c.IsSet("left") || c.IsSet("names") || c.IsSet("match") || c.IsSet("court") || c.IsSet("referee")
	switch {
	case c.Args().Present():
		return fmt.Errorf("nothing is read from the command line but options, found %q; -h lists them", program.Shorten(c.Args().First()))
	case o.live && o.file != "":
		return fmt.Errorf("-file replays a record and -live takes a match from the keyboard: give one of them, or -live -resume FILE")
	case o.live && (o.sheet != "" || o.marks != "" || o.claim != "" || o.ask != "" || o.counts):
		return fmt.Errorf("-sheet, -marks, -claim, -ask and -counts go with -file")
	case o.sheet != "" && o.file == "" && o.resume == "" && o.save == "" && !c.IsSet("first") && !c.IsSet("left") && !c.IsSet("names"):
		return nil // a blank sheet, of a format and with what is known
	case !o.live && (o.resume != "" || o.save != "" || begins):
		return fmt.Errorf("-resume, -save, -format, -first, -left, -names, -match, -court and -referee go with -live")
	case !o.live && (o.terse || o.bell):
		return fmt.Errorf("-terse and -bell go with -live")
	case o.live && o.brief:
		return fmt.Errorf("-live is one line an entry already: leave -brief out")
	case o.resume != "" && o.save != "":
		return fmt.Errorf("-resume goes on in its own file: leave -save out")
	case o.from != "" && (!o.live || o.resume != "" || c.IsSet("format") || c.IsSet("first")):
		return fmt.Errorf("-from goes with -live, and the match says its format and who serves first: leave -resume, -format and -first out")
	case o.resume != "" && begins:
		return fmt.Errorf("-resume goes on as the record began: leave -format, -first, -left, -names, -match, -court and -referee out")
	}
	return nil
}

// readSide reads a side from an option.
func readSide(name, text string) (rally.Side, error) {
	switch strings.ToUpper(text) {
	case "A":
		return rally.A, nil
	case "B":
		return rally.B, nil
	}
	return 0, fmt.Errorf("-%s is side A or B, not %q", name, text)
}
