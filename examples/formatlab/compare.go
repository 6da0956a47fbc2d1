package main

import (
	"fmt"
	"math"
	"slices"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/rally/explore"
)

// mostCompared is how many formats stand side by side: as many as there are
// colours that everybody can tell apart.
const mostCompared = 6

var compareCommand = command{
	name: "compare", takes: "FORMAT FORMAT…",
	about: "figures of up to six formats side by side",
	parts: []string{"formats", "winning", "length", "time", "referee", "strength", "shares", "grid"},
	flags: func(o *options) []cli.Flag {
		return slices.Concat(strengthFlags(o), sharesFlag(o), paceFlags(o), slotFlags(o))
	},
	answer: compareFormats,
}

// comparison are the figures of compare.
type comparison struct {
	Strength strength   `json:"strength"`
	Formats  []*figures `json:"formats"`
}

func compareFormats(q *question) (*answer, error) {
	all, err := q.subjects(2, mostCompared)
	if err != nil {
		return nil, err
	}
	labs, err := ready(q.options, all)
	if err != nil {
		return nil, err
	}
	out := comparison{Strength: q.strength}
	for i, l := range labs {
		f, err := l.whole(q.options, func(done, all int) { q.bar.Step(i*all+done, len(labs)*all, l.Name) })
		if err != nil {
			return nil, err
		}
		out.Formats = append(out.Formats, f)
	}
	d := document{Title: "Formats side by side", Lead: []string{q.strength.about(), model}}
	d.Parts = []part{namesPart(all), out.winning(), out.length(), out.time(q.options), out.referee(), out.byStrength(),
		out.byShare(), out.grid()}
	for i, l := range labs {
		heat, err := l.heat(q.strength)
		if err != nil {
			return nil, err
		}
		heat.Title += ": " + out.Formats[i].Format
		d.Parts[1].Charts = append(d.Parts[1].Charts, heat)
	}
	return &answer{document: d, figures: out}, nil
}

// namesPart gives each format its number.
func namesPart(all []subject) part {
	t := &table{Head: []string{"", "format", "what is played"}, Left: 3}
	for i, s := range all {
		t.add(number(i), s.Name, describe(s.Format))
	}
	return part{Name: "formats", Title: "Formats", Table: t}
}

func number(i int) string { return "[" + count(i+1) + "]" }

// columns begins a table with one column a format.
func (c *comparison) columns(first string) *table {
	t := &table{Head: []string{first}, Left: 1}
	for i := range c.Formats {
		t.Head = append(t.Head, number(i))
	}
	return t
}

// row adds a row with a value of every format.
func (c *comparison) row(t *table, name string, value func(*figures) string) {
	cells := []string{name}
	for _, f := range c.Formats {
		cells = append(cells, value(f))
	}
	t.add(cells...)
}

// chart begins a chart with one line a format.
func (c *comparison) chart(l lines, of func(*figures) series) lines {
	for _, f := range c.Formats {
		s := of(f)
		s.Name = f.Format
		l.Series = append(l.Series, s)
	}
	return l
}

func (c *comparison) winning() part {
	p := part{Name: "winning", Title: "Who wins", Notes: []string{
		"Averages over who serves first, unless a row says otherwise; shut-outs and level scores are those of the first game."}}
	t := c.columns("")
	c.row(t, "the better side wins", func(f *figures) string { return percent(f.Win) })
	c.row(t, "  serving first", func(f *figures) string { return percent(f.First) })
	c.row(t, "  receiving first", func(f *figures) string { return percent(f.Second) })
	if c.any(func(f *figures) bool { return f.Tie > 0 }) {
		c.row(t, "nobody wins", func(f *figures) string { return percent(f.Tie) })
	}
	c.row(t, "serving first is worth to it, percentage points", func(f *figures) string { return points(f.First - f.Second) })
	c.row(t, "serving first is worth between equal sides, percentage points", func(f *figures) string { return points(f.EvenFirst) })
	c.row(t, "the better side wins to nothing", func(f *figures) string { return percent(f.ShutOut[0]) })
	c.row(t, "the other side wins to nothing", func(f *figures) string { return percent(f.ShutOut[1]) })
	c.row(t, "level one short of the target", func(f *figures) string { return percent(f.Level) })
	p.Table = t
	p.Charts = []chart{
		c.chart(winCurve(), func(f *figures) series { return f.winSeries() }),
		c.chart(firstCurve(), func(f *figures) series { return f.firstSeries() }),
	}
	return p
}

func (c *comparison) any(is func(*figures) bool) bool {
	for _, f := range c.Formats {
		if is(f) {
			return true
		}
	}
	return false
}

