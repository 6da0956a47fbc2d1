package main

import (
	"strings"

	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// also are texts of the library and of other programs that the page says.
var also = []words.Code{"officiate.caution", "sheet.title", "sheet.match", "sheet.court", "sheet.referee", "sheet.began", "sheet.notes", "sheet.sign-winner", "sheet.sign-referee"}

// pageTexts are the texts that the page says before the library is loaded: by
// language, by code, with the names of arguments in braces.
func pageTexts() map[string]map[string]string {
	out := map[string]map[string]string{}
	for _, tag := range []string{"en", "de"} {
		l, err := texts.Language(tag)
		if err != nil {
			panic(err) // both are there
		}
		said := map[string]string{}
		for _, e := range texts.Codes() {
			if strings.HasPrefix(string(e.Code), "courtside.") {
				text := words.New(e.Code)
				for _, p := range e.Params {
					text.Args = append(text.Args, words.Name(p.Name, "{"+p.Name+"}"))
				}
				said[string(e.Code)] = l.Say(text)
			}
		}
		for _, c := range also {
			said[string(c)] = l.Say(words.New(c))
		}
		for _, f := range rally.Faults() {
			said["fault."+f.String()] = l.Say(words.For(f))
		}
		for _, k := range rally.Kinds() {
			for p := rally.A1; p <= rally.B2; p++ {
				if e := rally.OfPerson(k, p); e.String() != "" {
					said["event."+e.String()] = l.Say(words.For(k))
				}
			}
		}
		for _, s := range format.Shapes() {
			if f, err := format.Named(s, format.Default); err == nil && played(s) {
				said["shape."+s] = l.Say(words.Format(f))
			}
		}
		out[tag] = said
	}
	return out
}

// played reports whether a shape is one of pickleball, which the page is for.
func played(shape string) bool {
	for _, family := range []string{"sideout-", "rally-", "fixed-doubles-", "swap-doubles-", "half-court-"} {
		if strings.HasPrefix(shape, family) {
			return true
		}
	}
	return false
}
