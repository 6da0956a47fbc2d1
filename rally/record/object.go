package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/evencourt/evencourt/format"
)

// deepest is how far objects may nest in a line; a header needs five.
const deepest = 12

// object splits a JSON object into its fields. Package encoding/json lets
// through what makes two readers see two different things: a field twice, a
// name in other letters, bytes that are no text. Here they are faults.
func object(text []byte) (map[string]json.RawMessage, *Error) {
	if !utf8.Valid(text) {
		return nil, fault(Syntax, "", "holds bytes that are not UTF-8")
	}
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.UseNumber()
	if err := walk(dec, "", 0); err != nil {
		return nil, err
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return nil, fault(Syntax, "", "more text after the JSON value")
	}
	var out map[string]json.RawMessage
	if json.Unmarshal(text, &out) != nil || out == nil {
		return nil, fault(Syntax, "", "not a JSON object")
	}
	return out, nil
}

func walk(dec *json.Decoder, at string, depth int) *Error {
	token, err := dec.Token()
	switch {
	case err != nil:
		return fault(Syntax, at, "not JSON")
	case depth > deepest:
		return fault(Syntax, at, "nested too deeply")
	case token == json.Delim('{'):
		seen := map[string]bool{}
		for dec.More() {
			key, err := dec.Token()
			name, ok := key.(string)
			switch {
			case err != nil || !ok:
				return fault(Syntax, at, "not JSON")
			case !plain(name):
				return fault(BadField, join(at, format.Quote(name)), "no such field")
			case seen[name]:
				return fault(BadField, join(at, name), "stands there twice")
			}
			seen[name] = true
			if err := walk(dec, join(at, name), depth+1); err != nil {
				return err
			}
		}
	case token == json.Delim('['):
		for i := 0; dec.More(); i++ {
			if err := walk(dec, join(at, strconv.Itoa(i)), depth+1); err != nil {
				return err
			}
		}
	default:
		return nil
	}
	if _, err := dec.Token(); err != nil {
		return fault(Syntax, at, "not JSON")
	}
	return nil
}

// plain reports whether a name can be that of a field: encoding/json would
// also take names that differ in the case of letters.
func plain(name string) bool {
	for _, c := range name {
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '_' && c != '-' {
			return false
		}
	}
	return name != "" && len(name) <= 40
}

func join(at, name string) string {
	if at == "" {
		return name
	}
	return at + "." + name
}

// only names the first field that is none of those known, in their order.
func only(fields map[string]json.RawMessage, known ...string) *Error {
	var extra []string
	for name := range fields {
		if !slices.Contains(known, name) {
			extra = append(extra, name)
		}
	}
	if len(extra) > 0 {
		return fault(BadField, slices.Min(extra), "no such field")
	}
	return nil
}

// need takes a field that must be there.
func need(fields map[string]json.RawMessage, name string, into any) *Error {
	raw, ok := fields[name]
	if !ok {
		return fault(BadField, name, "missing")
	}
	return value(raw, name, into)
}

// value reads one value strictly, unknown fields refused.
func value(raw json.RawMessage, name string, into any) *Error {
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields()
	err := dec.Decode(into)
	var wrong *json.UnmarshalTypeError
	switch {
	case string(raw) == "null":
		return fault(BadField, name, "must not be null")
	case err == nil:
		return nil
	case errors.As(err, &wrong):
		e := fault(BadField, wrong.Field, "cannot be a "+wrong.Value)
		if wrong.Field == "" {
			e.Field = name
			return e
		}
		return e.under(name)
	}
	if unknown, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
		return fault(BadField, join(name, strings.Trim(unknown, `"`)), "no such field")
	}
	return caused(BadField, name, err)
}

// text writes a value as JSON in one line.
func text(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}
