package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/evencourt/evencourt/examples/program"
)

// A card is one sort of question as a trainee knows it: a topic and what it is
// about, in an edition. It comes again after an interval that grows with every
// right answer and begins anew with a wrong one: the algorithm SM-2 of P. A.
// Wozniak (Optimization of learning, 1990), in which an answer counts as 4 of 5
// when right at once, 3 after a hint and 1 when wrong or skipped.
type card struct {
	Ease     float64 `json:"ease"`     // factor by which the interval grows, at least 1.3
	Right    int     `json:"right"`    // right answers in a row
	Interval int     `json:"interval"` // days until it comes again
	Due      string  `json:"due"`      // day on which it comes again, as 2026-11-27
}

// answered is the card after an answer on a day.
func (c card) answered(quality int, day time.Time) card {
	if c.Ease == 0 {
		c.Ease = 2.5
	}
	miss := float64(5 - quality)
	c.Ease = max(1.3, c.Ease+0.1-miss*(0.08+miss*0.02))
	switch {
	case quality < 3:
		c.Right, c.Interval = 0, 1
	case c.Right == 0:
		c.Right, c.Interval = 1, 1
	case c.Right == 1:
		c.Right, c.Interval = 2, 6
	default:
		c.Right, c.Interval = c.Right+1, min(3650, int(math.Ceil(float64(c.Interval)*c.Ease)))
	}
	c.Due = day.AddDate(0, 0, c.Interval).Format(time.DateOnly)
	return c
}

// progress is what a trainee has been asked so far, by card.
type progress struct {
	file  string
	Cards map[string]card `json:"cards"`
}

// today tells the day.
var today = time.Now

// openProgress reads a file of progress; one that is not there is empty.
func openProgress(file string) (*progress, error) {
	p := &progress{file: file, Cards: map[string]card{}}
	data, err := os.ReadFile(file)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return p, nil
	case err != nil:
		return nil, err
	}
	if err := json.Unmarshal(data, p); err != nil {
		return nil, fmt.Errorf("%s is no file of progress: %w; -fresh goes without it", file, err)
	}
	if p.Cards == nil {
		p.Cards = map[string]card{}
	}
	return p, nil
}

// progressFile is where progress is kept if nothing else is said.
func progressFile() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "evencourt", "practice.json")
}

func (p *progress) save() error {
	if err := os.MkdirAll(filepath.Dir(p.file), 0o700); err != nil {
		return err
	}
	data, err := json.MarshalIndent(p, "", "  ")
	if err != nil {
		return err
	}
	return program.WriteFile(p.file, append(data, '\n'))
}

// due lists the cards of an edition that are due on a day and of one of the
// topics, those longest due first.
func (p *progress) due(edition string, topics []topic, day time.Time) []string {
	var out []string
	on := day.Format(time.DateOnly)
	for name, c := range p.Cards {
		of, rest, _ := strings.Cut(name, "/")
		t, _, _ := strings.Cut(rest, "/")
		if of == edition && c.Due <= on && slices.Contains(topics, topic(t)) {
			out = append(out, name)
		}
	}
	slices.SortFunc(out, func(a, b string) int { return strings.Compare(p.Cards[a].Due+a, p.Cards[b].Due+b) })
	return out
}

// card names the card of an exercise.
func (o *options) card(x *exercise) string {
	return o.edition.String() + "/" + string(x.topic) + "/" + x.subject
}
