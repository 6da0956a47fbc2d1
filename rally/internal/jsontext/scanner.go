package jsontext

import (
	"strconv"
	"unicode/utf8"
)

// scanner finds where values end. Its methods report whether there was what they
// look for; where there was not, at is the byte at fault.
type scanner struct {
	text   []byte
	at     int
	nested bool // too deeply
}

func (s *scanner) failure() *Error {
	switch {
	case s.nested:
		return &Error{s.at, "nested too deeply"}
	case s.at >= len(s.text):
		return &Error{s.at, "unexpected end"}
	}
	r, _ := utf8.DecodeRune(s.text[s.at:])
	return &Error{s.at, "unexpected " + strconv.QuoteRune(r) + " at byte " + strconv.Itoa(s.at+1)}
}

func (s *scanner) blanks() {
	for s.is(" \t\r\n") {
		s.at++
	}
}

// is reports whether one of some characters comes next.
func (s *scanner) is(set string) bool {
	if s.at < len(s.text) {
		for i := range len(set) {
			if s.text[s.at] == set[i] {
				return true
			}
		}
	}
	return false
}

// next passes over blanks, and over a character if it comes next.
func (s *scanner) next(c byte) bool {
	s.blanks()
	if s.at < len(s.text) && s.text[s.at] == c {
		s.at++
		return true
	}
	return false
}

func (s *scanner) value(depth int) bool {
	if s.nested = depth > mostDeep; s.nested || s.at >= len(s.text) {
		return false
	}
	switch s.text[s.at] {
	case '{':
		return s.row('}', func() bool { return s.string() && s.next(':') && s.inner(depth) })
	case '[':
		return s.row(']', func() bool { return s.inner(depth) })
	case '"':
		return s.string()
	case 't':
		return s.word("true")
	case 'f':
		return s.word("false")
	case 'n':
		return s.word("null")
	}
	return s.number()
}

func (s *scanner) inner(depth int) bool {
	s.blanks()
	return s.value(depth + 1)
}

// row reads what stands between a bracket, which comes next, and its end, divided
// by commas.
func (s *scanner) row(end byte, item func() bool) bool {
	s.at++
	if s.next(end) {
		return true
	}
	for item() {
		if s.next(end) {
			return true
		}
		if !s.next(',') {
			return false
		}
		s.blanks()
	}
	return false
}

func (s *scanner) word(w string) bool {
	for i := range len(w) {
		if !s.is(w[i : i+1]) {
			return false
		}
		s.at++
	}
	return true
}

func (s *scanner) string() bool {
	if !s.is(`"`) {
		return false
	}
	for s.at++; s.at < len(s.text); s.at++ {
		switch c := s.text[s.at]; {
		case c == '"':
			s.at++
			return true
		case c < ' ':
			return false
		case c != '\\':
			continue
		}
		s.at++
		switch {
		case s.is("u"):
			for range 4 {
				if s.at++; !s.is("0123456789abcdefABCDEF") {
					return false
				}
			}
		case !s.is(`"\/bfnrt`):
			return false
		}
	}
	return false
}

func (s *scanner) number() bool {
	if s.is("-") {
		s.at++
	}
	if s.is("0") {
		s.at++
	} else if !s.digits() {
		return false
	}
	if s.is(".") {
		if s.at++; !s.digits() {
			return false
		}
	}
	if s.is("eE") {
		if s.at++; s.is("+-") {
			s.at++
		}
		return s.digits()
	}
	return true
}

func (s *scanner) digits() bool {
	from := s.at
	for s.at < len(s.text) && s.text[s.at]-'0' <= 9 {
		s.at++
	}
	return s.at > from
}
