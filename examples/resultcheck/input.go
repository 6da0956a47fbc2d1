package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"os"
	"strings"

	"github.com/evencourt/evencourt/rally/words"
)

// kind is what a file turns out to be.
type kind uint8

const (
	table kind = iota
	jsonLines
	oneRecord
)

// source is an opened input.
type source struct {
	name  string
	read  *bufio.Reader
	close func() error
	size  int64 // bytes, 0 if unknown
	taken *counter
	rows  int // counted so far
	kind  kind
	comma rune
}

// counter counts the bytes of the file that were read, for the progress bar.
type counter struct {
	io.Reader
	n int64
}

func (c *counter) Read(p []byte) (int, error) {
	n, err := c.Reader.Read(p)
	c.n += int64(n)
	return n, err
}

// peekSize is how much of a file is looked at to see what it is.
const peekSize = 1 << 16

// open opens a file, unpacks it if it is gzip, and finds out what it is.
func open(name string, stdin io.Reader) (*source, error) {
	s := &source{name: name, close: func() error { return nil }}
	var in io.Reader = stdin
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, errors.Unwrap(err)
		}
		if info, err := f.Stat(); err == nil && info.IsDir() {
			f.Close()
			return nil, errors.New("is a folder")
		} else if err == nil && info.Mode().IsRegular() {
			s.size = info.Size()
		}
		s.close, in = f.Close, f
	}
	s.taken = &counter{Reader: in}
	s.read = bufio.NewReaderSize(s.taken, peekSize)
	if magic, _ := s.read.Peek(2); len(magic) == 2 && magic[0] == 0x1f && magic[1] == 0x8b {
		z, err := gzip.NewReader(s.read)
		if err != nil {
			s.close()
			return nil, err
		}
		s.read = bufio.NewReaderSize(z, peekSize)
	}
	if mark, _ := s.read.Peek(3); bytes.Equal(mark, []byte("\ufeff")) {
		s.read.Discard(3)
	}
	head, err := s.read.Peek(peekSize)
	if err != nil && err != io.EOF && err != bufio.ErrBufferFull {
		s.close()
		return nil, err
	}
	s.look(head)
	return s, nil
}

// look tells JSON Lines, a record and a table apart, and finds the comma of a
// table: whichever of comma, semicolon and tab the header has most of.
func (s *source) look(head []byte) {
	first := bytes.TrimLeft(head, " \t\r\n")
	if len(first) > 0 && first[0] == '{' {
		s.kind = jsonLines
		if bytes.HasPrefix(first, []byte(`{"record":`)) {
			s.kind = oneRecord
		}
		return
	}
	line, _, _ := strings.Cut(string(first), "\n")
	s.comma = ','
	for _, c := range []rune{';', '\t'} {
		if strings.Count(line, string(c)) > strings.Count(line, string(s.comma)) {
			s.comma = c
		}
	}
}

// records hands whole records of a table to encoding/csv, which keeps lines
// and their numbers, and holds back what would swallow the rest: a line that
// is too long, and a quote that nobody closes.
type records struct {
	in      *bufio.Reader
	out     []byte // ready to be read
	held    [][]byte
	line    int // lines taken from in, or put back
	Bad     func(line int, reason words.Text)
	atEnd   bool
	failed  error // what ended the reading, if it was not the end
	scratch []byte
}

const (
	longestLine   = 1 << 20
	longestRecord = 50 // lines that one quoted cell can span
)

func (r *records) Read(p []byte) (int, error) {
	for len(r.out) == 0 {
		if r.fill() {
			continue
		}
		if r.failed != nil {
			return 0, r.failed
		}
		return 0, io.EOF
	}
	n := copy(p, r.out)
	r.out = r.out[n:]
	return n, nil
}

// fill makes one record ready.
func (r *records) fill() bool {
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
	for len(taken) < longestRecord && len(whole) < longestLine {
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
	r.Bad(at, words.New("reason.quote"))
	r.held = append(taken, r.held...)
	r.line -= len(taken)
	r.out = []byte("\n") // keeps the numbers of the lines after it
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
	line, long, err := readLine(r.in, r.scratch[:0])
	r.scratch = line
	if r.atEnd = err != nil; err != io.EOF {
		r.failed = err
	}
	if len(line) == 0 && err != nil && !long {
		return nil, false
	}
	r.line++
	if long {
		r.Bad(r.line, words.New("reason.long", words.Count("most", longestLine)))
		return []byte("\n"), true
	}
	return line, true
}

// readLine reads up to the end of a line into buf; of a line that is too long
// it reads all and keeps nothing.
func readLine(in *bufio.Reader, buf []byte) (line []byte, long bool, err error) {
	for {
		part, err := in.ReadSlice('\n')
		if !long {
			buf = append(buf, part...)
		}
		if len(buf) > longestLine {
			buf, long = buf[:0], true
		}
		if err == bufio.ErrBufferFull {
			continue
		}
		return buf, long, err
	}
}
