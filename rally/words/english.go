package words

import (
	"strconv"
	"sync"
)

// English returns the complete English language.
func English() *Language { return english() }

var english = sync.OnceValue(func() *Language { return must("en", englishGrammar, englishTable+rulesEN) })

var englishGrammar = Grammar{Spell: englishNumber, Forms: 2, Form: func(n int) int {
	if n == 1 {
		return 0
	}
	return 1
}}

// must makes a language of a table that the library brings: a test makes every
// one.
func must(tag string, g Grammar, texts string) *Language {
	l, err := NewLanguage(tag, g, texts)
	if err != nil {
		panic(err)
	}
	return l
}

var ones = [20]string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
	"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"}

var tens = [10]string{"", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}

// englishNumber spells 0 to 999 as a score is called; other numbers stay in
// digits.
func englishNumber(n int) string {
	switch {
	case n < 0 || n > 999:
		return strconv.Itoa(n)
	case n < 20:
		return ones[n]
	case n < 100 && n%10 == 0:
		return tens[n/10]
	case n < 100:
		return tens[n/10] + "-" + ones[n%10]
	case n%100 == 0:
		return ones[n/100] + " hundred"
	}
	return ones[n/100] + " hundred " + englishNumber(n%100)
}
