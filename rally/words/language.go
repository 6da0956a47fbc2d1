package words

import (
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/evencourt/evencourt/format"
)

// Language says texts. Make one with [NewLanguage] or take [English]; it is
// immutable.
type Language struct {
	tag     string
	grammar Grammar
	entries map[Code]Signature
	long    map[Code][]piece
	short   map[Code][]piece
}

// Grammar is what a language knows of numbers.
type Grammar struct {
	Spell func(n int) string // a number in words, as a score is called
	// Forms is how many forms a counted noun has, Form which of them goes with
	// a number, from 0: in English 2, and 0 for one.
	Forms int
	Form  func(n int) int
}

// NewLanguage makes a language of a table of texts, one for every code of
// [Codes]. Its tag is that of BCP 47. The error is a [*Error]: a code
// without a text, a text without a code, an argument or a form that there is
// not.
//
// A line of the table is a code, a blank and the text; lines that begin with #
// are comments. In the text {name} stands for an argument; {n:word} for a
// number in words; {n|row|rows} for the form of a noun that goes with a number;
// {list:and} and {list:or} for a row of texts, its last one joined by that
// word, and {list} for one joined by commas; {name:capital} for one that begins
// with a capital letter, {name:short} for its short form. An indented line is a short form of the text above it,
// for speech ([Language.Short]).
func NewLanguage(tag string, g Grammar, texts string) (*Language, error) {
	if g.Spell == nil || g.Form == nil || g.Forms < 1 {
		return nil, &Error{tag, "", "no grammar of numbers"}
	}
	return (&Language{tag: tag, grammar: g}).With(codes(), texts)
}

// With returns the language with further codes, which are a program's own, and
// their texts in a table as [NewLanguage] reads it.
func (l *Language) With(own []Signature, texts string) (*Language, error) {
	out := &Language{l.tag, l.grammar, maps.Clone(l.entries), maps.Clone(l.long), maps.Clone(l.short)}
	if out.entries == nil {
		out.entries, out.long, out.short = map[Code]Signature{}, map[Code][]piece{}, map[Code][]piece{}
	}
	added := map[Code]bool{}
	for _, e := range own {
		if _, twice := out.entries[e.Code]; twice {
			return nil, &Error{l.tag, e.Code, "is a code already"}
		}
		out.entries[e.Code], added[e.Code] = e, true
	}
	last := Code("")
	for line := range strings.Lines(texts) {
		text := strings.TrimSpace(line)
		if text == "" || text[0] == '#' {
			continue
		}
		table, code := out.short, last
		if line[0] != ' ' && line[0] != '\t' {
			name, rest, _ := strings.Cut(text, " ")
			table, code, text = out.long, Code(name), strings.TrimSpace(rest)
			last = code
		}
		if reason := out.put(table, added, code, text); reason != "" {
			return nil, &Error{l.tag, code, reason}
		}
	}
	for _, e := range own {
		if _, ok := out.long[e.Code]; !ok {
			return nil, &Error{l.tag, e.Code, "has no text"}
		}
	}
	return out, nil
}

// put takes a text into a table and says what is wrong with it.
func (l *Language) put(table map[Code][]piece, added map[Code]bool, code Code, text string) (reason string) {
	if !added[code] {
		return "no such code"
	}
	if _, twice := table[code]; twice {
		return "has two texts"
	}
	if text == "" {
		return "has no text"
	}
	parts, whole := pieces(text)
	if !whole {
		return "a brace is not closed"
	}
	for _, p := range parts {
		if reason := l.wrong(l.entries[code], p); reason != "" {
			return reason
		}
	}
	table[code] = parts
	return ""
}

// wrong says what is wrong with a piece of a text for a code.
func (l *Language) wrong(e Signature, p piece) (reason string) {
	if p.name == "" && p.form == "" && p.nouns == nil {
		return ""
	}
	at := slices.IndexFunc(e.Params, func(param Param) bool { return param.Name == p.name })
	if at < 0 {
		return "has no argument " + format.Quote(p.name)
	}
	kind := e.Params[at].Kind
	switch {
	case p.nouns != nil && kind != "number", p.form == "word" && kind != "number", (p.form == "and" || p.form == "or") && kind != "list":
		return "the argument " + format.Quote(p.name) + " is a " + kind
	case p.nouns != nil && len(p.nouns) != l.grammar.Forms:
		return "a counted noun has " + strconv.Itoa(l.grammar.Forms) + " forms"
	case !slices.Contains([]string{"", "word", "and", "or", "capital", "short"}, p.form):
		return "no such form of an argument: " + format.Quote(p.form)
	}
	return ""
}

