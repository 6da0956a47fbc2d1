package digests

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Every edition has its digest of rulings, and it is what the library rules:
// of three editions that rule in three ways in the short tests, of all else.
func TestRulingsArePublished(t *testing.T) {
	rows, err := PublishedRulings()
	require.NoError(t, err)
	require.Len(t, rows, len(EditionsWithRulings()))
	short := map[string]bool{"1999": true, "2022": true, "2026": true}
	different := map[string]bool{}
	for i, e := range EditionsWithRulings() {
		require.Equal(t, e, rows[i].Edition)
		different[rows[i].Rulings.SHA256] = true
		if testing.Short() && !short[e.String()] {
			continue
		}
		got, err := Rulings(e)
		require.NoError(t, err)
		require.Equal(t, rows[i].Rulings, got, "edition %v: run go run ./conformance/cmd/digests rulings", e)
	}
	require.GreaterOrEqual(t, len(different), 10, "editions that rule otherwise have other digests")
}
