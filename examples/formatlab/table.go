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
	t := &table{Head: []string{"format", "positions", "better wins", "even first", "rallies", "spread", "5 %", "95 %", "per rally", "minutes", "min 95 %", "overrun"}, Left: 1}
	for _, f := range out.Formats {
		t.add(f.Format, count(f.States), percent(f.Win), points(f.EvenFirst), decimal(f.Rallies.Mean, 1), decimal(f.Rallies.Spread, 1), count(f.Rallies.P05),
			count(f.Rallies.P95), known(f.Efficiency, 2), decimal(f.Time.Mean/60, 1), decimal(f.Time.at(0.95)/60, 1), f.Time.overrun())
	}
	return &answer{document: document{
		Title: "Every named format",
		Lead:  []string{q.strength.about(), model, paceWords(q.pace)},
		Parts: []part{{Name: "table", Title: "Formats", Table: t, Notes: []string{
			"better wins: chance of the match, over who serves first. even first: what serving first is worth between equal sides, in percentage points. rallies: of a match. per rally: how much one rally tells, against a plain count of rallies. overrun: " + slotWords(q.options) + ".",
			"A shape stands once for each way it is played, under the newest edition that plays it so.",
		}, Charts: []chart{out.chart(all)}}},
	}, figures: out}, nil
}

// chart shows what length buys: a dot a format.
func (c *catalogue) chart(all []subject) chart {
	out := lines{Title: "What the length of a match buys",
		About:  "Every format by its expected rallies and the chance of the better side; the longer the match, the surer its outcome.",
		XLabel: "expected rallies of a match", YLabel: "the better side wins (%)",
		Series: []series{{Name: "the serving side scores", Dots: true}, {Name: "either side scores", Dots: true}, {Name: "either side scores, with a freeze", Dots: true}}}
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
			match      format.Match
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
