package record

import (
	"bufio"
	"bytes"
	"errors"
	"io"
)

// lines hands out the lines of a source one by one, in bounded memory.
type lines struct {
	src *bufio.Reader
	n   int   // number of the line handed out last
	at  int64 // bytes before it
	end int64 // bytes before the next one
}

func newLines(src io.Reader) *lines { return &lines{src: bufio.NewReaderSize(src, MostLine)} }

// next returns the next line without its end, and whether it has one. At the
// end of the source it returns io.EOF, for a line that is too long an [*Error]
// after which the next line can be read.
func (l *lines) next() (line []byte, ended bool, err error) {
	l.n++
	l.at = l.end
	line, err = l.src.ReadSlice('\n')
	l.end += int64(len(line))
	switch {
	case err == nil:
		return bytes.TrimSuffix(line, []byte("\n")), true, nil
	case errors.Is(err, bufio.ErrBufferFull):
		return nil, l.skip(), failure(tooLong, "", "longer than a line of a record can be")
	case errors.Is(err, io.EOF) && len(line) == 0:
		return nil, false, io.EOF
	case errors.Is(err, io.EOF):
		return line, false, nil
	}
	return nil, false, caused(unreadable, "", err)
}

// skip passes over the rest of a line and reports whether it has an end.
func (l *lines) skip() bool {
	for {
		rest, err := l.src.ReadSlice('\n')
		l.end += int64(len(rest))
		if err == nil {
			return true
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return false
		}
	}
}

// here puts an error at the line handed out last.
func (l *lines) here(e *Error) *Error {
	e.Line, e.Byte = l.n, l.at
	return e
}
