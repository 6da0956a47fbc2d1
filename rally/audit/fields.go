package audit

import (
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/rally/internal/jsontext"
)

// reading takes a value of JSON that stands at a field, and says what is wrong
// with it. What is null leaves things as they are.
type reading func(v jsontext.Value, at string) *InputError

// field is a field of an object, and what takes its value.
type field struct {
	name string
	read reading
}

// readJSON reads the one value of a text; more says what is wrong if anything
// follows it.
func readJSON(text []byte, read reading, more string) *InputError {
	v, rest, err := jsontext.Read(text)
	if err != nil {
		return &InputError{Reason: "no JSON: " + err.Error()}
	}
	if wrong := read(v, ""); wrong != nil {
		return wrong
	}
	if len(rest) > 0 {
		return &InputError{Reason: more}
	}
	return nil
}

// object reads an object that has no other fields than these. Large and small
// letters of their names are alike.
func object(fields []field) reading {
	return func(v jsontext.Value, at string) *InputError {
		if v.Kind() != jsontext.Object {
			return unlike("an object", v, at)
		}
		for name, v := range v.Fields() {
			i := slices.IndexFunc(fields, func(f field) bool { return f.name == name })
			if i < 0 {
				i = slices.IndexFunc(fields, func(f field) bool { return strings.EqualFold(f.name, name) })
			}
			if i < 0 {
				return &InputError{Reason: begin("unknown field " + strconv.Quote(name))}
			}
			if wrong := fields[i].read(v, within(at, fields[i].name)); wrong != nil {
				return wrong
			}
		}
		return nil
	}
}

func list[T any](to *[]T, item func(*T) reading) reading {
	return func(v jsontext.Value, at string) *InputError {
		if *to = nil; v.Kind() != jsontext.Array {
			return unlike("a list", v, at)
		}
		*to = []T{}
		for v := range v.Items() {
			var one T
			if wrong := item(&one)(v, at); wrong != nil {
				return wrong
			}
			*to = append(*to, one)
		}
		return nil
	}
}

// maybe reads a value that need not be there.
func maybe[T any](to **T, read func(*T) reading) reading {
	return func(v jsontext.Value, at string) *InputError {
		if *to = nil; v.Kind() == jsontext.Null {
			return nil
		}
		*to = new(T)
		return read(*to)(v, at)
	}
}

func text(to *string) reading {
	return func(v jsontext.Value, at string) *InputError {
		if v.Kind() != jsontext.String {
			return unlike("a text", v, at)
		}
		*to = v.Text()
		return nil
	}
}

func truth(to *bool) reading {
	return func(v jsontext.Value, at string) *InputError {
		if v.Kind() != jsontext.Bool {
			return unlike("true or false", v, at)
		}
		*to = v.True()
		return nil
	}
}

func number(to *int) reading {
	return func(v jsontext.Value, at string) *InputError {
		n, err := strconv.Atoi(v.Raw())
		switch {
		case err == nil:
			*to = n
		case v.Kind() == jsontext.Number:
			return &InputError{0, at, "want a whole number, not " + begin("number "+v.Raw())}
		default:
			return unlike("a whole number", v, at)
		}
		return nil
	}
}

// unlike says that a value is not of the kind that is wanted; null never is wrong.
func unlike(want string, v jsontext.Value, at string) *InputError {
	if v.Kind() == jsontext.Null {
		return nil
	}
	return &InputError{0, at, "want " + want + ", not " + string(v.Kind())}
}

func within(at, name string) string {
	if at == "" {
		return name
	}
	return at + "." + name
}

// begin keeps a message short whatever was read.
func begin(text string) string {
	const most = 80
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}
