// Package program holds what the programs here do alike: how a command line is
// run, what an exit code means, and what may be sent to a terminal.
package program

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/texts/problems"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/words"
)

// Exit codes, the same in every program.
const (
	Nothing = 0 // it was done, and nothing was found
	Found   = 1 // it was done, and something was found that should be looked at
	Failed  = 2 // it could not be done: a bad command line, a file that cannot be read or written
)

// What an action returns that has said itself what there is to say, so that only
// the exit code is left.
var (
	ErrFound  = errors.New("something was found")
	ErrFailed = errors.New("it could not be done")
)

// Run runs a command line and returns the exit code. An error is printed on
// errs in one line that a terminal can only show, whatever it quotes. A program
// whose command line is in the catalog (NAME.about, NAME.option-X) has its help and
// its errors in the language that the line asks for.
func Run(c *cli.Command, args []string, in io.Reader, out, errs io.Writer) int {
	c.Reader, c.Writer, c.ErrWriter = in, out, errs
	c.ExitErrHandler = func(context.Context, *cli.Command, error) {} // the caller ends the program
	c.HideVersion = true
	speech := speechOf(c.Name, args)
	if speech != nil {
		speech.help(c)
	}
	for _, each := range append([]*cli.Command{c}, c.Commands...) {
		each.HideHelpCommand = true // -h is enough, and "help" may be the name of a file
		named := func(err error) error {
			if err != nil && each != c {
				err = fmt.Errorf("%s: %w", each.Name, err)
			}
			return err
		}
		act := each.Action
		each.Action = func(ctx context.Context, c *cli.Command) error { return named(act(ctx, c)) }
		each.OnUsageError = func(_ context.Context, _ *cli.Command, err error, _ bool) error {
			if speech != nil {
				err = speech.usage(err)
			}
			return named(err)
		}
	}
	err := c.Run(context.Background(), append([]string{c.Name}, args...))
	if kept, ok := out.(*checked); ok && (err == nil || errors.Is(err, ErrFound)) {
		err = cmp.Or(kept.err, err)
	}
	switch {
	case err == nil:
		return Nothing
	case errors.Is(err, ErrFound):
		return Found
	case errors.Is(err, ErrFailed):
	case speech != nil:
		fmt.Fprintf(errs, "%s: %s\n", c.Name, OneLine(speech.language.Say(problems.Of(err))))
	default:
		Complain(errs, c.Name, err)
	}
	return Failed
}

// Checked returns a writer that keeps its first error, so that a program may
// print line by line and [Run] says that what was said did not all arrive.
func Checked(out io.Writer) io.Writer { return &checked{out, nil} }

type checked struct {
	out io.Writer
	err error
}

func (c *checked) Write(text []byte) (int, error) {
	n, err := c.out.Write(text)
	c.err = cmp.Or(c.err, err)
	return n, err
}

// Complain prints an error of a program in one line.
func Complain(errs io.Writer, name string, err error) {
	fmt.Fprintf(errs, "%s: %s\n", name, OneLine(err.Error()))
}

// OneLine puts a message into one line that can be shown.
func OneLine(text string) string { return Printable(strings.Join(strings.Fields(text), " ")) }

// Typed is what was typed, short and quoted, as the argument of a text.
func Typed(text string) words.Arg { return words.Name("typed", format.Quote(Shorten(text))) }

// Shorten keeps what comes from outside short in a message.
func Shorten(text string) string {
	const most = 60
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "..."
	}
	return text
}
