package intake

import (
	"strings"
	"unicode"

	"github.com/evencourt/evencourt/rally/audit/internal/letters"
)

func fold(s string) string { return letters.Fold(s) }

// wordsOf splits a header into words and numbers: "GameScore1", "game_1 score"
// and "Score, 1. game" hold the same ones.
func wordsOf(header string) []string {
	var out strings.Builder
	var before rune
	for _, r := range header {
		switch {
		case unicode.IsUpper(r) && unicode.IsLower(before), unicode.IsDigit(r) != unicode.IsDigit(before) && (unicode.IsLetter(r) || unicode.IsLetter(before)):
			out.WriteByte(' ')
		}
		out.WriteRune(r)
		before = r
	}
	return strings.Fields(fold(out.String()))
}

// trimmed returns a cell as it was meant: without spaces of any kind around it,
// without the apostrophe or the formula that exporters write to keep a text a
// text, and with plain spaces and hyphens inside.
func trimmed(s string) string {
	if isPlain(s) {
		return s
	}
	s = strings.Map(func(r rune) rune {
		switch r {
		case '\u00a0', '\u2007', '\u2009', '\u202f', '\u3000', '\t':
			return ' '
		case '\u2010', '\u2011', '\u2012', '\u2013', '\u2014', '\u2015', '\u2212', '\ufe63', '\uff0d':
			return '-'
		case '\ufeff', '\u200b', '\u200e', '\u200f', '\u00ad':
			return -1
		}
		return r
	}, s)
	s = strings.TrimSpace(s)
	if text, ok := strings.CutPrefix(s, `="`); ok && strings.HasSuffix(text, `"`) {
		s = strings.TrimSpace(strings.TrimSuffix(text, `"`))
	}
	return strings.TrimPrefix(s, "'")
}

// isPlain reports whether a text begins and ends with a letter or digit and
// holds nothing but plain ASCII.
func isPlain(s string) bool {
	if s == "" {
		return true
	}
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	first, last := s[0], s[len(s)-1]
	return first > ' ' && first != '\'' && first != '=' && last > ' '
}
