package words

import (
	"strconv"
	"strings"
)

// languages are the tables that the library brings. Another language is a file
// of texts, a grammar of numbers, and a row here.
var languages = [...]struct {
	tag string
	get func() *Language
}{
	{"en", English},
	{"de", German},
}

// Tags lists the languages that the library brings.
func Tags() []string {
	out := make([]string, len(languages))
	for i := range languages {
		out[i] = languages[i].tag
	}
	return out
}

// ByTag returns a language that the library brings; false if it brings none of
// this tag.
func ByTag(tag string) (*Language, bool) {
	for i := range languages {
		if languages[i].tag == tag {
			return languages[i].get(), true
		}
	}
	return nil, false
}

// Bare is no language but the codes themselves, with the names and values of
// their arguments, a program's own codes among them: for whoever writes a table,
// and for tests that nothing is said past the catalog. Its tag is x-codes.
func Bare(own ...Signature) *Language {
	all := append(Codes(), own...)
	var table strings.Builder
	for _, e := range all {
		table.WriteString(string(e.Code) + " <" + string(e.Code))
		for _, p := range e.Params {
			table.WriteString(" " + p.Name + "={" + p.Name + "}")
		}
		table.WriteString(">\n")
	}
	g := Grammar{Spell: strconv.Itoa, Forms: 1, Form: func(int) int { return 0 }}
	l, err := (&Language{tag: "x-codes", grammar: g}).With(all, table.String())
	if err != nil {
		panic(err) // two codes are one
	}
	return l
}
