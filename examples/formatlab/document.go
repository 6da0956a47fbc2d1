package main

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// document is an answer in words: the text and the page are both made from it,
// so they cannot disagree.
type document struct {
	Title string
	Lead  []string // what was asked, and what it rests on
	Parts []part
}

// part is one section of a document.
type part struct {
	Name   string // for -only
	Title  string
	Notes  []string // what the table shows
	Table  *table
	Then   []string // what follows from it
	Charts []chart  // on the page only
}

// table is a table of words; the first Left columns are words, the others
// numbers.
type table struct {
	Head []string
	Rows [][]string
	Left int
}

func (t *table) add(cells ...string) { t.Rows = append(t.Rows, cells) }

// Headed reports whether any column has a heading.
func (t *table) Headed() bool { return strings.Join(t.Head, "") != "" }

// keep drops the parts that were not asked for.
func (d *document) keep(only []string) {
	if len(only) == 0 {
		return
	}
	// What [1] and [2] stand for is always said.
	d.Parts = slices.DeleteFunc(d.Parts, func(p part) bool { return !slices.Contains(only, p.Name) && p.Name != "formats" })
}

// width is where lines of text are broken.
const width = 100

func (d *document) writeText(out io.Writer) error {
	w := bufio.NewWriter(out)
	fmt.Fprintln(w, d.Title)
	for _, line := range d.Lead {
		wrap(w, line)
	}
	for _, p := range d.Parts {
		fmt.Fprintf(w, "\n%s\n%s\n", p.Title, strings.Repeat("-", utf8.RuneCountInString(p.Title)))
		for _, line := range p.Notes {
			wrap(w, line)
		}
		if p.Table != nil {
			p.Table.write(w)
		}
		for _, line := range p.Then {
			wrap(w, line)
		}
	}
	return w.Flush()
}

func (t *table) write(w io.Writer) {
	widths := make([]int, len(t.Head))
	for _, row := range append([][]string{t.Head}, t.Rows...) {
		for i, cell := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range append([][]string{t.Head}, t.Rows...) {
		var line strings.Builder
		for i, cell := range row {
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
			if i > 0 {
				line.WriteString("  ")
			}
			if i < t.Left {
				line.WriteString(cell + pad)
			} else {
				line.WriteString(pad + cell)
			}
		}
		if text := strings.TrimRight(line.String(), " "); text != "" {
			fmt.Fprintln(w, text)
		}
	}
}

// wrap prints a sentence in lines of at most width, later ones indented.
func wrap(w io.Writer, text string) {
	line, indent := "", ""
	for word := range strings.FieldsSeq(text) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			fmt.Fprintln(w, indent+line)
			line, indent = "", "  "
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	fmt.Fprintln(w, indent+line)
}

// How numbers are written: enough digits to compare, none that mean nothing.

// percent writes a chance.
func percent(p float64) string {
	switch x := 100 * p; {
	case math.IsNaN(p):
		return "-"
	case x > 0 && x < 0.05:
		return "< 0.1 %"
	case x < 100 && x > 99.95:
		return "> 99.9 %"
	default:
		return strconv.FormatFloat(x, 'f', 1, 64) + " %"
	}
}

// points writes a difference of chances in percentage points, with its sign.
func points(d float64) string {
	switch x := 100 * d; {
	case math.Abs(d) < 1e-14:
		return "0"
	case math.Abs(x) < 0.005:
		return "about 0"
	default:
		return fmt.Sprintf("%+.2f", x)
	}
}

func decimal(x float64, digits int) string {
	if math.IsNaN(x) {
		return "-"
	}
	return strconv.FormatFloat(x, 'f', digits, 64)
}

// known writes a number of which 0 says that there is none.
func known(x float64, digits int) string {
	if x == 0 {
		return "-"
	}
	return decimal(x, digits)
}

func minutes(seconds float64) string { return decimal(seconds/60, 1) + " min" }

func count(n int) string { return strconv.Itoa(n) }

// plural writes a number with its noun.
func plural(n int, noun string) string {
	switch {
	case n == 1:
	case strings.HasSuffix(noun, "y"):
		noun = strings.TrimSuffix(noun, "y") + "ies"
	default:
		noun += "s"
	}
	return count(n) + " " + noun
}
