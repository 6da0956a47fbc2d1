package serve

import (
	"context"
	"io"
	"net"
	"net/http"
	"testing"

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
