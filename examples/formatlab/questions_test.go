package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What a committee asks, and the row that answers it. The figures beside a
// question are from models written apart: a dense matrix, another recursion over
// scores (coming back), or up to a million simulated matches (74.86, give or take
// 0.09, for the side-out match; 29.90 minutes; 8.05 % level at the bell).
func TestTwelveQuestions(t *testing.T) {
	for i, q := range []struct {
		asks, line, part, row string
		want                  string // in the first cell
	}{
		{"whether serving first matters", "explain rally-doubles-21@2026 -only winning", "Who wins", "serving first", "64.8 %"},
		{"and receiving first", "explain rally-doubles-21@2026 -only winning", "Who wins", "receiving first", "66.7 %"},
		{"how long two formats are", "compare rally-doubles-21@2026 sideout-doubles-11@2026 -only length", "How long it is", "expected", "37.8"},
		{"how sure the better side is", "compare sideout-doubles-11-of3@2026 rally-doubles-21@2026 -only winning", "Who wins", "the better side wins", "74.8 %"},
		{"what a freeze does", "compare fixed-doubles-21-both-at-point rally-doubles-21@2026 -only winning", "Who wins", "the better side wins", "66.4 %"},
		{"a cap for a margin", "compare rally-doubles-21@2026+cap=25 rally-doubles-21@2026 -only winning", "Who wins", "the better side wins", "65.7 %"},
		{"the spread of minutes", "explain rally-doubles-21@2026 -only time", "Time", "99 of a hundred are over within", "29.9 min"},
		{"more than an hour", "explain rally-doubles-21-of3@2026 -slot 60 -only time", "Time", "needs more than 60 min", "40.5 %"},
		{"rallies without a point", "explain sideout-doubles-11@2026 -only length", "How long it is", "rallies that give nobody a point", "24.1"},
		{"coming back from anywhere", "explain sideout-doubles-11@2026 -at 4-9,other,2 -only at", "At one position", "the better side wins the game", "13.2 %"},
		{"coming back at the last", "explain sideout-doubles-11@2026 -only comeback", "Coming back", "9-10       the side ahead, server 1", "19.8 %"},
		{"what a penalty point costs", "explain sideout-doubles-11@2026 -only penalty", "What a penalty point costs", "10-10, server 1", "20.3"},
		{"the first server or the second", "explain sideout-doubles-11@2026 -at 10-10,better,1 -only at", "At one position", "the better side wins the game", "72.6 %"},
		{"whether losing a rally pays", "explain sideout-doubles-11@2026 -p 0.42,0.58 -shares 0.42 -only incentives", "", "", ""},
		{"games against a clock", "explain sideout-doubles-11@2026 -bell 12 -only bell", "A first game against the clock", "nobody wins it", "8.1 %"},
		{"a day of four courts", "compare rally-doubles-21@2026 sideout-doubles-11@2026 -matches 20 -courts 4 -slot 125 -only time", "Time", "20 matches on 4 courts need more than 125 min", "51.8 %"},
	} {
		t.Run(q.asks, func(t *testing.T) {
			if testing.Short() && i%5 != 0 {
				t.Skip("a sample of the questions")
			}
			text := ask(t, q.line)
			if q.part == "" {
				require.Contains(t, text, "never")
				return
			}
			cells := row(t, text, q.part, q.row)
			require.NotEmpty(t, cells)
			require.Equal(t, q.want, cells[0])
		})
	}
}
