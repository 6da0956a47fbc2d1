package audit_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/audit"
)

// toy is a second language, to prove that words are apart from the rules: each
// sentence is the code backwards with the arguments of the English one, in
// the opposite order.
func toy() *audit.Language {
	out := &audit.Language{Name: "toy", Certain: "!!", Likely: "??"}
	for _, c := range audit.Codes() {
		name := backwards(c.String())
		args := argument.FindAllString(audit.English.Sentences[c], -1)
		slices.Reverse(args)
		out.Sentences[c] = strings.Join(append([]string{name}, args...), " ")
		out.Meanings[c] = name + "."
		text, other := audit.Phrases(c)
		out.Phrases[c] = map[string]string{}
		for _, p := range append(text, other...) {
			out.Phrases[c][p] = backwards(p)
		}
	}
	return out
}

func backwards(text string) string {
	letters := []rune(text)
	slices.Reverse(letters)
	return string(letters)
}

var argument = regexp.MustCompile(`\{[a-z]+\}`)

// Every finding is said in the toy language, words in its arguments as well,
// and not a word of English is left but what was read and, for a row that is no
// row, what its decoder says of it.
func TestEveryFindingInASecondLanguage(t *testing.T) {
	other := toy()
	said := 0
	for _, c := range audit.Codes() {
		require.NotEmpty(t, other.Explain(c))
		if emitted[c] == nil {
			continue
		}
		for _, f := range emitted[c](t) {
			got := other.Say(&f)
			want := other.Sentences[f.Code]
			for _, name := range argument.FindAllString(want, -1) {
				want = strings.Replace(want, name, value(t, name, &f, other), 1)
			}
			require.Equal(t, want, got)
			// The frame is the code backwards; no frame of an English sentence is left.
			for _, words := range []string{"want ", "resync", "no-game", "which ", "games-won"} {
				_, rest, _ := strings.Cut(got, " ")
				require.False(t, strings.Contains(rest, words) && f.Code != audit.RowUnreadable, got)
			}
			frame, _, _ := strings.Cut(other.Sentences[f.Code], " ")
			require.True(t, strings.HasPrefix(got, frame))
			for _, words := range argument.Split(audit.English.Sentences[f.Code], -1) {
				if words = strings.Trim(words, " .,;:()"); len(words) > 12 {
					require.NotContains(t, got, words)
				}
			}
			said++
		}
	}
	t.Logf("%d findings said", said)
	require.Greater(t, said, 90)
}

// value is what an argument stands for, by the documentation of [audit.Language].
func value(t *testing.T, name string, f *audit.Finding, l *audit.Language) string {
	switch name {
	case "{score}":
		return audit.GamesText([]audit.Score{f.Score})
	case "{want}":
		return audit.GamesText([]audit.Score{f.Want})
	case "{n}":
		return itoa(f.N)
	case "{m}":
		return itoa(f.M)
	case "{game}":
		return itoa(f.Game)
	case "{rally}":
		return itoa(f.Rally)
	case "{text}":
		words, _ := audit.Phrases(f.Code)
		return phrase(t, words, f.Text)
	case "{other}":
		_, words := audit.Phrases(f.Code)
		return phrase(t, words, f.Other)
	case "{certain}":
		if f.More {
			return l.Certain
		}
		return l.Likely
	}
	t.Fatal("no such argument ", name)
	return ""
}

// phrase is a word of the package in the toy language; where a code has words
// for an argument it has no others.
func phrase(t *testing.T, words []string, text string) string {
	if len(words) == 0 {
		return text
	}
	parts := strings.Split(text, "+")
	for i, p := range parts {
		require.Contains(t, words, p)
		parts[i] = backwards(p)
	}
	return strings.Join(parts, ", ")
}

func itoa(n int) string { return strings.TrimPrefix(audit.GamesText([]audit.Score{{0, n}}), "0-") }

// English has words for what would not be understood as it stands, and only
// for texts that there are.
func TestEnglishPhrases(t *testing.T) {
	for _, c := range audit.Codes() {
		text, other := audit.Phrases(c)
		for p, said := range audit.English.Phrases[c] {
			require.Contains(t, append(text, other...), p, c.String())
			require.NotEmpty(t, said)
		}
	}
}

// An English sentence names only arguments that there are, says something
// beside them, and ends without a full stop.
func TestEnglishSentences(t *testing.T) {
	for _, c := range audit.Codes() {
		s := audit.English.Sentences[c]
		require.NotEmpty(t, s)
		require.False(t, strings.HasSuffix(s, "."), s)
		require.Zero(t, strings.Count(argument.ReplaceAllString(s, ""), "{"))
		for _, name := range argument.FindAllString(s, -1) {
			require.Contains(t, "{score} {want} {n} {m} {text} {other} {game} {rally} {certain}", name)
		}
	}
}

// An unknown argument stays visible, and a brace without an end ends the sentence.
func TestLanguageThatIsWrong(t *testing.T) {
	l := audit.Language{}
	l.Sentences[audit.GameLevel] = "a {nonsense} b {score"
	require.Equal(t, "a {nonsense} b ", l.Say(&audit.Finding{Code: audit.GameLevel}))
}
