package publish

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
)

// Who unpacks the archive has every file of the manifest with its sum, the pages
// and the licence, and nothing of code but the skeleton.
func TestArchive(t *testing.T) {
	folder := filepath.Join("..", "..")
	var first, second bytes.Buffer
	require.NoError(t, Archive(folder, &first))
	require.NoError(t, Archive(folder, &second))
	require.True(t, bytes.Equal(first.Bytes(), second.Bytes()), "the same files give other bytes")
	zip, err := gzip.NewReader(&first)
	require.NoError(t, err)
	require.True(t, zip.ModTime.IsZero() && zip.Name == "")
	unpacked := map[string][]byte{}
	for in := tar.NewReader(zip); ; {
		head, err := in.Next()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		require.Equal(t, time.Unix(0, 0).UTC(), head.ModTime.UTC(), head.Name)
		name, err := filepath.Rel(ArchiveName(), head.Name)
		require.NoError(t, err)
		require.NotContains(t, name, "..")
		require.NotEqual(t, ".go", filepath.Ext(name))
		unpacked[filepath.ToSlash(name)], err = io.ReadAll(in)
		require.NoError(t, err)
	}
	var m Manifest
	require.NoError(t, json.Unmarshal(unpacked["manifest.json"], &m))
	require.Equal(t, format.DataVersion, m.Data)
	require.Equal(t, conformance.Version(), m.Corpus)
	for _, f := range m.Files {
		sum := sha256.Sum256(unpacked[f.File])
		require.Equal(t, f.SHA256, hex.EncodeToString(sum[:]), f.File)
		delete(unpacked, f.File)
	}
	for name := range unpacked {
		require.True(t, name == "manifest.json" || filepath.Ext(name) == ".md", "the manifest lacks %s", name)
	}
	for _, page := range []string{"README.md", "LINE.md", "PROTOCOL.md", "FORMATS.md"} {
		require.NotEmpty(t, unpacked[page], page)
	}
}

// What package.json lists and is not there is said, not left out.
func TestArchiveOfAnIncompleteCopy(t *testing.T) {
	folder := t.TempDir()
	require.Error(t, Archive(folder, io.Discard))
	write := func(text string) {
		require.NoError(t, os.WriteFile(filepath.Join(folder, "package.json"), []byte(text), 0o600))
	}
	write(`{"files": ["cases"]}`)
	require.EqualError(t, Archive(folder, io.Discard), "package.json lists cases, and there is none")
	write(`{"files": "cases"}`)
	require.ErrorContains(t, Archive(folder, io.Discard), "package.json: ")
}
