// Package exact holds JSON to the names of fields, letter by letter:
// encoding/json takes LINE for line.
package exact

import (
	"encoding"
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
)

// A NameError is a field whose name is known in other letters.
type NameError struct{ Got, Want string }

// Error says what the field is called.
func (e *NameError) Error() string { return fmt.Sprintf("field %q is %q here", e.Got, e.Want) }

// Names reports the first field of data that a decoder would take for a field
// of v although its name differs. What cannot be decoded is for the decoder to
// report.
func Names(data []byte, v any) error { return names(data, reflect.TypeOf(v)) }

var (
	decodesJSON = reflect.TypeFor[json.Unmarshaler]()
	decodesText = reflect.TypeFor[encoding.TextUnmarshaler]()
)

func names(data []byte, t reflect.Type) error {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if p := reflect.PointerTo(t); p.Implements(decodesJSON) || p.Implements(decodesText) {
		return nil
	}
	switch t.Kind() {
	case reflect.Slice:
		var items []json.RawMessage
		if t.Elem().Kind() == reflect.String || json.Unmarshal(data, &items) != nil {
			return nil
		}
		for _, item := range items {
			if err := names(item, t.Elem()); err != nil {
				return err
			}
		}
	case reflect.Struct:
		var object map[string]json.RawMessage
		if json.Unmarshal(data, &object) != nil {
			return nil
		}
		known := map[string]reflect.Type{}
		fields(t, known)
		for _, name := range slices.Sorted(maps.Keys(object)) {
			if field, ok := known[name]; ok {
				if err := names(object[name], field); err != nil {
					return err
				}
				continue
			}
			for want := range known {
				if strings.EqualFold(name, want) {
					return &NameError{name, want}
				}
			}
		}
	}
	return nil
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
