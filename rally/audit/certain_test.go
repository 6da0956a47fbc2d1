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

// hard are errors that look like cheaper ones. None of them was used to set any
// cost of the search for explanations.
var hard = []struct {
	name   string
	change func(w *world) bool
}{
	{"the first three rallies lost", func(w *world) bool {
		w.Rows = w.Rows[3:]
		return true
	}},
	{"a digit misread in score and call of one row", func(w *world) bool {
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
	{"two rows exchanged, and numbered anew", func(w *world) bool {
		i := w.rng.Intn(len(w.Rows) - 6)
		w.Rows[i], w.Rows[i+1] = w.Rows[i+1], w.Rows[i]
		return true
	}},
	{"the scores of a stretch exchanged", func(w *world) bool {
		i := w.rng.Intn(len(w.Rows) - 8)
		mirrorScores(w.Rows[i : i+6])
		return w.Rows[i].Score != nil
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
					y.explained(w, &report)
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
	out.WriteString("Whole games, rows without numbers. None of these classes was used to set a cost.\n\n| class | columns | trials | without a trace | detected | what happened among the cheapest | only one cheapest | explanation certain | and right |\n|---|---|---|---|---|---|---|---|---|\n")
	sum := tally{name: "all"}
	for i := range lines {
		sum.add(&lines[i])
	}
	for _, y := range append(slices.Clone(lines), sum) {
		fmt.Fprintf(&out, "| %s | %s | %d | %d | %s | %s | %s | %d | %s |\n", y.name, y.columns, y.trials, y.hidden, percent(y.detected, y.trials),
			percent(y.happened, y.known), percent(y.unique, y.trials), y.certain, percent(y.sure, y.certain))
	}
	return out.String()
}

// What is called certain is so: of logs all of whose edits are, the rallies of the
// explanation are those that were played, but for one in forty: an explanation that
// is further away can be the true one. CORRUPTIONS.md has what more trials came to.
func TestCertainIsSo(t *testing.T) {
	trials := 4
	if testing.Short() {
		trials = 1
	}
	sum := tally{}
	for _, y := range measureHard(t, trials) {
		t.Logf("%s, %s: of %d logs %d are certain, and %d of them right", y.name, y.columns, y.trials, y.certain, y.sure)
		sum.add(&y)
	}
	require.Greater(t, sum.certain, 10*trials)
	require.LessOrEqual(t, 40*(sum.certain-sum.sure), sum.certain, "%d of %d", sum.certain-sum.sure, sum.certain)
}
