package publish

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPublishedFilesAreCurrent(t *testing.T) {
	files, err := Files()
	require.NoError(t, err)
	for _, f := range files {
		have, err := os.ReadFile(filepath.Join("..", "..", f.Name))
		require.NoError(t, err, "run go run ./conformance/cmd/publish")
		require.True(t, string(f.Content) == string(have), "%s is out of date: run go run ./conformance/cmd/publish", f.Name)
	}
}

func TestRanges(t *testing.T) {
	require.Equal(t, "c0001 c0003-c0005 c0009 c0010", ranges([]string{"c0009", "c0003", "c0010", "c0005", "c0004", "c0001"}))
}
