package words

import (
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/evencourt/evencourt/format"
)

// Signature is a code with the arguments that it takes.
type Signature struct {
	Code   Code
	Params []Param
}

// Param is an argument that a code takes.
type Param struct {
	Name string
	// Kind is "name", "number", "score", "text" or "list", or a family of codes,
	// such as "court.", of which the argument is one text. A name is a [Plain],
	// or a text of the family "person.".
	Kind string
}

// catalog is made when it is first asked for.
var catalog = sync.OnceValue(func() map[Code]Signature {
	out := map[Code]Signature{}
	for _, e := range codes() {
		out[e.Code] = e
	}
	return out
})

// Codes lists every code of the library with its arguments, in order: those of
// the table and one for each clause of package format ([For]).
func Codes() []Signature {
	out := codes()
	slices.SortFunc(out, func(a, b Signature) int { return strings.Compare(string(a.Code), string(b.Code)) })
	return out
}

// codes are those of [Codes] in no order.
func codes() []Signature {
	out := Signatures(catalogTable)
	for _, c := range format.Clauses() {
		out = append(out, Signature{Code: For(c).Code})
	}
	return out
}

// Signatures reads a list of codes, one a line: the code, then its arguments as
// name=kind. Lines that begin with # are comments.
func Signatures(list string) []Signature {
	var out []Signature
	for line := range strings.Lines(list) {
		fields := strings.Fields(line)
		if len(fields) == 0 || fields[0][0] == '#' {
			continue
		}
		e := Signature{Code: Code(fields[0])}
		for _, f := range fields[1:] {
			name, kind, _ := strings.Cut(f, "=")
			e.Params = append(e.Params, Param{name, kind})
		}
		out = append(out, e)
	}
	return out
}

// Lookup returns a code of the library with its arguments; false if there is no
// such code.
func Lookup(c Code) (Signature, bool) {
	e, ok := catalog()[c]
	return e, ok
}

// Error names the code at fault, in a table of texts or in a text, and why.
type Error struct {
	Tag    string // of the language; "" where it is none's
	Code   Code
	Reason string
}

// Error implements error.
func (e *Error) Error() string {
	out := "words: "
	if e.Tag != "" {
		out += "language " + format.Quote(e.Tag) + ": "
	}
	return out + format.Quote(string(e.Code)) + ": " + e.Reason
}

// Check reports whether a text is one of the library's: its code is known and
// has every argument that the code takes, of its kind, and no other; so have the
// texts within it. The error is a [*Error].
func (t Text) Check() error { return t.check(Lookup, 0) }

func (t Text) check(known func(Code) (Signature, bool), depth int) error {
	e, ok := known(t.Code)
	switch {
	case !ok:
		return &Error{"", t.Code, "no such code"}
	case depth > deepest:
		return &Error{"", t.Code, "texts nest too deeply"}
	case len(t.Args) > len(e.Params):
		return &Error{"", t.Code, "has " + strconv.Itoa(len(t.Args)) + " arguments for " + strconv.Itoa(len(e.Params))}
	}
	for _, p := range e.Params {
		v := t.Args.Of(p.Name)
		if v == nil {
			return &Error{"", t.Code, "lacks the argument " + format.Quote(p.Name)}
		}
		if !p.takes(v) {
			return &Error{"", t.Code, "the argument " + format.Quote(p.Name) + " is no " + p.Kind}
		}
		var inner []Text
		switch v := v.(type) {
		case Text:
			inner = []Text{v}
		case List:
			inner = v
		}
		for _, t := range inner {
			if err := t.check(known, depth+1); err != nil {
				return err
			}
		}
	}
	return nil
}

// takes reports whether a value is of the parameter's kind.
func (p Param) takes(v Value) bool {
	switch v := v.(type) {
	case Plain:
		return p.Kind == "name"
	case Number:
		return p.Kind == "number"
	case Score:
		return p.Kind == "score"
	case List:
		return p.Kind == "list"
	case Text:
		return p.Kind == "text" || p.Kind == "name" && v.Code.family("person.") || strings.HasSuffix(p.Kind, ".") && v.Code.family(p.Kind)
	}
	return false
}
