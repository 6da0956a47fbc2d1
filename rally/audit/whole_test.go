package audit_test

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// habit is what a source does with all rows alike. None of them was used to set
// any cost of the search for explanations.
type habit struct {
	name   string
	code   words.Code
	change func(w *world)
}

func mirrorScores(rows []audit.Row) {
	for i := range rows {
		if s := rows[i].Score; s != nil {
			rows[i].Score = &audit.Score{s[1], s[0]}
		}
	}
}

var habits = []habit{
	{"every score with the points of B first", "convention.mirrored", func(w *world) { mirrorScores(w.Rows) }},
	{"the newest row first", "convention.reversed", func(w *world) { slices.Reverse(w.Rows) }},
	{"both", "convention.mirrored-reversed", func(w *world) {
		mirrorScores(w.Rows)
		slices.Reverse(w.Rows)
	}},
	{"every score the one before the rally", "convention.before", func(w *world) {
		for i := len(w.Rows) - 1; i > 0; i-- {
			w.Rows[i].Score = w.Rows[i-1].Score
		}
		w.Rows[0].Score = &audit.Score{0, 0}
	}},
}

// habitColumns are the columns of sources that have such habits.
var habitColumns = []columns{{winner: true, score: true}, {people: true, score: true}, {winner: true, people: true, score: true, call: true}}

type habitLine struct {
	name, columns               string
	trials, fits, named, silent int
}

// measureHabits counts logs of games by habit and columns: those whose rows fit
// as they stand, those of which the habit is named, and those of which nothing
// else is called wrong.
func measureHabits(t *testing.T, formats []string, trials int) []habitLine {
	var out []habitLine
	for _, h := range habits {
		for _, c := range habitColumns {
			y := habitLine{name: h.name, columns: c.String()}
			for _, id := range formats {
				for seed := range int64(trials) {
					w := play(rules(t, id), rand.New(rand.NewSource(seedOf(h.name)+seed)), c, 0, nil)
					if len(w.Rows) < 20 {
						continue
					}
					h.change(w)
					found := w.Audit(audit.Place{}).Findings
					if y.trials++; len(found) == 0 {
						y.fits++
						continue
					}
					i := slices.IndexFunc(found, func(f audit.Finding) bool { return f.Code == "log-convention" })
					if i < 0 {
						continue
					}
					if said, _ := found[i].Args.Of("convention").(words.Text); said.Code == h.code {
						y.named++
						if audit.Worst(found) < audit.Error {
							y.silent++
						}
					}
				}
			}
			out = append(out, y)
		}
	}
	return out
}

// usualHabits are those of the page, measured once for all tests.
func usualHabits(t *testing.T) []habitLine {
	if habitsMeasured == nil {
		habitsMeasured = measureHabits(t, []string{"sideout-doubles-11", "rally-doubles-11", "sideout-singles-11"}, 20)
	}
	return habitsMeasured
}

var habitsMeasured []habitLine

func habitTable(lines []habitLine) string {
	var out strings.Builder
	out.WriteString("Whole games to their end. None of these classes was used to set a cost.\n\n| habit of the source | columns | trials | without a trace | named as such | nothing else called wrong |\n|---|---|---|---|---|---|\n")
	for _, y := range lines {
		fmt.Fprintf(&out, "| %s | %s | %d | %d | %s | %s |\n", y.name, y.columns, y.trials, y.fits, percent(y.named, y.trials-y.fits), percent(y.silent, y.trials-y.fits))
	}
	return out.String()
}

// A habit of the source is found as what it is, whatever else its rows have, and
// nothing else is said of the rows.
func TestConventionsOfWholeLogs(t *testing.T) {
	lines, least := []habitLine(nil), 20
	if testing.Short() {
		lines, least = measureHabits(t, []string{"sideout-doubles-11"}, 8), 4
	} else {
		lines = usualHabits(t)
	}
	for _, y := range lines {
		t.Logf("%+v", y)
		require.Greater(t, y.trials-y.fits, least)
		require.GreaterOrEqual(t, 20*y.silent, 19*(y.trials-y.fits), "%s, %s", y.name, y.columns)
	}
}

