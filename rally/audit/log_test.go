package audit_test

import (
	"math/rand"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// Ends change once in a single game, at the first reach of its midpoint, and in
// a last game (5.B.3, 2025); a change that is made later is made.
func TestEndChanges(t *testing.T) {
	ends := audit.Row{Event: rally.EventOf(rally.EndsChanged)}
	due := func(w *world) int { // the first row before which the change is due
		return slices.IndexFunc(w.before, func(s rally.State) bool { return s.EndChangeDue() })
	}
	insert := func(w *world, at int) { w.Rows = slices.Insert(w.Rows, at, ends) }
	tests := []struct {
		name, format string
		change       func(w *world)
		want         []string
	}{
		{"recorded when it is due", "sideout-doubles-11", func(w *world) { insert(w, due(w)) }, nil},
		{"recorded three rallies later", "sideout-doubles-11", func(w *world) { insert(w, due(w)+3) }, nil},
		{"nobody records end changes", "sideout-doubles-11", func(*world) {}, nil},
		{"the source records them, and this one is missing", "sideout-doubles-11", func(w *world) { w.EndChanges = true },
			[]string{"log-end-change-missing: game 1: no end change is recorded at the midpoint"}},
		{"missing, and a winner wrong", "sideout-doubles-11", func(w *world) {
			w.EndChanges = true
			w.Rows[2].Event = 0
		}, []string{"log-winner-inferred: row 3 has no winner; it was side A", "log-end-change-missing: game 1: no end change is recorded at the midpoint"}},
		{"the log stops before the midpoint", "sideout-doubles-11", func(w *world) {
			w.EndChanges, w.Finals = true, nil
			w.Rows = w.Rows[:due(w)]
		}, nil},
		{"made twice", "sideout-doubles-11", func(w *world) {
			insert(w, due(w))
			insert(w, due(w)+1)
		}, []string{"log-diverges: row 18 is the first that does not follow from those before it; 1 of 27 rows disagree, and the last ones agree again",
			"log-event-refused: row 18: ends changed is not possible there: no mid-game end change is due"}},
		{"made in game 1 of three, and not in the last", "sideout-singles-11-of3", func(w *world) {
			require.Len(t, w.Finals, 3)
			insert(w, 12)
		}, []string{"log-diverges: row 13 is the first that does not follow from those before it; 1 of 97 rows disagree, and the last ones agree again",
			"log-event-refused: row 13: ends changed is not possible there: no mid-game end change is due",
			"log-end-change-missing: game 3: no end change is recorded at the midpoint"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var w *world
			for seed := int64(0); w == nil || test.format == "sideout-singles-11-of3" && len(w.Finals) < 3; seed++ {
				w = play(rules(t, test.format), rand.New(rand.NewSource(seed)), everyColumn, 0, nil)
			}
			test.change(w)
			require.Empty(t, cmp.Diff(test.want, brief(w.Audit(audit.Place{}).Findings)))
		})
	}
}

// What can be seen of rows before any rule is asked.
func TestRowsPutInOrder(t *testing.T) {
	tests := []struct {
		name   string
		c      columns
		change func(w *world)
		want   []string
	}{
		{"by their numbers", numbered, func(w *world) { slices.Reverse(w.Rows[4:6]) }, []string{"log-out-of-order: row 6 is out of order"}},
		{"by time, where there are no numbers", everyColumn, func(w *world) {
			for i := range w.Rows {
				w.Rows[i].Elapsed = int64(1000 * (i + 1))
			}
			slices.Reverse(w.Rows[4:6])
		}, []string{"log-out-of-order: row 6 is out of order"}},
		{"numbers that start again in every game", columns{winner: true, score: true, game: true}, func(w *world) {
			game, n := 0, 0
			for i := range w.Rows {
				if w.Rows[i].Game != game {
					game, n = w.Rows[i].Game, 0
				}
				n++
				w.Rows[i].N = n
			}
		}, nil},
		{"numbers that start again, and no column of games", columns{winner: true, score: true}, func(w *world) {
			n := 0
			for i := range w.Rows {
				if w.before[i].Phase() == rally.Playing && w.before[i].Score(rally.A)+w.before[i].Score(rally.B) == 0 {
					n = 0
				}
				n++
				w.Rows[i].N = n
			}
		}, nil},
		{"a row of another match", everyColumn, func(w *world) { w.Rows = slices.Insert(w.Rows, 3, audit.Row{Match: "other"}) },
			[]string{"log-other-match: 1 row belongs to match other"}},
		{"a row taken back at once", everyColumn, func(w *world) {
			w.Rows = slices.Insert(w.Rows, 3, w.Rows[7], audit.Row{Undo: true})
		}, []string{"log-undo: row 5 takes row 4 back"}},
		{"two rows taken back", everyColumn, func(w *world) {
			w.Rows = slices.Insert(w.Rows, 3, w.Rows[7], w.Rows[8], audit.Row{Undo: true}, audit.Row{Undo: true})
		}, []string{"log-undo: row 6 takes row 5 back", "log-undo: row 7 takes row 4 back"}},
		{"nothing to take back", everyColumn, func(w *world) { w.Rows = slices.Insert(w.Rows, 0, audit.Row{Undo: true}) },
			[]string{"log-event-refused: row 1: undo is not possible there: there is nothing to take back"}},
		{"a row delivered twice under its number", numbered, func(w *world) { w.Rows = slices.Insert(w.Rows, 3, w.Rows[3]) },
			[]string{"log-duplicate: row 5 was delivered twice: certain, unless an error more was made than this takes"}},
		{"a number left out, and no rally missing by the score", numbered, func(w *world) {
			for i := 5; i < len(w.Rows); i++ {
				w.Rows[i].N++
			}
		}, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			w := play(rules(t, "rally-singles-11-of3"), rand.New(rand.NewSource(1)), test.c, 0, nil)
			test.change(w)
			require.Empty(t, cmp.Diff(test.want, brief(w.Audit(audit.Place{}).Findings)))
		})
	}
}

