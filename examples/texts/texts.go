// Package texts holds what the programs say besides the sentences of the library:
// their codes, and the English and German texts. Another language is another file of texts
// here beside one of package words, and a row of the table below.
package texts

import (
	_ "embed"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/rally/words"
)

//go:embed catalog.txt
var catalog string

//go:embed english.txt
var english string

//go:embed german.txt
var german string

// tables are the texts of the programs by the tag of their language.
var tables = []struct{ tag, texts string }{{"en", english}, {"de", german}}

// bare is the tag of [words.Bare].
const bare = "x-codes"

// Codes lists the codes of the programs with their arguments.
func Codes() []words.Signature { return words.Signatures(catalog) }

// Language returns a language with the texts of the library and the programs;
// x-codes is none, but shows the codes in place of texts.
func Language(tag string) (*words.Language, error) {
	if tag == bare {
		return words.Bare(Codes()...), nil
	}
	for _, t := range tables {
		if t.tag == tag {
			l, _ := words.ByTag(tag)
			return l.With(Codes(), t.texts)
		}
	}
	return nil, Wrong("program.no-language", words.Name("typed", strconv.Quote(short(tag))), words.Name("tags", strings.Join(Tags(), ", ")))
}

func short(tag string) string {
	const most = 20
	if r := []rune(tag); len(r) > most {
		return string(r[:most]) + "..."
	}
	return tag
}

// Problem is why a program cannot do what it was asked, said in the language
// that its user chose.
type Problem struct {
	Text words.Text
}

// Wrong makes a problem of a code of the programs.
func Wrong(c words.Code, args ...words.Arg) error { return &Problem{words.New(c, args...)} }

// Error says it in English, for logs and tests.
func (p *Problem) Error() string {
	l, err := Language("en")
	if err != nil {
		return string(p.Text.Code)
	}
	return l.Say(p.Text)
}

// Tags lists the languages.
func Tags() []string {
	var out []string
	for _, t := range tables {
		out = append(out, t.tag)
	}
	return append(slices.Sorted(slices.Values(out)), bare)
}
