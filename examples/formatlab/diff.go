package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

var diffCommand = command{
	name: "diff", takes: "FORMAT FORMAT",
	about: "the shortest sequence of events on which two formats differ, or the proof that they never do; what they say differently",
	parts: []string{"formats", "sequence", "searched", "clauses", "changes", "effect", "incentives"},
	flags: func(o *options) []cli.Flag {
		return slices.Concat(strengthFlags(o), sharesFlag(o), []cli.Flag{
			&cli.BoolFlag{Name: "all", Destination: &o.all, Usage: "go on over every kind of events after the first difference"},
			&cli.BoolFlag{Name: "each", Destination: &o.each, Usage: "for two editions of one shape: a shortest sequence for each change alone (takes seconds)"}})
	},
	answer: diffFormats,
}

// difference are the figures of diff.
type difference struct {
	Formats    [2]string                 `json:"formats"`
	Clauses    []explore.ClauseChange    `json:"clauses"` // all that they say differently
	Searched   []explore.Comparison      `json:"searched"`
	Changes    []explore.EditionChange   `json:"changes,omitempty"` // with -each
	Effect     []*figures                `json:"effect,omitempty"`  // where they are played differently
	Incentives []explore.IncentiveReport `json:"incentives,omitempty"`
}

func diffFormats(q *question) (*answer, error) {
	two, err := q.subjects(2, 2)
	if err != nil {
		return nil, err
	}
	x, y := two[0].Format, two[1].Format
	if q.each && (x.Shape == "" || x.Shape != y.Shape) {
		return nil, fmt.Errorf("-each wants two editions of one named shape, not %s and %s", two[0].Name, two[1].Name)
	}
	labs, err := ready(q.options, two)
	if err != nil {
		return nil, err
	}
	out := difference{Formats: [2]string{two[0].Name, two[1].Name}, Clauses: explore.Changes(x, y)}
	alphabets := explore.Alphabets()
	for i, a := range alphabets {
		q.bar.Step(i, len(alphabets), "sequences")
		c, err := explore.Compare(x, y, a)
		if err != nil {
			return nil, err
		}
		out.Searched = append(out.Searched, c)
		if c.Difference != nil && !q.all {
			break
		}
	}
	if q.each {
		if out.Changes, err = explore.EditionChanges(x.Shape, x.Edition, y.Edition, func(done, all int) { q.bar.Step(done, all, "changes one by one") }); err != nil {
			return nil, err
		}
	}
	if x.Game != y.Game || x.Last != y.Last || x.Match != y.Match {
		for i, s := range two {
			q.bar.Step(i, 2, "incentives")
			r, err := explore.Incentives(s.Format, pairs(q.options)[1:])
			if err != nil {
				return nil, err
			}
			out.Incentives = append(out.Incentives, r)
			f, err := labs[i].core(q.options)
			if err != nil {
				return nil, err
			}
			out.Effect = append(out.Effect, f)
		}
	}
	d := document{Title: "Where two formats differ", Parts: []part{namesPart(two), out.sequencePart(x, y), out.searchedPart(), out.clausesPart()}}
	if q.each {
		d.Parts = append(d.Parts, out.changesPart())
	}
	if out.Incentives != nil {
		effect, err := out.effectPart(labs, q.strength)
		if err != nil {
			return nil, err
		}
		d.Parts = append(d.Parts, effect)
		d.Parts = append(d.Parts, incentivesPart(out.Incentives, []string{number(0), number(1)}, alike))
	}
	return &answer{document: d, figures: out, found: out.shown() != nil}, nil
}

// shown returns the first difference that was found.
func (d *difference) shown() *explore.Difference {
	for _, c := range d.Searched {
		if c.Difference != nil {
			return c.Difference
		}
	}
	return nil
}

func (d *difference) proved() bool {
	for _, c := range d.Searched {
		if !c.Proved {
			return false
		}
	}
	return true
}

