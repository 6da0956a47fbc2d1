package progress

import (
	"bytes"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestBar(t *testing.T) {
	var out bytes.Buffer
	b := &Bar{out: &out, What: "rows"}
	b.Step(1, 0) // nobody knows how much there is
	require.Empty(t, out.String())
	b.Step(1, 2)
	b.Step(2, 2) // too soon after the last
	require.Equal(t, "\r\033[K###############...............  50 % rows", out.String())
	out.Reset()
	b.Clear()
	b.Clear()
	require.Equal(t, "\r\033[K", out.String())
}

func TestNothingIsDrawnElsewhere(t *testing.T) {
	file, err := os.Create(t.TempDir() + "/log")
	require.NoError(t, err)
	defer file.Close()
	var out bytes.Buffer
	for _, b := range []*Bar{nil, {}, New(&out), New(file)} {
		require.False(t, b.Due())
		b.Step(1, 2)
		b.Clear()
	}
	require.Empty(t, out.String())
	info, err := file.Stat()
	require.NoError(t, err)
	require.Zero(t, info.Size())
}
