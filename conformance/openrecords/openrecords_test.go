package openrecords_test

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/openrecords"
)

func TestFindsBesideAFolderAbove(t *testing.T) {
	t.Setenv("EVENCOURT_RECORDS", "")
	root := t.TempDir()
	name := filepath.Join("shared", "data", "games.tsv")
	require.NoError(t, os.MkdirAll(filepath.Join(root, "checkout", "rally"), 0o755))
	require.NoError(t, os.MkdirAll(filepath.Join(root, filepath.Dir(name)), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(root, name), []byte("21-19\n"), 0o644))
	t.Chdir(filepath.Join(root, "checkout", "rally"))
	require.Equal(t, "21-19\n", string(openrecords.Read(t, "data/games.tsv")))
	text, err := io.ReadAll(openrecords.Open(t, "data/games.tsv"))
	require.NoError(t, err)
	require.Equal(t, "21-19\n", string(text))
}

func TestTheVariableComesFirst(t *testing.T) {
	root := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(root, "facts"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(root, "facts", "values.json"), []byte("{}"), 0o644))
	t.Setenv("EVENCOURT_RECORDS", root)
	require.Equal(t, filepath.Join(root, "facts", "values.json"), openrecords.Find(t, "facts/values.json"))
}

func TestWithoutTheFileTheTestIsSkipped(t *testing.T) {
	t.Setenv("EVENCOURT_RECORDS", t.TempDir())
	var skipped bool
	t.Run("in a test", func(t *testing.T) {
		defer func() { skipped = t.Skipped() }()
		openrecords.Find(t, "data/nobody-has-this")
	})
	require.True(t, skipped)
}
