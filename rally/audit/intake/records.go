package intake

import (
	"bufio"
	"bytes"
	"io"

	"github.com/evencourt/evencourt/rally/words"
)

// records hands whole records of a table to encoding/csv, which keeps lines
// and their numbers, and holds back what would swallow the rest: a line that
// is too long, and a quote that nobody closes.
type records struct {
	in      *bufio.Reader
	out     []byte // ready to be read
	held    [][]byte
	line    int // lines taken from in, or put back
	bad     func(line int, reason words.Text)
	atEnd   bool
	failed  error // what ended the reading, if it was not the end
	scratch []byte
}

// LongestLine is how many bytes a line of any input can have.
const LongestLine = 1 << 20

const longestRecord = 50 // lines that one quoted cell can span

func (r *records) Read(p []byte) (int, error) {
	n := 0
	for n < len(p) {
		// What can be had without waiting is handed on at once.
		if len(r.out) == 0 && (n > 0 && r.in.Buffered() == 0 && len(r.held) == 0 || !r.fill()) {
			break
		}
		c := copy(p[n:], r.out)
		r.out, n = r.out[c:], n+c
	}
	switch {
	case n > 0 || len(p) == 0:
		return n, nil
	case r.failed != nil:
		return 0, r.failed
	}
	return 0, io.EOF
}

// fill makes a record ready, or all the whole lines that wait, if there is no quote
// in them.
func (r *records) fill() bool {
	if r.plainLines() {
		return true
	}
	first, ok := r.nextLine()
	if !ok {
		return false
	}
	if bytes.Count(first, []byte{'"'})%2 == 0 {
		r.out = first
		return true
	}
	at := r.line
	whole := bytes.Clone(first)
	var taken [][]byte
	for len(taken) < longestRecord && len(whole) < LongestLine {
		more, ok := r.nextLine()
		if !ok {
			break
		}
		more = bytes.Clone(more)
		taken = append(taken, more)
		whole = append(whole, more...)
		if bytes.Count(more, []byte{'"'})%2 == 1 {
			r.out = whole
			return true
		}
	}
	r.bad(at, words.New("reason.quote"))
	r.held = append(taken, r.held...)
	r.line -= len(taken)
	r.out = []byte("\n") // keeps the numbers of the lines after it
	return true
}

// plainLines hands on the whole lines that the buffer holds, as they are.
func (r *records) plainLines() bool {
	if len(r.held) > 0 || r.atEnd {
		return false
	}
	block, _ := r.in.Peek(r.in.Buffered())
	block = block[:bytes.LastIndexByte(block, '\n')+1]
	if len(block) == 0 || len(block) > LongestLine || bytes.IndexByte(block, '"') >= 0 {
		return false
	}
	r.line += bytes.Count(block, []byte{'\n'})
	r.out = block                   // it stays until in is read again, which is when out has been
	_, _ = r.in.Discard(len(block)) // all of it is there
	return true
}

// nextLine returns a line with its end.
func (r *records) nextLine() ([]byte, bool) {
	if len(r.held) > 0 {
		line := r.held[0]
		r.held = r.held[1:]
		r.line++
		return line, true
	}
	if r.atEnd {
		return nil, false
	}
	line, long, err := NextLine(r.in, r.scratch[:0])
	r.scratch = line
	if r.atEnd = err != nil; err != io.EOF {
		r.failed = err
	}
	if len(line) == 0 && err != nil && !long {
		return nil, false
	}
	r.line++
	if long {
		r.bad(r.line, words.New("reason.long", words.Count("most", LongestLine)))
		return []byte("\n"), true
	}
	return line, true
}

// NextLine reads up to the end of a line into buf; of a line longer than
// [LongestLine] it reads all and keeps nothing.
func NextLine(in *bufio.Reader, buf []byte) (line []byte, long bool, err error) {
	for {
		part, err := in.ReadSlice('\n')
		if !long {
			buf = append(buf, part...)
		}
		if len(buf) > LongestLine {
			buf, long = buf[:0], true
		}
		if err == bufio.ErrBufferFull {
			continue
		}
		return buf, long, err
	}
}
