package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"
)

// bar is a progress bar. It is drawn on a terminal only, and only where the
// size of the input is known; otherwise it does nothing.
type bar struct {
	out   io.Writer
	src   *source
	rows  int
	drawn bool
	last  time.Time
}

func newBar(stderr io.Writer, src *source) *bar {
	file, ok := stderr.(*os.File)
	if !ok || src.size == 0 {
		return &bar{}
	}
	info, err := file.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return &bar{}
	}
	return &bar{out: file, src: src}
}

// step counts a row and draws the bar some ten times a second.
func (b *bar) step() {
	if b.rows++; b.out == nil || b.rows%1024 != 0 || time.Since(b.last) < 100*time.Millisecond {
		return
	}
	b.last, b.drawn = time.Now(), true
	const width = 30
	done := int(min(width*b.src.taken.n/b.src.size, width))
	fmt.Fprintf(b.out, "\r%s%s %3d %% %d rows", strings.Repeat("#", done), strings.Repeat(".", width-done), 100*b.src.taken.n/b.src.size, b.rows)
}

// clear takes the bar away before something else is printed.
func (b *bar) clear() {
	if b != nil && b.drawn {
		fmt.Fprint(b.out, "\r\033[K")
		b.drawn = false
	}
}

func (b *bar) done() { b.clear() }