func (c *comparison) length() part {
	t := c.columns("rallies of a match")
	c.row(t, "expected", func(f *figures) string { return decimal(f.Rallies.Mean, 1) })
	c.row(t, "spread (standard deviation)", func(f *figures) string { return decimal(f.Rallies.Spread, 1) })
	c.row(t, "one match in twenty has at most", func(f *figures) string { return count(f.Rallies.P05) })
	c.row(t, "every other match has at most", func(f *figures) string { return count(f.Rallies.Median) })
	c.row(t, "nineteen of twenty have at most", func(f *figures) string { return count(f.Rallies.P95) })
	c.row(t, "most likely", func(f *figures) string { return count(f.Rallies.Mode) })
	c.row(t, "rallies that give nobody a point", func(f *figures) string { return decimal(f.Pointless, 1) })
	c.row(t, "  as a share of all", func(f *figures) string { return percent(f.Pointless / f.Rallies.Mean) })
	if c.any(func(f *figures) bool { return f.Games > 1 }) {
		c.row(t, "expected games", func(f *figures) string { return decimal(f.Games, 2) })
	}
	p := part{Name: "length", Title: "How long it is", Table: t}
	if c.any(func(f *figures) bool { return f.Counted > 0 }) {
		c.row(t, "better side beyond 50 %, percentage points for 100 rallies", func(f *figures) string { return decimal(100*f.PerHundred, 1) })
		c.row(t, "decides like a plain count of so many rallies", func(f *figures) string { return known(f.Counted, 1) })
		c.row(t, "  for each rally played", func(f *figures) string { return known(f.Efficiency, 2) })
		p.Then = []string{"The last two rows compare with a match that is a plain count of rallies served in turn: how many would favour the better side as much (by the normal law). Per rally, 1.00 is as good as counting; a match that stops once one side is far enough ahead can do better."}
	}
	p.Charts = []chart{lengthChart(c.Formats)}
	return p
}

func (c *comparison) referee() part {
	t := c.columns("in a game")
	c.row(t, "rallies before which the call does not tell who serves", func(f *figures) string { return percent(f.Burden.Ambiguous) })
	c.row(t, "times the serve passes to another player", func(f *figures) string { return decimal(f.Burden.Turns, 1) })
	c.row(t, "times it passes to the other side", func(f *figures) string { return decimal(f.Burden.SideOuts, 1) })
	c.row(t, "changes of court by players", func(f *figures) string { return decimal(f.Burden.Moves, 1) })
	p := part{Name: "referee", Title: "What the referee must follow", Table: t,
		Notes: []string{"The first game, averaged over who serves first."}}
	for i, f := range c.Formats {
		for k, u := range f.Burden.Specials {
			p.Then = append(p.Then, number(i)+" "+useWords(u, f.BurdenFirst.Specials[k], f.BurdenSecond.Specials[k]))
		}
	}
	return p
}

// useWords says how often a special rule matters: on average, and with the
// better side serving first and receiving first where that is another matter.
func useWords(mean, first, second explore.Use) string {
	text := fmt.Sprintf("%s: matters in %s of games (%.2f times a game). On average it makes a game %s and moves the chance of the better side by %s percentage points.",
		mean.Rule, percent(mean.Games), mean.Binds, longer(mean.Length), points(mean.Swing))
	if math.Abs(first.Length-second.Length) > 0.05 || math.Abs(first.Swing-second.Swing) > 0.0005 {
		text += fmt.Sprintf(" With the better side serving first: %s and %s; receiving first: %s and %s.",
			longer(first.Length), points(first.Swing), longer(second.Length), points(second.Swing))
	}
	return text
}

func longer(rallies float64) string {
	if rallies < 0 {
		return fmt.Sprintf("%.2f rallies shorter", -rallies)
	}
	return fmt.Sprintf("%.2f rallies longer", rallies)
}

func (c *comparison) byStrength() part {
	t := c.columns("more rallies won in a hundred")
	for i, at := range c.Formats[0].ByEdge {
		c.row(t, decimal(100*at.Edge, 0), func(f *figures) string { return percent(f.ByEdge[i].Win) })
	}
	return part{Name: "strength", Title: "Chance of the better side, by how much better it is", Table: t,
		Notes: []string{fmt.Sprintf("Equal sides win %s of their own serves; the better side wins so many more in a hundred, serving and receiving.", percent(c.Strength.share()))}}
}

func (c *comparison) byShare() part {
	t := &table{Head: []string{"own serves won"}, Left: 1}
	for i := range c.Formats {
		t.Head = append(t.Head, number(i)+" first", number(i)+" rallies")
	}
	for i, e := range c.Formats[0].Grid {
		if e.Rates.Serve[0] != e.Rates.Serve[1] {
			continue
		}
		cells := []string{percent(e.Rates.Serve[0])}
		for _, f := range c.Formats {
			cells = append(cells, points(f.Grid[i].ServeFirst), decimal(f.Grid[i].Mean, 1))
		}
		t.add(cells...)
	}
	return part{Name: "shares", Title: "Equal sides, by how many of their own serves they win", Table: t,
		Notes: []string{"What serving first is worth, in percentage points of the match, and the expected rallies."}}
}

func (c *comparison) grid() part {
	t := &table{Head: []string{"better side wins of its serves", "other side of its own"}, Left: 2}
	for i := range c.Formats {
		t.Head = append(t.Head, number(i)+" better wins", number(i)+" rallies")
	}
	for i, e := range c.Formats[0].Grid {
		if e.Rates.Serve[0] <= e.Rates.Serve[1] {
			continue
		}
		cells := []string{percent(e.Rates.Serve[0]), percent(e.Rates.Serve[1])}
		for _, f := range c.Formats {
			cells = append(cells, percent(f.Grid[i].Better), decimal(f.Grid[i].Mean, 1))
		}
		t.add(cells...)
	}
	p := part{Name: "grid", Title: "Chance of the better side over a grid of strengths", Table: t}
	if len(t.Rows) == 0 {
		p.Table, p.Notes = nil, []string{"One share of own serves makes no pair of different sides; -shares takes more."}
	}
	return p
}
