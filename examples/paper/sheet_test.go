package paper_test

import (
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/paper"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

func newLog(t *testing.T, id string) *rally.Log {
	f, err := format.Parse(id)
	require.NoError(t, err)
	rules, err := rally.Compile(f)
	require.NoError(t, err)
	first := rally.A
	return rally.NewLog(rules, rules.Begin(rally.Setup{First: &first}))
}

func enter(t *testing.T, l *rally.Log, text string) error {
	what, err := rally.ParseEntry(text)
	require.NoError(t, err, text)
	_, err = l.Do(what)
	return err
}

// Whatever moves a score, the boxes of a side end at it: rallies, penalties,
// corrections, rulings, stated positions.
func TestBoxesEndAtTheScore(t *testing.T) {
	matches := 300
	if testing.Short() {
		matches = 60
	}
	rng := rand.New(rand.NewPCG(16, 1))
	ids := []string{"sideout-doubles-11-of3@2026", "sideout-doubles-11-of3@2013", "rally-doubles-11-of3@2026", "sideout-singles-11@2024", "fixed-doubles-21@2026"}
	special := []string{"tfA", "tfB", "twA", "twB", "undo", "redo", "ends", "tA", "in", "replay", "amend 3 A", "amend 4 B", "set"}
	taken := map[string]int{}
	for m := range matches {
		l := newLog(t, ids[m%len(ids)])
		for range 20 + rng.IntN(80) {
			text := []string{"A", "B"}[rng.IntN(2)]
			if rng.IntN(8) == 0 {
				text = special[rng.IntN(len(special))]
			}
			if rng.IntN(12) == 0 && l.Len() > 0 {
				n := max(1, l.Len())
				text = "rule " + strconv.Itoa(n) + " " + l.Entry(n).String() + []string{"?server", "?receiver", "?side"}[rng.IntN(3)]
			}
			if text == "set" {
				if l.Len() < 4 {
					continue
				}
				text += " " + l.Rules().Line(l.State())
			}
			what, err := rally.ParseEntry(text)
			if err != nil {
				continue
			}
			if _, err := l.Do(what); err == nil {
				taken[strings.Fields(text)[0]]++
			}
		}
		forfeited := map[int]bool{}
		for _, g := range l.Result().Games {
			forfeited[g.Number] = g.How == rally.ForfeitedGame
		}
		for _, g := range paper.Games(l) {
			if forfeited[g.Number] {
				continue // it has a score of its own; the boxes are what was played
			}
			for side, m := range g.Sides {
				cells := m.Cells()
				require.Equal(t, strconv.Itoa(g.Last.Score(rally.Side(side))), cells[len(cells)-1].Score, "%s, game %d: %s", l.Rules().Format(), g.Number, l.Rules().Line(l.State()))
			}
		}
	}
	for _, word := range []string{"tfA", "amend", "set", "rule", "undo"} {
		require.Greater(t, taken[word], 10, word)
	}
}

// A stated position opens a part of its own, whose boxes begin at its score; a
// point that a penalty gave is a dot.
func TestStatedPositionAndPenalty(t *testing.T) {
	l := newLog(t, "sideout-doubles-11@2026")
	for _, text := range []string{"gA1B1", "A", "A", "tfB", "A"} {
		require.NoError(t, enter(t, l, text), text)
	}
	require.NoError(t, enter(t, l, "set "+l.Rules().Line(l.State())))
	require.NoError(t, enter(t, l, "A"))
	english, err := texts.Language("en")
	require.NoError(t, err)
	sheet := paper.Of(l, rally.Setup{}, english)
	require.Len(t, sheet.Games, 2)
	row := func(n int, side rally.Side) (scores, marks string) {
		for _, c := range sheet.Games[n].Sides[side].Cells {
			scores, marks = scores+" "+c.Score, marks+c.Mark
		}
		return scores, marks
	}
	scores, marks := row(0, rally.A)
	require.Equal(t, " 0 1 2 3 4", scores)
	require.Equal(t, "22.2", marks)
	scores, marks = row(1, rally.A)
	require.Equal(t, " 4 5", scores)
	require.Equal(t, "2", marks)
}
