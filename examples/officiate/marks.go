package main

import (
	"strings"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
)

// gameMarks is one game as a sheet of paper shows it.
type gameMarks struct {
	number   int
	rules    *rally.Rules
	first    rally.Side
	starters rally.Starters
	before   rally.State // as the game began
	last     rally.State // after its last entry
	sides    [2]sideMarks
	turns    []turn
	notes    []note
	how      rally.How
}

// sideMarks are the marks of one side: for every point the number of the server
// who scored it, 0 where none has a number, and the entry; the own scores at
// which a turn of the side ended.
type sideMarks struct {
	servers []uint8
	entries []int
	ends    []int
}

// turn is one server's turn, with the own scores that it reached.
type turn struct {
	side   rally.Side
	number int
	points []int
	out    bool // it ended in a side-out
}

// note is something noted beside the marks, with the call at that moment.
type note struct {
	entry int
	event rally.Event
	call  string
	after rally.State
}

// marksOf reads the marks of every game from the entries that hold, each with
// what it does as the log reads now.
func marksOf(l *rally.Log) []*gameMarks {
	var out []*gameMarks
	var g *gameMarks
	l.Each(func(st rally.Step) bool {
		if !st.Holds {
			return true
		}
		if st.Effects.Has(rally.GameStarted) || g == nil && st.After.Phase() == rally.Playing || g != nil && st.Event.Kind() == rally.SetPosition {
			opened := st.After
			g = &gameMarks{number: st.After.Game(), rules: st.Rules, before: opened}
			g.first, _ = opened.First()
			g.starters, _ = opened.Starters()
			out = append(out, g)
		}
		if g != nil {
			g.take(st)
		}
		return true
	})
	for _, result := range l.Result().Games {
		for _, g := range out {
			if g.number == result.Number {
				g.how = result.How
			}
		}
	}
	return out
}

// take marks what an entry did.
func (g *gameMarks) take(st rally.Step) {
	before := st.Before
	if before.Phase() != rally.Playing { // the rally opens the game
		before = g.before
		if opened, _, refusal := st.Rules.Apply(st.Before, rally.Start(g.first, g.starters)); refusal == rally.NotRefused {
			before = opened
		}
	}
	serving, playing := before.Serving()
	call, _ := st.Rules.Call(before)
	switch k := st.Event.Kind(); {
	case (k == rally.RallyWon || k == rally.Stop) && playing:
		g.rally(st, before, serving, int(call.Number))
	case k == rally.TimeOut, k >= rally.MedicalRequest && k <= rally.ChallengeWithdrawn, k == rally.EndsChanged, k == rally.Abandon, k == rally.ResumePlay,
		k >= rally.EquipmentTimeOut && k <= rally.IllnessTimeOut, k == rally.Retirement, k == rally.Substitution:
		text := ""
		if playing {
			text = string(st.Rules.AppendCall(nil, before))
		}
		g.notes = append(g.notes, note{st.N, st.Event, text, st.After})
	}
	g.last = st.After
}

func (g *gameMarks) rally(st rally.Step, before rally.State, serving rally.Side, number int) {
	if n := len(g.turns); n == 0 || g.turns[n-1].side != serving || g.turns[n-1].number != number || g.turns[n-1].out {
		g.turns = append(g.turns, turn{side: serving, number: number})
	}
	now := &g.turns[len(g.turns)-1]
	if st.Effects.Has(rally.Point) {
		scorer := serving
		if st.After.Score(serving) == before.Score(serving) {
			scorer, number = serving.Other(), 0
		}
		m := &g.sides[scorer]
		m.servers, m.entries = append(m.servers, uint8(number)), append(m.entries, st.N)
		if scorer == serving {
			now.points = append(now.points, len(m.servers))
		}
	}
	if st.Effects.Has(rally.SideOut) {
		now.out = true
		m := &g.sides[serving]
		m.ends = append(m.ends, len(m.servers))
	}
}

// text is the marks of a side in a row: the number of the server for each point,
// a dot where he has none, and a stroke where turns of the side ended.
func (m *sideMarks) text() string {
	var b strings.Builder
	for own := 0; own <= len(m.servers); own++ {
		if own > 0 {
			b.WriteByte(".123456789"[m.servers[own-1]])
		}
		for _, end := range m.ends {
			if end == own {
				b.WriteByte('/')
				break // turns without a point between them fall on one spot
			}
		}
	}
	return b.String()
}

// sheet is the game for [audit.Sheet.Read].
func (g *gameMarks) sheet() audit.Sheet {
	s := audit.Sheet{Rules: g.rules, Game: g.number, First: whose(g.first), Starters: &g.starters}
	for side := range g.sides {
		s.Sides[side] = audit.SideMarks{Servers: g.sides[side].servers, Ends: append([]int{}, g.sides[side].ends...)}
	}
	if serving, playing := g.last.Serving(); playing {
		call, _ := g.rules.Call(g.last)
		s.Serving, s.Number = whose(serving), int(call.Number)
	}
	return s
}

func whose(s rally.Side) audit.MaybeSide {
	if s == rally.A {
		return audit.SideA
	}
	return audit.SideB
}

// readMarks reads the marks of a side as [sideMarks.text] writes them.
func readMarks(text string) (m sideMarks, ok bool) {
	m.ends = []int{}
	for _, c := range text {
		switch {
		case c == '/':
			m.ends = append(m.ends, len(m.servers))
		case c == '.':
			m.servers = append(m.servers, 0)
		case c == '1' || c == '2':
			m.servers = append(m.servers, uint8(c-'0'))
		default:
			return m, false
		}
	}
	return m, true
}
