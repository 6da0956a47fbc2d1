package intake

import (
	"strings"
	"unicode"
	"unicode/utf8"

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
// text, with plain spaces and hyphens inside, and with letters and their marks put
// together.
func trimmed(s string) string {
	if s == "" || isPlain(s) {
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
	return letters.Composed(strings.TrimPrefix(s, "'"))
}

// unplain are the bytes with which letters begin that trimmed may exchange, and
// those of control.
var unplain = func() (set [256]bool) {
	for b := range byte(' ') {
		set[b] = true
	}
	for _, b := range []byte("\x7f\xc2\xcc\xe1\xe2\xe3\xef") {
		set[b] = true
	}
	return set
}()

// isPlain reports whether a text has nothing that trimmed takes away or exchanges.
func isPlain(s string) bool {
	for i := range len(s) {
		if unplain[s[i]] {
			return false
		}
	}
	first, last := s[0], s[len(s)-1]
	return first != ' ' && first != '\'' && first != '=' && last != ' '
}

// cutName cuts a name, folded, from the beginning of a text, and reports whether it
// stands there. What is left is folded where need was.
func cutName(text, name string) (rest string, ok bool) {
	if text == name {
		return "", true
	}
	begun := false
	for i, k := 0, 0; ; {
		from, of := i, k
		for i < len(text) && folded[text[i]] == between {
			i++
		}
		for k < len(name) && folded[name[k]] == between {
			k++
		}
		a, b := byte(between), byte(between)
		if i < len(text) {
			a = folded[text[i]]
		}
		if k < len(name) {
			b = folded[name[k]]
		}
		switch {
		case a == strange || b == strange:
			r, width := utf8.DecodeRuneInString(text[i:])
			if !unicode.IsLetter(r) || !strings.HasPrefix(name[k:], text[i:i+width]) {
				text, name = fold(text), fold(name)
				rest, ok = strings.CutPrefix(text, name)
				return rest, ok && (rest == "" || rest[0] == ' ')
			}
			a, i, k = b, i+width-1, k+width-1
		case b == between:
			return text[i:], a == between || i > from
		}
		if a != b || begun && (i > from) != (k > of) {
			return "", false
		}
		begun = true
		i++
		k++
	}
}

// folded is what fold leaves of a byte, where it can be told from one.
var folded = func() (of [256]byte) {
	for b := range of {
		switch c := byte(b); {
		case c >= 'A' && c <= 'Z':
			of[b] = c + 'a' - 'A'
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			of[b] = c
		case c >= utf8.RuneSelf || c == '#':
			of[b] = strange
		}
	}
	return of
}()

const (
	between = 0 // letters
	strange = 1
)

// isName reports whether a text has anything that fold leaves.
func isName(s string) bool {
	for i := range len(s) {
		if folded[s[i]] != between {
			return true
		}
	}
	return false
}
