package intake

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// Reader is a table that is being read. Make one with [New] or [NewRows].
type Reader struct {
	Encoding Encoding
	Comma    rune       // 0 for a workbook
	Header   int        // row of the header, from 1, as a spreadsheet counts
	CRLF     bool       // lines end as Windows ends them
	Above    [][]string // rows above the header

	// Empty counts rows that were passed over: empty ones, and sentences below the
	// table. Passed, if it is set, is given each of them.
	Empty  int
	Passed func(raw []string)

	options Options
	rows    rows
	ahead   []aheadRow // looked at, and not read yet
	raw     []string
	row     int

	rallies bool // a row a rally, not a match
	layout  layout
	plain   audit.RowReader // of rows as they stand, where the header is the documented one
	read    audit.RowReader // of rows that were translated
	cells   []string
	sides   [2][]string // cells of the row that name them
	told    told

	order       order
	orderTold   bool
	dates       string // what was found out about them
	homeLetters bool
	winnerFirst bool
	formats     map[string]string
}

// rows gives the rows of a table one by one, with the number that a spreadsheet
// has for each; the cells are valid until the next one.
type rows interface {
	next() (cells []string, row int, err error)
}

type aheadRow struct {
	cells []string
	row   int
}

// Rows that are looked at before any is read, and their bytes, at most.
const (
	mostAhead  = 2000
	bytesAhead = 1 << 19
)

// New begins to read a table as text. bad is told of what cannot be read at
// all, with its row. The error is a [*KindError], a [*ColumnError], an
// [*audit.InputError] or one of reading.
func New(in io.Reader, o Options, bad func(row int, reason words.Text)) (*Reader, error) {
	text, encoding, err := decoded(in)
	if err != nil {
		return nil, err
	}
	head, err := text.Peek(looked)
	if err != nil && err != io.EOF && err != bufio.ErrBufferFull {
		return nil, err
	}
	if bytes.IndexByte(head, '\n') < 0 && bytes.IndexByte(head, '\r') >= 0 { // as old spreadsheets end lines
		text = bufio.NewReaderSize(&returns{text}, looked)
		head, _ = text.Peek(looked)
	}
	comma, told := commaOf(head)
	line, _, ended := strings.Cut(string(head), "\n")
	if told { // a line "sep=;" is no row
		if _, err := text.ReadSlice('\n'); err != nil && err != io.EOF {
			return nil, err
		}
	}
	source := newCSV(text, comma, bad)
	if told {
		source.before = 1
	}
	t := &Reader{Encoding: encoding, Comma: comma, CRLF: ended && strings.HasSuffix(line, "\r"), options: o, rows: source}
	return t, t.begin()
}

// NewRows begins to read a table whose rows are cells already, such as those of
// a workbook; next returns io.EOF after the last.
func NewRows(next func() ([]string, error), o Options) (*Reader, error) {
	t := &Reader{Encoding: inCells, options: o, rows: &given{read: next}}
	return t, t.begin()
}

// given are rows that come as cells.
type given struct {
	read func() ([]string, error)
	row  int
}

func (g *given) next() ([]string, int, error) {
	cells, err := g.read()
	g.row++
	return cells, g.row, err
}

// commaOf finds what stands between the cells: what a line "sep=" says, else
// whichever of comma, semicolon, tab and bar stands most evenly in the lines.
func commaOf(head []byte) (comma rune, told bool) {
	lines := strings.Split(string(head), "\n")
	if rest, ok := strings.CutPrefix(strings.ToLower(strings.Trim(strings.TrimSpace(lines[0]), `"`)), "sep="); ok {
		if rest == "" {
			rest = "\t"
		}
		return rune(rest[0]), true
	}
	if len(lines) > 1 && len(head) >= looked {
		lines = lines[:len(lines)-1] // cut through
	}
	best, most := ',', 0
	for _, c := range []rune{',', ';', '\t', '|'} {
		// The number of them that most lines have, and how many have it.
		counts := map[int]int{}
		for _, line := range lines[:min(len(lines), 60)] {
			quoted := false
			n := 0
			for _, r := range line {
				switch {
				case r == '"':
					quoted = !quoted
				case r == c && !quoted:
					n++
				}
			}
			if n > 0 {
				counts[n]++
			}
		}
		worth := 0
		for n, lines := range counts {
			worth = max(worth, lines*min(n, 12))
		}
		if worth > most {
			best, most = c, worth
		}
	}
	return best, false
}

// begin looks ahead and settles what holds for the whole table.
func (t *Reader) begin() error {
	t.formats = map[string]string{}
	size := 0
	for len(t.ahead) < mostAhead && size < bytesAhead {
		cells, row, err := t.rows.next()
		if err == io.EOF {
			break
		} else if err != nil {
			return err
		}
		for _, c := range cells {
			size += len(c)
		}
		t.ahead = append(t.ahead, aheadRow{cloned(cells), row})
	}
	at := t.headerAt()
	if at < 0 {
		if len(t.ahead) == 0 {
			return errors.New("is empty")
		}
		return &ColumnError{Row: t.ahead[0].row, Reason: "no row has names of columns that are known"}
	}
	header := t.ahead[at]
	t.Header = header.row
	for _, row := range t.ahead[:at] {
		t.Above = append(t.Above, row.cells)
	}
	t.ahead = t.ahead[at+1:]
	if means, ok := t.rallyHeader(header.cells); ok {
		t.rallies, t.layout = true, layout{header: header.cells, means: means, width: len(header.cells)}
		return nil
	}
	if err := t.layOut(header.cells); err != nil {
		return err
	}
	t.settle()
	return nil
}

