package serviceorder_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	so "github.com/evencourt/evencourt/serviceorder"
)

// played plays a point a letter, from 0-0 in the last game of a format, and tells
// each position, that of 0-0 first.
func played(t testing.TB, id string, first so.Side, st so.Starters, winners string) []string {
	t.Helper()
	r := order(t, id)
	s, score := r.Start(first, st, 0, 0), [2]uint8{}
	told := func() string {
		require.True(t, r.Valid(s, score[0], score[1]), "%v at %v", s, score)
		p := r.Places(s, score[0], score[1])
		text := p.Server.String()
		if p.Court != so.NoCourt {
			text += "@" + p.Court.String()
		}
		if !p.AnyReceives {
			text += ">" + p.Receiver.String()
		}
		return text
	}
	out := []string{told()}
	for _, w := range winners {
		side := so.Side(w - 'A')
		score[side]++
		s = r.Rally(s, side, true, score[0], score[1])
		out = append(out, told())
	}
	return out
}

// The order of table tennis by the points played: derived from laws 2.13.3 and
// 2.13.5 (read), as a table by total points; turn index half the points, and from
// 20 points on one more each.
func TestTableTennisByPoints(t *testing.T) {
	level := strings.Repeat("AB", 12)
	got := played(t, "table-tennis-doubles-11-of3", so.A, so.Starters{so.A1, so.B1}, level[:8])
	for points, want := range map[int]string{0: "A1>B1", 1: "A1>B1", 2: "B1>A2", 3: "B1>A2", 4: "A2>B2", 5: "A2>B2", 6: "B2>A1", 7: "B2>A1", 8: "A1>B1"} {
		require.Equal(t, want, strings.Replace(got[points], "@R", "", 1), "%d points", points)
	}
	// The deciding game turns the order around at 5; the others do not.
	f, err := format.Parse("table-tennis-doubles-11-of3")
	require.NoError(t, err)
	r := so.New(f.Game, f.Rulings)
	for _, first := range []so.Side{so.A, so.B} {
		for _, st := range []so.Starters{{so.A1, so.B1}, {so.A2, so.B1}, {so.A1, so.B2}, {so.A2, so.B2}} {
			s, score := r.Start(first, st, 0, 0), [2]uint8{}
			// People in a row: who serves, who receives, and their partners after them.
			row := []so.Person{st[first], st[first.Other()], st[first].Partner(), st[first.Other()].Partner()}
			for points := range 24 {
				turn := points / 2
				if points >= 20 {
					turn = points - 10
				}
				p := r.Places(s, score[0], score[1])
				require.Equal(t, [2]so.Person{row[turn%4], row[(turn+1)%4]}, [2]so.Person{p.Server, p.Receiver}, "%v %v, %d points", first, st, points)
				require.Equal(t, so.Right, p.Court)
				require.True(t, r.Valid(s, score[0], score[1]))
				score[points%2]++
				s = r.Rally(s, so.Side(points%2), true, score[0], score[1])
			}
		}
	}
}

// Laws of games to 21, 3.15.2 (read): five turns of doubles as ordinals; singles
// has the sides of it. Five points a turn, one from 20-20 (3.15.1, 3.15.3, read).
func TestTableTennisTo21(t *testing.T) {
	got := played(t, "table-tennis-singles-21", so.B, so.Starters{so.A1, so.B1}, strings.Repeat("BA", 22))
	for points, p := range got {
		turn := points / 5
		if points >= 40 {
			turn = 8 + points - 40
		}
		require.Equal(t, []string{"B1>A1", "A1>B1"}[turn%2], p, "%d points", points)
	}
}

// The exchange in the deciding game, derived from law 2.13.6 (read), for each score
// at which a pair can first have 5: the order was A1>B1>A2>B2.
func TestTableTennisDecider(t *testing.T) {
	tests := []struct{ score, winners, after string }{
		{"5-0", "AAAAA", "A2>B1 B1>A1 A1>B2 B2>A2"},
		{"5-1", "AAAABA", "B2>A2 A2>B1 B1>A1 A1>B2"},
		{"5-2", "AAAABBA", "B2>A2 A2>B1 B1>A1"},
		{"5-3", "AAAABBBA", "A1>B2 B2>A2 A2>B1"},
		{"5-4", "AAAABBBBA", "A1>B2 B2>A2 A2>B1"},
		{"0-5", "BBBBB", "A2>B1 B1>A1 A1>B2 B2>A2"},
		{"4-5", "ABABABABB", "A1>B2 B2>A2 A2>B1"},
	}
	for _, test := range tests {
		got := played(t, "table-tennis-doubles-11-of3", so.A, so.Starters{so.A1, so.B1}, test.winners+"ABABAB")[len(test.winners):]
		var turns []string
		for _, p := range got {
			p = strings.Replace(p, "@R", "", 1)
			if len(turns) == 0 || turns[len(turns)-1] != p {
				turns = append(turns, p)
			}
		}
		want := strings.Fields(test.after)
		require.GreaterOrEqual(t, len(turns), len(want), test.score)
		require.Equal(t, want, turns[:len(want)], test.score)
	}
}

