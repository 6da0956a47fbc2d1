package digests

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
)

// Every edition has its digest of rulings, and it is what the library rules: of
// editions that rule alike the newest is asked, all of them where EVENCOURT_DEEP
// is set, and in the short tests the default alone.
func TestRulingsArePublished(t *testing.T) {
	rows, err := PublishedRulings()
	require.NoError(t, err)
	require.Len(t, rows, len(EditionsWithRulings()))
	different := map[string]bool{}
	for i, e := range EditionsWithRulings() {
		require.Equal(t, e, rows[i].Edition)
		different[rows[i].Rulings.SHA256] = true
		alike := i+1 < len(rows) && rows[i+1].Rulings == rows[i].Rulings && os.Getenv("EVENCOURT_DEEP") == ""
		if alike || testing.Short() && e != format.Default {
			continue
		}
		got, err := Rulings(e)
		require.NoError(t, err)
		require.Equal(t, rows[i].Rulings, got, "edition %v: run go run ./conformance/cmd/digests rulings", e)
	}
	require.GreaterOrEqual(t, len(different), 10, "editions that rule otherwise have other digests")
}
