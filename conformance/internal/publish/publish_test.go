package publish

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
)

func TestPublishedFilesAreCurrent(t *testing.T) {
	folder := filepath.Join("..", "..")
	files, err := Files(folder)
	require.NoError(t, err)
	for _, f := range files {
		have, err := os.ReadFile(filepath.Join(folder, f.Name))
		require.NoError(t, err, "run go run ./conformance/cmd/publish")
		require.True(t, string(f.Content) == string(have), "%s is out of date: run go run ./conformance/cmd/publish", f.Name)
	}
}

// The data-only package has the version of the corpus and the licence of the
// repository, and every file that it lists is there.
func TestPackage(t *testing.T) {
	var p struct {
		Version string
		Files   []string
	}
	data, err := os.ReadFile("../../package.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &p))
	require.Equal(t, conformance.Version(), p.Version)
	for _, pattern := range p.Files {
		found, err := filepath.Glob(filepath.Join("..", "..", pattern))
		require.NoError(t, err)
		require.NotEmpty(t, found, pattern)
	}
	ours, err := os.ReadFile("../../../LICENSE")
	require.NoError(t, err)
	beside, err := os.ReadFile("../../LICENSE")
	require.NoError(t, err)
	require.Equal(t, string(ours), string(beside))
}

// Whoever reads formats.json alone knows every parameter of every format.
func TestFormatsHoldEveryParameter(t *testing.T) {
	data, err := Formats()
	require.NoError(t, err)
	var all struct {
		Shapes   []Shape
		Editions []Edition
	}
	require.NoError(t, json.Unmarshal(data, &all))
	rulings := map[format.Edition]format.Rulings{}
	for _, e := range all.Editions {
		var r format.Rulings
		for _, taken := range e.Takes {
			require.NoError(t, r.SetText(taken.Switch, taken.Reading))
		}
		rulings[e.Edition] = r
	}
	n := 0
	for _, s := range all.Shapes {
		ids, err := conformance.Expand(s.Shape + "@" + s.Editions)
		require.NoError(t, err)
		for _, id := range ids {
			want, err := format.Parse(id)
			require.NoError(t, err)
			got := format.Format{Shape: s.Shape, Edition: want.Edition, Game: s.Game, Last: s.Last, Match: s.Match, Rulings: rulings[want.Edition]}
			require.Equal(t, want, got, id)
			n++
		}
	}
	require.Greater(t, n, 300)
}

func TestRanges(t *testing.T) {
	require.Equal(t, "c0001 c0003-c0005 c0009 c0010", ranges([]string{"c0009", "c0003", "c0010", "c0005", "c0004", "c0001"}))
}