// The first receiver of the next game: published orders A>X>B>Y, then X>A>Y>B or
// Y>B>X>A (law 2.13.4 and examples of it, read).
func TestTableTennisFirstReceiver(t *testing.T) {
	r := order(t, "table-tennis-doubles-11-of3")
	before := so.Starters{so.A1, so.B1}
	for now, want := range map[so.Starters]bool{{so.A1, so.B1}: true, {so.A2, so.B2}: true, {so.A2, so.B1}: false, {so.A1, so.B2}: false} {
		require.Equal(t, want, r.Follows(before, now), now)
		require.True(t, order(t, "sideout-doubles-11-of3").Follows(before, now))
	}
}

// Tie-breaks of 2025, rules 5b and 17, as a league's page and the federation's
// training page write them out (read): server and court of each point.
func TestTieBreak(t *testing.T) {
	doubles := strings.Fields("A1@R B1@L B1@R A2@L A2@R B2@L B2@R A1@L A1@R B1@L B1@R A2@L A2@R")
	require.Equal(t, doubles, played(t, "tie-break-doubles-7", so.A, so.Starters{so.A1, so.B1}, "ABABABABABAB"))
	singles := strings.Fields("A1@R>B1 B1@L>A1 B1@R>A1 A1@L>B1 A1@R>B1 B1@L>A1 B1@R>A1 A1@L>B1 A1@R>B1 B1@L>A1 B1@R>A1 A1@L>B1")
	require.Equal(t, singles, played(t, "tie-break-7", so.A, so.Starters{so.A1, so.B1}, "ABABABABABA"))
	long := played(t, "tie-break-10", so.B, so.Starters{so.A1, so.B1}, strings.Repeat("AB", 14))
	require.Equal(t, "B1@R>A1", long[20], "no turn of one point from level one short")
	require.Equal(t, "B1@L>A1", long[19])
}

// Beach volleyball, rule 12.2.2.2 (read), the sequence derived from it; squash
// doubles to 11 (read on a club's page): A1, B1, A2, B2 at each change of service.
func TestPartnersInTurn(t *testing.T) {
	want := strings.Fields("A1 A1 B1 B1 A2 A2 B2 A1 B1 B1 A2")
	require.Equal(t, want, played(t, "beach-doubles-21-of3", so.A, so.Starters{so.A1, so.B1}, "ABBAABABBA"))
	require.Equal(t, strings.Fields("B2 A1 B1 A2 B2"), played(t, "squash-doubles-11", so.B, so.Starters{so.A1, so.B2}, "ABAB"))
}

func TestNoCourt(t *testing.T) {
	require.Equal(t, so.NoCourt, so.NoCourt.Other())
	var c so.Court
	require.NoError(t, c.UnmarshalText([]byte("-")))
	require.Equal(t, so.NoCourt, c)
	for id, known := range map[string]bool{"table-tennis-singles-11": false, "table-tennis-doubles-11": true, "tie-break-7": true,
		"tie-break-doubles-7": false, "beach-doubles-21-of3": false, "squash-doubles-11": false} {
		r := order(t, id)
		p := r.Places(r.Start(so.A, so.Starters{so.A1, so.B1}, 0, 0), 0, 0)
		require.Equal(t, known, p.Known(), id)
	}
}

// At any score that can be reached the states that the order calls valid are those
// that points lead to: of counted turns one for each side that may have begun and
// each choice of starting servers, but for the deciding game of doubles.
func TestValidStatesOfTurnsAreReached(t *testing.T) {
	for _, id := range []string{"table-tennis-doubles-11-of3", "table-tennis-singles-21", "tie-break-7", "tie-break-doubles-10", "beach-doubles-21-of3"} {
		r := order(t, id)
		f, err := format.Parse(id)
		require.NoError(t, err)
		type node struct {
			s    so.Turn
			a, b uint8
		}
		seen := map[node]bool{}
		var visit func(n node)
		visit = func(n node) {
			if seen[n] || max(n.a, n.b) > f.Last.Target+2 {
				return
			}
			seen[n] = true
			require.True(t, r.Valid(n.s, n.a, n.b), "%s %v", id, n)
			if f.Last.Won(n.a, n.b) || f.Last.Won(n.b, n.a) {
				return
			}
			visit(node{r.Rally(n.s, so.A, true, n.a+1, n.b), n.a + 1, n.b})
			visit(node{r.Rally(n.s, so.B, true, n.a, n.b+1), n.a, n.b + 1})
		}
		start := r.Start(so.B, so.Starters{so.A1, so.B1}, 0, 0)
		visit(node{start, 0, 0})
		missed := 0
		for n := range seen {
			if f.Last.Won(n.a, n.b) || f.Last.Won(n.b, n.a) {
				continue
			}
			for moving := so.Turn(0); moving <= so.Moving; moving++ {
				s := start&^so.Moving | moving
				if r.Valid(s, n.a, n.b) && !seen[node{s, n.a, n.b}] {
					missed++
				}
			}
		}
		if !strings.HasPrefix(id, "beach") {
			require.Zero(t, missed, fmt.Sprintf("%s: states that no points lead to", id))
		}
	}
}
