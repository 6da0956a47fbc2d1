package main

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

// court keeps one match after another, each in a record of its own.
type court struct {
	n      int
	dir    string
	secret string
	rules  *rally.Rules // of matches that name no others
	pace   pace

	mu    sync.Mutex
	no    int // number of its match, from 1
	match *record.Match
}

// open goes on with the last match of a court, or begins its first one.
func open(dir string, n int, rules *rally.Rules) (*court, error) {
	c := &court{n: n, dir: dir, rules: rules}
	key := filepath.Join(dir, fmt.Sprintf("court-%d.key", n))
	text, _ := os.ReadFile(key)
	if c.secret = strings.TrimSpace(string(text)); len(c.secret) < 20 {
		c.secret = rand.Text()
		if err := os.WriteFile(key, []byte(c.secret+"\n"), 0o600); err != nil {
			return nil, err
		}
	}
	no := 1
	for ; ; no++ {
		if _, err := os.Stat(c.path(no + 1)); err != nil {
			break
		}
	}
	return c, c.keep(no, rules, demo(n, rules))
}

func (c *court) path(no int) string {
	return filepath.Join(c.dir, fmt.Sprintf("court-%d-match-%d.jsonl", c.n, no))
}

func (c *court) keep(no int, rules *rally.Rules, u rally.Setup) error {
	_, w, err := record.Resume(c.path(no))
	if errors.Is(err, fs.ErrNotExist) {
		w, err = record.Create(c.path(no), u, rally.NewLog(rules, rally.State{}))
	}
	if err == nil {
		c.no, c.match = no, record.Keep(w, nil)
	}
	return err
}

// now returns the match that is on the court, and its number.
func (c *court) now() (*record.Match, int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.match, c.no
}

var (
	errPlaying = errors.New("the match on the court is not over")
	errStale   = errors.New("another match is on the court")
)

// next begins a match, once however often it is asked for.
func (c *court) next(no int, rules *rally.Rules, u rally.Setup) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	last := c.match
	switch {
	case no == c.no:
		return nil
	case no != c.no+1:
		return errStale
	case last.Snapshot().Phase < rally.Over:
		return errPlaying
	}
	if err := c.keep(no, rules, u); err != nil {
		return err
	}
	return last.Close()
}

// pace lets so many pass a second.
type pace struct {
	mu   sync.Mutex
	next time.Time // when all that passed would have been taken one by one
}

func (p *pace) takes(now time.Time) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.next.Before(now) {
		p.next = now
	}
	if p.next.Sub(now) > time.Second {
		return false
	}
	p.next = p.next.Add(time.Second / mostASecond)
	return true
}

// demo are the names of the invented ladder.
func demo(n int, rules *rally.Rules) rally.Setup {
	u := rally.Setup{Match: "Harbour Lane Courts autumn ladder", Court: fmt.Sprint(n), Referee: "Noor Haddad"}
	if rules.Format().Game.Sides == format.Singles {
		u.Sides[rally.A].Players[0] = rally.Player{Name: "Mei-Lin Castellanos"}
		u.Sides[rally.B].Players[0] = rally.Player{Name: "Rafael Oyelaran"}
		return u
	}
	u.Sides[rally.A].Players = [2]rally.Player{{Name: "Imani Okafor"}, {Name: "Tomasz Zielinski"}}
	u.Sides[rally.B].Players = [2]rally.Player{{Name: "Priya Raman"}, {Name: "Lars Nyberg"}}
	return u
}
