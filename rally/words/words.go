// Package words is the one catalog of what is said and shown: which texts
// there are, what arguments each takes, and how a language says them.
//
// Whoever has something to say makes a [Text], a code with arguments, and a
// [Language] puts it into words: [English], or another table of the same codes.
// A language has a text for every code, or there is no such language. The codes
// with their arguments stand in catalog_table.go, the English texts in
// english_table.go: in the code, for package embed would make a browser build
// larger by a tenth of an empty program. A program adds codes and texts of its
// own with [Language.With].
package words

import "strings"

// Code names one text: a word, a call, a duty, a sentence. Codes are stable.
type Code string

// Text is something to be said or shown, not yet in any language. As JSON it
// is {"code": …, "args": {…}} and reads back as it was.
type Text struct {
	Code Code `json:"code"`
	Args Args `json:"args,omitempty"`
}

// Args are the arguments of a text, in any order.
type Args []Arg

// Arg is one argument of a text.
type Arg struct {
	Name  string
	Value Value
}

// Value is what an argument says: a [Plain], a [Number], a [Score], a [Text] of
// its own or a [List] of them.
type Value interface{ value() }

// Plain is shown as it is in every language: names, ids, what was read.
type Plain string

// Number is shown in digits or in words, as the text asks.
type Number int

// Score is shown as the points of both sides, in the order of entry.
type Score [2]int

// List is joined as the language joins what stands in a row.
type List []Text

func (Plain) value()  {}
func (Number) value() {}
func (Score) value()  {}
func (Text) value()   {}
func (List) value()   {}

// New makes a text.
func New(c Code, args ...Arg) Text { return Text{c, args} }

// Name is an argument that stands as it is.
func Name(name, v string) Arg { return Arg{name, Plain(v)} }

// Count is an argument that is a number.
func Count(name string, n int) Arg { return Arg{name, Number(n)} }

// Points is an argument that is a score, in the order of entry.
func Points(name string, a, b int) Arg { return Arg{name, Score{a, b}} }

// Word is an argument that is a text without arguments.
func Word(name string, c Code) Arg { return Arg{name, Text{Code: c}} }

// Within is an argument that is a text.
func Within(name string, t Text) Arg { return Arg{name, t} }

// Each is an argument that is a row of texts.
func Each(name string, texts ...Text) Arg { return Arg{name, List(texts)} }

// Of returns the value of an argument; nil if it was not given.
func (a Args) Of(name string) Value {
	for i := range a {
		if a[i].Name == name {
			return a[i].Value
		}
	}
	return nil
}

// Plain returns an argument that stands as it is; "" if it was not given.
func (a Args) Plain(name string) string {
	v, _ := a.Of(name).(Plain)
	return string(v)
}

// Number returns an argument that is a number; 0 if it was not given.
func (a Args) Number(name string) int {
	v, _ := a.Of(name).(Number)
	return int(v)
}

// Score returns an argument that is a score; 0-0 if it was not given.
func (a Args) Score(name string) [2]int {
	v, _ := a.Of(name).(Score)
	return v
}

// Equal reports whether two texts say the same in every language.
func (t Text) Equal(other Text) bool { return t.Code == other.Code && t.Args.Equal(other.Args) }

// Equal reports whether two sets of arguments are the same, in the same order.
func (a Args) Equal(other Args) bool {
	if len(a) != len(other) {
		return false
	}
	for i := range a {
		if a[i].Name != other[i].Name || !same(a[i].Value, other[i].Value) {
			return false
		}
	}
	return true
}

func same(a, b Value) bool {
	switch a := a.(type) {
	case Text:
		b, ok := b.(Text)
		return ok && a.Equal(b)
	case List:
		b, ok := b.(List)
		if !ok || len(a) != len(b) {
			return false
		}
		for i := range a {
			if !a[i].Equal(b[i]) {
				return false
			}
		}
		return true
	}
	switch b.(type) {
	case Text, List:
		return false
	}
	return a == b
}

// family reports whether a code belongs to a family of codes, "court." say.
func (c Code) family(prefix string) bool { return strings.HasPrefix(string(c), prefix) }
