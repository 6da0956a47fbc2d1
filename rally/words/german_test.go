package words

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Numbers as they are said in German: ones before tens, "ein" before another
// part of the word and "eins" at its end.
func TestGermanNumbers(t *testing.T) {
	for n, want := range map[int]string{
		-1: "-1", 0: "null", 1: "eins", 7: "sieben", 11: "elf", 12: "zwölf", 16: "sechzehn", 17: "siebzehn", 20: "zwanzig", 21: "einundzwanzig", 30: "dreißig",
		36: "sechsunddreißig", 77: "siebenundsiebzig", 99: "neunundneunzig", 100: "einhundert", 101: "einhunderteins", 121: "einhunderteinundzwanzig",
		217: "zweihundertsiebzehn", 999: "neunhundertneunundneunzig", 1000: "1000",
	} {
		require.Equal(t, want, German().Spell(n), n)
	}
	require.Contains(t, German().Say(New("finding.time-outs-too-many", Count("game", 1), Name("side", "A"), Count("used", 1), Count("allowed", 0))), "1 Auszeit")
}
