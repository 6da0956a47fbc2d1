package main

import (
	"flag"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/rally/explore"
)

// options are what flags say.
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
	given                                      map[string]bool // flags that were set
}

// flagsOf returns the flags of a command, unparsed.
func flagsOf(c *command) (*flag.FlagSet, *options) {
	o := &options{pace: explore.UsualPace()}
	f := flag.NewFlagSet(c.name, flag.ContinueOnError)
	f.SetOutput(io.Discard)
	f.Usage = func() {}
	if len(c.parts) > 0 {
		f.BoolVar(&o.json, "json", false, "print all figures as JSON")
		f.StringVar(&o.html, "html", "", "write a page with charts to `FILE`; - for standard output")
		f.StringVar(&o.onlyText, "only", "", "parts to print, of "+strings.Join(c.parts, ","))
	}
	if c.flags != nil {
		c.flags(f, o)
	}
	return f, o
}

func strengthFlags(f *flag.FlagSet, o *options) {
	f.StringVar(&o.strengthText, "p", "0.45,0.61", "chance of the better side to win a rally that it `SERVES,RECEIVES`; the default is a side that wins 3 rallies in a hundred more than one that wins 42 % of its serves, the share in open records of doubles")
}

func sharesFlag(f *flag.FlagSet, o *options) {
	f.StringVar(&o.sharesText, "shares", "0.35,0.40,0.45,0.50,0.55", "`LIST` of shares of own serves won, for grids of strengths")
}

func paceFlags(f *flag.FlagSet, o *options) {
	p := &o.pace
	f.Float64Var(&p.Rally, "rally", p.Rally, "`seconds` of a rally, on average")
	f.Float64Var(&p.RallySpread, "rally-spread", p.RallySpread, "`seconds`: standard deviation of a rally with the pause after it")
	f.Float64Var(&p.Between, "between", p.Between, "`seconds` from the end of a rally to the next serve")
	f.Float64Var(&p.EndChange, "end-change", p.EndChange, "`seconds` of a mid-game change of ends")
	f.Float64Var(&p.Games, "games", p.Games, "`seconds` from one game to the next")
	f.Float64Var(&p.TimeOut, "time-out", p.TimeOut, "`seconds` of a time-out")
	f.Float64Var(&p.TakeTimeOut, "take", p.TakeTimeOut, "`chance` that a side takes each time-out it has")
	f.Float64Var(&p.WarmUp, "warm-up", p.WarmUp, "`seconds` before the first serve")
}

func slotFlags(f *flag.FlagSet, o *options) {
	f.Float64Var(&o.slot, "slot", 30, "`minutes` of court time; 0 for no such question")
	f.IntVar(&o.matches, "matches", 1, "`matches` in that time, one after the other on each court")
	f.IntVar(&o.courts, "courts", 1, "`courts` that they are dealt out to")
}

// parse reads the flags of a command, which may stand among its arguments, and
// refuses values that cannot be.
func parse(c *command, args []string) (*options, []string, error) {
	f, o := flagsOf(c)
	var rest []string
	for {
		if err := f.Parse(args); err != nil {
			return nil, nil, err
		}
		if f.NArg() == 0 {
			break
		}
		rest, args = append(rest, f.Arg(0)), f.Args()[1:]
	}
	o.given = map[string]bool{}
	f.Visit(func(f *flag.Flag) { o.given[f.Name] = true })
	if o.json && o.html == "-" {
		return nil, nil, fmt.Errorf("-json and -html - both want standard output")
	}
	if o.onlyText != "" {
		for name := range strings.SplitSeq(o.onlyText, ",") {
			if !slices.Contains(c.parts, name) {
				return nil, nil, fmt.Errorf("-only: no part %q; there are %s", shorten(name), strings.Join(c.parts, ", "))
			}
			o.only = append(o.only, name)
		}
	}
	return o, rest, o.check()
}

// check reads the values that are lists, and sees that all are possible.
func (o *options) check() error {
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
	if o.matches < 0 || o.matches > 100 || o.given["matches"] && o.matches == 0 {
		return fmt.Errorf("-matches: must be 1 to 100, not %d", o.matches)
	}
	if o.given["courts"] && (o.courts < 1 || o.courts > o.matches) {
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
			return nil, fmt.Errorf("-%s: %q is no chance: want a number from 0 to 1, such as 0.45", name, shorten(word))
		}
		out = append(out, p)
	}
	return out, nil
}