func (d *difference) sequencePart(x, y format.Format) part {
	p := part{Name: "sequence", Title: "The shortest sequence that tells them apart"}
	s := d.shown()
	switch {
	case s == nil && d.proved():
		p.Title = "They never differ"
		p.Notes = []string{"Proved: over every kind of events below, all pairs of states that any sequence leads to were visited, and nobody could tell the two apart."}
		return p
	case s == nil:
		p.Title = "No difference was found"
		p.Notes = []string{"Where the search below says so it was ended by its bound: up to that many events there is none; beyond is not known."}
		return p
	}
	p.Notes = append(p.Notes, sequenceWords(s.Events, s.Alphabet))
	var rulings []string
	if n := len(s.Events); n > 0 {
		var position [2]string
		for i, f := range []format.Format{x, y} {
			r, at := stateBefore(f, s)
			position[i] = stateWords(r, at)
			if _, rides := s.Events[n-1].Incident(); rides {
				ruling := referee.New(r, rally.Setup{}).Ruling(at, s.Events[n-1])
				rulings = append(rulings, number(i)+" rules: "+words.English().Say(ruling.Text))
			}
		}
		if position[0] == position[1] {
			p.Notes = append(p.Notes, "Before the last event: "+position[0])
		}
	}
	t := &table{Head: []string{"after it"}, Left: 3}
	row := func(name string, value func(explore.Outcome) string) {
		t.add(name, value(s.Outcomes[0]), value(s.Outcomes[1]))
	}
	t.Head = append(t.Head, number(0), number(1))
	row("happened", func(o explore.Outcome) string {
		if o.Refusal != rally.NotRefused {
			return "refused: " + o.Refusal.String()
		}
		return o.Did.String()
	})
	row("score call", func(o explore.Outcome) string {
		if o.Call == "" {
			return "none"
		}
		return o.Call
	})
	for _, f := range lineFields(s.Outcomes) {
		t.add(fieldWords(f[0]), f[1], f[2])
	}
	p.Table, p.Then = t, rulings
	for _, c := range s.Clauses {
		p.Then = append(p.Then, "What makes it: "+clauseWords(c))
	}
	return p
}

// fieldNamed says what the fields of a canonical line are about.
var fieldNamed = map[string]string{
	"game": "number of the game", "won": "games won, A and B", "score": "score, A and B", "opens": "score that the next game opens at",
	"serve": "server, court and server number", "receive": "receiver", "A": "players of A, right court first", "B": "players of B, right court first",
	"first": "who served first", "start": "starting servers", "ends": "ends changed", "due": "end change due", "phase": "phase of the match",
	"result": "result", "break": "break", "timeouts": "time-outs used, A and B", "medical": "medical time-outs", "out": "players out",
	"vw": "verbal warnings, A and B", "tw": "technical warnings, A and B", "tf": "technical fouls, A and B", "gf": "games forfeited, A and B",
	"wrong": "wrong challenges, A and B", "carry": "penalties brought from the last match",
}

func fieldWords(name string) string {
	if words := fieldNamed[name]; words != "" {
		return words
	}
	return name
}

// lineFields returns the fields in which two canonical lines differ, with both
// values.
func lineFields(o [2]explore.Outcome) (out [][3]string) {
	x, y := strings.Fields(o[0].Line), strings.Fields(o[1].Line)
	if len(x) != len(y) {
		return nil
	}
	for i := range x {
		name, a, _ := strings.Cut(x[i], "=")
		_, b, _ := strings.Cut(y[i], "=")
		if a != b {
			out = append(out, [3]string{name, a, b})
		}
	}
	return out
}

func sequenceWords(events []rally.Event, alphabet string) string {
	if len(events) == 0 {
		return "None is needed: the two begin in different states."
	}
	text := fmt.Sprintf("%s of %s, side A serving first: %s.", plural(len(events), "event"), alphabet, eventWords(events))
	if before(alphabet) {
		text = fmt.Sprintf("%s, %s: %s.", plural(len(events), "event"), alphabet, eventWords(events))
	}
	if words := saidInWords(events); words != "" {
		return text + " In words: " + words + "."
	}
	return text + " A letter is a rally won by that side."
}

