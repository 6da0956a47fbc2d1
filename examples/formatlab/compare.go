package main

import (
	"fmt"
	"math"
	"slices"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/words"
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
	d := document{Title: tell("lab.formats-side-by-side"), Lead: []string{q.strength.about(), tell("lab.model")}}
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
	t := &table{Head: []string{"", tell("lab.format"), tell("lab.what-is-played")}, Left: 3}
	for i, s := range all {
		t.add(number(i), s.Name, describe(s.Format))
	}
	return part{Name: "formats", Title: tell("lab.formats"), Table: t}
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
	p := part{Name: "winning", Title: tell("lab.who-wins"), Notes: []string{
		tell("lab.averages-over-who-serves")}}
	t := c.columns("")
	c.row(t, tell("lab.the-better-side-wins-2"), func(f *figures) string { return percent(f.Win) })
	c.row(t, "  "+tell("lab.serving-first"), func(f *figures) string { return percent(f.First) })
	c.row(t, "  "+tell("lab.receiving-first"), func(f *figures) string { return percent(f.Second) })
	if c.any(func(f *figures) bool { return f.Tie > 0 }) {
		c.row(t, tell("lab.nobody-wins"), func(f *figures) string { return percent(f.Tie) })
	}
	c.row(t, tell("lab.serving-first-is-worth"), func(f *figures) string { return points(f.First - f.Second) })
	c.row(t, tell("lab.serving-first-is-worth-between"), func(f *figures) string { return points(f.EvenFirst) })
	c.row(t, tell("lab.the-better-side-wins-to"), func(f *figures) string { return percent(f.ShutOut[0]) })
	c.row(t, tell("lab.the-other-side-wins-to"), func(f *figures) string { return percent(f.ShutOut[1]) })
	c.row(t, tell("lab.level-one-short-of"), func(f *figures) string { return percent(f.Level) })
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
	t := c.columns(tell("lab.rallies-of-a-match"))
	c.row(t, tell("lab.expected"), func(f *figures) string { return decimal(f.Rallies.Mean, 1) })
	c.row(t, tell("lab.spread-standard-deviation"), func(f *figures) string { return decimal(f.Rallies.Spread, 1) })
	c.row(t, tell("lab.one-match-in-twenty"), func(f *figures) string { return count(f.Rallies.P05) })
	c.row(t, tell("lab.every-other-match-has"), func(f *figures) string { return count(f.Rallies.Median) })
	c.row(t, tell("lab.nineteen-of-twenty-have"), func(f *figures) string { return count(f.Rallies.P95) })
	c.row(t, tell("lab.most-likely"), func(f *figures) string { return count(f.Rallies.Mode) })
	c.row(t, tell("lab.rallies-that-give-nobody"), func(f *figures) string { return decimal(f.Pointless, 1) })
	c.row(t, "  "+tell("lab.as-a-share-of"), func(f *figures) string { return percent(f.Pointless / f.Rallies.Mean) })
	if c.any(func(f *figures) bool { return f.Games > 1 }) {
		c.row(t, tell("lab.expected-games"), func(f *figures) string { return decimal(f.Games, 2) })
	}
	p := part{Name: "length", Title: tell("lab.how-long-it-is"), Table: t}
	if c.any(func(f *figures) bool { return f.Counted > 0 }) {
		c.row(t, tell("lab.better-side-beyond-50"), func(f *figures) string { return decimal(100*f.PerHundred, 1) })
		c.row(t, tell("lab.decides-like-a-plain"), func(f *figures) string { return known(f.Counted, 1) })
		c.row(t, "  "+tell("lab.for-each-rally-played"), func(f *figures) string { return known(f.Efficiency, 2) })
		p.Then = []string{tell("lab.the-last-two-rows")}
	}
	p.Charts = []chart{lengthChart(c.Formats)}
	return p
}

func (c *comparison) referee() part {
	t := c.columns(tell("lab.in-a-game"))
	c.row(t, tell("lab.rallies-before-which-the"), func(f *figures) string { return percent(f.Burden.Ambiguous) })
	c.row(t, tell("lab.times-the-serve-passes"), func(f *figures) string { return decimal(f.Burden.Turns, 1) })
	c.row(t, tell("lab.times-it-passes-to"), func(f *figures) string { return decimal(f.Burden.SideOuts, 1) })
	c.row(t, tell("lab.changes-of-court-by"), func(f *figures) string { return decimal(f.Burden.Moves, 1) })
	p := part{Name: "referee", Title: tell("lab.what-the-referee-must"), Table: t,
		Notes: []string{tell("lab.the-first-game-averaged")}}
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
	text := tell("lab.matters-in-of-games", words.Name("rule", mean.Rule), words.Name("games", percent(mean.Games)), words.Name("binds", fmt.Sprintf("%.2f", mean.Binds)), words.Name("length", longer(mean.Length)), words.Name("swing", points(mean.Swing)))
	if math.Abs(first.Length-second.Length) > 0.05 || math.Abs(first.Swing-second.Swing) > 0.0005 {
		text += " " + tell("lab.with-the-better-side", words.Name("length", longer(first.Length)), words.Name("swing", points(first.Swing)), words.Name("length2", longer(second.Length)), words.Name("swing2", points(second.Swing)))
	}
	return text
}

func longer(rallies float64) string {
	if rallies < 0 {
		return tell("lab.rallies-shorter", words.Name("rallies", fmt.Sprintf("%.2f", -rallies)))
	}
	return tell("lab.rallies-longer", words.Name("rallies", fmt.Sprintf("%.2f", rallies)))
}

func (c *comparison) byStrength() part {
	t := c.columns(tell("lab.more-rallies-won-in"))
	for i, at := range c.Formats[0].ByEdge {
		c.row(t, decimal(100*at.Edge, 0), func(f *figures) string { return percent(f.ByEdge[i].Win) })
	}
	return part{Name: "strength", Title: tell("lab.chance-of-the-better"), Table: t,
		Notes: []string{tell("lab.equal-sides-win-of", words.Name("share", percent(c.Strength.share())))}}
}

func (c *comparison) byShare() part {
	t := &table{Head: []string{tell("lab.own-serves-won")}, Left: 1}
	for i := range c.Formats {
		t.Head = append(t.Head, number(i)+" "+tell("lab.first"), number(i)+" "+tell("lab.rallies"))
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
	return part{Name: "shares", Title: tell("lab.equal-sides-by-how"), Table: t,
		Notes: []string{tell("lab.what-serving-first-is")}}
}

func (c *comparison) grid() part {
	t := &table{Head: []string{tell("lab.better-side-wins-of"), tell("lab.other-side-of-its")}, Left: 2}
	for i := range c.Formats {
		t.Head = append(t.Head, number(i)+" "+tell("lab.better-wins"), number(i)+" "+tell("lab.rallies"))
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
	p := part{Name: "grid", Title: tell("lab.chance-of-the-better-side"), Table: t}
	if len(t.Rows) == 0 {
		p.Table, p.Notes = nil, []string{tell("lab.one-share-of-own")}
	}
	return p
}
