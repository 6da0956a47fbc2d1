package record

import (
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/rally"
)

// A line beside an entry says what the position was in the words of its day. It
// is compared with the line that the entries lead to as it would have been
// written then, so that no record is taken for an edited one.

// differ names the first field in which two lines differ.
func differ(said, found string) *Error {
	if said == found {
		return nil
	}
	older := asSecond(found)
	if strings.HasPrefix(said, firstVersion) {
		found, older = asFirst(older), asFirst(older)
	}
	if said == found || said == older {
		return nil
	}
	if name, have, want := difference(said, found); name != "" {
		return failure(disagrees, join("line", name), "says "+brief(have)+", but the entries lead to "+brief(want)+": this line or one before it was changed")
	}
	return failure(disagrees, "line", "is not the line that the entries lead to")
}

// firstVersion begins a line of the first version.
const firstVersion = "L1 "

// asSecond is a line as the second version was first written: it did not say what
// came by lateness, nor which of two penalties partners bring of one pair.
func asSecond(line string) string {
	late := strings.Contains(line, "late break=")
	return reworded(line, func(name, value string) string {
		switch {
		case name == "result":
			return strings.Replace(value, "late", "mf", 1)
		case name == "opens" && late:
			return "0:0"
		case name == "first" && late && len(value) > 1:
			return "-" // the half of a choice
		case name == "carry":
			return strings.Map(withoutPair, value)
		}
		return value
	})
}

// withoutPair is a letter of carry that says only what a player brings.
func withoutPair(letter rune) rune {
	n, err := strconv.ParseUint(string(letter), 32, 8)
	if what := n % 8; err == nil && what > 0 {
		return '0' + rune(what)
	}
	return letter
}

// asFirst is a line of the second version as the first stated it: it did not say
// until when partners may exchange, and a player brought one warning or one foul.
func asFirst(line string) string {
	return firstVersion[:2] + reworded(line, func(name, value string) string {
		switch name {
		case "due":
			if value = strings.TrimSuffix(value, "x"); value == "" {
				return "-"
			}
		case "carry":
			return oldCarry.Replace(value)
		}
		return value
	})[2:]
}

var oldCarry = strings.NewReplacer("1", "-", "2", "w", "3", "w", "4", "f", "5", "f", "6", "f", "7", "f")

// reworded is a line with the value that a function gives each field.
func reworded(line string, to func(name, value string) string) string {
	words := strings.Split(line, " ")
	for i, w := range words {
		if name, value, ok := strings.Cut(w, "="); ok {
			words[i] = name + "=" + to(name, value)
		}
	}
	return strings.Join(words, " ")
}

// pairOnce is an entry as it was meant beside lines of the first version: there
// what two partners brought counted once.
func pairOnce(e rally.Entry, s rally.State) rally.Entry {
	what := map[rally.Kind]rally.Carry{rally.CarryWarning: rally.CarriedWarning, rally.CarryFoul: rally.CarriedFoul}[e.Kind]
	if p := e.Event.Person(); what != rally.NoCarry && s.Carried(p.Partner()).Has(what) {
		return rally.OfPerson(e.Kind+rally.CarrySameVerbal-rally.CarryVerbal, p).Entry()
	}
	return e
}
