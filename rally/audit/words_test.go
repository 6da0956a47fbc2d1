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
		name := []rune(c.String())
		slices.Reverse(name)
		args := argument.FindAllString(audit.English.Sentences[c], -1)
		slices.Reverse(args)
		out.Sentences[c] = strings.Join(append([]string{string(name)}, args...), " ")
		out.Meanings[c] = string(name) + "."
	}
	return out
}

var argument = regexp.MustCompile(`\{[a-z]+\}`)

// Every finding is said in the toy language, with the same arguments and not a
// word of English beside them.
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
		return f.Text
	case "{other}":
		return f.Other
	case "{certain}":
		if f.More {
			return l.Certain
		}
		return l.Likely
	}
	t.Fatal("no such argument ", name)
	return ""
}

func itoa(n int) string { return strings.TrimPrefix(audit.GamesText([]audit.Score{{0, n}}), "0-") }

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
