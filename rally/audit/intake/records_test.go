package intake

import (
	"bufio"
	"bytes"
	"io"
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
		out, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
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
