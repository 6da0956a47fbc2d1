package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"sync"

	"github.com/evencourt/evencourt/examples/program/serve"
	"github.com/evencourt/evencourt/examples/program/setup"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

// court keeps one match after another, each in a record of its own.
type court struct {
	n      int
	dir    string
	secret string
	rules  *rally.Rules // of matches that name no others
	pace   serve.Pace

	mu    sync.Mutex
	no    int // number of its match, from 1
	match *record.Match
}

// open goes on with the last match of a court, or begins its first one.
func open(dir string, n int, rules *rally.Rules) (*court, error) {
	c := &court{n: n, dir: dir, rules: rules, pace: serve.Pace{Second: mostASecond}}
	var err error
	if c.secret, err = serve.Secret(filepath.Join(dir, fmt.Sprintf("court-%d.key", n))); err != nil {
		return nil, err
	}
	u, no := setup.Ladder(rules.Format()), 1
	u.Court = strconv.Itoa(n)
	for ; ; no++ {
		if _, err := os.Stat(c.path(no + 1)); err != nil {
			break
		}
	}
	return c, c.keep(no, rules, u)
}

func (c *court) path(no int) string {
	return filepath.Join(c.dir, fmt.Sprintf("court-%d-match-%d.jsonl", c.n, no))
}

func (c *court) keep(no int, rules *rally.Rules, u rally.Setup) error {
	match, err := record.KeepFile(c.path(no), u, rally.NewLog(rules, rally.State{}))
	if err == nil {
		c.no, c.match = no, match
	}
	return err
}

// now returns the match that is on the court, and its number.
func (c *court) now() (*record.Match, int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.match, c.no
}

// next begins a match, once however often it is asked for.
func (c *court) next(no int, rules *rally.Rules, u rally.Setup) *refusal {
	c.mu.Lock()
	defer c.mu.Unlock()
	last := c.match
	switch {
	case no == c.no:
		return nil
	case no != c.no+1:
		return otherMatch
	case last.Snapshot().Phase < rally.Over:
		return stillPlaying
	}
	if c.keep(no, rules, u) != nil || last.Close() != nil {
		return notWritten
	}
	return nil
}
