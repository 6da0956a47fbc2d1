package main

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
)

// What the package is compared with ends with 2 where it could not read or
// write all, so that a comparison broken off is none that found nothing.
func TestExitCodes(t *testing.T) {
	const asked = `["log","sideout-doubles-11@2026","A","A1B1","B"]` + "\n"
	for _, test := range []struct {
		name   string
		in     io.Reader
		out    io.Writer
		code   int
		stderr string
	}{
		{"all is answered", strings.NewReader(asked), io.Discard, 0, ""},
		{"nothing is asked", strings.NewReader(""), io.Discard, 0, ""},
		{"reading breaks off", io.MultiReader(strings.NewReader(asked), iotest.ErrReader(errors.New("gone"))), io.Discard, 2, "compare: gone\n"},
		{"a line is too long", strings.NewReader(strings.Repeat(" ", 1<<24)), io.Discard, 2, "compare: bufio.Scanner: token too long\n"},
		{"nobody takes the answers", strings.NewReader(asked), closed{}, 2, "compare: io: read/write on closed pipe\n"},
	} {
		t.Run(test.name, func(t *testing.T) {
			var stderr bytes.Buffer
			require.Equal(t, test.code, run(test.in, test.out, &stderr))
			require.Equal(t, test.stderr, stderr.String())
		})
	}
}

type closed struct{}

func (closed) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }
