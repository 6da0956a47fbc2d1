package clauses

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
)

func load(t *testing.T) []conformance.File {
	t.Helper()
	files, err := conformance.Load()
	require.NoError(t, err)
	return files
}

func TestPageIsCurrent(t *testing.T) {
	rows, err := Matrix(load(t))
	require.NoError(t, err)
	page, err := os.ReadFile("../../CLAUSES.md")
	require.NoError(t, err)
	require.True(t, Page(rows) == string(page), "the page is out of date: run go run ./conformance/cmd/clauses")
}

// Every numbered rule that a case cites stands in the list.
func TestEveryCitedRuleIsListed(t *testing.T) {
	uncited, err := Uncited(load(t))
	require.NoError(t, err)
	require.Empty(t, uncited)
}

func TestMatrix(t *testing.T) {
	rows, err := Matrix(load(t))
	require.NoError(t, err)
	states := map[string]int{}
	for i := range rows {
		for _, e := range format.Editions(format.Pickleball) {
			states[rows[i].State(e)]++
		}
	}
	t.Logf("%v", states)
	require.GreaterOrEqual(t, len(rows), 60)
	require.Greater(t, states["covered"], 250)
}
