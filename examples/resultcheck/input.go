package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"os"
)

// kind is what a file turns out to be.
type kind uint8

const (
	table kind = iota
	jsonLines
	jsonList
	oneRecord
	workbook
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
	head, err := s.read.Peek(peekSize)
	if err != nil && err != io.EOF && err != bufio.ErrBufferFull {
		s.close()
		return nil, err
	}
	s.look(head)
	return s, nil
}

// look tells JSON Lines, a list in JSON, a record, a workbook and a table apart.
func (s *source) look(head []byte) {
	marked := bytes.HasPrefix(head, []byte("\ufeff"))
	first := bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\ufeff")), " \t\r\n")
	switch {
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		s.kind = workbook
	case bytes.HasPrefix(first, []byte(`{"record":`)):
		s.kind = oneRecord
	case bytes.HasPrefix(first, []byte("[")) && bytes.HasPrefix(bytes.TrimLeft(first[1:], " \t\r\n"), []byte("{")):
		s.kind = jsonList
	case bytes.HasPrefix(first, []byte("{")):
		s.kind = jsonLines
	}
	if marked && s.kind != table {
		s.read.Discard(3) // a table says what encoding it had
	}
}
