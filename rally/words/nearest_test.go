package words_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/words"
)

func TestNearest(t *testing.T) {
	known := []string{"score", "court", "Side", "in"}
	for typed, want := range map[string]string{
		"score": "score", "scroe": "score", "scor": "score", "csroe": "score", "sore": "score", "SIDE": "Side", "slide": "Side",
		"curt": "court", "on": "", "referee": "", "": "",
	} {
		require.Equal(t, want, words.Nearest(typed, known, 2), typed)
	}
	require.Equal(t, "side", words.Nearest("sid", []string{"side", "said"}, 1), "the first of two as near")
	require.Equal(t, "score", words.Nearest("scroe", known, 1))
	require.Empty(t, words.Nearest("csroe", known, 1))
}
