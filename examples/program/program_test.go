package program

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/urfave/cli/v3"
)

func TestExitCodes(t *testing.T) {
	command := func(result error) *cli.Command {
		var wide bool
		sub := &cli.Command{Name: "look", Action: func(context.Context, *cli.Command) error { return result },
			Flags: []cli.Flag{&cli.BoolFlag{Name: "wide", Destination: &wide}}}
		return &cli.Command{Name: "seek", Commands: []*cli.Command{sub}, Action: func(context.Context, *cli.Command) error { return errors.New("what?") }}
	}
	for _, test := range []struct {
		name   string
		result error
		args   string
		code   int
		errs   string
	}{
		{"nothing", nil, "look", Nothing, ""},
		{"one dash", nil, "look -wide", Nothing, ""},
		{"two dashes, among the arguments", nil, "look x --wide y", Nothing, ""},
		{"something", ErrFound, "look", Found, ""},
		{"a failure that has been said", ErrFailed, "look", Failed, ""},
		{"help", nil, "-h", Nothing, ""},
		{"help of a command", nil, "look -h", Nothing, ""},
		{"help is a word like others", nil, "look help", Nothing, ""},
		{"a failure in two lines", errors.New("no\n such\x1b[2J file"), "look", Failed, "seek: look: no such\ufffd[2J file\n"},
		{"an unknown flag", nil, "look -deep", Failed, "seek: look: flag provided but not defined: -deep\n"},
		{"an unknown command", nil, "find", Failed, "seek: what?\n"},
	} {
		t.Run(test.name, func(t *testing.T) {
			var out, errs bytes.Buffer
			require.Equal(t, test.code, Run(command(test.result), strings.Fields(test.args), nil, &out, &errs))
			require.Equal(t, test.errs, errs.String())
		})
	}
}

// A report that did not arrive is none, whether or not something was found.
func TestOutputThatDoesNotArrive(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no full device here")
	}
	defer full.Close()
	for _, result := range []error{nil, ErrFound} {
		out, errs := Checked(full), bytes.Buffer{}
		say := &cli.Command{Name: "say", Action: func(context.Context, *cli.Command) error {
			_, _ = fmt.Fprintln(out, "eleven to five")
			_, _ = fmt.Fprintln(out, "game")
			return result
		}}
		require.Equal(t, Failed, Run(say, nil, nil, out, &errs))
		require.Contains(t, errs.String(), "no space left on device")
	}
}

func TestPrintable(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{"letters of any language", "Żółć 林 O'Neill", "Żółć 林 O'Neill"},
		{"colours and titles", "\x1b]0;owned\a\x1b[2J", "\ufffd]0;owned\ufffd\ufffd[2J"},
		{"a line of its own", "A\nMatch to B\r", "A\ufffdMatch to B\ufffd"},
		{"one-byte commands", "\x9b2J \u009b2J", "\ufffd2J \ufffd2J"},
		{"the other direction", "a\u202eb\u2066c\u2028d", "a\ufffdb\ufffdc\ufffdd"},
		{"half a letter", "\xc3", "\ufffd"},
	} {
		t.Run(test.name, func(t *testing.T) { require.Equal(t, test.want, Printable(test.text)) })
	}
}

func TestBar(t *testing.T) {
	var out bytes.Buffer
	b := newBar(&out, time.Hour)
	b.Step(1, 0, "of nobody knows how much\x1b")
	require.Equal(t, "\r\x1b[2Kof nobody knows how much\ufffd", out.String())
	out.Reset()
	b.Clear()
	require.Equal(t, "\r\x1b[2K", out.String()[len(out.String())-5:])
	out.Reset()
	b.Clear()
	require.NotContains(t, out.String(), "\r\x1b[2K", "once")
	out.Reset()
	b.Step(0, 2, "rows\x1b")
	require.Empty(t, out.String(), "work that takes no time needs no bar")
	const often = time.Millisecond
	b = newBar(&out, often)
	b.Step(0, 2, "rows\x1b")
	time.Sleep(2 * often)
	b.Step(1, 2, "rows\x1b")
	require.Contains(t, out.String(), "50%")
	require.Contains(t, out.String(), "rows\ufffd")
	b.Step(2, 2, "rows")
	out.Reset()
	b.Step(0, 4, "the next piece of work")
	time.Sleep(2 * often)
	b.Step(1, 4, "the next piece of work")
	require.Contains(t, out.String(), "25%")
	out.Reset()
	b.Clear()
	require.Equal(t, "\x1b[2K\r", out.String())
}

func TestNothingIsDrawnElsewhere(t *testing.T) {
	file, err := os.Create(filepath.Join(t.TempDir(), "log"))
	require.NoError(t, err)
	defer file.Close()
	var out bytes.Buffer
	for _, b := range []Bar{{}, NewBar(&out), NewBar(file)} {
		b.Step(1, 2, "rows")
		b.Clear()
	}
	require.Empty(t, out.String())
	info, err := file.Stat()
	require.NoError(t, err)
	require.Zero(t, info.Size())
	require.Equal(t, 100, Width(file, 100))
}

// A file is replaced by a whole one or not at all.
func TestFile(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "precious")
	require.NoError(t, os.WriteFile(name, []byte("precious"), 0o600))
	link := filepath.Join(dir, "link")
	require.NoError(t, os.Symlink(name, link))
	read := func() string {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		return string(text)
	}
	f, err := Create(link)
	require.NoError(t, err)
	_, err = f.WriteString("half of wh")
	require.NoError(t, err)
	require.Equal(t, "precious", read())
	f.Discard()
	require.Equal(t, "precious", read())

	require.NoError(t, WriteFile(link, []byte("whole")))
	require.Equal(t, "whole", read())
	info, err := os.Lstat(link)
	require.NoError(t, err)
	require.NotZero(t, info.Mode()&os.ModeSymlink, "the link leads to it as before")
	info, err = os.Stat(name)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "for the same eyes as before")
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, left, 2, "nothing is left lying about")

	require.ErrorContains(t, WriteFile(filepath.Join(dir, "no", "folder"), nil), filepath.Join(dir, "no", "folder")+": no such file")
	require.NoError(t, WriteFile(os.DevNull, []byte("gone")))
	info, err = os.Stat(os.DevNull)
	require.NoError(t, err)
	require.False(t, info.Mode().IsRegular())
}
