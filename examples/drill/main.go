// Command drill trains referees with seeded exercises from the matches of an
// invented ladder, and marks each answer with its clause and its reason.
//
//	go run ./examples/drill -level practice-court -n 20
//	go run ./examples/drill -level retraining -since 2022
//	go run ./examples/drill -seed 7 -sheet > exercises.html
//	go run ./examples/drill -seed 7 -sheet -key > key.html
//
// The same seed gives the same drill; without one it is drawn and said, and what
// was answered wrong before comes again, spaced out, by a file of progress. Output is plain lines, so that a screen
// reader can follow; the end of the input ends the drill with the results. A
// drill confers no qualification, and never asks anybody to judge a condition
// or a return to play.
package main

import (
	"context"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/drill/exercise"
	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/examples/texts/problems"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/words"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// most is the most exercises of one drill.
const most = 500

// options are a course, and what is done with it.
type options struct {
	exercise.Course
	n        int
	language *words.Language
	sheet    bool
	key      bool      // of a sheet: the key instead of the exercises
	answers  bool      // of a sheet: they can be shown on the screen
	group    string    // of a sheet: whose it is
	seeded   bool      // the seed was given, so that nothing else may choose
	progress *progress // nil for none
	csv      string    // file that results are added to
	trainee  string    // whose they are
}

// run is the whole program; it returns the exit code: 0 after a drill, 2 for a
// request that makes no drill.
func run(args []string, in io.Reader, out, complaints io.Writer) int {
	out = program.Checked(out)
	return program.Run(command(func(o options) error {
		var again []string
		if o.progress != nil && !o.sheet {
			again = o.progress.cards.Due(o.Edition, o.Asked(), today())
			again = again[:min(len(again), (o.n+1)/2)] // the other half is new
		}
		exercises := exercise.New(o.Course).Exercises(o.n, again...)
		if o.sheet {
			return writePage(out, o, exercises)
		}
		return runSession(o, exercises, in, out)
	}), args, in, out, complaints)
}

// command is the command line, and what to do once it has been read.
func command(drill func(options) error) *cli.Command {
	var o options
	var levelName, edition, since, tag, topicNames, names, material, kept string
	var fresh bool
	return &cli.Command{
		Name: "drill",
		Flags: []cli.Flag{
			&cli.Uint64Flag{Name: "seed", Destination: &o.Seed},
			&cli.IntFlag{Name: "n", Destination: &o.n, Value: 10, Usage: strconv.Itoa(most)},
			&cli.StringFlag{Name: "level", Destination: &levelName, Value: exercise.Levels()[0].Name, Usage: levelNames()},
			&cli.StringFlag{Name: "edition", Destination: &edition, Value: format.Default.String(), Usage: editionNames(format.E2026)},
			&cli.StringFlag{Name: "since", Destination: &since},
			&cli.StringFlag{Name: "topics", Destination: &topicNames, Usage: topicList()},
			&cli.StringFlag{Name: "names", Destination: &names},
			&cli.StringFlag{Name: "file", Destination: &material},
			&cli.StringFlag{Name: "progress", Destination: &kept, Usage: filepath.ToSlash(filepath.Join("evencourt", "practice.txt"))},
			&cli.BoolFlag{Name: "fresh", Destination: &fresh},
			&cli.StringFlag{Name: "csv", Destination: &o.csv},
			&cli.StringFlag{Name: "trainee", Destination: &o.trainee},
			program.LanguageFlag(&tag),
			&cli.BoolFlag{Name: "sheet", Destination: &o.sheet},
			&cli.BoolFlag{Name: "answers", Destination: &o.answers},
			&cli.StringFlag{Name: "group", Destination: &o.group},
			&cli.BoolFlag{Name: "key", Destination: &o.key},
		},
		Action: func(_ context.Context, c *cli.Command) error {
			if c.Args().Present() {
				return texts.Wrong("program.no-arguments", program.Typed(c.Args().First()))
			}
			if o.n < 1 || o.n > most {
				return texts.Wrong("drill.bad-number", words.Count("most", most), words.Count("given", o.n))
			}
			var ok bool
			if o.Level, ok = exercise.LevelNamed(levelName); !ok {
				return texts.Wrong("drill.bad-level", program.Typed(levelName), words.Name("levels", levelNames()))
			}
			var err error
			if o.language, err = texts.Language(tag); err != nil {
				return err
			}
			if o.Edition, ok = editionNamed(edition); !ok {
				return texts.Wrong("drill.bad-edition", program.Typed(edition), words.Name("editions", editionNames(format.E2026)))
			}
			if err := o.retrain(since); err != nil {
				return err
			}
			if o.seeded = c.IsSet("seed"); !o.seeded {
				o.Seed = uint64(rand.Uint32())
			}
			if o.key && !(o.sheet && o.seeded) {
				return texts.Wrong("drill.bad-key")
			}
			if o.answers && (o.key || !o.sheet) {
				return texts.Wrong("drill.bad-answers")
			}
			if o.group != "" && !o.sheet {
				return texts.Wrong("drill.bad-group")
			}
			if err := o.choose(topicNames, names, material); err != nil {
				return err
			}
			if kept == "" {
				kept = progressFile()
			}
			if !fresh && !o.seeded && !o.sheet && kept != "" {
				if o.progress, err = openProgress(kept); err != nil {
					return err
				}
			}
			return drill(o)
		},
	}
}

// choose takes what the trainer chose: topics, names, a match.
func (o *options) choose(topicNames, names, material string) error {
	for name := range strings.SplitSeq(topicNames, ",") {
		if name = strings.TrimSpace(name); name == "" {
			continue
		}
		if !slices.Contains(o.Level.Topics, exercise.Topic(name)) {
			return texts.Wrong("drill.bad-topic", words.Name("level", o.Level.Name), program.Typed(name), words.Name("topics", topicList(o.Level.Topics...)))
		}
		o.Topics = append(o.Topics, exercise.Topic(name))
	}
	if names != "" {
		if o.Names = strings.Split(names, ","); len(o.Names) != 4 {
			return texts.Wrong("program.bad-names", words.Count("want", 4), words.Count("given", len(o.Names)))
		}
	}
	if material == "" {
		return nil
	}
	file, err := os.Open(material)
	if err != nil {
		return err
	}
	defer file.Close()
	match, err := record.Read(file)
	if err != nil {
		return texts.Wrong("wrong.in-file", words.Name("file", material), words.Within("reason", problems.Of(err)))
	}
	f := match.Log.Rules().Format()
	if f.Edition.Document() != format.Pickleball || f.Shape == "" {
		return texts.Wrong("drill.bad-material", words.Name("file", material))
	}
	o.Edition, o.Material = f.Edition, &exercise.Material{Log: match.Log, Setup: match.Setup}
	return nil
}

// topicList lists topics by name; all of them if none is given.
func topicList(list ...exercise.Topic) string {
	if len(list) == 0 {
		list = exercise.Topics()
	}
	var names []string
	for _, t := range list {
		names = append(names, string(t))
	}
	return strings.Join(names, ", ")
}

// retrain settles the edition that a retraining starts from: the one given, or
// the newest one since which a ruling has changed.
func (o *options) retrain(since string) error {
	if o.Level.Name != exercise.Retraining {
		if since != "" {
			return texts.Wrong("drill.since-elsewhere", words.Name("level", exercise.Retraining))
		}
		return nil
	}
	if o.Edition == format.E1999 {
		return texts.Wrong("drill.none-before", words.Name("edition", o.Edition.String()), words.Name("editions", editionNames(format.E2026)))
	}
	if since == "" {
		o.Since = o.LastChange()
		return nil
	}
	known, ok := editionNamed(since)
	if !ok || known >= o.Edition {
		return texts.Wrong("drill.bad-since", program.Typed(since), words.Name("edition", o.Edition.String()), words.Name("editions", editionNames(o.Edition-1)))
	}
	o.Since = known
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

func levelNames() string {
	var names []string
	for _, l := range exercise.Levels() {
		names = append(names, l.Name)
	}
	return strings.Join(names, ", ")
}
