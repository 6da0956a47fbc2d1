package audit

import (
	"slices"
	"strings"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/serviceorder"
)

// phrases are the texts that arguments of a code can have which are words, not
// data: a language says them in its own way ([Language.Phrases]).
type phrases struct{ text, other []string }

// Phrases returns the texts that {text} and {other} can stand for in a sentence
// of a code, where they are words of this package and nothing that was read.
// Several of them may be joined by "+".
func Phrases(c Code) (text, other []string) {
	if c >= codeCount {
		return nil, nil
	}
	return slices.Clone(phrasesOf[c].text), slices.Clone(phrasesOf[c].other)
}

var phrasesOf = [codeCount]phrases{
	FieldUnreadable: {other: []string{wantScores, wantDate, wantSide, wantStatus, wantTimeOuts, wantNumbers, wantFewer}},
	SidePlayers:     {text: []string{"singles", "doubles"}},
	StatusGames:     {text: statusNames},
	StatusWinner:    {text: statusNames, other: []string{"by", "winner", "none"}},

	ReferenceMissing: {text: statusNames},
	PartialChecked:   {text: []string{"games-won", "totals", "winner"}},
	SameMatchDiffers: {text: []string{"a", "b", "games", "winner", "status", "date", "format", "round"}},
	LogDiverges:      {text: []string{"resync", "no-resync"}},
	EventRefused:     {other: append(texts(func(n uint8) string { return rally.Refusal(n).String() }), "nothing-to-undo")},
	SheetImpossible:  {text: []string{"no-format", "too-long", "mark-past-score", "no-game"}},
	SheetSeveral:     {text: texts(func(n uint8) string { return serviceorder.Question(n).String() })},
}

// What a field that could not be read should have held.
var (
	wantScores   = "want scores such as 11-8"
	wantDate     = "want a date, YYYY-MM-DD"
	wantSide     = "want A or B"
	wantStatus   = "want " + strings.Join(statusNames[:len(statusNames)-1], ", ") + " or " + statusNames[len(statusNames)-1]
	wantTimeOuts = "want time-outs used, such as 1-0"
	wantNumbers  = "want two numbers up to 999"
	wantFewer    = "more than nine games"
)

// texts returns the texts of all values of an enum.
func texts(of func(uint8) string) []string {
	var out []string
	for n := uint8(0); of(n) != "?" && n < 255; n++ {
		out = append(out, of(n))
	}
	return out
}

// phrase says an argument in a language, if it is one of the words.
func (l *Language) phrase(c Code, words []string, text string) string {
	if len(words) == 0 {
		return text
	}
	parts := strings.Split(text, "+")
	for i, p := range parts {
		if !slices.Contains(words, p) {
			return text
		}
		if said, ok := l.Phrases[c][p]; ok {
			parts[i] = said
		}
	}
	return strings.Join(parts, ", ")
}