// Tag returns the BCP 47 tag of the language.
func (l *Language) Tag() string { return l.tag }

// Codes lists every code that the language has a text for, in order.
func (l *Language) Codes() []Signature {
	return slices.SortedFunc(maps.Values(l.entries), func(a, b Signature) int { return strings.Compare(string(a.Code), string(b.Code)) })
}

// Check is [Text.Check] with the codes of the language, a program's own among
// them.
func (l *Language) Check(t Text) error {
	return t.check(func(c Code) (Signature, bool) { e, ok := l.entries[c]; return e, ok }, 0)
}

// deepest is how far texts may nest; none of the library comes near it.
const deepest = 12

// Say puts a text into the language. It is total: a code that no table has is
// shown in brackets, an argument that was not given as a dash.
func (l *Language) Say(t Text) string {
	var b strings.Builder
	l.write(&b, t, false, 0)
	return b.String()
}

// Short is [Language.Say] for who listens: short forms where there are any.
func (l *Language) Short(t Text) string {
	var b strings.Builder
	l.write(&b, t, true, 0)
	return b.String()
}

// SayAll says several texts.
func (l *Language) SayAll(texts []Text) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = l.Say(t)
	}
	return out
}

// Spell returns a number in words.
func (l *Language) Spell(n int) string { return l.grammar.Spell(n) }

func (l *Language) write(b *strings.Builder, t Text, short bool, depth int) {
	parts, ok := l.long[t.Code]
	if s, has := l.short[t.Code]; has && short {
		parts = s
	}
	if !ok || depth > deepest {
		b.WriteString("[" + string(t.Code) + "]")
		return
	}
	for _, p := range parts {
		b.WriteString(p.before)
		if p.name != "" {
			l.argument(b, p, t.Args.Of(p.name), short, depth)
		}
	}
}

// argument writes one argument as a piece of a text asks for it.
func (l *Language) argument(b *strings.Builder, p piece, v Value, short bool, depth int) {
	switch p.form {
	case "short":
		p.form = ""
		l.argument(b, p, v, true, depth)
		return
	case "capital":
		var inner strings.Builder
		p.form = ""
		l.argument(&inner, p, v, short, depth)
		first, size := utf8.DecodeRuneInString(inner.String())
		b.WriteString(string(unicode.ToUpper(first)) + inner.String()[size:])
		return
	}
	switch v := v.(type) {
	case Plain:
		b.WriteString(string(v))
	case Text:
		l.write(b, v, short, depth+1)
	case Number:
		switch {
		case p.nouns != nil:
			b.WriteString(p.nouns[l.grammar.Form(int(v))])
		case p.form == "word":
			b.WriteString(l.grammar.Spell(int(v)))
		default:
			b.WriteString(strconv.Itoa(int(v)))
		}
	case Score:
		b.WriteString(strconv.Itoa(v[0]) + "-" + strconv.Itoa(v[1]))
	case List:
		l.join(b, p.form, v, short, depth)
	default:
		b.WriteString("-")
	}
}

// join writes texts in a row: all but the last after commas, the last after the
// word asked for.
func (l *Language) join(b *strings.Builder, form string, texts List, short bool, depth int) {
	for i, t := range texts {
		switch {
		case i == 0:
		case i == len(texts)-1 && form != "":
			b.WriteString(" ")
			l.write(b, Text{Code: Code("list." + form)}, short, depth+1)
			b.WriteString(" ")
		default:
			b.WriteString(", ")
		}
		l.write(b, t, short, depth+1)
	}
}

// piece is a stretch of a table's text and the argument that follows it.
type piece struct {
	before, name, form string
	nouns              []string // forms of a counted noun
}

// pieces takes a text apart; it is not whole if a brace is not closed.
func pieces(text string) (out []piece, whole bool) {
	for {
		before, rest, open := strings.Cut(text, "{")
		if !open {
			return append(out, piece{before: before}), true
		}
		inside, after, closed := strings.Cut(rest, "}")
		if !closed {
			return nil, false
		}
		p := piece{before: before}
		if name, nouns, counted := strings.Cut(inside, "|"); counted {
			p.name, p.nouns = name, strings.Split(nouns, "|")
		} else {
			p.name, p.form, _ = strings.Cut(inside, ":")
		}
		if p.name == "" {
			p.form = inside + "?" // an argument without a name is found at fault
		}
		out = append(out, p)
		text = after
	}
}
