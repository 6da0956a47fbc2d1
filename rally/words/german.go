package words

import (
	"strconv"
	"strings"
	"sync"
)

// German returns the complete German language.
func German() *Language {
	german.once.Do(func() {
		german.language = must("de", Grammar{Spell: germanNumber, Forms: 2, Form: englishGrammar.Form}, germanTable+rulesDE)
	})
	return german.language
}

// german is made when it is asked for. Nothing of it is made before main, so that
// a build that speaks no German does not carry its texts.
var german struct {
	once     sync.Once
	language *Language
}

var germanOnes = strings.Fields("null eins zwei drei vier fünf sechs sieben acht neun zehn elf zwölf dreizehn vierzehn fünfzehn sechzehn siebzehn achtzehn neunzehn")

var germanTens = strings.Fields("- - zwanzig dreißig vierzig fünfzig sechzig siebzig achtzig neunzig")

// germanNumber spells 0 to 999 as a score is called, ones before tens in one
// word; other numbers stay in digits.
func germanNumber(n int) string {
	joined := func(n int) string { // einundzwanzig, einhundert
		if n == 1 {
			return "ein"
		}
		return germanOnes[n]
	}
	switch {
	case n < 0 || n > 999:
		return strconv.Itoa(n)
	case n < 20:
		return germanOnes[n]
	case n < 100 && n%10 == 0:
		return germanTens[n/10]
	case n < 100:
		return joined(n%10) + "und" + germanTens[n/10]
	case n%100 == 0:
		return joined(n/100) + "hundert"
	}
	return joined(n/100) + "hundert" + germanNumber(n%100)
}
