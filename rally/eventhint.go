package rally

import "github.com/evencourt/evencourt/format"

// hint says what a text that is no event may have been meant for: the same in other
// letters, the name of a kind in place of its word, or a word with nobody behind it.
func hint(text string) string {
	meant := ""
	choices(func(e Event) bool {
		if folded(e.String(), text) {
			meant = e.String()
		}
		return meant == ""
	})
	for k := Undo; k < kindCount; k++ {
		if folded(forms[k].prefix, text) {
			meant = forms[k].prefix
		}
	}
	if meant != "" {
		return "did you mean " + format.Quote(meant) + "?"
	}
	like := NoKind
	for k := RallyWon; k < Undo; k++ {
		if starts(text, kindNames[k]) {
			like = k
			break
		}
		if p := forms[k].prefix; p != "" && starts(text, p) && (like == NoKind || len(p) > len(forms[like].prefix)) {
			like = k
		}
	}
	if like == NoKind {
		return `events are written as "A", "tB", "mA1", "gA1B1", "ends"`
	}
	example := ""
	choicesOf(like, func(e Event) bool {
		example = e.String()
		return false
	})
	return kindNames[like] + " is written as " + format.Quote(example)
}

// folded reports whether two texts are the same but for capitals.
func folded(a, b string) bool { return len(a) == len(b) && starts(a, b) }

// starts reports whether a text begins with a word, whatever the capitals, and
// whether or not it has the dashes of the word.
func starts(text, word string) bool {
	for i := 0; i < len(word); i++ {
		switch {
		case text != "" && lower(text[0]) == lower(word[i]):
			text = text[1:]
		case word[i] != '-':
			return false
		}
	}
	return true
}

func lower(c byte) byte {
	if 'A' <= c && c <= 'Z' {
		return c + 'a' - 'A'
	}
	return c
}
