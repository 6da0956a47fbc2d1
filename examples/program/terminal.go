package program

import (
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"time"
	"unicode"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// Printable replaces everything that a terminal would obey instead of showing
// it, so that no name of a file or of a record can write more than its own part
// of a line: control characters, line ends among them, what turns the direction
// of writing, and bytes that are no UTF-8.
func Printable(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.In(r, unicode.Bidi_Control, unicode.Zl, unicode.Zp) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// Width is how many columns a line of text may have: at most the most, and no
// more than the terminal has where out is one.
func Width(out io.Writer, most int) int {
	if file, ok := terminal(out); ok {
		if width, _, err := term.GetSize(int(file.Fd())); err == nil && width > 0 {
			return min(width, most)
		}
	}
	return most
}

func terminal(w io.Writer) (*os.File, bool) {
	if c, ok := w.(*checked); ok {
		w = c.out
	}
	file, ok := w.(*os.File)
	return file, ok && term.IsTerminal(int(file.Fd()))
}

// Bar shows how far a program has come, where standard error is a terminal; the
// zero value shows nothing anywhere.
type Bar struct {
	bar  *progressbar.ProgressBar
	out  io.Writer
	said *bool // a line stands there that the bar does not know
}

// NewBar returns a bar for a terminal.
func NewBar(errs io.Writer) Bar {
	if file, ok := terminal(errs); ok {
		return newBar(file, often)
	}
	return Bar{}
}

// often is how long a bar stands as it is.
const often = 100 * time.Millisecond

func newBar(out io.Writer, often time.Duration) Bar {
	return Bar{out: out, said: new(bool), bar: progressbar.NewOptions64(math.MaxInt64, progressbar.OptionSetWriter(out), progressbar.OptionUseANSICodes(true),
		progressbar.OptionThrottle(often), progressbar.OptionClearOnFinish(), progressbar.OptionShowDescriptionAtLineEnd())}
}

// erase empties the line of a terminal.
const erase = "\r\x1b[2K"

// Step says how much of a piece of work is done, and what the work is. Where
// nobody knows how much there is, all is 0, and only the work is said.
func (b Bar) Step(done, all int, what string) {
	switch {
	case b.bar == nil:
		return
	case all <= 0:
		*b.said = true
		fmt.Fprint(b.out, erase+Printable(what))
		return
	case b.bar.GetMax() != all || b.bar.IsFinished(): // another piece of work
		b.bar.Reset()
		b.bar.ChangeMax(all)
	}
	_ = b.bar.Set(min(done, all)) // what cannot be drawn is not drawn
	b.bar.Describe(Printable(what))
}

// Clear takes the bar away before something else is printed.
func (b Bar) Clear() {
	if b.bar != nil {
		if _ = b.bar.Clear(); *b.said {
			*b.said = false
			fmt.Fprint(b.out, erase)
		}
	}
}
