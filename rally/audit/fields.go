package audit

import (
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/rally/internal/jsontext"
)

// field is a field of an object, and what takes its value: a pointer to a text, a
// number or a truth, or a reader.
type field struct {
	name string
	to   any
}

// reader takes a value of JSON that stands at a field, and says what is wrong with
// it.
type reader interface {
	read(v jsontext.Value, at string) *InputError
}

// readJSON reads the one value of a text; more says what is wrong if anything
// follows it.
func readJSON(text []byte, to reader, more string) *InputError {
	v, rest, err := jsontext.Read(text)
	if err != nil {
		return &InputError{Reason: "no JSON: " + err.Error()}
	}
	wrong := to.read(v, "")
	if wrong == nil && len(rest) > 0 {
		return &InputError{Reason: more}
	}
	return wrong
}

// fill reads a value. What is null leaves things as they are.
func fill(to any, v jsontext.Value, at string) *InputError {
	switch to := to.(type) {
	case reader:
		return to.read(v, at)
	case *string:
		if v.Kind() != jsontext.String {
			return unlike("a text", v, at)
		}
		*to = v.Text()
	case *bool:
		if v.Kind() != jsontext.Bool {
			return unlike("true or false", v, at)
		}
		*to = v.True()
	case *int:
		n, err := strconv.Atoi(v.Raw())
		if err != nil && v.Kind() == jsontext.Number {
			return &InputError{0, at, "want a whole number, not " + begin("number "+v.Raw())}
		} else if err != nil {
			return unlike("a whole number", v, at)
		}
		*to = n
	}
	return nil
}

// object reads an object that has no other fields than these. Large and small
// letters of their names are alike.
func object(v jsontext.Value, at string, fields []field) *InputError {
	if v.Kind() != jsontext.Object {
		return unlike("an object", v, at)
	}
	for _, said := range v.Fields() {
		i := slices.IndexFunc(fields, func(f field) bool { return f.name == said.Name })
		if i < 0 {
			i = slices.IndexFunc(fields, func(f field) bool { return strings.EqualFold(f.name, said.Name) })
		}
		if i < 0 {
			return &InputError{Reason: begin("unknown field " + strconv.Quote(said.Name))}
		}
		if wrong := fill(fields[i].to, said.Value, within(at, fields[i].name)); wrong != nil {
			return wrong
		}
	}
	return nil
}

// list reads a list of what [fill] reads; null is none.
type list[T any] struct{ to *[]T }

func (l list[T]) read(v jsontext.Value, at string) *InputError {
	if *l.to = nil; v.Kind() != jsontext.Array {
		return unlike("a list", v, at)
	}
	*l.to = []T{}
	for _, v := range v.Items() {
		var one T
		if wrong := fill(&one, v, at); wrong != nil {
			return wrong
		}
		*l.to = append(*l.to, one)
	}
	return nil
}

// maybe reads what need not be there; null is nothing.
type maybe[T any] struct{ to **T }

func (m maybe[T]) read(v jsontext.Value, at string) *InputError {
	if *m.to = nil; v.Kind() == jsontext.Null {
		return nil
	}
	*m.to = new(T)
	return fill(*m.to, v, at)
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
