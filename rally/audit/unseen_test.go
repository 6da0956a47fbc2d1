package audit_test

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
)

// unseenCases are errors that nobody can see in the columns named. Each
// changes a log that was played into another one.
var unseenCases = []struct {
	name, format, columns, why string
	c                          columns
	change                     func(w *world) bool
}{
	{"a winner wrong in a log of winners that is cut", "sideout-doubles-11", "winner", "either side can win any rally", columns{winner: true},
		func(w *world) bool {
			w.Rows[7].Event = flip(w.Rows[7].Event)
			return true
		}},
	{"two rows exchanged, no numbers, no scores", "rally-singles-11", "winner", "either side can win any rally", columns{winner: true},
		func(w *world) bool {
			w.Rows[7], w.Rows[8] = w.Rows[8], w.Rows[7]
			return w.Rows[7].Event != w.Rows[8].Event
		}},
	{"four lost serves in a row missing, no numbers", "sideout-doubles-11", "winner, server, receiver, score, call, game", "after four lost serves the same player serves again, at the same score, from the same court",
		everyColumn, func(w *world) bool {
			for i := range len(w.Rows) - 4 {
				s := w.Rows[i : i+5]
				if *s[0].Score == *s[3].Score && s[0].Server == s[4].Server && *s[0].Call == *s[4].Call && i > 0 && *w.Rows[i-1].Score == *s[0].Score {
					remove(w, i, 4)
					return true
				}
			}
			return false
		}},
	{"two lost serves in a row missing, no numbers", "sideout-singles-11", "winner, server, receiver, score, call, game", "after two lost serves the same player serves again, at the same score",
		everyColumn, func(w *world) bool {
			for i := 1; i < len(w.Rows)-2; i++ {
				if *w.Rows[i-1].Score == *w.Rows[i+1].Score {
					remove(w, i, 2)
					return true
				}
			}
			return false
		}},
	{"partners exchanged from the start, in every row", "sideout-doubles-11", "winner, server, receiver, score, call, game; starting servers not stated", "either partner can start", everyColumn,
		func(w *world) bool {
			for i := range w.Rows {
				for _, p := range []*audit.MaybePerson{&w.Rows[i].Server, &w.Rows[i].Receiver} {
					if who, ok := p.Person(); ok && who.Side() == rally.A {
						*p = audit.KnownPerson(who.Partner())
					}
				}
			}
			w.Starters = nil
			return true
		}},
	{"sides exchanged in every column", "rally-doubles-11", "winner, score; first side not stated", "the mirror image of a match is a match", columns{winner: true, score: true},
		func(w *world) bool {
			for i := range w.Rows {
				w.Rows[i].Event = flip(w.Rows[i].Event)
				w.Rows[i].Score = &audit.Score{w.Rows[i].Score[1], w.Rows[i].Score[0]}
			}
			w.First, w.Starters = w.First.Other(), nil
			return true
		}},
	{"receivers exchanged", "rally-doubles-11", "winner, score", "no column shows who received", columns{winner: true, score: true},
		func(w *world) bool {
			first, _ := w.First.Side()
			w.Starters[first.Other()] = w.Starters[first.Other()].Partner()
			return true
		}},
	{"the last rallies not delivered, no final", "sideout-doubles-11", "winner, server, receiver, score, call, game", "any beginning of a match is a log of one", everyColumn,
		func(w *world) bool {
			remove(w, len(w.Rows)-3, 3)
			return true
		}},
}

// The proof of each: the slow model, which shares nothing with the engine,
// plays both logs, and every column of both agrees with it.
func TestWhatNobodyCanSee(t *testing.T) {
	for _, c := range unseenCases {
		t.Run(c.name, func(t *testing.T) {
			done := 0
			for seed := range int64(60) {
				// Where the columns tell little, so short that nobody can have won.
				most := 24
				if !c.c.people {
					most = 10
				}
				w := play(rules(t, c.format), rand.New(rand.NewSource(seed)), c.c, most, nil)
				if w.end.Phase() != rally.Playing {
					continue
				}
				before := slices.Clone(w.Rows)
				first, starters := w.First, *w.Starters
				require.True(t, playedBySlowModel(t, w), "the true log")
				if !c.change(w) {
					continue
				}
				require.True(t, len(before) != len(w.Rows) || !slices.EqualFunc(before, w.Rows, sameColumns) || first != w.First || w.Starters == nil || starters != *w.Starters, "nothing was changed")
				require.True(t, playedBySlowModel(t, w), "the changed log")
				require.Empty(t, brief(w.Audit(audit.Place{}).Findings))
				done++
			}
			require.Greater(t, done, 5)
		})
	}
}

func sameColumns(a, b audit.Row) bool {
	return a.Event == b.Event && a.Server == b.Server && a.Receiver == b.Receiver && (a.Score == nil || *a.Score == *b.Score)
}

// playedBySlowModel reports whether the slow model can play a log, from some
// start that the log does not exclude, so that every column agrees.
func playedBySlowModel(t *testing.T, w *world) bool {
	for _, first := range []string{"A", "B"} {
		if w.First != audit.Nobody && w.First.String() != first {
			continue
		}
		for _, starters := range [][2]int{{1, 1}, {1, 2}, {2, 1}, {2, 2}} {
			if st := w.Starters; st != nil && (int(st[0]-rally.A1) != starters[0]-1 || int(st[1]-rally.B1) != starters[1]-1) {
				continue
			}
			m, err := reference.New(w.Rules.Format(), first, starters)
			if err != nil {
				continue
			}
			if agrees(t, m, w, first, starters) {
				return true
			}
		}
	}
	return false
}

func agrees(t *testing.T, m *reference.Match, w *world, first string, starters [2]int) bool {
	start := fmt.Sprintf("gA%dB%d", starters[0], starters[1])
	if first == "B" {
		start = fmt.Sprintf("gB%dA%d", starters[1], starters[0])
	}
	_, refusal := m.Do(start)
	require.Empty(t, refusal)
	for _, row := range w.Rows {
		before := m.Line()
		if _, refusal := m.Do(row.Event.String()); refusal != "" {
			return false
		}
		after := m.Line()
		who, side, number := server(before)
		at := sides(before)
		call := audit.CalledScore{Serving: at[side], Receiving: at[1-side], Number: number}
		switch {
		case row.Server != audit.Unknown && row.Server.String() != who,
			row.Receiver != audit.Unknown && row.Receiver.String() != lineField(before, "receive"),
			row.Score != nil && *row.Score != audit.Score(sides(after)),
			row.Call != nil && *row.Call != call,
			row.Game != 0 && itoa(row.Game) != lineField(after, "game"):
			return false
		}
	}
	return true
}

// unseen is the section of the page, written from the cases.
var unseen = func() string {
	var out strings.Builder
	out.WriteString("Some errors leave a log that another match would have left. `TestWhatNobodyCanSee` proves each of these: the slow model, which shares\nnothing with the engine, plays the log with the error and the log without it, and every column of both agrees with it.\n\n| error | columns | format | why |\n|---|---|---|---|\n")
	for _, c := range unseenCases {
		fmt.Fprintf(&out, "| %s | %s | %s | %s |\n", c.name, c.columns, c.format, c.why)
	}
	out.WriteString("\nFinals have them too: 11-7 typed for 11-8 is a final as good as the other; the column *without a trace* of that table counts them by the\nfinals that the slow model reaches. On a sheet, turns without a point leave marks on one spot, so that their number is not on it.\n")
	return out.String()
}()