// stateBefore plays all events but the last of a difference.
func stateBefore(f format.Format, d *explore.Difference) (*rally.Rules, rally.State) {
	r := rally.MustCompile(f) // explore has compiled it before
	var s rally.State
	if !before(d.Alphabet) {
		s, _, _ = r.Apply(r.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
	}
	for _, e := range d.Events[:len(d.Events)-1] {
		s, _, _ = r.Apply(s, e)
	}
	return r, s
}

// before reports whether the sequences of an alphabet begin before the match.
func before(alphabet string) bool {
	for _, a := range explore.Alphabets() {
		if a.Name == alphabet {
			return a.Before
		}
	}
	return false
}

func stateWords(r *rally.Rules, s rally.State) string {
	if call := string(r.AppendCall(nil, s)); call != "" {
		p := r.Places(s)
		return "call " + call + ", " + p.Server.String() + " serves from the " + courtWords(p.Court) + " court to " + p.Receiver.String() + "."
	}
	if s == (rally.State{}) {
		return "nobody has served or chosen yet."
	}
	return r.Line(s)
}

func courtWords(c rally.Court) string {
	if c == rally.Right {
		return "right"
	}
	return "left"
}

func clauseWords(c explore.ClauseChange) string {
	text := c.Field + ": " + c.Values[0] + " or " + c.Values[1]
	for i, s := range c.Sources {
		if s != nil {
			text += "; " + number(i) + " " + sourceWords(*s)
		}
	}
	return text
}

func sourceWords(s format.Source) string {
	text := s.Edition.String()
	if s.Rule != "" {
		text += " rule " + s.Rule
	}
	return text + " (" + s.Mark.String() + ")"
}

func (d *difference) searchedPart() part {
	t := &table{Head: []string{"events", "outcome", "pairs of states", "events deep"}, Left: 2}
	for _, c := range d.Searched {
		outcome := "differ"
		switch {
		case c.Difference != nil:
			outcome = fmt.Sprintf("differ after %s", plural(len(c.Difference.Events), "event"))
		case c.Proved:
			outcome = "never differ: proved"
		default:
			outcome = "no difference found"
		}
		t.add(c.Alphabet, outcome, count(c.Pairs), count(c.Depth))
	}
	p := part{Name: "searched", Title: "What was searched", Table: t}
	if n := len(explore.Alphabets()) - len(d.Searched); n > 0 {
		p.Then = []string{fmt.Sprintf("%d kinds of events were not searched, since a difference was found; -all goes on.", n)}
	}
	return p
}

func (d *difference) clausesPart() part {
	p := part{Name: "clauses", Title: "What the two say differently"}
	if len(d.Clauses) == 0 {
		p.Notes = []string{"Nothing."}
		return p
	}
	p.Table = clauseTable(d.Clauses)
	return p
}

func clauseTable(list []explore.ClauseChange) *table {
	t := &table{Head: []string{"what", number(0), number(1), "source " + number(0), "source " + number(1)}, Left: 5}
	for _, c := range list {
		cells := []string{c.Field, c.Values[0], c.Values[1], "", ""}
		for i, s := range c.Sources {
			if s != nil {
				cells[3+i] = sourceWords(*s)
			}
		}
		t.add(cells...)
	}
	return t
}

func (d *difference) changesPart() part {
	p := part{Name: "changes", Title: "Each change alone, with a shortest sequence that shows it"}
	for _, c := range d.Changes {
		text := clauseWords(c.ClauseChange) + "."
		if c.About != "" {
			text += " " + c.About
		}
		switch {
		case c.Shown != nil:
			text += " Shown by " + sequenceWords(c.Shown.Events, c.Shown.Alphabet)
		case len(c.Proved) == 0 && len(c.Searched) == 0:
			text += " It goes only with another change."
		default:
			// What is only told, timed or reported shows in no state.
			text += fmt.Sprintf(" It never shows in the state of a match over %d kinds of events: proved.", len(c.Proved))
			for _, more := range c.Searched {
				text += " Nor was it found over " + more + "; beyond is not known."
			}
		}
		p.Then = append(p.Then, text)
	}
	return p
}

// effectPart says what playing differently does to length and chances.
func (d *difference) effectPart(labs []*lab, s strength) (part, error) {
	c := comparison{Strength: s, Formats: d.Effect}
	p := c.length()
	p.Name, p.Title = "effect", "What the difference does"
	p.Notes, p.Then = []string{s.about(), model, "The command compare says more about it."}, nil
	t := c.columns("a match")
	c.row(t, "the better side wins", func(f *figures) string { return percent(f.Win) })
	c.row(t, "serving first is worth between equal sides, points", func(f *figures) string { return points(f.EvenFirst) })
	c.row(t, "expected rallies", func(f *figures) string { return decimal(f.Rallies.Mean, 1) })
	c.row(t, "nineteen of twenty have at most", func(f *figures) string { return count(f.Rallies.P95) })
	p.Table = t
	if labs[0].Format.Game.Target != labs[1].Format.Game.Target {
		return p, nil
	}
	var win [2][][]float64
	for i, l := range labs {
		all, err := l.game[0].Positions(s.rates())
		if err != nil {
			return p, err
		}
		win[i], _ = l.byScore(all)
	}
	most := 0.0
	for a := range win[0] {
		for b := range win[0][a] {
			win[1][a][b] -= win[0][a][b] // NaN where either never comes there
			if x := math.Abs(win[1][a][b]); x > most {
				most = x
			}
		}
	}
	if most < 1e-9 {
		return p, nil
	}
	most = ticks(1).above(most)
	p.Charts = append(p.Charts, heatMap{Title: "Chance of the better side, by score: " + number(1) + " less " + number(0),
		About:  "How much the chance of winning the first game at each score differs between the two formats; blue is more with the second format, red less.",
		XLabel: "points of the better side", YLabel: "points of the other side", Legend: "difference (points)",
		Cells: win[1], Min: -most, Max: most, Scale: twoSided})
	return p, nil
}
