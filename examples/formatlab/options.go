package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/rally/explore"
)

// options are what the command line says.
type options struct {
	json bool
	html string
	only []string // parts to print; all if empty

	strength strength
	shares   []float64 // own serves won, for grids of strengths
	pace     explore.Pace
	slot     float64           // minutes that a court has
	matches  int               // for so many matches, one after the other
	courts   int               // on so many courts
	wind     float64           // share that the better end adds to an even rally
	servers  float64           // share by which the stronger server of a pair serves better
	at       *explore.Position // explain: a position that is asked about; nil for none
	bell     float64           // explain: minutes after which a bell ends a game
	all      bool              // diff: every alphabet
	each     bool              // diff: every change alone
	format   string            // fit: of tables that name none

	onlyText, strengthText, sharesText, atText string
	given                                      func(name string) bool // whether an option was set
}

// line is the command line of a command, and what to do once it has been read:
// options may stand among the arguments, and values that cannot be are refused.
func (c *command) line(do func(*question) error) *cli.Command {
	o := &options{pace: explore.UsualPace()}
	var flags []cli.Flag
	if len(c.parts) > 0 {
		flags = append(flags,
			&cli.BoolFlag{Name: "json", Destination: &o.json, Usage: "print all figures as JSON"},
			&cli.StringFlag{Name: "html", Destination: &o.html, Usage: "write a page with charts to `FILE`; - for standard output"},
			&cli.StringFlag{Name: "only", Destination: &o.onlyText, Usage: "`PARTS` to print, of " + strings.Join(c.parts, ",")})
	}
	if c.flags != nil {
		flags = append(flags, c.flags(o)...)
	}
	var tag string
	flags = append(flags, program.LanguageFlag(&tag))
	return &cli.Command{
		Name: c.name, Usage: c.about, ArgsUsage: c.takes, Flags: flags,
		Action: func(_ context.Context, line *cli.Command) error {
			o.given = line.IsSet
			var err error
			if language, err = texts.Language(tag); err != nil {
				return err
			}
			if err := o.check(c); err != nil {
				return err
			}
			return do(&question{options: o, args: line.Args().Slice()})
		},
	}
}

func strengthFlags(o *options) []cli.Flag {
	return []cli.Flag{&cli.StringFlag{Name: "p", Destination: &o.strengthText, Value: "0.45,0.61",
		Usage: "chance of the better side to win a rally that it `SERVES,RECEIVES`; the default is a side that wins 3 rallies in a hundred more than one that wins 42 % of its serves, the share in open records of doubles"}}
}

func sharesFlag(o *options) []cli.Flag {
	return []cli.Flag{&cli.StringFlag{Name: "shares", Destination: &o.sharesText, Value: "0.35,0.40,0.45,0.50,0.55", Usage: "`LIST` of shares of own serves won, for grids of strengths"}}
}

func paceFlags(o *options) []cli.Flag {
	p := &o.pace
	return []cli.Flag{
		numberFlag("rally", &p.Rally, "`SECONDS` of a rally, on average"),
		numberFlag("rally-spread", &p.RallySpread, "`SECONDS`: standard deviation of a rally with the pause after it"),
		numberFlag("between", &p.Between, "`SECONDS` from the end of a rally to the next serve"),
		numberFlag("end-change", &p.EndChange, "`SECONDS` of a mid-game change of ends"),
		numberFlag("games", &p.Games, "`SECONDS` from one game to the next"),
		numberFlag("time-out", &p.TimeOut, "`SECONDS` of a time-out"),
		numberFlag("take", &p.TakeTimeOut, "`CHANCE` that a side takes each time-out it has"),
		numberFlag("warm-up", &p.WarmUp, "`SECONDS` before the first serve"),
	}
}

func slotFlags(o *options) []cli.Flag {
	o.slot = 30
	return []cli.Flag{
		numberFlag("slot", &o.slot, "`MINUTES` of court time; 0 for no such question"),
		&cli.IntFlag{Name: "matches", Destination: &o.matches, Value: 1, Usage: "`MATCHES` in that time, one after the other on each court"},
		&cli.IntFlag{Name: "courts", Destination: &o.courts, Value: 1, Usage: "`COURTS` that they are dealt out to"},
	}
}

// numberFlag is an option whose default is what stands there now.
func numberFlag(name string, into *float64, usage string) cli.Flag {
	return &cli.FloatFlag{Name: name, Destination: into, Value: *into, Usage: usage}
}

// check reads the values that are lists, and sees that all are possible.
func (o *options) check(c *command) error {
	if o.json && o.html == "-" {
		return fmt.Errorf("-json and -html - both want standard output")
	}
	if o.onlyText != "" {
		for name := range strings.SplitSeq(o.onlyText, ",") {
			if !slices.Contains(c.parts, name) {
				return fmt.Errorf("-only: no part %q; there are %s", program.Shorten(name), strings.Join(c.parts, ", "))
			}
			o.only = append(o.only, name)
		}
	}
	if o.strengthText != "" {
		p, err := chances("p", o.strengthText)
		if err != nil {
			return err
		}
		if len(p) != 2 {
			return fmt.Errorf("-p: want two chances, of winning a rally served and one received, such as 0.45,0.61")
		}
		o.strength = strength{p[0], p[1]}
		if o.strength.edge() < 0 {
			return fmt.Errorf("-p: %s describes the weaker side: the two chances must sum to at least 1", o.strengthText)
		}
	}
	var err error
	if o.at, err = readPosition(o.atText); err != nil {
		return err
	}
	if o.sharesText != "" {
		if o.shares, err = chances("shares", o.sharesText); err != nil {
			return err
		}
		if len(o.shares) > 20 {
			return fmt.Errorf("-shares: at most 20 of them, not %d", len(o.shares))
		}
		slices.Sort(o.shares)
		o.shares = slices.Compact(o.shares)
	}
	for _, v := range []struct {
		name        string
		value, most float64
	}{{"rally", o.pace.Rally, 3600}, {"rally-spread", o.pace.RallySpread, 3600}, {"between", o.pace.Between, 3600},
		{"end-change", o.pace.EndChange, 7200}, {"games", o.pace.Games, 7200}, {"time-out", o.pace.TimeOut, 7200},
		{"take", o.pace.TakeTimeOut, 1}, {"warm-up", o.pace.WarmUp, 7200}, {"slot", o.slot, 10_000}, {"bell", o.bell, 1440},
		{"wind", o.wind, 0.4}, {"servers", o.servers, 1}} {
		if !(v.value >= 0 && v.value <= v.most) {
			return fmt.Errorf("-%s: must be from 0 to %g, not %g", v.name, v.most, v.value)
		}
	}
	if o.pace.Rally+o.pace.Between == 0 {
		return fmt.Errorf("-rally and -between: rallies must take time")
	}
	if o.matches < 0 || o.matches > 100 || o.given("matches") && o.matches == 0 {
		return fmt.Errorf("-matches: must be 1 to 100, not %d", o.matches)
	}
	if o.given("courts") && (o.courts < 1 || o.courts > o.matches) {
		return fmt.Errorf("-courts: must be 1 to the number of matches, not %d", o.courts)
	}
	return nil
}

// chances reads a list of chances.
func chances(name, text string) ([]float64, error) {
	var out []float64
	for word := range strings.SplitSeq(text, ",") {
		p, err := strconv.ParseFloat(strings.TrimSpace(word), 64)
		if err != nil || !(p >= 0 && p <= 1) {
			return nil, fmt.Errorf("-%s: %q is no chance: want a number from 0 to 1, such as 0.45", name, program.Shorten(word))
		}
		out = append(out, p)
	}
	return out, nil
}