func cloned(cells []string) []string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = strings.Clone(c)
	}
	return out
}

// mostTitles is how many rows can stand above the header.
const mostTitles = 25

// headerAt finds the header: the first row of which most cells are names of
// columns, or the one that has most of them.
func (t *Reader) headerAt() int {
	best, most := -1, 0
	for i, row := range t.ahead[:min(len(t.ahead), mostTitles)] {
		if _, ok := t.rallyHeader(row.cells); ok {
			return i
		}
		names, filled := 0, 0
		for _, cell := range row.cells {
			if strings.TrimSpace(cell) == "" {
				continue
			}
			filled++
			if _, mapped := t.options.Mapping.of(cell); mapped {
				names++
			} else if m, ok := meaningOf(cell); ok && len(cell) < 60 && (m != passedOver || i == 0) {
				names++
			} else if ok {
				filled--
			}
		}
		if names >= 2 && 2*names > filled {
			return i
		}
		if names > most {
			best, most = i, names
		}
	}
	return best
}

// Next goes to the next row that holds anything. The error is io.EOF after the
// last.
func (t *Reader) Next() error {
	for {
		if len(t.ahead) > 0 {
			t.raw, t.row = t.ahead[0].cells, t.ahead[0].row
			t.ahead = t.ahead[1:]
		} else {
			var err error
			if t.raw, t.row, err = t.rows.next(); err != nil {
				return err
			}
		}
		filled := 0
		for i := range t.raw {
			if t.raw[i] != "" && strings.TrimSpace(t.raw[i]) != "" {
				if filled++; filled > 1 {
					return nil
				}
			}
		}
		// A sentence below the table is no row of it.
		if filled == 1 && !(t.layout.width > 1 && strings.Count(strings.TrimSpace(t.raw[0]), " ") > 1) {
			return nil
		}
		t.Empty++
		if t.Passed != nil {
			t.Passed(t.raw)
		}
	}
}

// Row is the number of the row as a spreadsheet counts, the header and what
// stands above it included.
func (t *Reader) Row() int { return t.row }

// Raw are the cells of the row as they stand; valid until [Reader.Next].
func (t *Reader) Raw() []string { return t.raw }

// Documented reports whether the columns bear the names of [audit.ReadHeader], so
// that nothing had to be guessed.
func (t *Reader) Documented() bool {
	for i, h := range t.layout.header {
		if t.rallies {
			if strings.ReplaceAll(strings.ToLower(strings.TrimSpace(h)), " ", "_") != string(t.layout.means[i]) {
				return false
			}
			continue
		}
		_, mapped := t.options.Mapping.of(h)
		if m, _ := meaningOf(h); mapped || m != passedOver && known[strings.Join(wordsOf(h), " ")] == "" {
			return false
		}
	}
	return (t.layout.plain || t.rallies) && len(t.layout.unsure) == 0 && t.Header == 1 && (t.Encoding <= utf8Mark || t.Encoding == inCells)
}

// Names are the cells of the header.
func (t *Reader) Names() []string { return t.layout.header }

// Match turns the row into a match. Findings about cells are appended to out,
// with the row and the documented name of the field; ok is false if not all of
// its scores could be read. The match is valid until the next row; nil if the
// row has another number of cells than the header.
func (t *Reader) Match(at audit.Place, out []audit.Finding) (m *audit.ReportedMatch, ok bool, findings []audit.Finding) {
	at.Line = t.row
	if t.layout.plain {
		m, ok, findings = t.plain.Read(t.raw, at, out)
		if m != nil && m.Format != "" {
			m.Format = t.format(m.Format)
		}
		if len(findings) == len(out) || m == nil {
			return m, ok, findings
		}
	}
	row := t.raw
	if len(row) != t.layout.width {
		if t.Comma != 0 && len(row) < t.layout.width || slices.ContainsFunc(row[min(len(row), t.layout.width):], func(c string) bool { return strings.TrimSpace(c) != "" }) {
			return t.read.Read(row, at, out) // says what is wrong
		}
		row = append(slices.Clone(row), make([]string, max(0, t.layout.width-len(row)))...)[:t.layout.width]
	}
	return t.read.Read(t.translated(row), at, out)
}

// Finish returns what can only be said of the whole table.
func (t *Reader) Finish(at audit.Place, out []audit.Finding) []audit.Finding {
	at.Line = 0
	if t.layout.plain {
		return t.plain.Finish(at, out)
	}
	return t.read.Finish(at, out)
}
