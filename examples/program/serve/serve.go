// Package serve is how a program of examples serves pages until it is interrupted, and
// guards what they may do.
package serve

import (
	"context"
	"errors"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"
)

// Until serves until the context ends or the program is interrupted, over TLS
// if a certificate and its key are named. It bounds what a client may send, and
// how slowly.
func Until(ctx context.Context, listener net.Listener, server *http.Server, cert, key string) error {
	server.ReadHeaderTimeout, server.ReadTimeout, server.MaxHeaderBytes = 5*time.Second, 10*time.Second, 1<<14
	ends, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	go func() {
		<-ends.Done()
		_ = server.Close()
	}()
	var err error
	if cert != "" {
		err = server.ServeTLS(listener, cert, key)
	} else {
		err = server.Serve(listener)
	}
	if !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}