// A log can begin anywhere: at a position, or with nothing known of the start.
func TestWhereALogBegins(t *testing.T) {
	w := play(rules(t, "sideout-doubles-11"), rand.New(rand.NewSource(1)), everyColumn, 30, nil)
	middle := *w.RallyLog
	start := w.before[12]
	middle.Start, middle.First, middle.Starters, middle.Rows = &start, audit.Nobody, nil, w.Rows[12:]
	require.Empty(t, brief(middle.Audit(audit.Place{}).Findings))

	unknown := *w.RallyLog
	unknown.First, unknown.Starters = audit.Nobody, nil
	require.Empty(t, brief(unknown.Audit(audit.Place{}).Findings))

	named := *w.RallyLog
	named.Rows = slices.Insert(slices.Clone(w.Rows), 0, audit.Row{Event: rally.Start(w.before[0].Order().First(), *w.Starters)})
	require.Empty(t, brief(named.Audit(audit.Place{}).Findings))
}

// Rallies that are played again, and stops, are rows like others.
func TestReplaysInALog(t *testing.T) {
	with := func(row audit.Row) *world {
		w := play(rules(t, "sideout-doubles-11"), rand.New(rand.NewSource(1)), everyColumn, 20, nil)
		again := w.Rows[7]
		before := w.before[7]
		score := audit.Score{before.Score(rally.A), before.Score(rally.B)}
		again.Event, again.Score = row.Event, &score
		if row.Server != audit.Unknown {
			p, _ := again.Server.Person()
			again.Server = audit.KnownPerson(p.Partner())
		}
		w.Rows = slices.Insert(w.Rows, 7, again)
		return w
	}
	require.Empty(t, brief(with(audit.Row{Event: rally.EventOf(rally.Replay)}).Audit(audit.Place{}).Findings))
	rep := with(audit.Row{Event: rally.EventOf(rally.Replay), Server: 1}).Audit(audit.Place{})
	require.Equal(t, []string{"log-diverges: row 8 is the first that does not follow from those before it; 1 of 21 rows disagree, and the last ones agree again"}, brief(rep.Findings)[:1])
	require.True(t, rep.Repair.HasEdit("log-server-wrong", 8, 0))
	require.Equal(t, audit.Costs().Server, rep.Repair.Cost)

	// Beside a wrong winner a replay is taken as it is.
	w := with(audit.Row{Event: rally.EventOf(rally.Replay)})
	w.Rows[3].Event = flip(w.Rows[3].Event)
	require.Equal(t, map[string]int{"log-diverges": 1, "log-winner-wrong": 1}, count(w.Audit(audit.Place{}).Findings))
}

