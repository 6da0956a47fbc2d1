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
		if out.Changes, err = explore.EditionChanges(x.Shape, x.Edition, y.Edition, func(done, all int) { q.bar.Step(done, all, tell("lab.changes-one-by-one")) }); err != nil {
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
	d := document{Title: tell("lab.where-two-formats-differ"), Parts: []part{namesPart(two), out.sequencePart(x, y), out.searchedPart(), out.clausesPart(x, y)}}
	if q.each {
		d.Parts = append(d.Parts, out.changesPart())
	}
	if out.Incentives != nil {
		effect, err := out.effectPart(labs, q.strength)
		if err != nil {
			return nil, err
		}
		d.Parts = append(d.Parts, effect)
		d.Parts = append(d.Parts, incentivesPart(out.Incentives, []string{number(0), number(1)}, tell("lab.alike")))
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
	p := part{Name: "sequence", Title: tell("lab.the-shortest-sequence-that")}
	s := d.shown()
	switch {
	case s == nil && d.proved():
		p.Title = tell("lab.they-never-differ")
		p.Notes = []string{tell("lab.proved-over-every-kind")}
		return p
	case s == nil:
		p.Title = tell("lab.no-difference-was-found")
		p.Notes = []string{tell("lab.where-the-search-below")}
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
				rulings = append(rulings, tell("lab.rules", words.Name("format", number(i)), words.Within("ruling", ruling.Text)))
			}
		}
		if position[0] == position[1] {
			p.Notes = append(p.Notes, tell("lab.before-the-last-event")+" "+position[0])
		}
	}
	t := &table{Head: []string{tell("lab.after-it")}, Left: 3}
	row := func(name string, value func(explore.Outcome) string) {
		t.add(name, value(s.Outcomes[0]), value(s.Outcomes[1]))
	}
	t.Head = append(t.Head, number(0), number(1))
	row(tell("lab.happened"), func(o explore.Outcome) string {
		if o.Refusal != rally.NotRefused {
			return tell("lab.refused", words.Within("refusal", words.For(o.Refusal)))
		}
		var said []string
		for _, one := range words.Effects(o.Did) {
			said = append(said, language.Say(one))
		}
		return strings.Join(said, "; ")
	})
	row(tell("lab.score-call"), func(o explore.Outcome) string {
		if o.Call == "" {
			return tell("lab.none")
		}
		return o.Call
	})
	for _, f := range lineFields(s.Outcomes) {
		t.add(fieldWords(f[0]), valueWords(f[0], f[1]), valueWords(f[0], f[2]))
	}
	p.Table, p.Then = t, rulings
	for _, c := range s.Clauses {
		p.Then = append(p.Then, tell("lab.what-makes-it")+" "+clauseWords(c))
	}
	return p
}

// fieldWords says what a field of a line is about.
func fieldWords(name string) string {
	return orItself("lab.field.", name)
}

// orItself is what a name is called in a family of texts; the name where it has
// no text there.
func orItself(family, name string) string {
	text := words.New(words.Code(family + strings.ReplaceAll(name, "_", "-")))
	if language.Check(text) != nil {
		return name
	}
	return language.Say(text)
}

// changeWords says which field of a format, or which switch, has which values.
func changeWords(c explore.ClauseChange) (field string, values [2]string) {
	short, ofGame := strings.CutPrefix(c.Field, "game.")
	if !ofGame {
		return c.Field, c.Values
	}
	return orItself("lab.format.", short), [2]string{orItself("lab.value.", c.Values[0]), orItself("lab.value.", c.Values[1])}
}

// valueWords says in words who stands and serves where, and what phase it is;
// other values are plain.
func valueWords(name, value string) string {
	switch {
	case strings.Trim(value, "-") == "":
		return "-"
	case name == "phase":
		return language.Say(words.New(words.Code("phase." + value)))
	case name == "due" && value == "e":
		return language.Say(words.New("effect.ends-due"))
	case name == "A" || name == "B":
		var people []string
		for _, player := range strings.Trim(value, "-") {
			people = append(people, name+string(player))
		}
		return strings.Join(people, ", ")
	}
	server, rest, ok := strings.Cut(value, "@")
	if name != "serve" || !ok {
		return value
	}
	court, number, _ := strings.Cut(rest, "#")
	var c rally.Court
	if c.UnmarshalText([]byte(court)) != nil {
		return value
	}
	if number == "" || number == "-" {
		return tell("lab.serves-from", words.Name("server", server), courtWord(c))
	}
	return tell("lab.serves-as", words.Name("server", server), courtWord(c), words.Name("number", number))
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
		return tell("lab.none-is-needed-the")
	}
	code := words.Code("lab.sequence-a")
	if before(alphabet) {
		code = "lab.sequence"
	}
	text := tell(code, words.Count("n", len(events)), words.Name("alphabet", alphabet), words.Name("events", eventWords(events)))
	if said := saidInWords(events); said != "" {
		return text + " " + tell("lab.in-words", words.Name("events", said))
	}
	return text + " " + tell("lab.a-letter-is-a")
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
		return tell("lab.position", words.Name("call", call), words.Name("server", p.Server.String()), courtWord(p.Court), words.Name("receiver", p.Receiver.String()))
	}
	if s == (rally.State{}) {
		return tell("lab.nobody-has-served-or")
	}
	return tell("lab.stands", words.Name("score", fmt.Sprintf("%d-%d", s.Score(rally.A), s.Score(rally.B))), words.Word("phase", words.Code("phase."+s.Phase().String())))
}

