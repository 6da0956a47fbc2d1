package audit_test

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/audit"
)

// costs are those of the search for explanations.
var costs = audit.Costs()

// hard are errors that look like cheaper ones. None of them was used to set what
// an edit costs. Each costs at most its price: it can be explained so.
var hard = []struct {
	name   string
	price  int
	change func(w *world) bool
}{
	{"the first three rallies lost", costs.Missing + 2*costs.MissingMore, func(w *world) bool {
		w.Rows = w.Rows[3:]
		return true
	}},
	{"a digit misread in score and call of one row", costs.Score + costs.Call, func(w *world) bool {
		row := &w.Rows[w.rng.Intn(len(w.Rows)-6)]
		if row.Score == nil || row.Call == nil {
			return false
		}
		score, call := *row.Score, *row.Call
		side := w.rng.Intn(2)
		score[side] += 2 + w.rng.Intn(4)
		call.Serving += 1 + w.rng.Intn(4)
		row.Score, row.Call = &score, &call
		return true
	}},
	{"two rows exchanged, and numbered anew", costs.Swapped, func(w *world) bool {
		i := w.rng.Intn(len(w.Rows) - 6)
		w.Rows[i], w.Rows[i+1] = w.Rows[i+1], w.Rows[i]
		return true
	}},
	{"the scores of a stretch exchanged", 6 * costs.Score, func(w *world) bool {
		i := w.rng.Intn(len(w.Rows) - 8)
		mirrorScores(w.Rows[i : i+6])
		return w.Rows[i].Score != nil
	}},
	{"the winners of three rows in turn exchanged", 3 * costs.Winner, func(w *world) bool {
		i := w.rng.Intn(len(w.Rows) - 6)
		for k := i; k < i+3; k++ {
			if w.Rows[k].Event == 0 {
				return false
			}
			w.Rows[k].Event = flip(w.Rows[k].Event)
		}
		return true
	}},
	{"a rally lost, and the winner of the next row wrong", costs.Missing + costs.Winner, func(w *world) bool {
		i := w.rng.Intn(len(w.Rows) - 6)
		if remove(w, i, 1); w.Rows[i].Event == 0 {
			return false
		}
		w.Rows[i].Event = flip(w.Rows[i].Event)
		return true
	}},
}

// hardColumns are the columns of the logs that get such errors.
var hardColumns = []columns{{winner: true, score: true}, {people: true, score: true}, {winner: true, call: true}, everyColumn}

// measureHard puts hard errors into games without numbers of rows or games.
func measureHard(t *testing.T, trials int) []tally {
	var out []tally
	for _, h := range hard {
		for _, c := range hardColumns {
			y := tally{name: h.name, columns: c.String()}
			for _, id := range []string{"sideout-doubles-11", "rally-doubles-21", "sideout-singles-11"} {
				for n := range trials {
					w := play(rules(t, id), rand.New(rand.NewSource(int64(n))), c, 0, nil)
					for i := range w.Rows {
						w.Rows[i].N, w.Rows[i].Game = 0, 0
					}
					if len(w.Rows) < 20 || !h.change(w) {
						continue
					}
					if w.known = true; leavesNoTrace(w) {
						y.hidden++
						continue
					}
					report := w.Audit(audit.Place{})
					if y.trials++; audit.Worst(report.Findings) > audit.Note {
						y.detected++
					}
					y.explained(w, &report, h.price)
				}
			}
			if y.trials+y.hidden > 0 { // rows of these columns can have the error
				out = append(out, y)
			}
		}
	}
	return out
}

func hardTable(lines []tally) string {
	var out strings.Builder
	out.WriteString("Whole games, rows without numbers. None of these classes was used to set what an edit costs; how far certainty reaches was set when the first\nfour had been seen. *Or an error further*: the explanation is not right, and what happened takes at least an error more than it.\n\n" +
		"| class | columns | trials | without a trace | detected | what happened among the cheapest | only one cheapest | explanation certain | and right | or an error further |\n|---|---|---|---|---|---|---|---|---|---|\n")
	sum := tally{name: "all"}
	for i := range lines {
		sum.add(&lines[i])
	}
	for _, y := range append(slices.Clone(lines), sum) {
		fmt.Fprintf(&out, "| %s | %s | %d | %d | %s | %s | %s | %d | %s | %s |\n", y.name, y.columns, y.trials, y.hidden, percent(y.detected, y.trials),
			percent(y.happened, y.known), percent(y.unique, y.trials), y.certain, percent(y.sure, y.certain), percent(y.further, y.certain))
	}
	return out.String()
}

// What is called certain is so unless an error more was made than it takes: of logs
// all of whose edits are certain, the rallies of the explanation are those that
// were played, or what happened costs at least a plain error more.
func TestCertainIsSo(t *testing.T) {
	trials := 4
	if testing.Short() {
		trials = 1
	}
	sum := tally{}
	for _, y := range measureHard(t, trials) {
		t.Logf("%s, %s: of %d logs %d are certain, %d of them right, and %d an error further", y.name, y.columns, y.trials, y.certain, y.sure, y.further)
		sum.add(&y)
	}
	require.Greater(t, sum.certain, 10*trials)
	require.Greater(t, sum.sure, 9*trials)
	require.Equal(t, sum.certain, sum.sure+sum.further)
}
