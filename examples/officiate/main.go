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
	out = program.Checked(out)
	return program.Run(&cli.Command{
		Name: "officiate",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "brief", Destination: &o.brief},
			&cli.StringFlag{Name: "file", Destination: &o.file},
			&cli.BoolFlag{Name: "live", Destination: &o.live},
			&cli.StringFlag{Name: "resume", Destination: &o.resume},
			&cli.StringFlag{Name: "from", Destination: &o.from},
			&cli.StringFlag{Name: "save", Destination: &o.save},
			&cli.StringFlag{Name: "format", Destination: &o.format, Value: "sideout-doubles-11-of3"},
			&cli.StringFlag{Name: "first", Destination: &o.first},
			&cli.StringFlag{Name: "left", Destination: &o.left, Value: "A"},
			&cli.StringFlag{Name: "names", Destination: &o.names},
			&cli.StringFlag{Name: "match", Destination: &o.match},
			&cli.StringFlag{Name: "court", Destination: &o.court},
			&cli.StringFlag{Name: "referee", Destination: &o.referee},
			&cli.BoolFlag{Name: "terse", Destination: &o.terse},
			&cli.BoolFlag{Name: "bell", Destination: &o.bell},
			&cli.StringFlag{Name: "sheet", Destination: &o.sheet},
			&cli.StringFlag{Name: "marks", Destination: &o.marks},
			&cli.StringFlag{Name: "claim", Destination: &o.claim},
			&cli.StringFlag{Name: "ask", Destination: &o.ask},
			&cli.BoolFlag{Name: "counts", Destination: &o.counts},
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
		return texts.Wrong("program.no-arguments", program.Typed(c.Args().First()))
	case o.live && o.file != "":
		return texts.Wrong("officiate.bad-file-or-live")
	case o.live && (o.sheet != "" || o.marks != "" || o.claim != "" || o.ask != "" || o.counts):
		return texts.Wrong("officiate.bad-with-file")
	case o.sheet != "" && o.file == "" && o.resume == "" && o.save == "" && !c.IsSet("first") && !c.IsSet("left") && !c.IsSet("names"):
		return nil // a blank sheet, of a format and with what is known
	case !o.live && (o.resume != "" || o.save != "" || begins):
		return texts.Wrong("officiate.bad-with-live")
	case !o.live && (o.terse || o.bell):
		return texts.Wrong("officiate.bad-speech-with-live")
	case o.live && o.brief:
		return texts.Wrong("officiate.bad-brief-live")
	case o.resume != "" && o.save != "":
		return texts.Wrong("officiate.bad-save-resume")
	case o.from != "" && (!o.live || o.resume != "" || c.IsSet("format") || c.IsSet("first")):
		return texts.Wrong("officiate.bad-from-says")
	case o.resume != "" && begins:
		return texts.Wrong("officiate.bad-resume-says")
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
	return 0, texts.Wrong("officiate.bad-side", words.Name("option", name), program.Typed(text))
}