// Rows whose numbers or times tell that the newest stands first are put in order,
// which is said once; what else is out of order is said besides.
func TestNewestFirstByNumberOrTime(t *testing.T) {
	for name, give := range map[string]func(*audit.Row, int){
		"numbers": func(r *audit.Row, i int) { r.N = i + 1 }, "times": func(r *audit.Row, i int) { r.Elapsed = int64(i+1) * 24_000 },
	} {
		w := play(rules(t, "sideout-doubles-11"), rand.New(rand.NewSource(3)), columns{winner: true, score: true}, 0, nil)
		for i := range w.Rows {
			give(&w.Rows[i], i)
		}
		slices.Reverse(w.Rows)
		const said = "log-convention: the log as a whole is read so: the newest row stands first"
		require.Equal(t, []string{said}, brief(w.Audit(audit.Place{}).Findings), name)
		w.Rows[10], w.Rows[11] = w.Rows[11], w.Rows[10]
		require.Equal(t, []string{said, "log-out-of-order: row 12 is out of order"}, brief(w.Audit(audit.Place{}).Findings), name)
	}
}

func TestAStretchOfScoresMirrored(t *testing.T) {
	tried, right := 0, 0
	for seed := range int64(60) {
		rng := rand.New(rand.NewSource(seed))
		w := play(rules(t, "sideout-doubles-11"), rng, columns{winner: true, score: true}, 0, nil)
		from := len(w.Rows)/4 + rng.Intn(len(w.Rows)/3)
		to := min(from+6, len(w.Rows))
		differ := 0
		for i := from; i < to; i++ {
			s := w.Rows[i].Score
			if w.Rows[i].Score = (&audit.Score{s[1], s[0]}); s[0] != s[1] {
				differ++
			}
		}
		if differ < 3 {
			continue
		}
		tried++
		found := w.Audit(audit.Place{}).Findings
		i := slices.IndexFunc(found, func(f audit.Finding) bool { return f.Code == "log-scores-mirrored" })
		if i >= 0 && found[i].Rally >= from && found[i].Rally <= from+4 && found[i].Args.Number("to") <= to {
			right++
		} else {
			t.Logf("%d: rows %d to %d: %v", seed, from+1, to, brief(found))
		}
	}
	require.Greater(t, tried, 40)
	require.GreaterOrEqual(t, 20*right, 19*tried, "%d of %d", right, tried)
}

// The order of the rows is kept where it replays, and the time is blamed.
func TestOneWrongTime(t *testing.T) {
	for _, c := range []columns{everyColumn, numbered, {winner: true, score: true}} {
		for seed := range int64(20) {
			w := play(rules(t, "sideout-doubles-11"), rand.New(rand.NewSource(seed)), c, 0, nil)
			if len(w.Rows) < 30 {
				continue
			}
			for i := range w.Rows {
				w.Rows[i].Elapsed = int64(i+1) * 24_000
			}
			require.Empty(t, brief(w.Audit(audit.Place{}).Findings))
			w.Rows[20].Elapsed -= 120_000
			found := w.Audit(audit.Place{}).Findings
			require.Equal(t, []string{"log-time-wrong: the time of row 21 is out of order with the rows around it"}, brief(found), "%s, %d", c, seed)
		}
	}
	// Rows that stand in another order, with times that are right, are put in order.
	w := play(rules(t, "sideout-doubles-11"), rand.New(rand.NewSource(3)), columns{winner: true, score: true}, 0, nil)
	for i := range w.Rows {
		w.Rows[i].Elapsed = int64(i+1) * 24_000
	}
	w.Rows[10], w.Rows[30] = w.Rows[30], w.Rows[10]
	found := w.Audit(audit.Place{}).Findings
	require.True(t, audit.Has(found, "log-out-of-order"), "%v", brief(found))
	require.False(t, audit.Has(found, "log-diverges"), "%v", brief(found))
}
