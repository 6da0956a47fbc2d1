package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/evencourt/evencourt/format"
)

// deepest is how far objects may nest in a line; a header needs five.
const deepest = 12

// object splits a JSON object into its fields. Package encoding/json lets
// through what makes two readers see two different things: a field twice, a
// name in other letters, bytes that are no text. Here they are faults.
func object(text []byte) (map[string]json.RawMessage, *Error) {
	if err := plainText(text); err != nil {
		return nil, err
	}
	dec := json.NewDecoder(bytes.NewReader(text))
	if open, err := dec.Token(); err != nil || open != json.Delim('{') {
		return nil, failure(syntax, "", "not a JSON object")
	}
	fields, err := fieldsOf(dec, 0)
	if err != nil {
		return nil, err
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return nil, failure(syntax, "", "more text after the JSON value")
	}
	return fields, nil
}

// plainText sees that a line is UTF-8, of which every program reads the same.
func plainText(text []byte) *Error {
	switch {
	case bytes.HasPrefix(text, []byte("\xef\xbb\xbf")):
		return failure(syntax, "", "begins with a byte order mark: save the file as UTF-8 without one")
	case bytes.HasPrefix(text, []byte("\xff\xfe")), bytes.HasPrefix(text, []byte("\xfe\xff")), bytes.HasPrefix(text, []byte("{\x00")), bytes.HasPrefix(text, []byte("\x00{")):
		return failure(syntax, "", "looks like UTF-16: save the file as UTF-8")
	case !utf8.Valid(text):
		return failure(syntax, "", "holds bytes that are not UTF-8")
	}
	// Half a surrogate is read as one character here and as another elsewhere.
	for i := 0; i+5 < len(text); i++ {
		if text[i] != '\\' {
			continue
		}
		high, ok := unit(text[i:])
		if !ok {
			i++ // whatever is escaped
			continue
		}
		i += 5
		if utf16.IsSurrogate(high) {
			low, ok := unit(text[min(i+1, len(text)):])
			if !ok || utf16.DecodeRune(high, low) == utf8.RuneError {
				return failure(syntax, "", "holds half a surrogate, which is no character")
			}
			i += 6
		}
	}
	return nil
}

// unit reads one \u escape.
func unit(text []byte) (rune, bool) {
	if len(text) < 6 || text[0] != '\\' || text[1] != 'u' {
		return 0, false
	}
	n, err := strconv.ParseUint(string(text[2:6]), 16, 16)
	return rune(n), err == nil
}

// fieldsOf reads the fields of an object that has been opened, and its end.
func fieldsOf(dec *json.Decoder, depth int) (map[string]json.RawMessage, *Error) {
	fields := map[string]json.RawMessage{}
	for dec.More() {
		key, err := dec.Token()
		name, ok := key.(string)
		switch {
		case err != nil || !ok:
			return nil, failure(syntax, "", "not JSON")
		case !plain(name):
			return nil, failure(badField, format.Quote(name), "no such field")
		case fields[name] != nil:
			return nil, failure(badField, name, "stands there twice")
		}
		if fields[name], err = raw(dec); err != nil {
			return nil, failure(syntax, name, "not JSON")
		}
		if err := sound(fields[name], depth+1); err != nil {
			return nil, err.under(name)
		}
	}
	if _, err := dec.Token(); err != nil {
		return nil, failure(syntax, "", "not JSON")
	}
	return fields, nil
}

func raw(dec *json.Decoder) (json.RawMessage, error) {
	var out json.RawMessage
	err := dec.Decode(&out)
	return out, err
}

// sound looks for the same faults inside a value.
func sound(value json.RawMessage, depth int) *Error {
	if value[0] != '{' && value[0] != '[' {
		return nil
	}
	if depth > deepest {
		return failure(syntax, "", "nested too deeply")
	}
	dec := json.NewDecoder(bytes.NewReader(value))
	if _, err := dec.Token(); err != nil {
		return failure(syntax, "", "not JSON")
	}
	if value[0] == '{' {
		_, err := fieldsOf(dec, depth)
		return err
	}
	for i := 0; dec.More(); i++ {
		inner, err := raw(dec)
		if err != nil {
			return failure(syntax, strconv.Itoa(i), "not JSON")
		}
		if err := sound(inner, depth+1); err != nil {
			return err.under(strconv.Itoa(i))
		}
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
		return failure(badField, slices.Min(extra), "no such field")
	}
	return nil
}

// need takes a field that must be there.
func need(fields map[string]json.RawMessage, name string, into any) *Error {
	raw, ok := fields[name]
	if !ok {
		return failure(badField, name, "missing")
	}
	return value(raw, name, into)
}

// value reads one value strictly, unknown fields refused.
func value(raw json.RawMessage, name string, into any) *Error {
	err := decode(raw, into)
	var wrong *json.UnmarshalTypeError
	switch {
	case string(raw) == "null":
		return failure(badField, name, "must not be null")
	case err == nil:
		return nil
	case errors.As(err, &wrong):
		e := failure(badField, wrong.Field, "cannot be a "+wrong.Value)
		if wrong.Field == "" {
			e.Field = name
			return e
		}
		return e.under(name)
	}
	if unknown, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
		return failure(badField, join(name, strings.Trim(unknown, `"`)), "no such field")
	}
	return caused(badField, name, err)
}

func decode(raw json.RawMessage, into any) error {
	if raw[0] != '{' && raw[0] != '[' {
		return json.Unmarshal(raw, into)
	}
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields()
	return dec.Decode(into)
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
