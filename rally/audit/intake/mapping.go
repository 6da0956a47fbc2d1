package intake

import (
	"bufio"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/rally/audit"
)

// Mapping says for headers what their columns hold. Headers are compared
// without regard to case, marks and spaces.
type Mapping map[string]Meaning

func (m Mapping) of(header string) (Meaning, bool) {
	if len(m) == 0 {
		return "", false
	}
	means, ok := m[fold(header)]
	return means, ok
}

// Missing lists those headers of a mapping that are not among the given ones, in
// order: a mapping that no table needs is a slip.
func (m Mapping) Missing(headers []string) []string {
	left := maps.Clone(m)
	for _, h := range headers {
		delete(left, fold(h))
	}
	return slices.Sorted(maps.Keys(left))
}

// meanings lists what a column can hold.
func meanings() []Meaning {
	var out []Meaning
	for _, name := range audit.ColumnNames() {
		out = append(out, Meaning(name))
	}
	out = append(out, sideA, sideB, wonA, wonB, pointsA, pointsB, passedOver)
	for _, m := range slices.Sorted(maps.Values(rallyColumns)) {
		if !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}

// Add takes in "HEADER = MEANING"; no meaning, or "-", passes the column over.
func (m Mapping) Add(text string) error {
	i := strings.LastIndexByte(text, '=')
	if i < 0 {
		return &audit.InputError{Field: "columns", Reason: quote(text) + ": want HEADER = MEANING"}
	}
	header, means := fold(text[:i]), Meaning(strings.ToLower(strings.TrimSpace(text[i+1:])))
	if means == "" {
		means = passedOver
	}
	if header == "" {
		return &audit.InputError{Field: "columns", Reason: quote(text) + ": names no column"}
	}
	if !slices.Contains(meanings(), means) {
		word, ok := meaningOf(string(means)) // a word for it, such as home
		if !ok || word == passedOver {
			return &audit.InputError{Field: "columns", Reason: quote(string(means)) + " is nothing that a column can hold; " + nearestMeaning(string(means))}
		}
		means = word
	}
	m[header] = means
	return nil
}

func nearestMeaning(text string) string {
	if near := nearest(text); near != "" {
		return "perhaps " + near
	}
	return "it can hold " + meaningList()
}

func meaningList() string {
	var out []string
	for _, m := range meanings() {
		if strings.ContainsAny(string(m), "3456789") || strings.HasPrefix(string(m), "game2") || m == "time_outs2" {
			continue // as those of game 1
		}
		out = append(out, string(m))
	}
	return strings.Join(out, ", ") + "; of later games as of game1"
}

// ReadMapping reads a mapping: a line for each column, HEADER = MEANING; lines
// that begin with # are comments. Errors name the line.
func ReadMapping(in io.Reader) (Mapping, error) {
	out := Mapping{}
	scan := bufio.NewScanner(in)
	for n := 1; scan.Scan(); n++ {
		line := strings.TrimSpace(strings.TrimPrefix(scan.Text(), "\ufeff"))
		if line == "" || strings.HasPrefix(line, "# ") || line == "#" {
			continue
		}
		if err := out.Add(line); err != nil {
			err.(*audit.InputError).Line = n
			return nil, err
		}
	}
	return out, scan.Err()
}

// Taken says what one column is taken for.
type Taken struct {
	Header string  `json:"header"`
	Means  Meaning `json:"means"`
	How    string  `json:"how,omitempty"` // what was found out about it
}

// Taken says for every column what it is taken for.
func (t *Reader) Taken() []Taken {
	var out []Taken
	for i, h := range t.layout.header {
		e := Taken{Header: h, Means: t.layout.means[i]}
		switch e.Means {
		case "date":
			e.How = t.dates
		case "games":
			if !t.layout.has("date") {
				e.How = t.dates
			}
		case "winner":
			if t.homeLetters {
				e.How = "H is home, A is away"
			}
			if t.winnerFirst {
				e.How = strings.TrimPrefix(e.How+"; ", "; ") + "the winner's points stand first in the scores"
			}
		case sideA, sideB:
			e.How = "a pair in one cell"
			if t.layout.winners {
				e.How = map[Meaning]string{sideA: "the pair that won", sideB: "the pair that lost"}[e.Means]
			}
		case passedOver:
			e.How = "passed over"
			for _, u := range t.layout.unsure {
				if u.Column == h {
					e.How = "passed over: not known"
					if u.Nearest != "" {
						e.How = "passed over: another column is " + u.Nearest
					}
				}
			}
		}
		if t.layout.winners && (e.Means == "a1" || e.Means == "team_a") {
			e.How = "the side that won"
		}
		out = append(out, e)
	}
	return out
}

func (t *Reader) dateWords(dates []string) string {
	for _, cell := range dates {
		p, ok := partsOf(cell)
		if !ok || p.month != 0 {
			continue
		}
		d, _ := p.date(t.order)
		how := "day before month"
		if t.order == monthFirst {
			how = "month before day"
		}
		if !t.orderTold {
			how += " (the file leaves it open)"
		}
		return fmt.Sprintf("%s: %s is %s", how, cell, d)
	}
	return ""
}

// WriteMapping writes what the columns are taken for as a mapping that can be
// changed and read again. A reader that was refused for its columns can write it
// too: then it proposes something for those that are not known.
func (t *Reader) WriteMapping(out io.Writer) error {
	w := bufio.NewWriter(out)
	fmt.Fprintln(w, "# What each column holds; - passes it over. Change the right side: it can be")
	fmt.Fprintln(w, "# "+meaningList())
	for i, e := range t.Taken() {
		if strings.TrimSpace(e.Header) == "" {
			continue
		}
		if slices.Contains(t.layout.refused, i) {
			e.Means = t.proposed(i)
			fmt.Fprintf(w, "# not settled; the next column holds %s:\n", quote(t.sample(i)))
		}
		fmt.Fprintf(w, "%s = %s\n", strings.ReplaceAll(e.Header, "\n", " "), e.Means)
	}
	return w.Flush()
}

// proposed is what a column that is not known may hold, by what stands in it: all
// scores, or the score of a game, the next that no column has.
func (t *Reader) proposed(i int) Meaning {
	if !most(t.cellsOf(i), func(c string) bool { r, ok := readResult(c); return ok && len(r.games) > 0 }) {
		return passedOver
	}
	if most(t.cellsOf(i), func(c string) bool { r, _ := readResult(c); return len(r.games) > 1 }) {
		return "games"
	}
	n := 1
	for slices.Contains(t.layout.means, Meaning(fmt.Sprint("game", n))) {
		n++
	}
	for _, k := range t.layout.refused {
		if k < i && t.proposed(k) != passedOver {
			n++
		}
	}
	return Meaning(fmt.Sprint("game", min(n, 9)))
}

// sample is a cell of a column.
func (t *Reader) sample(i int) string {
	if cells := t.cellsOf(i); len(cells) > 0 {
		return cells[0]
	}
	return ""
}
