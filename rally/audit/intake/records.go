package intake

import (
	"bufio"
	"bytes"
	"io"

	"github.com/evencourt/evencourt/rally/words"
)

// records takes a table apart into whole records, and holds back what would
// swallow the rest: a line that is too long, and a quote that nobody closes.
type records struct {
	in      *bufio.Reader
	held    [][]byte
	line    int // lines taken from in, or put back
	bad     func(line int, reason words.Text)
	atEnd   bool
	failed  error // what ended the reading, if it was not the end
	scratch []byte
}

// chunk is a record with a quote in it, or whole lines without one; the text is
// valid until the next chunk.
type chunk struct {
	text   []byte
	line   int // number of its first line
	quoted bool
}

// LongestLine is how many bytes a line of any input can have.
const LongestLine = 1 << 20

const longestRecord = 50 // lines that one quoted cell can span

// next returns the whole lines that wait, if there is no quote in them, or else a
// record. What can be had without waiting is not waited for.
func (r *records) next() (chunk, error) {
	if c, ok := r.plainLines(); ok {
		return c, nil
	}
	first, ok := r.nextLine()
	at := r.line
	switch {
	case !ok && r.failed != nil:
		return chunk{}, r.failed
	case !ok:
		return chunk{}, io.EOF
	case bytes.Count(first, []byte{'"'})%2 == 0:
		return chunk{first, at, bytes.IndexByte(first, '"') >= 0}, nil
	}
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
			return chunk{whole, at, true}, nil
		}
	}
	r.bad(at, words.New("reason.quote"))
	r.held = append(taken, r.held...)
	r.line -= len(taken)
	return chunk{[]byte("\n"), at, false}, nil
}

// plainLines returns the whole lines that the buffer holds, as they are.
func (r *records) plainLines() (chunk, bool) {
	if len(r.held) > 0 || r.atEnd {
		return chunk{}, false
	}
	block, _ := r.in.Peek(r.in.Buffered())
	block = block[:bytes.LastIndexByte(block, '\n')+1]
	if len(block) == 0 || len(block) > LongestLine || bytes.IndexByte(block, '"') >= 0 {
		return chunk{}, false
	}
	c := chunk{block, r.line + 1, false} // it stays until in is read again
	r.line += bytes.Count(block, []byte{'\n'})
	_, _ = r.in.Discard(len(block)) // all of it is there
	return c, true
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

// returns hands on a text whose lines end with a carriage return alone as one
// whose lines end as others do.
type returns struct{ in io.Reader }

func (r *returns) Read(p []byte) (int, error) {
	n, err := r.in.Read(p)
	for i, b := range p[:n] {
		if b == '\r' {
			p[i] = '\n'
		}
	}
	return n, err
}
