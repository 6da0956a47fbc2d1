package exercise

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/evencourt/evencourt/format"
)

// A Card is one sort of question as a trainee knows it: a topic and what it is
// about, in an edition. It comes again after an interval that grows with every
// right answer and begins anew with a wrong one: the algorithm SM-2 of P. A.
// Wozniak (Optimization of learning, 1990).
type Card struct {
	Ease     float64 // factor by which the interval grows, at least 1.3
	Right    int     // right answers in a row
	Interval int     // days until it comes again
	Due      string  // day on which it comes again, as 2026-11-27
}

// Quality is how well an answer was known, from 0 to 5.
type Quality int

// The qualities that answers have here.
const (
	Missed Quality = 1 // wrong, or skipped
	Hinted Quality = 3 // right after a hint
	Known  Quality = 4 // right at once
)

// answered is the card after an answer on a day.
func (c Card) answered(q Quality, day time.Time) Card {
	if c.Ease == 0 {
		c.Ease = 2.5
	}
	miss := float64(5 - q)
	c.Ease = max(1.3, c.Ease+0.1-miss*(0.08+miss*0.02))
	switch {
	case q < Hinted:
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

// Progress is what a trainee has been asked so far, by card.
type Progress map[string]Card

// Card names the card of an exercise: edition, topic and subject.
func (x *Exercise) Card() string {
	return x.Edition.String() + "/" + string(x.Topic) + "/" + x.Subject
}

func topicOf(card string) Topic {
	_, rest, _ := strings.Cut(card, "/")
	t, _, _ := strings.Cut(rest, "/")
	return Topic(t)
}

// Note takes down how well an exercise was answered on a day.
func (p Progress) Note(x *Exercise, q Quality, day time.Time) {
	p[x.Card()] = p[x.Card()].answered(q, day)
}

// Due lists the cards of an edition that are due on a day and of one of the
// topics, those longest due first.
func (p Progress) Due(edition format.Edition, topics []Topic, day time.Time) []string {
	var out []string
	on := day.Format(time.DateOnly)
	for name, c := range p {
		if strings.HasPrefix(name, edition.String()+"/") && c.Due <= on && slices.Contains(topics, topicOf(name)) {
			out = append(out, name)
		}
	}
	slices.SortFunc(out, func(a, b string) int { return strings.Compare(p[a].Due+a, p[b].Due+b) })
	return out
}

// heading is the first line of progress as text.
const heading = "evencourt-practice/1:due,right,interval,ease,card"

// String is progress as text, one card a line, for a file or for a page's
// store; [ParseProgress] reads it.
func (p Progress) String() string {
	var b strings.Builder
	b.WriteString(heading + "\n")
	names := make([]string, 0, len(p))
	for name := range p {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		c := p[name]
		b.WriteString(c.Due + " " + strconv.Itoa(c.Right) + " " + strconv.Itoa(c.Interval) + " " + strconv.FormatFloat(c.Ease, 'f', -1, 64) + " " + name + "\n")
	}
	return b.String()
}

// ProgressError names the line at which a text is no progress: the first is a
// heading, each other one a card.
type ProgressError struct{ Line int }

// Error implements error.
func (e *ProgressError) Error() string {
	return "exercise: no progress at line " + strconv.Itoa(e.Line)
}

// ParseProgress reads progress. The error is a [*ProgressError].
func ParseProgress(text string) (Progress, error) {
	p := Progress{}
	n := 0
	for line := range strings.Lines(text) {
		n++
		line = strings.TrimSpace(line)
		if n == 1 && line != heading {
			return nil, &ProgressError{n}
		}
		if n == 1 || line == "" {
			continue
		}
		name, c, ok := parseCard(line)
		if !ok {
			return nil, &ProgressError{n}
		}
		p[name] = c
	}
	return p, nil
}

func parseCard(line string) (name string, c Card, ok bool) {
	fields := strings.Fields(line)
	if len(fields) != 5 || strings.Count(fields[4], "/") < 2 {
		return "", c, false
	}
	_, undated := time.Parse(time.DateOnly, fields[0])
	var errs [3]error
	c.Due = fields[0]
	c.Right, errs[0] = strconv.Atoi(fields[1])
	c.Interval, errs[1] = strconv.Atoi(fields[2])
	c.Ease, errs[2] = strconv.ParseFloat(fields[3], 64)
	ok = undated == nil && errs == [3]error{} && c.Right >= 0 && c.Interval > 0 && c.Interval <= 3650 && c.Ease >= 1.3 && c.Ease <= 10
	return fields[4], c, ok
}