// A game that stops before it is won, with another after it.
func TestGameBrokenOff(t *testing.T) {
	w := play(rules(t, "rally-singles-11-of3"), rand.New(rand.NewSource(3)), everyColumn, 0, nil)
	ends := slices.IndexFunc(w.Rows, func(r audit.Row) bool { return r.Game == 2 })
	require.Greater(t, ends, 12)
	w.Rows = slices.Delete(w.Rows, ends-9, ends)
	w.Finals = nil
	require.Equal(t, map[string]int{"log-diverges": 1, "log-unfinished": 1}, count(w.Audit(audit.Place{}).Findings))
}

// The key of a finding does not depend on where it stands in a file, and tells
// it from others of its match.
func TestKeys(t *testing.T) {
	finals := newFinals(t, "sideout-doubles-11-of3")
	m := audit.ReportedMatch{ID: "L05", Games: []audit.Score{{11, 10}, {12, 11}, {11, 3}}, Winner: audit.SideB}
	keys := func(line int) []string {
		var out []string
		for _, f := range finals.Check(&m, audit.Place{Source: "file.csv", Line: line}, nil) {
			out = append(out, f.Key())
		}
		return out
	}
	require.Equal(t, []string{"game-margin/L05/g1", "game-margin/L05/g2", "match-extra-game/L05", "winner-disagrees/L05/winner"}, keys(5))
	require.Equal(t, keys(5), keys(77))
	row := audit.Finding{Code: "log-server-wrong", Place: audit.Place{Match: "L08", Game: 1, Rally: 12}}
	require.Equal(t, "log-server-wrong/L08/g1/r12", row.Key())
	none := audit.Finding{Code: "name-near", Place: audit.Place{Line: 3}, Args: words.Args{words.Name("name", "a"), words.Name("other", "b")}}
	require.Equal(t, "name-near/a~b~", none.Key())
}

// Most of the rows are of another match under the same id: to leave them out
// is no explanation.
func TestMostRowsOfAnotherMatch(t *testing.T) {
	w := play(rules(t, "sideout-doubles-11"), rand.New(rand.NewSource(1)), everyColumn, 6, nil)
	other := play(rules(t, "sideout-doubles-11"), rand.New(rand.NewSource(2)), everyColumn, 0, nil)
	w.Rows = append(w.Rows, other.Rows[12:22]...)
	found := w.Audit(audit.Place{}).Findings
	require.Equal(t, map[string]int{"log-diverges": 1, "log-unexplained": 1}, count(found), brief(found))
}

// Three wrong servers late in a game are three wrong servers, not a game that
// ended before them with rallies played on.
func TestWrongServersLateInAGame(t *testing.T) {
	if testing.Short() {
		t.Skip("explains a dozen long games")
	}
	tried := 0
	for seed := range int64(12) {
		w := play(rules(t, "badminton-singles-21-of3"), rand.New(rand.NewSource(seed)), everyColumn, 0, nil)
		for i := range w.Rows {
			row := &w.Rows[i]
			p, _ := row.Server.Person()
			row.Serving, row.Server, row.Receiver, row.Call = audit.KnownSide(p.Side()), audit.Unknown, audit.Unknown, nil
		}
		w.Finals, w.Complete = nil, true
		n := len(w.Rows)
		if w.Rows[n-14].Game != w.Rows[n-1].Game {
			continue
		}
		for _, i := range []int{n - 13, n - 12, n - 11} {
			w.Rows[i].Serving = w.Rows[i].Serving.Other()
		}
		found := w.Audit(audit.Place{}).Findings
		require.False(t, audit.Has(found, "log-after-end"), "%v", brief(found))
		tried++
	}
	require.Greater(t, tried, 5)
}
