package main

import (
	"io"
	"time"
)

func (o *options) takeLive(in io.Reader, out io.Writer, clock func() time.Duration) error { return nil }
