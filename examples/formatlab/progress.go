package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"
)

// progress is drawn on a terminal only, some ten times a second; elsewhere it
// does nothing.
type progress struct {
	out   io.Writer
	what  string
	drawn bool
	last  time.Time
}

func newProgress(stderr io.Writer) *progress {
	file, ok := stderr.(*os.File)
	if !ok {
		return &progress{}
	}
	info, err := file.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return &progress{}
	}
	return &progress{out: file}
}

// begin names the work that the steps to come belong to.
func (p *progress) begin(what string) { p.what = what }

// step says how much of the work is done.
func (p *progress) step(done, all int) {
	if p.out == nil || all == 0 || time.Since(p.last) < 100*time.Millisecond {
		return
	}
	p.last, p.drawn = time.Now(), true
	const width = 30
	full := min(width*done/all, width)
	fmt.Fprintf(p.out, "\r\033[K%s%s %3d %% %s", strings.Repeat("#", full), strings.Repeat(".", width-full), 100*done/all, p.what)
}

// clear takes the bar away before something else is printed.
func (p *progress) clear() {
	if p.drawn {
		fmt.Fprint(p.out, "\r\033[K")
		p.drawn = false
	}
}
