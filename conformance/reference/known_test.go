package reference_test

import (
	"slices"
	"strings"
	"testing"
)

// A topic is a matter on which engine and model are known to differ, and why.
type topic struct {
	name  string
	about string
	fits  func(d *difference) bool
}

// known lists the topics. What has been decided and is not yet in the engine
// stands here until it is; the list is to become empty, or each entry argued.
var known = []topic{
	{"the next format", "a coming game that is forfeited unplayed the engine counts by the format that comes with it, which was asked whether it can follow; the model by the old one", func(d *difference) bool {
		return fieldOf(d.line, "phase") != "play" && slices.ContainsFunc(d.log, func(e string) bool { return strings.Contains(e, " next ") })
	}},
	{"order of refusals", "an edition without the rule is said before the moment", func(d *difference) bool {
		if strings.Contains(d.entry, " ") {
			return d.engine.Refused != "" && d.model.Refused != ""
		}
		return d.model.Refused == "not-in-edition" && slices.Contains([]string{"not-started", "in-play", "first-settled", "over"}, d.engine.Refused)
	}},
}

// tally counts the differences by topic and fails on those that no topic
// covers, showing one of each sort.
type tally struct {
	t     *testing.T
	known map[string]int
	other map[string]int
}

func newTally(t *testing.T) *tally {
	return &tally{t, map[string]int{}, map[string]int{}}
}

func (c *tally) add(d *difference) {
	c.t.Helper()
	for _, k := range known {
		if k.fits(d) {
			if c.known[k.name]++; c.known[k.name] == 1 {
				c.t.Logf("%s: %s", k.name, d)
			}
			return
		}
	}
	sort := d.entry + d.engine.Refused + d.model.Refused
	if c.other[sort]++; c.other[sort] == 1 && len(c.other) <= 20 {
		c.t.Errorf("%s", d)
	}
}

func (c *tally) report(of string) {
	for _, k := range known {
		if n := c.known[k.name]; n > 0 {
			c.t.Logf("%7d known differences: %s (%s)", n, k.name, k.about)
		}
	}
	c.t.Log(of)
}
