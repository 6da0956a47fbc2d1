package explore

import (
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// A formatField is a field of a format that can be compared and carried over.
type formatField struct {
	name  string
	value func(*format.Format) string
	copy  func(to, from *format.Format)
}

func gameFields(at string, of func(*format.Format) *format.Game) []formatField {
	number := func(name string, field func(*format.Game) *uint8) formatField {
		return formatField{at + name,
			func(f *format.Format) string { return strconv.Itoa(int(*field(of(f)))) },
			func(to, from *format.Format) { *field(of(to)) = *field(of(from)) }}
	}
	return []formatField{
		{at + "sides", func(f *format.Format) string { return of(f).Sides.String() }, func(to, from *format.Format) { of(to).Sides = of(from).Sides }},
		{at + "scorer", func(f *format.Format) string { return of(f).Scorer.String() }, func(to, from *format.Format) { of(to).Scorer = of(from).Scorer }},
		number("servers", func(g *format.Game) *uint8 { return &g.Servers }),
		number("first_turn", func(g *format.Game) *uint8 { return &g.FirstTurn }),
		{at + "order", func(f *format.Format) string { return of(f).Order.String() }, func(to, from *format.Format) { of(to).Order = of(from).Order }},
		number("target", func(g *format.Game) *uint8 { return &g.Target }),
		number("win_by", func(g *format.Game) *uint8 { return &g.WinBy }),
		number("cap", func(g *format.Game) *uint8 { return &g.Cap }),
		{at + "freeze", func(f *format.Format) string { return of(f).Freeze.String() }, func(to, from *format.Format) { of(to).Freeze = of(from).Freeze }},
		number("change_ends_at", func(g *format.Game) *uint8 { return &g.ChangeEndsAt }),
		number("time_outs", func(g *format.Game) *uint8 { return &g.TimeOuts }),
	}
}

var formatFields = func() []formatField {
	out := gameFields("game.", func(f *format.Format) *format.Game { return &f.Game })
	out = append(out, gameFields("last.", func(f *format.Format) *format.Game { return &f.Last })...)
	return append(out,
		formatField{"match.games", func(f *format.Format) string { return strconv.Itoa(int(f.Match.Games)) },
			func(to, from *format.Format) { to.Match.Games = from.Match.Games }},
		formatField{"match.play_all", func(f *format.Format) string { return strconv.FormatBool(f.Match.PlayAll) },
			func(to, from *format.Format) { to.Match.PlayAll = from.Match.PlayAll }},
		formatField{"match.next_serve", func(f *format.Format) string { return f.Match.NextServe.String() },
			func(to, from *format.Format) { to.Match.NextServe = from.Match.NextServe }},
		formatField{"match.change_ends", func(f *format.Format) string { return strconv.FormatBool(f.Match.ChangeEnds) },
			func(to, from *format.Format) { to.Match.ChangeEnds = from.Match.ChangeEnds }},
	)
}()

// Changes lists what two formats say differently: fields of games and match,
// then switches with the sources of both values.
func Changes(x, y format.Format) []ClauseChange {
	var out []ClauseChange
	single := x.Match.Games == 1 && y.Match.Games == 1
	for _, f := range formatFields {
		if single && strings.HasPrefix(f.name, "last.") {
			continue // a single game is both kinds
		}
		if a, b := f.value(&x), f.value(&y); a != b {
			out = append(out, ClauseChange{Field: f.name, Values: [2]string{a, b}})
		}
	}
	for _, s := range format.Switches() {
		if x.Rulings[s] == y.Rulings[s] {
			continue
		}
		c := ClauseChange{Field: s.String(), Values: [2]string{x.Rulings.Text(s), y.Rulings.Text(s)}}
		for i, e := range []format.Edition{x.Edition, y.Edition} {
			if source, ok := format.Origin(e, s); ok {
				c.Sources[i] = &source
			}
		}
		out = append(out, c)
	}
	return out
}

// apply carries the change over from one format to another; false if the
// outcome is no format.
func (c ClauseChange) apply(to *format.Format, from format.Format) bool {
	to.Shape = ""
	for _, f := range formatFields {
		if f.name != c.Field {
			continue
		}
		f.copy(to, &from)
		if to.Match.Games == 1 { // a single game is both kinds
			if strings.HasPrefix(c.Field, "last.") {
				to.Game = to.Last
			} else {
				to.Last = to.Game
			}
		}
		return to.Validate() == nil
	}
	for _, s := range format.Switches() {
		if s.String() == c.Field {
			to.Rulings[s] = from.Rulings[s]
		}
	}
	return to.Validate() == nil
}

// EditionChange is one change between two editions of a shape, and what shows it.
type EditionChange struct {
	ClauseChange
	About string `json:"about"`
	// Shown is a shortest sequence on which the change alone makes a difference,
	// over the plainest alphabet that has one; nil if none of them has.
	Shown *Difference `json:"shown,omitempty"`
	// Proved lists the alphabets over which the change alone never shows.
	Proved []string `json:"proved,omitempty"`
	// Searched lists those over which it was looked for in vain up to a bound.
	Searched []string `json:"searched,omitempty"`
}

// EditionChanges lists what changes for an engine between two editions of a
// shape, each change on its own with a shortest sequence that shows it. What
// is only a length of time, or who may be told what, shows in no sequence. The
// report, if there is one, is called before each change.
func EditionChanges(shape string, from, to format.Edition, report func(done, all int)) ([]EditionChange, error) {
	x, err := format.Named(shape, from)
	if err != nil {
		return nil, err
	}
	y, err := format.Named(shape, to)
	if err != nil {
		return nil, err
	}
	var out []EditionChange
	changes := Changes(x, y)
	for n, c := range changes {
		if report != nil {
			report(n, len(changes))
		}
		e := EditionChange{ClauseChange: c}
		var s format.Switch
		if s.UnmarshalText([]byte(c.Field)) == nil {
			e.About = s.About()
		}
		one, other := x, x
		one.Shape = ""
		if !c.apply(&other, y) {
			out = append(out, e) // it goes only with another change
			continue
		}
		for _, a := range Alphabets() {
			got, err := Compare(one, other, a)
			if err != nil {
				return nil, err
			}
			if got.Difference != nil {
				got.Difference.Clauses = nil
				e.Shown = got.Difference
				break
			}
			if got.Proved {
				e.Proved = append(e.Proved, a.Name)
			} else {
				e.Searched = append(e.Searched, a.Name+", to "+strconv.Itoa(got.Depth)+" events")
			}
		}
		out = append(out, e)
	}
	return out, nil
}
