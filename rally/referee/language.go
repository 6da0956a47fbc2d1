package referee

import (
	"slices"
	"strconv"
	"strings"
)

// Code names one text: a word, a call, a duty, a sentence. Codes are stable.
type Code string

// Text is something to be said or shown, not yet in any language.
type Text struct {
	Code Code  `json:"code"`
	Args []Arg `json:"args,omitempty"`
}

// Arg is one argument of a text.
type Arg struct {
	Name  string `json:"name"`
	Value Value  `json:"value"`
}

// Value is a [Plain] name, a [Number], or a [Text] of its own.
type Value interface{ value() }

// Plain is shown as it is in every language: names, rule numbers, marks.
type Plain string

// Number is shown in digits or in words, as the language's table asks.
type Number int

func (Plain) value()  {}
func (Number) value() {}
func (Text) value()   {}

func plain(name, v string) Arg       { return Arg{name, Plain(v)} }
func count(name string, n int) Arg   { return Arg{name, Number(n)} }
func word(name string, c Code) Arg   { return Arg{name, Text{Code: c}} }
func within(name string, t Text) Arg { return Arg{name, t} }
func say(c Code, args ...Arg) Text   { return Text{c, args} }

func find(args []Arg, name string) Value {
	for _, a := range args {
		if a.Name == name {
			return a.Value
		}
	}
	return nil
}

// Entry is a code with the names of its arguments, for whoever writes a table.
type Entry struct {
	Code Code
	Args []string
}

// Codes lists every code that this package uses, in order.
func Codes() []Entry { return slices.Clone(entries) }

var entries = func() []Entry {
	all := slices.Concat(wordTexts, callTexts, faultTexts, dutyTexts, questionTexts, serverTexts, rulingTexts(),
		refusalTexts(), choiceTexts, handOverTexts, rebuildTexts)
	slices.SortFunc(all, func(a, b Entry) int { return strings.Compare(string(a.Code), string(b.Code)) })
	return all
}()

// Language is one table of texts. Make one with [NewLanguage] or take
// [English]; it is immutable.
type Language struct {
	tag    string
	table  map[Code][]piece
	number func(int) string
}

// LanguageError names the code at fault in a table of texts, and why.
type LanguageError struct {
	Tag    string
	Code   Code
	Reason string
}

// Error implements error.
func (e *LanguageError) Error() string {
	return "referee: language " + strconv.Quote(e.Tag) + ": " + strconv.Quote(string(e.Code)) + ": " + e.Reason
}

// NewLanguage makes a language of a table: for every code of [Codes] and of
// more, which are a program's own, a text in which {name} stands for an
// argument and {name:word} for a number in words, which number spells. Its tag
// is that of BCP 47. The error is a [*LanguageError]: a code without a text, a
// text without a code, an argument that its code does not have.
func NewLanguage(tag string, table map[Code]string, number func(int) string, more ...Entry) (*Language, error) {
	l := &Language{tag, make(map[Code][]piece, len(table)), number}
	if number == nil {
		return nil, &LanguageError{tag, "", "nothing spells its numbers"}
	}
	for _, e := range slices.Concat(entries, more) {
		text, ok := table[e.Code]
		if !ok || strings.TrimSpace(text) == "" {
			return nil, &LanguageError{tag, e.Code, "has no text"}
		}
		parts := pieces(text)
		if reason := e.check(parts); reason != "" {
			return nil, &LanguageError{tag, e.Code, reason}
		}
		l.table[e.Code] = parts
	}
	var extra []Code
	for code := range table {
		if _, ok := l.table[code]; !ok {
			extra = append(extra, code)
		}
	}
	if len(extra) > 0 {
		return nil, &LanguageError{tag, slices.Min(extra), "no such code"}
	}
	return l, nil
}

// check says what is wrong with a text for a code.
func (e Entry) check(parts []piece) (reason string) {
	for _, p := range parts {
		switch {
		case p.name == "" && p.form == "":
		case !slices.Contains(e.Args, p.name):
			return "has no argument " + strconv.Quote(p.name)
		case p.form != "" && p.form != "word":
			return "no such form of an argument: " + strconv.Quote(p.form)
		}
	}
	return ""
}

// Tag returns the BCP 47 tag of the language.
func (l *Language) Tag() string { return l.tag }

// deepest is how far texts may nest; none of this package comes near it.
const deepest = 12

// Say puts a text into the language. It is total: a code that no table has is
// shown in brackets, an argument that was not given as a dash.
func (l *Language) Say(t Text) string {
	var b strings.Builder
	l.write(&b, t, 0)
	return b.String()
}

// SayAll says several texts, one a line.
func (l *Language) SayAll(texts []Text) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = l.Say(t)
	}
	return out
}

// Number spells a number.
func (l *Language) Number(n int) string { return l.number(n) }

func (l *Language) write(b *strings.Builder, t Text, depth int) {
	parts, ok := l.table[t.Code]
	if !ok || depth > deepest {
		b.WriteString("[" + string(t.Code) + "]")
		return
	}
	for _, p := range parts {
		b.WriteString(p.before)
		if p.name == "" {
			continue
		}
		switch v := find(t.Args, p.name).(type) {
		case nil:
			b.WriteString("-")
		case Plain:
			b.WriteString(string(v))
		case Text:
			l.write(b, v, depth+1)
		case Number:
			if p.form == "word" {
				b.WriteString(l.number(int(v)))
			} else {
				b.WriteString(strconv.Itoa(int(v)))
			}
		}
	}
}

// piece is a stretch of a table's text and the argument that follows it.
type piece struct{ before, name, form string }

func pieces(text string) []piece {
	var out []piece
	for {
		before, rest, open := strings.Cut(text, "{")
		inside, after, closed := strings.Cut(rest, "}")
		if !open || !closed {
			return append(out, piece{before: text})
		}
		name, form, _ := strings.Cut(inside, ":")
		out = append(out, piece{before, name, form})
		text = after
	}
}
