package reference_test

import "testing"

// tally fails on every difference between engine and model, and shows one of
// each sort.
type tally struct {
	t     *testing.T
	sorts map[string]int
}

func newTally(t *testing.T) *tally { return &tally{t, map[string]int{}} }

func (c *tally) add(d *difference) {
	c.t.Helper()
	const most = 20 // sorts shown
	sort := d.entry + d.engine.Refused + d.model.Refused
	if c.sorts[sort]++; c.sorts[sort] == 1 && len(c.sorts) <= most {
		c.t.Errorf("%s", d)
	}
}

func (c *tally) report(of string) {
	n := 0
	for _, times := range c.sorts {
		n += times
	}
	c.t.Logf("%s, %d differ", of, n)
}
