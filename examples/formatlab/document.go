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

	pretty "github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"github.com/evencourt/evencourt/examples/program"
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

// width is where lines of text are broken, or at the edge of a narrower terminal.
const width = 100

func (d *document) writeText(out io.Writer) error {
	w := &paper{bufio.NewWriter(out), program.Width(out, width)}
	w.line(d.Title)
	w.sentences(d.Lead)
	for _, p := range d.Parts {
		w.line("")
		w.line(p.Title)
		w.line(strings.Repeat("-", utf8.RuneCountInString(p.Title)))
		w.sentences(p.Notes)
		if p.Table != nil {
			w.line(p.Table.String())
		}
		w.sentences(p.Then)
	}
	return w.Flush()
}

// String returns the table in columns, two blanks between them.
func (t *table) String() string {
	w := pretty.NewWriter()
	w.SetStyle(columns)
	w.SuppressTrailingSpaces()
	cells := func(row []string) (out pretty.Row) {
		for _, cell := range row {
			out = append(out, program.Printable(cell))
		}
		return out
	}
	if t.Headed() {
		w.AppendHeader(cells(t.Head))
	}
	for _, row := range t.Rows {
		w.AppendRow(cells(row))
	}
	var numbers []pretty.ColumnConfig
	for i := t.Left; i < len(t.Head); i++ {
		numbers = append(numbers, pretty.ColumnConfig{Number: i + 1, Align: text.AlignRight, AlignHeader: text.AlignRight})
	}
	w.SetColumnConfigs(numbers)
	return w.Render()
}

// columns is a table without lines.
var columns = pretty.Style{Box: pretty.BoxStyle{PaddingRight: "  "}}

// paper is what lines are written on.
type paper struct {
	*bufio.Writer
	width int
}

func (w *paper) line(text string) { fmt.Fprintln(w, text) }

// sentences writes each sentence in lines of the width, later ones indented.
func (w *paper) sentences(all []string) {
	for _, sentence := range all {
		line, indent := "", ""
		for word := range strings.FieldsSeq(program.Printable(sentence)) {
			if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > w.width {
				w.line(indent + line)
				line, indent = "", "  "
			}
			if line != "" {
				line += " "
			}
			line += word
		}
		w.line(indent + line)
	}
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
		return tell("lab.about-0")
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
