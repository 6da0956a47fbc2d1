package audit

import (
	"strings"

	"github.com/evencourt/evencourt/rally/audit/internal/moment"
)

// cell returns what a cell says, without spaces around it; empty if it says
// that there is no value.
func cell(s string) string {
	if isMissing(s) {
		return ""
	}
	return strings.TrimSpace(strings.TrimPrefix(s, "\ufeff"))
}

// ordinary are the bytes with which no missing value and no space begins.
var ordinary = func() (set [256]bool) {
	for b := '!'; b <= '~'; b++ {
		set[b] = !strings.ContainsRune("-?.nN", b)
	}
	return set
}()

// isMissing reports whether a cell says that there is no value.
func isMissing(s string) bool {
	switch len(s) {
	case 0:
		return true
	case 1:
		return s == "-" || s == "?" || s == " " || s == "."
	case 2, 3, 4:
		switch s {
		case "--", "NA", "na", "n/a", "N/A", "nil", "NIL", "null", "NULL", "None", "none", "nan", "NaN", "–", "—":
			return true
		}
	}
	return false
}

// scanScore reads a score at the beginning of a text and returns the rest. The
// sign between the points may be a hyphen, an en dash, a minus or a colon,
// with spaces around it.
func scanScore(s string) (v Score, rest string, ok bool) {
	a, i := scanNumber(s)
	if i == 0 {
		return v, s, false
	}
	k := i
	for k < len(s) && s[k] == ' ' {
		k++
	}
	switch {
	case k < len(s) && (s[k] == '-' || s[k] == ':'):
		k++
	case strings.HasPrefix(s[k:], "–"), strings.HasPrefix(s[k:], "—"), strings.HasPrefix(s[k:], "−"):
		k += 3
	default:
		return v, s, false
	}
	for k < len(s) && s[k] == ' ' {
		k++
	}
	b, j := scanNumber(s[k:])
	if j == 0 {
		return v, s, false
	}
	rest = s[k+j:]
	if rest != "" && !isSeparator(rest[0]) {
		return v, s, false // 2024-11-09, 11-9a
	}
	return Score{a, b}, rest, true
}

// wholeScore reads a cell that holds one score and nothing else.
func wholeScore(s string) (Score, bool) {
	if a, i := scanNumber(s); i > 0 && i < len(s) && s[i] == '-' { // as most are spelt
		if b, j := scanNumber(s[i+1:]); j > 0 && i+1+j == len(s) {
			return Score{a, b}, true
		}
	}
	v, rest, ok := scanScore(s)
	return v, ok && rest == ""
}

// scanNumber reads up to three digits.
func scanNumber(s string) (n, length int) {
	for length < len(s) && length < 3 && s[length]-'0' <= 9 {
		n = 10*n + int(s[length]-'0')
		length++
	}
	if length < len(s) && s[length]-'0' <= 9 {
		return 0, 0
	}
	return n, length
}

func points(s string) (int, bool) {
	n, i := scanNumber(s)
	return n, i > 0 && i == len(s)
}

func isSeparator(b byte) bool {
	return b == ' ' || b == ',' || b == ';' || b == '/' || b == '|' || b == '\n'
}

func skipSeparators(s string) string {
	for s != "" && isSeparator(s[0]) {
		s = s[1:]
	}
	return s
}

// whoOf reads a side.
func whoOf(s string) MaybeSide {
	if len(s) != 1 {
		return Nobody
	}
	return whoBytes[s[0]]
}

var whoBytes = [256]MaybeSide{'A': SideA, 'a': SideA, 'B': SideB, 'b': SideB}

func statusOf(s string) (Status, bool) {
	for i, name := range statusNames {
		if name == s || strings.EqualFold(name, s) {
			return Status(i), true
		}
	}
	return Played, false
}

// isDate reports whether a text is a civil date, YYYY-MM-DD.
func isDate(s string) bool {
	_, ok := moment.ParseDay(s)
	return ok
}
