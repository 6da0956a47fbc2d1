package format_test

import (
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
)

var update = flag.Bool("update", false, "write generated files anew")

// EDITIONS.md is what the code rules by, not what somebody once wrote.
func TestMatrixIsCurrent(t *testing.T) {
	want := format.Matrix()
	if *update {
		require.NoError(t, os.WriteFile("EDITIONS.md", []byte(want), 0o644))
	}
	got, err := os.ReadFile("EDITIONS.md")
	require.NoError(t, err)
	require.Equal(t, want, string(got), "run go test ./format -run Matrix -update")
	for _, s := range format.Switches() {
		require.Contains(t, want, "| `"+s.String()+"` |")
	}
	require.Contains(t, want, "replay-if-stopped 4.B.9 *r*")
	require.Equal(t, len(format.OpenPoints()), strings.Count(want, ": default "))
}
