package serve

import (
	"context"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestUntil(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ended := make(chan error)
	go func() {
		ended <- Until(ctx, listener, &http.Server{Handler: http.NotFoundHandler()}, "", "")
	}()
	answer, err := http.Get("http://" + listener.Addr().String())
	require.NoError(t, err)
	_, err = io.Copy(io.Discard, answer.Body)
	require.NoError(t, err)
	require.NoError(t, answer.Body.Close())
	require.Equal(t, http.StatusNotFound, answer.StatusCode)
	stop()
	require.NoError(t, <-ended, "to be told to end is no error")

	require.Error(t, Until(context.Background(), listener, &http.Server{}, "", ""), "nothing listens any more")
	open, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	require.Error(t, Until(context.Background(), open, &http.Server{}, "no-such-file", "no-such-file"))
}

func TestPace(t *testing.T) {
	p, now, passed := &Pace{Second: 10}, time.Now(), 0
	for range 40 {
		if p.Takes(now) {
			passed++
		}
	}
	require.Equal(t, 11, passed, "a second's worth at once, and the one that is on its way")
	require.False(t, p.Takes(now.Add(50*time.Millisecond)))
	require.True(t, p.Takes(now.Add(100*time.Millisecond)))
}

func TestSecret(t *testing.T) {
	path := filepath.Join(t.TempDir(), "key")
	first, err := Secret(path)
	require.NoError(t, err)
	again, err := Secret(path)
	require.NoError(t, err)
	require.True(t, Same(first, again))
	require.False(t, Same(first, again[1:]))
	require.NoError(t, os.WriteFile(path, []byte("short\n"), 0o600))
	other, err := Secret(path)
	require.NoError(t, err)
	require.NotEqual(t, first, other)
	require.GreaterOrEqual(t, len(other), 20)
	_, err = Secret(filepath.Join(path, "no folder"))
	require.Error(t, err)
}
