// Package exact holds JSON to the names of fields, letter by letter:
// encoding/json takes LINE for line.
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

// Names reports the first field of data that a decoder would take for a field
// of v although its name differs. What cannot be decoded is for the decoder to
// report.
func Names(data []byte, v any) error {
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
			field, err := fieldOf(t, r.string())
			if err != nil {
				return err
			}
			r.next()
			r.at++ // the colon
			return r.value(field)
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

// seen holds the fields of the structs that were met: from [reflect.Type] to
// map[string]reflect.Type.
var seen sync.Map

// fieldOf returns the type of a field, nil if t has no such field.
func fieldOf(t reflect.Type, name string) (reflect.Type, error) {
	if t = plain(t); t == nil || t.Kind() != reflect.Struct {
		return nil, nil
	}
	met, ok := seen.Load(t)
	if !ok {
		known := map[string]reflect.Type{}
		fields(t, known)
		met, _ = seen.LoadOrStore(t, known)
	}
	known := met.(map[string]reflect.Type)
	field, ok := known[name]
	if ok {
		return field, nil
	}
	for want := range known {
		if strings.EqualFold(name, want) {
			return nil, &NameError{name, want}
		}
	}
	return nil, nil
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
func fields(t reflect.Type, into map[string]reflect.Type) {
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && name == "" && f.Type.Kind() == reflect.Struct:
			fields(f.Type, into)
		case !f.IsExported() || name == "-":
		case name == "":
			into[f.Name] = f.Type
		default:
			into[name] = f.Type
		}
	}
}
