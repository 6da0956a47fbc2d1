// Package exact holds JSON to what a schema can say and encoding/json lets
// pass: names of fields letter by letter (LINE is not line), no null, and no
// empty text in a field that is left out when it is empty.
package exact

import (
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"sync"
)

// A NameError is a field whose name is known in other letters.
type NameError struct{ Got, Want string }

// Error says what the field is called.
func (e *NameError) Error() string { return fmt.Sprintf("field %q is %q here", e.Got, e.Want) }

// A ValueError is a field whose value is nothing: null, or empty where the field
// is to be left out.
type ValueError struct{ Field, Got string }

// Error says what stands there.
func (e *ValueError) Error() string {
	return fmt.Sprintf("field %q is %s: leave it out", e.Field, e.Got)
}

// Check reports the first field of data that a decoder would take for a field
// of v although its name differs, or take for nothing. What cannot be decoded is
// for the decoder to report.
func Check(data []byte, v any) error {
	if !json.Valid(data) {
		return nil
	}
	r := reader{text: data}
	return r.value(reflect.TypeOf(v))
}

// A reader goes once through text that is known to be JSON.
type reader struct {
	text []byte
	at   int
}

// next passes over space and returns the byte that comes then, 0 at the end.
func (r *reader) next() byte {
	for ; r.at < len(r.text); r.at++ {
		if c := r.text[r.at]; c > ' ' {
			return c
		}
	}
	return 0
}

// value passes over a value, which is decoded into a t; nil if that has no
// fields to be named.
func (r *reader) value(t reflect.Type) error {
	switch r.next() {
	case '{':
		return r.list('}', func() error {
			name := r.string()
			field, err := fieldOf(t, name)
			if err != nil {
				return err
			}
			r.next()
			r.at++ // the colon
			if got := r.nothing(); got != "" && (field.omitted || field.known && got == "null") {
				return &ValueError{name, got}
			}
			return r.value(field.of)
		})
	case '[':
		item := itemOf(t)
		return r.list(']', func() error { return r.value(item) })
	case '"':
		r.string()
	default:
		for r.at < len(r.text) && bytes.IndexByte([]byte(",]} \t\r\n"), r.text[r.at]) < 0 {
			r.at++
		}
	}
	return nil
}

// nothing returns the value that comes, if it is null or an empty text.
func (r *reader) nothing() string {
	r.next()
	for _, text := range []string{"null", `""`} {
		if bytes.HasPrefix(r.text[r.at:], []byte(text)) {
			return text
		}
	}
	return ""
}

// list passes over what stands between brackets.
func (r *reader) list(end byte, one func() error) error {
	r.at++
	for r.next() != end {
		if err := one(); err != nil {
			return err
		}
		if r.next() == ',' {
			r.at++
			r.next()
		}
	}
	r.at++
	return nil
}

// string passes over a string and returns what it says.
func (r *reader) string() string {
	from, plain := r.at, true
	for r.at++; r.text[r.at] != '"'; r.at++ {
		if r.text[r.at] == '\\' {
			r.at++
			plain = false
		}
	}
	r.at++
	if plain {
		return string(r.text[from+1 : r.at-1])
	}
	var s string
	_ = json.Unmarshal(r.text[from:r.at], &s)
	return s
}

var (
	decodesJSON = reflect.TypeFor[json.Unmarshaler]()
	decodesText = reflect.TypeFor[encoding.TextUnmarshaler]()
)

// A field has a type, and may be left out when it is empty. The zero field is one
// that a struct does not have.
type field struct {
	of             reflect.Type
	known, omitted bool
}

// seen holds the fields of the structs that were met: from [reflect.Type] to
// map[string]field.
var seen sync.Map

// fieldOf returns a field of t.
func fieldOf(t reflect.Type, name string) (field, error) {
	if t = plain(t); t == nil || t.Kind() != reflect.Struct {
		return field{}, nil
	}
	met, ok := seen.Load(t)
	if !ok {
		known := map[string]field{}
		fields(t, known)
		met, _ = seen.LoadOrStore(t, known)
	}
	known := met.(map[string]field)
	if f, ok := known[name]; ok {
		return f, nil
	}
	for want := range known {
		if strings.EqualFold(name, want) {
			return field{}, &NameError{name, want}
		}
	}
	return field{}, nil
}

// itemOf returns the type of an item, nil if t is no list.
func itemOf(t reflect.Type) reflect.Type {
	if t = plain(t); t == nil || t.Kind() != reflect.Slice {
		return nil
	}
	return t.Elem()
}

// plain returns what a pointer points to; nil for what decodes itself.
func plain(t reflect.Type) reflect.Type {
	for t != nil && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t == nil {
		return nil
	}
	if p := reflect.PointerTo(t); p.Implements(decodesJSON) || p.Implements(decodesText) {
		return nil
	}
	return t
}

// fields lists the fields of a struct by their names in JSON.
func fields(t reflect.Type, into map[string]field) {
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && name == "" && f.Type.Kind() == reflect.Struct:
			fields(f.Type, into)
		case !f.IsExported() || name == "-":
		case name == "":
			into[f.Name] = field{of: f.Type, known: true}
		default:
			into[name] = field{f.Type, true, options == "omitempty"}
		}
	}
}
