package intake

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"strings"

	"github.com/evencourt/evencourt/rally/words"
)

// csvRows are rows of text. Lines without a quote are cut at the commas, to the
// same cells as encoding/csv, which reads the others, would make of them.
type csvRows struct {
	in    *records
	comma string
	cells []string
	plain string // lines without a quote that wait
	line  int    // number of the first of them

	csv    *csv.Reader
	quoted bytes.Reader // what csv reads
	begins int          // number of the line in which that begins, until csv has said how it counts it; then 0
	ahead  int          // what the number of a line is more than csv counts

	before int // lines before the first
	inside int // line ends inside cells so far
	bad    func(row int, reason words.Text)
}

func newCSV(in *bufio.Reader, comma rune, bad func(int, words.Text)) *csvRows {
	r := &csvRows{comma: string(comma), bad: bad}
	r.in = &records{in: in, bad: func(line int, reason words.Text) { bad(r.row(line), reason) }}
	r.csv = csv.NewReader(&r.quoted)
	r.csv.Comma, r.csv.ReuseRecord, r.csv.FieldsPerRecord = comma, true, -1
	return r
}

// row is the number that a spreadsheet has for a row that begins in a line.
func (r *csvRows) row(line int) int { return line - r.inside + r.before }

func (r *csvRows) next() ([]string, int, error) {
	for {
		for r.plain != "" {
			var line string
			line, r.plain, _ = strings.Cut(r.plain, "\n")
			r.line++
			if line = strings.TrimSuffix(line, "\r"); line != "" {
				r.cut(line)
				return r.cells, r.row(r.line - 1), nil
			}
		}
		if cells, row, err := r.record(); err != io.EOF {
			return cells, row, err
		}
		c, err := r.in.next()
		switch {
		case err != nil:
			return nil, 0, err
		case !c.quoted && strings.ContainsAny(r.comma, ",;\t|"):
			r.plain, r.line = string(c.text), c.line
		default:
			if !bytes.HasSuffix(c.text, []byte{'\n'}) {
				c.text = append(c.text, '\n')
			}
			r.quoted.Reset(c.text)
			r.begins = c.line
			for line := range bytes.Lines(c.text) { // csv says nothing of empty ones
				if len(bytes.TrimSuffix(line[:len(line)-1], []byte{'\r'})) > 0 {
					break
				}
				r.begins++
			}
		}
	}
}

// cut cuts a line at its commas.
func (r *csvRows) cut(line string) {
	cells, comma, from := r.cells[:0], r.comma[0], 0
	for i := range len(line) {
		if line[i] == comma {
			cells = append(cells, line[from:i])
			from = i + 1
		}
	}
	r.cells = append(cells, line[from:])
}

// record returns the next row of csv; the error is io.EOF where none waits.
func (r *csvRows) record() ([]string, int, error) {
	for {
		cells, err := r.csv.Read()
		var parse *csv.ParseError
		if errors.As(err, &parse) {
			r.bad(r.row(r.number(parse.StartLine)), words.New("reason.said", words.Name("reason", parse.Err.Error())))
			continue
		}
		if err != nil {
			return nil, 0, err
		}
		line, _ := r.csv.FieldPos(0)
		row := r.row(r.number(line))
		if last, _ := r.csv.FieldPos(len(cells) - 1); last != line || strings.IndexByte(cells[len(cells)-1], '\n') >= 0 {
			for _, c := range cells {
				r.inside += strings.Count(c, "\n")
			}
		}
		return cells, row, nil
	}
}

// number is the number of a line in the table, of which csv says how it counts it:
// csv goes on counting from one text that it is given to the next, and counts ends
// too. So the first line of each text tells.
func (r *csvRows) number(line int) int {
	if r.begins > 0 {
		r.ahead, r.begins = r.begins-line, 0
	}
	return line + r.ahead
}
