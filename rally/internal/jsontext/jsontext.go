// Package jsontext reads JSON for packages that a browser build links: with
// encoding/json, which reads it by reflection, such a build is larger by more
// than half of an empty program.
package jsontext

import (
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
)

// Value is one value of a text that has been read: it is known to be JSON.
type Value struct {
	raw []byte
	at  int
}

// Kind says what a value is.
type Kind string

// The kinds of values.
const (
	Object Kind = "object"
	Array  Kind = "array"
	String Kind = "string"
	Number Kind = "number"
	Bool   Kind = "bool"
	Null   Kind = "null"
)

// Error says where a text is no JSON.
type Error struct {
	At     int // the byte at fault, from 0
	Reason string
}

// Error implements error.
func (e *Error) Error() string { return e.Reason }

// mostDeep is how far values may nest.
const mostDeep = 10_000

// Read reads the value that a text begins with, and returns what stands after it.
// The error is an [*Error].
func Read(text []byte) (v Value, rest []byte, err error) {
	s := scanner{text: text}
	s.blanks()
	from := s.at
	if !s.value(0) {
		return Value{}, nil, s.failure()
	}
	v = Value{text[from:s.at], from}
	s.blanks()
	return v, text[s.at:], nil
}

// At is the byte of the text at which the value begins.
func (v Value) At() int { return v.at }

// Raw is the value as it stands.
func (v Value) Raw() string { return string(v.raw) }

// Kind says what the value is.
func (v Value) Kind() Kind {
	switch v.raw[0] {
	case '{':
		return Object
	case '[':
		return Array
	case '"':
		return String
	case 't', 'f':
		return Bool
	case 'n':
		return Null
	}
	return Number
}

// True reports whether the value is true.
func (v Value) True() bool { return v.raw[0] == 't' }

// Int returns a whole number that is written as one; false for anything else.
func (v Value) Int() (int64, bool) {
	n, err := strconv.ParseInt(string(v.raw), 10, 64)
	return n, err == nil
}

// Field is a field of an object.
type Field struct {
	Name  string
	Value Value
}

// Fields returns the fields of an object in their order, a name that stands twice
// twice; nothing of another value.
func (v Value) Fields() (out []Field) {
	s := scanner{text: v.raw, at: 1}
	for more := v.Kind() == Object && !s.next('}'); more; more = s.next(',') {
		name := v.part(&s).Text()
		s.next(':')
		out = append(out, Field{name, v.part(&s)})
	}
	return out
}

// Items returns the values of an array; nothing of another value.
func (v Value) Items() (out []Value) {
	s := scanner{text: v.raw, at: 1}
	for more := v.Kind() == Array && !s.next(']'); more; more = s.next(',') {
		out = append(out, v.part(&s))
	}
	return out
}

// part is the value within v that comes next.
func (v Value) part(s *scanner) Value {
	s.blanks()
	from := s.at
	s.value(0)
	return Value{v.raw[from:s.at], v.at + from}
}

// Text returns what a string says, "" of another value. What is no character,
// bytes that are not UTF-8 or half a surrogate, is one U+FFFD each.
func (v Value) Text() string {
	if v.Kind() != String {
		return ""
	}
	in := v.raw[1 : len(v.raw)-1]
	out := make([]byte, 0, len(in))
	for i := 0; i < len(in); {
		r, n := utf8.DecodeRune(in[i:])
		if r == '\\' {
			r, n = escaped(in[i:])
		}
		out = utf8.AppendRune(out, r)
		i += n
	}
	return string(out)
}

// escaped reads an escape and says how many bytes it has.
func escaped(in []byte) (r rune, n int) {
	switch c := in[1]; c {
	case 'b':
		return '\b', 2
	case 'f':
		return '\f', 2
	case 'n':
		return '\n', 2
	case 'r':
		return '\r', 2
	case 't':
		return '\t', 2
	case 'u':
		high := unit(in)
		if utf16.IsSurrogate(high) && len(in) >= 12 && in[6] == '\\' && in[7] == 'u' {
			if both := utf16.DecodeRune(high, unit(in[6:])); both != utf8.RuneError {
				return both, 12
			}
		}
		return high, 6 // half a surrogate is written as U+FFFD
	default:
		return rune(c), 2
	}
}

// unit reads an escape of four hexadecimal digits.
func unit(in []byte) rune {
	n, _ := strconv.ParseUint(string(in[2:6]), 16, 16) // which the scanner has seen
	return rune(n)
}
