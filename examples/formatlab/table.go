package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/format"
)

var tableCommand = command{
	name: "table", takes: "[WORD…]",
	about: "every named format in one table, or those whose name holds one of the words",
	parts: []string{"table"},
	flags: func(o *options) []cli.Flag {
		return slices.Concat(strengthFlags(o), paceFlags(o), slotFlags(o))
	},
	answer: tableOfFormats,
}

// catalogue are the figures of table.
type catalogue struct {
	Strength strength   `json:"strength"`
	Formats  []*figures `json:"formats"`
}

func tableOfFormats(q *question) (*answer, error) {
	var all []subject
	for _, s := range namedFormats() {
		wanted := len(q.args) == 0
		for _, word := range q.args {
			wanted = wanted || strings.Contains(s.Name, word)
		}
		if wanted {
			all = append(all, s)
		}
	}
	if len(all) == 0 {
		return nil, errors.New("no named format holds any of: " + program.Shorten(strings.Join(q.args, " ")))
	}
	out := catalogue{Strength: q.strength}
	for i, s := range all {
		q.bar.Step(i, len(all), "formats")
		labs, err := ready(q.options, []subject{s})
		if err != nil {
			return nil, err
		}
		f, err := labs[0].core(q.options)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.Name, reason(err))
		}
		out.Formats = append(out.Formats, f)
	}
	t := &table{Head: []string{tell("lab.format"), tell("lab.positions"), tell("lab.better-wins"), tell("lab.even-first"), tell("lab.rallies"), tell("lab.spread"), "5 %", "95 %", tell("lab.per-rally"), tell("lab.minutes"), tell("lab.min-95"), tell("lab.overrun")}, Left: 1}
	for _, f := range out.Formats {
		t.add(f.Format, count(f.States), percent(f.Win), points(f.EvenFirst), decimal(f.Rallies.Mean, 1), decimal(f.Rallies.Spread, 1), count(f.Rallies.P05),
			count(f.Rallies.P95), known(f.Efficiency, 2), decimal(f.Time.Mean/60, 1), decimal(f.Time.at(0.95)/60, 1), f.Time.overrun())
	}
	return &answer{document: document{
		Title: tell("lab.every-named-format"),
		Lead:  []string{q.strength.about(), tell("lab.model"), paceWords(q.pace)},
		Parts: []part{{Name: "table", Title: tell("lab.formats"), Table: t, Notes: []string{
			tell("lab.better-wins-chance-of") + " " + slotWords(q.options) + ".",
			tell("lab.a-shape-stands-once"),
		}, Charts: []chart{out.chart(all)}}},
	}, figures: out}, nil
}

// chart shows what length buys: a dot a format.
func (c *catalogue) chart(all []subject) chart {
	out := lines{Title: tell("lab.what-the-length-of"),
		About:  tell("lab.every-format-by-its"),
		XLabel: tell("lab.expected-rallies-of-a"), YLabel: tell("lab.the-better-side-wins-3"),
		Series: []series{{Name: tell("lab.the-serving-side-scores"), Dots: true}, {Name: tell("lab.either-side-scores"), Dots: true}, {Name: tell("lab.either-side-scores-with"), Dots: true}}}
	for i, f := range c.Formats {
		s := &out.Series[0]
		switch g := all[i].Format.Last; {
		case g.Scorer == format.EitherSide && g.Freeze != format.NoFreeze:
			s = &out.Series[2]
		case g.Scorer == format.EitherSide:
			s = &out.Series[1]
		}
		s.X, s.Y = append(s.X, f.Rallies.Mean), append(s.Y, 100*f.Win)
	}
	out.Series = slices.DeleteFunc(out.Series, func(s series) bool { return len(s.X) == 0 })
	return out
}

// namedFormats are all named shapes, once for each way the editions have of
// playing them, rulings and time-outs aside, under the newest of those editions.
func namedFormats() []subject {
	var out []subject
	for _, shape := range format.Shapes() {
		type play struct {
			game, last format.Game
			match      format.Series
		}
		newest := map[play]format.Edition{}
		var order []play
		for _, e := range format.EditionsOf(shape) {
			f, err := format.Named(shape, e)
			if err != nil {
				continue
			}
			f.Game.TimeOuts, f.Last.TimeOuts = 0, 0
			p := play{f.Game, f.Last, f.Match}
			if _, seen := newest[p]; !seen {
				order = append(order, p)
			}
			newest[p] = e
		}
		for _, p := range order {
			f, err := format.Named(shape, newest[p])
			if err == nil {
				out = append(out, subject{f.ID(), f})
			}
		}
	}
	return out
}
