package intake

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"io"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/evencourt/evencourt/rally/words"
)

// Lines keep their numbers: what is held back leaves an empty line, and what
// is handed on is what was read.
func FuzzRecords(f *testing.F) {
	for _, seed := range []string{"a,b\n1,2\n", "a,\"b\nc\",d\n1\n", "a\"\n\n\"b", "\"", "\"\"\"\n\"", "a\r\n\"b\r\n", strings.Repeat("\"\n", 60), strings.Repeat("x\n", 60) + "\"" + strings.Repeat("y\n", 60)} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		bad := map[int]bool{}
		r := &records{in: bufio.NewReaderSize(bytes.NewReader(text), 16), bad: func(line int, reason words.Text) {
			if line < 1 || line > bytes.Count(text, []byte("\n"))+1 || bad[line] || reason.Check() != nil {
				t.Fatalf("line %d: %v", line, reason)
			}
			bad[line] = true
		}}
		var out []byte
		for {
			c, err := r.next()
			if err == io.EOF {
				break
			} else if err != nil || c.quoted != bytes.Contains(c.text, []byte(`"`)) || c.line != bytes.Count(out, []byte("\n"))+1 {
				t.Fatalf("%v: %+v", err, c)
			}
			out = append(out, c.text...)
		}
		given, got := bytes.SplitAfter(text, []byte("\n")), bytes.SplitAfter(out, []byte("\n"))
		if len(given) != len(got) && !bad[len(given)] {
			t.Fatalf("%d lines became %d", len(given), len(got))
		}
		for i := range given {
			switch {
			case bad[i+1]:
				if !bytes.Equal(got[i], []byte("\n")) {
					t.Fatalf("line %d is held back, and %q handed on", i+1, got[i])
				}
			case !bytes.Equal(given[i], got[i]):
				t.Fatalf("line %d: %q became %q", i+1, given[i], got[i])
			}
		}
	})
}

// Rows are those that encoding/csv reads of what is handed on, whichever way they
// are read.
func FuzzRows(f *testing.F) {
	for _, seed := range []string{"a,b\n1,2\n", "a,\"b\nc\",d\n1\n\n2", "\"\",\r\n\r\n,\n", "a\r\nb\rc\r", "a\"b\n1,2", "\"a\"b\nc", "\"a\n\"b\nc,d\n", "\r\n\"x\"\r"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		none := func(int, words.Text) {}
		var whole []byte
		for r := (&records{in: bufio.NewReaderSize(bytes.NewReader(text), 16), bad: none}); ; {
			c, err := r.next()
			if err != nil {
				break
			}
			whole = append(whole, c.text...)
		}
		type row struct {
			cells []string
			line  int
		}
		var want, got []row
		for table, err := csv.NewReader(bytes.NewReader(whole)), error(nil); err != io.EOF; {
			table.FieldsPerRecord = -1
			var cells []string
			if cells, err = table.Read(); err == nil {
				line, _ := table.FieldPos(0)
				want = append(want, row{cells, line})
			} else if err != io.EOF {
				return // csv can lose what stands below a quote in a cell that is not quoted
			}
		}
		for r := newCSV(bufio.NewReaderSize(bytes.NewReader(text), 16), ',', none); ; {
			cells, at, err := r.next()
			if err == io.EOF {
				break
			}
			inside := 0
			for _, c := range cells {
				inside += strings.Count(c, "\n")
			}
			got = append(got, row{slices.Clone(cells), at + r.inside - inside})
		}
		if !reflect.DeepEqual(want, got) {
			t.Fatalf("csv: %q\nhere: %q", want, got)
		}
	})
}
