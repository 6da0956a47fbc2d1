package intake

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"io"
	"unicode/utf16"
	"unicode/utf8"
)

// Encoding is how the bytes of a text stand for letters.
type Encoding uint8

// The encodings that are told apart.
const (
	plainUTF8 Encoding = iota
	utf8Mark
	utf16Little
	utf16Big
	latin
	inCells // of a workbook, which are no bytes
)

// String returns the name of the encoding.
func (e Encoding) String() string {
	return [...]string{"UTF-8", "UTF-8 with a mark", "UTF-16, little end first", "UTF-16, big end first", "Windows-1252", "a workbook"}[e%6]
}

// looked is how much of the data is looked at before it is read.
const looked = 1 << 16

// decoded returns the text of the data as UTF-8. The error is a [*KindError].
func decoded(in io.Reader) (*bufio.Reader, Encoding, error) {
	r := bufio.NewReaderSize(in, looked)
	head, err := r.Peek(looked)
	if err != nil && err != io.EOF {
		return nil, plainUTF8, err
	}
	if kind := kindOf(head); kind != "" {
		return nil, plainUTF8, &KindError{kind}
	}
	e := encodingOf(head)
	switch e {
	case plainUTF8:
		return r, e, nil
	case utf8Mark:
		_, err = r.Discard(3)
		return r, e, err
	}
	return bufio.NewReaderSize(&decoder{in: r, of: e}, looked), e, nil
}

// kindOf names data that is no text, by how it begins.
func kindOf(head []byte) string {
	for begins, kind := range map[string]string{
		"PK\x03\x04": "a packed file, such as a workbook (.xlsx, .ods)", "\xd0\xcf\x11\xe0": "an old workbook (.xls)",
		"%PDF": "a PDF", "\x89PNG": "a picture", "\xff\xd8\xff": "a picture", "{\\rtf": "a text with layout (.rtf)", "SQLite format 3": "a data base",
	} {
		if bytes.HasPrefix(head, []byte(begins)) {
			return kind
		}
	}
	start := bytes.ToLower(bytes.TrimLeft(head[:min(len(head), 200)], "\xef\xbb\xbf \t\r\n"))
	if bytes.HasPrefix(start, []byte("<!doctype html")) || bytes.HasPrefix(start, []byte("<html")) || bytes.HasPrefix(start, []byte("<?xml")) {
		return "a page (HTML or XML)"
	}
	return ""
}

// encodingOf tells encodings apart: by their marks, by the zero bytes of plain
// letters, and by whether the bytes are valid UTF-8.
func encodingOf(head []byte) Encoding {
	switch {
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		return utf8Mark
	case bytes.HasPrefix(head, []byte("\xff\xfe")):
		return utf16Little
	case bytes.HasPrefix(head, []byte("\xfe\xff")):
		return utf16Big
	}
	var zero [2]int
	for i, b := range head {
		if b == 0 {
			zero[i&1]++
		}
	}
	switch n := len(head) / 2; {
	case n > 4 && zero[1] > n*3/4:
		return utf16Little
	case n > 4 && zero[0] > n*3/4:
		return utf16Big
	}
	// The last letter may be cut through.
	for cut := 0; cut < utf8.UTFMax && cut <= len(head); cut++ {
		if utf8.Valid(head[:len(head)-cut]) {
			return plainUTF8
		}
		if len(head) < looked {
			break
		}
	}
	return latin
}

// decoder turns other encodings into UTF-8.
type decoder struct {
	in    *bufio.Reader
	of    Encoding
	out   []byte
	read  int // of out
	begun bool
}

// Read implements io.Reader.
func (d *decoder) Read(p []byte) (int, error) {
	for d.read == len(d.out) {
		d.out, d.read = d.out[:0], 0
		if err := d.fill(); err != nil {
			return 0, err
		}
	}
	n := copy(p, d.out[d.read:])
	d.read += n
	return n, nil
}

func (d *decoder) fill() error {
	if d.of == latin {
		if _, err := d.in.Peek(1); err != nil {
			return err
		}
		text, _ := d.in.Peek(d.in.Buffered())
		for from := 0; from < len(text); from++ {
			to := from
			for to < len(text) && text[to] < utf8.RuneSelf {
				to++
			}
			d.out = append(d.out, text[from:to]...)
			if from = to; to < len(text) {
				d.out = utf8.AppendRune(d.out, windows1252(text[to]))
			}
		}
		_, err := d.in.Discard(len(text))
		return err
	}
	var order binary.ByteOrder = binary.LittleEndian
	if d.of == utf16Big {
		order = binary.BigEndian
	}
	for len(d.out) < 4096 {
		r, err := d.unit(order)
		if err == io.EOF && len(d.out) > 0 {
			return nil
		} else if err != nil {
			return err
		}
		if utf16.IsSurrogate(r) {
			low, err := d.unit(order)
			if err != nil {
				low = utf8.RuneError
			}
			r = utf16.DecodeRune(r, low)
		}
		if r != '\ufeff' || d.begun {
			d.out = utf8.AppendRune(d.out, r)
		}
		d.begun = true
	}
	return nil
}

// unit reads two bytes.
func (d *decoder) unit(order binary.ByteOrder) (rune, error) {
	var two [2]byte
	if _, err := io.ReadFull(d.in, two[:]); err != nil {
		if err == io.ErrUnexpectedEOF {
			err = io.EOF
		}
		return 0, err
	}
	return rune(order.Uint16(two[:])), nil
}

// windows1252 is the letter of a byte; the table is that of the WHATWG Encoding
// Standard for 0x80 to 0x9F, and that of Latin-1 elsewhere.
func windows1252(b byte) rune {
	if b < 0x80 || b > 0x9f {
		return rune(b)
	}
	return [...]rune{0x20AC, 0x81, 0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0x8D, 0x017D, 0x8F,
		0x90, 0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0x9D, 0x017E, 0x0178}[b-0x80]
}

// NewWriter returns a writer that writes UTF-8 text in an encoding, its mark
// first if it has one. What the encoding has no letter for becomes a question
// mark. Each call must hold whole letters.
func NewWriter(out io.Writer, e Encoding) io.Writer { return &encoder{out: out, as: e} }

type encoder struct {
	out   io.Writer
	as    Encoding
	begun bool
	buf   []byte
}

// Write implements io.Writer.
func (w *encoder) Write(text []byte) (int, error) {
	w.buf = w.buf[:0]
	if !w.begun {
		w.begun = true
		switch w.as {
		case utf8Mark:
			w.buf = append(w.buf, 0xef, 0xbb, 0xbf)
		case utf16Little:
			w.buf = append(w.buf, 0xff, 0xfe)
		case utf16Big:
			w.buf = append(w.buf, 0xfe, 0xff)
		}
	}
	switch w.as {
	case utf16Little, utf16Big:
		for _, u := range utf16.Encode([]rune(string(text))) {
			if w.as == utf16Big {
				w.buf = binary.BigEndian.AppendUint16(w.buf, u)
			} else {
				w.buf = binary.LittleEndian.AppendUint16(w.buf, u)
			}
		}
	case latin:
		for _, r := range string(text) {
			b := byte('?')
			if r < 0x80 || r > 0x9f && r <= 0xff {
				b = byte(r)
			} else {
				for c := 0x80; c <= 0x9f; c++ {
					if windows1252(byte(c)) == r {
						b = byte(c)
					}
				}
			}
			w.buf = append(w.buf, b)
		}
	default:
		w.buf = append(w.buf, text...)
	}
	if _, err := w.out.Write(w.buf); err != nil {
		return 0, err
	}
	return len(text), nil
}
