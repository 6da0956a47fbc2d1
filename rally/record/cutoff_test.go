package record

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// short writes only the beginning of a line to a file.
type short struct {
	*os.File
	most int
}

func (s short) Write(b []byte) (int, error) {
	if len(b) <= s.most {
		return s.File.Write(b)
	}
	n, _ := s.File.Write(b[:s.most])
	return n, errors.New("no space left")
}

// What a failed write has put into a file is cut off again, and the match goes on.
func TestFailedWriteIsCutOff(t *testing.T) {
	f, err := format.Parse("sideout-doubles-11@2026")
	require.NoError(t, err)
	rules := rally.MustCompile(f)
	path := filepath.Join(t.TempDir(), "court.jsonl")
	w, err := Create(path, rally.Setup{}, rally.NewLog(rules, rules.New(rally.A)))
	require.NoError(t, err)
	m := Keep(w, nil)
	point := Request{ID: "one", Entry: rally.RallyTo(rally.A).Entry()}
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	w.out = short{w.file, 100}
	_, err = m.Do(point)
	require.ErrorContains(t, err, "no space left")
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(before), string(after))
	require.Zero(t, w.log.Len())
	w.out = w.file
	got, err := m.Do(point)
	require.NoError(t, err)
	require.Equal(t, 1, got.N)
	require.False(t, got.Again)
	require.NoError(t, m.Close())
	rec, again, err := Resume(path)
	require.NoError(t, err)
	require.Equal(t, 1, rec.Log.Len())
	require.NoError(t, again.Close())
}
