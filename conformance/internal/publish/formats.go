package publish

import (
	"bytes"
	"encoding/json"

	"github.com/evencourt/evencourt/format"
)

// Shape is a named shape with all that its games and its match are, in a run of
// editions in which nothing of it changes.
type Shape struct {
	Shape    string        `json:"shape"`
	Editions string        `json:"editions"` // FROM..TO
	Game     format.Game   `json:"game"`     // every game but the last possible one
	Last     format.Game   `json:"last"`     // that one, or the only one
	Match    format.Series `json:"match"`
}

// Switch is one matter on which editions, or readings of them, differ.
type Switch struct {
	Switch   format.Switch `json:"switch"`
	About    string        `json:"about"`
	Readings []string      `json:"readings"` // what a format id can set; for a number its unit
}

// Edition is what an edition takes of each switch that it has.
type Edition struct {
	Edition  format.Edition  `json:"edition"`
	Document format.Document `json:"document"`
	Takes    []Taken         `json:"takes"`
}

// Taken is the reading of a switch and the clause that it goes by.
type Taken struct {
	Switch  format.Switch  `json:"switch"`
	Reading string         `json:"reading"`
	Clause  *format.Clause `json:"clause,omitempty"`
}

// Formats is formats.json: all that a format id stands for.
func Formats() ([]byte, error) {
	var shapes []Shape
	for _, name := range format.Shapes() {
		first := len(shapes)
		for _, e := range format.EditionsOf(name) {
			f, err := format.Parse(name + "@" + e.String())
			if err != nil {
				return nil, err
			}
			s := Shape{name, e.String() + ".." + e.String(), f.Game, f.Last, f.Match}
			if n := len(shapes); n > first && same(&shapes[n-1], &s) {
				shapes[n-1].Editions = through(shapes[n-1].Editions, e)
				continue
			}
			shapes = append(shapes, s)
		}
	}
	var switches []Switch
	for _, s := range format.Switches() {
		switches = append(switches, Switch{s, s.About(), s.Readings()})
	}
	var editions []Edition
	for _, d := range format.Documents() {
		for _, e := range format.Editions(d) {
			row := Edition{Edition: e, Document: d}
			rulings := format.RulingsOf(e)
			for _, s := range format.Switches() {
				if rulings[s] == 0 {
					continue
				}
				taken := Taken{Switch: s, Reading: rulings.Text(s)}
				if c := rulings.Clause(s); c != 0 {
					taken.Clause = &c
				}
				row.Takes = append(row.Takes, taken)
			}
			editions = append(editions, row)
		}
	}
	var b bytes.Buffer
	for i, part := range []struct {
		name string
		list func() ([]byte, error)
	}{
		{"shapes", func() ([]byte, error) { return lines(shapes) }},
		{"editions", func() ([]byte, error) { return lines(editions) }},
		{"switches", func() ([]byte, error) { return lines(switches) }},
	} {
		text, err := part.list()
		if err != nil {
			return nil, err
		}
		b.WriteString([]string{"{", ","}[min(i, 1)] + "\n\"" + part.name + "\": ")
		b.Write(bytes.TrimRight(text, "\n"))
	}
	b.WriteString("\n}\n")
	if !json.Valid(b.Bytes()) {
		return nil, &json.SyntaxError{}
	}
	return b.Bytes(), nil
}

func same(a, b *Shape) bool { return a.Game == b.Game && a.Last == b.Last && a.Match == b.Match }

// through makes a range of editions end later.
func through(editions string, to format.Edition) string {
	from, _, _ := bytes.Cut([]byte(editions), []byte(".."))
	return string(from) + ".." + to.String()
}
