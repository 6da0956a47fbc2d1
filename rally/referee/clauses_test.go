package referee

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
)

// A sentence says what is ruled, never where it is written: numbers and marks
// are of the edition.
func TestEveryClauseHasItsSentence(t *testing.T) {
	seen := map[string]format.Clause{}
	for _, c := range format.Clauses() {
		sentence := clauseSentences[c]
		require.Regexp(t, `^[A-Z].*[a-z0-9]\.$`, sentence, c.String())
		require.NotRegexp(t, `\d+\.[A-Z]`, sentence, c.String())
		require.Zero(t, seen[sentence], "%s says what another says", c)
		seen[sentence] = c
	}
}
