package audit_test

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
)

// besides are errors of one row that can be put into any log, whatever else is
// wrong with it; false where a row has no such error.
var besides = []struct {
	code   audit.FindingCode
	change func(w *world, row *audit.Row) bool
}{
	{"log-winner-wrong", func(_ *world, row *audit.Row) bool {
		row.Event = flip(row.Event)
		return true
	}},
	{"log-winner-inferred", func(_ *world, row *audit.Row) bool {
		row.Event = 0
		return row.Score != nil
	}},
	{"log-server-wrong", func(w *world, row *audit.Row) bool {
		p, ok := row.Server.Person()
		row.Server = audit.KnownPerson(p.Partner())
		return ok && doubles(w, 0)
	}},
	{"log-receiver-wrong", func(w *world, row *audit.Row) bool {
		p, ok := row.Receiver.Person()
		row.Receiver = audit.KnownPerson(p.Partner())
		return ok && doubles(w, 0)
	}},
	{"log-call-reversed", func(_ *world, row *audit.Row) bool {
		if row.Call == nil || row.Call.Serving == row.Call.Receiving {
			return false
		}
		c := *row.Call
		c.Serving, c.Receiving = c.Receiving, c.Serving
		row.Call = &c
		return true
	}},
	{"log-call-wrong", func(_ *world, row *audit.Row) bool {
		if row.Call == nil || row.Call.Number == 0 {
			return false
		}
		c := *row.Call
		c.Number = 3 - c.Number
		row.Call = &c
		return true
	}},
	{"log-score-wrong", func(w *world, row *audit.Row) bool {
		if row.Score == nil {
			return false
		}
		s := *row.Score
		s[w.rng.Intn(2)] += 3
		row.Score = &s
		return true
	}},
}

// pairKinds are the lines of the table of pairs.
var pairKinds = []string{"another row wrong", "rows missing, too many or out of place", "another order, score or start from a row on", "a wrong final, another match, too many breaks"}

func pairKind(c *corruption) int {
	switch c.codes[0] {
	case "log-rally-missing", "log-row-extra", "log-duplicate", "log-undo", "log-undo-implied", "log-out-of-order", "log-tail-missing", "log-after-end":
		return 1
	case "log-order-slipped", "log-start-differs", "log-foul-missing", "log-score-shifted":
		return 2
	case "log-final-differs", "log-other-match", "log-event-refused":
		return 3
	}
	return 0
}

// measurePairs puts two errors into a log: one of any class but a wrong
// format, and one of one row, at least five rows before it (or anywhere, if
// the first is of no row).
func measurePairs(t *testing.T, shapes []string, trials int) []tally {
	out := make([]tally, len(pairKinds))
	for i := range out {
		out[i].name = pairKinds[i]
	}
	rng := rand.New(rand.NewSource(seedOf("pairs")))
	for n := 0; n < trials; {
		c := &corruptions[rng.Intn(len(corruptions))]
		if c.codes[0] == "log-other-scoring" {
			continue
		}
		r := rules(t, shapes[rng.Intn(len(shapes))])
		w, row, ok := c.make(r, rng, c.c, rng.Intn(2)*(20+rng.Intn(25)))
		if !ok {
			continue
		}
		last := len(w.Rows) - 4
		if row > 0 {
			last = min(last, row-5)
		}
		if last < 1 || w.Match == "" {
			continue
		}
		i, other := rng.Intn(last), besides[rng.Intn(len(besides))]
		changed := w.Rows[i]
		if changed.Event.Kind() != rally.RallyWon || changed.Match == "other" || !other.change(w, &changed) {
			continue
		}
		w.Rows[i] = changed
		n++
		y := &out[pairKind(c)]
		if leavesNoTrace(w) {
			y.hidden++
			continue
		}
		began := time.Now()
		rep := w.Audit(audit.Place{})
		y.slowest = max(y.slowest, time.Since(began))
		y.trials++
		if detects(rep.Findings, c.codes) {
			y.detected++
		}
		if locates(w, rep.Findings, row) && locates(w, rep.Findings, i+1) {
			y.located++
		}
		if names(&rep, c.codes, row) && names(&rep, []audit.FindingCode{other.code}, i+1) {
			y.named++
		}
		y.explained(w, &rep, 0)
		y.served(r, w, &rep)
	}
	for _, y := range out {
		t.Logf("%s: slowest %v", y.name, y.slowest)
	}
	return out
}

func pairTable(lines []tally) string {
	var out strings.Builder
	out.WriteString("| one row wrong, and | trials | without a trace | detected | both within one row | both true errors among the cheapest | what happened among the cheapest | only one cheapest | explanation certain | and right | server at the end certain | and right |\n|---|---|---|---|---|---|---|---|---|---|---|---|\n")
	sum := tally{name: "all"}
	for i := range lines {
		sum.add(&lines[i])
	}
	for _, y := range append(slices.Clone(lines), sum) {
		fmt.Fprintf(&out, "| %s | %d | %d | %s | %s | %s | %s | %s | %d | %s | %d | %s |\n", y.name, y.trials, y.hidden, percent(y.detected, y.trials), percent(y.located, y.trials),
			percent(y.named, y.trials), percent(y.happened, y.known), percent(y.unique, y.trials), y.certain, percent(y.sure, y.certain), y.servers, percent(y.right, y.servers))
	}
	return out.String()
}