func courtWord(c rally.Court) words.Arg {
	return words.Word("court", words.OfCourt(c))
}

func clauseWords(c explore.ClauseChange) string {
	field, values := changeWords(c)
	text := field + ": " + tell("lab.either", words.Name("one", values[0]), words.Name("other", values[1]))
	for i, s := range c.Sources {
		if s != nil {
			text += "; " + number(i) + " " + sourceWords(*s)
		}
	}
	return text
}

func sourceWords(s format.Source) string {
	edition, mark := words.Name("edition", s.Edition.String()), words.Word("mark", words.Code("mark."+s.Mark.String()))
	if s.Rule == "" {
		return language.Short(words.New("lab.edition", edition, mark))
	}
	return language.Short(words.New("lab.edition-rule", edition, words.Name("rule", s.Rule), mark))
}

func (d *difference) searchedPart() part {
	t := &table{Head: []string{tell("lab.events"), tell("lab.outcome"), tell("lab.pairs-of-states"), tell("lab.events-deep")}, Left: 2}
	for _, c := range d.Searched {
		var outcome string
		switch {
		case c.Difference != nil:
			outcome = tell("lab.differ-after", words.Count("n", len(c.Difference.Events)))
		case c.Proved:
			outcome = tell("lab.never-differ-proved")
		default:
			outcome = tell("lab.no-difference-found")
		}
		t.add(c.Alphabet, outcome, count(c.Pairs), count(c.Depth))
	}
	p := part{Name: "searched", Title: tell("lab.what-was-searched"), Table: t}
	if n := len(explore.Alphabets()) - len(d.Searched); n > 0 {
		p.Then = []string{tell("lab.kinds-of-events-were", words.Count("value", n))}
	}
	return p
}

// clausesPart lists what the two say differently, and below it the rules by which
// each of them goes.
func (d *difference) clausesPart(x, y format.Format) part {
	p := part{Name: "clauses", Title: tell("lab.what-the-two-say")}
	if len(d.Clauses) == 0 {
		p.Notes = []string{tell("lab.nothing")}
		return p
	}
	p.Table = clauseTable(d.Clauses)
	for _, c := range d.Clauses {
		var s format.Switch
		if s.UnmarshalText([]byte(c.Field)) != nil {
			continue // a field of the format, which says what it is
		}
		text := c.Field + ":"
		for i, f := range []format.Format{x, y} {
			if rule := f.Rulings.Clause(s); rule != 0 { // it is asked
				text += " " + number(i) + " " + language.Say(words.For(rule))
			}
		}
		p.Then = append(p.Then, text)
	}
	return p
}

func clauseTable(list []explore.ClauseChange) *table {
	t := &table{Head: []string{tell("lab.what"), number(0), number(1), tell("lab.source") + " " + number(0), tell("lab.source") + " " + number(1)}, Left: 5}
	for _, c := range list {
		field, values := changeWords(c)
		cells := []string{field, values[0], values[1], "", ""}
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
	p := part{Name: "changes", Title: tell("lab.each-change-alone-with")}
	for _, c := range d.Changes {
		text := clauseWords(c.ClauseChange) + "."
		if c.About != "" {
			text += " " + c.About
		}
		switch {
		case c.Shown != nil:
			text += " " + tell("lab.shown-by") + " " + sequenceWords(c.Shown.Events, c.Shown.Alphabet)
		case len(c.Proved) == 0 && len(c.Searched) == 0:
			text += " " + tell("lab.it-goes-only-with")
		default:
			// What is only told, timed or reported shows in no state.
			text += " " + tell("lab.it-never-shows-in", words.Count("proved", len(c.Proved)))
			for _, more := range c.Searched {
				text += " " + tell("lab.nor-over", words.Name("alphabet", more))
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
	p.Name, p.Title = "effect", tell("lab.what-the-difference-does")
	p.Notes, p.Then = []string{s.about(), tell("lab.model"), tell("lab.the-command-compare-says")}, nil
	t := c.columns(tell("lab.a-match"))
	c.row(t, tell("lab.the-better-side-wins-2"), func(f *figures) string { return percent(f.Win) })
	c.row(t, tell("lab.serving-first-is-worth-between-equal"), func(f *figures) string { return points(f.EvenFirst) })
	c.row(t, tell("lab.expected-rallies"), func(f *figures) string { return decimal(f.Rallies.Mean, 1) })
	c.row(t, tell("lab.nineteen-of-twenty-have"), func(f *figures) string { return count(f.Rallies.P95) })
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
	p.Charts = append(p.Charts, heatMap{Title: tell("lab.chance-of-the-better-side-by-score") + " " + number(1) + " " + tell("lab.less") + " " + number(0),
		About:  tell("lab.how-much-the-chance"),
		XLabel: tell("lab.points-of-the-better"), YLabel: tell("lab.points-of-the-other"), Legend: tell("lab.difference-points"),
		Cells: win[1], Min: -most, Max: most, Scale: twoSided})
	return p, nil
}
