package exercise

import (
	"strconv"
	"strings"
	"unicode"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Solution is the right answer as text.
func (x *Exercise) Solution() words.Text {
	if len(x.Options) == 0 {
		return say("drill.call", plain("call", x.Key))
	}
	n, _ := strconv.Atoi(x.Key)
	return say("drill.key-option", number("i", n), text("option", x.Options[n-1]))
}

// Wanted says what an answer looks like.
func (x *Exercise) Wanted() words.Text {
	switch {
	case x.Topic == markSheet:
		return say("drill.want-marks")
	case len(x.Options) == 0:
		return say("drill.want-call")
	}
	return say("drill.want-number", number("n", len(x.Options)))
}

// Hint takes one wrong option away; of a call it tells the first number.
func (x *Exercise) Hint() words.Text {
	key, _ := strconv.Atoi(x.Key)
	for n := range x.Options {
		if n+1 != key {
			return say("drill.hint-not", number("i", n+1))
		}
	}
	return say("drill.hint-call", plain("first", x.Key[:1]))
}

// Read turns what was typed into an answer, which is right if it is the key: the
// number of an option or its words, a score call in digits or words, or marks. It
// is false for anything else.
func (x *Exercise) Read(l *words.Language, given string) (answer string, ok bool) {
	given = strings.ToLower(strings.TrimSpace(given))
	if given == "" {
		return "", false
	}
	if x.Topic == markSheet {
		return readMarks(given)
	}
	if len(x.Options) == 0 {
		return readScore(l, given)
	}
	if n, err := strconv.Atoi(given); err == nil {
		return strconv.Itoa(n), n >= 1 && n <= len(x.Options)
	}
	for i, option := range x.Options {
		if plainly(l.Say(option)) == plainly(given) {
			return strconv.Itoa(i + 1), true
		}
	}
	return "", false
}

// plainly is a text without capitals, blanks and signs.
func plainly(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, text)
}

// readMarks reads marks: the number of the server for each point, a stroke where
// a turn ended, a dash for none.
func readMarks(given string) (string, bool) {
	given = strings.ReplaceAll(strings.ReplaceAll(given, " ", ""), ",", "")
	return given, strings.Trim(given, "12/-") == ""
}

func split(call string) []string {
	return strings.FieldsFunc(call, func(r rune) bool { return strings.ContainsRune("- ,./:", r) })
}

// readScore reads "4-2-1", "4 2 1", "four, two, one", and "start" for the last
// number of an opening call.
func readScore(l *words.Language, given string) (string, bool) {
	spelled := map[string]string{strings.ToLower(l.Say(say("drill.start"))): "2"}
	for n := range 30 {
		spelled[strconv.Itoa(n)] = strconv.Itoa(n)
		spelled[strings.ReplaceAll(strings.ToLower(l.Spell(n)), "-", "")] = strconv.Itoa(n)
	}
	// "twenty-one" is one word; a dash between digits parts them.
	for n := 21; n < 30; n++ {
		word := strings.ToLower(l.Spell(n))
		given = strings.ReplaceAll(given, word, strings.ReplaceAll(word, "-", ""))
	}
	if len(given) == 3 && strings.Trim(given, "0123456789") == "" { // 421
		given = given[:1] + "-" + given[1:2] + "-" + given[2:]
	}
	parts := split(given)
	if len(parts) < 2 || len(parts) > 3 {
		return "", false
	}
	for i, part := range parts {
		n, ok := spelled[part]
		if !ok {
			return "", false
		}
		parts[i] = n
	}
	return strings.Join(parts, "-"), true
}

// Court tells which side stands on the referee's left, of a question about the
// court, to be drawn beside it: the net runs up from the referee, and players
// face it, so that the near court is the right one on his left hand and the left
// one on his right. It is false of other questions.
func (x *Exercise) Court() (left rally.Side, ok bool) {
	if x.Topic != fromPost && x.Topic != nextServer && x.Topic != allFour {
		return rally.A, false
	}
	v := x.from.rules.View(x.from.state, x.from.setup.Left)
	if v.Hands[rally.B] == rally.LeftHand {
		return rally.B, true
	}
	return rally.A, true
}
