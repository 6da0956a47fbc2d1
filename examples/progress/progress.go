// Package progress draws how far a program has come, on a terminal only.
package progress

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"
)

// Bar is drawn some ten times a second where standard error is a terminal;
// elsewhere, and as nil or the zero value, it does nothing.
type Bar struct {
	What  string // what the work is, or how much of it is done, in words
	out   io.Writer
	drawn bool
	last  time.Time
}

// New returns a bar that draws on a terminal.
func New(stderr io.Writer) *Bar {
	file, ok := stderr.(*os.File)
	if !ok {
		return &Bar{}
	}
	info, err := file.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return &Bar{}
	}
	return &Bar{out: file}
}

// Due reports whether Step would draw: what is costly to say can wait for it.
func (b *Bar) Due() bool {
	return b != nil && b.out != nil && time.Since(b.last) >= 100*time.Millisecond
}

// Step says how much of the work is done.
func (b *Bar) Step(done, all int) {
	if all == 0 || !b.Due() {
		return
	}
	b.last, b.drawn = time.Now(), true
	const width = 30
	full := min(width*done/all, width)
	fmt.Fprintf(b.out, "\r\033[K%s%s %3d %% %s", strings.Repeat("#", full), strings.Repeat(".", width-full), 100*done/all, b.What)
}

// Clear takes the bar away before something else is printed.
func (b *Bar) Clear() {
	if b != nil && b.drawn {
		fmt.Fprint(b.out, "\r\033[K")
		b.drawn = false
	}
}
