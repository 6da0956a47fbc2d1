// Package paper puts a match on paper: the marks of every game as a referee
// makes them, and the printed match sheet in words, filled in or blank. Its
// layout is ours. It links nothing that a browser build is spared.
package paper

import (
	"strings"

	"github.com/evencourt/evencourt/rally"
)

// Game is one game as a sheet of paper shows it.
type Game struct {
	Number   int
	Rules    *rally.Rules
	First    rally.Side
	Starters rally.Starters
	Last     rally.State // after its last entry
	Sides    [2]Marks
	turns    []turn
	notes    []note
	before   rally.State // as the game began, or as a position was stated
}

// Marks are the marks of one side: for every point the number of the server
// who scored it, 0 where none has a number or a penalty gave it, and the entry;
// after how many points turns of the side ended.
type Marks struct {
	Servers []uint8
	Entries []int
	Ends    []int
	from    int // own score before the first mark: not 0 where a position was stated
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

// Games reads the marks of every game from the entries that hold, each with
// what it does as the log reads now.
func Games(l *rally.Log) []*Game {
	var out []*Game
	var g *Game
	l.Each(func(st rally.Step) bool {
		if !st.Holds {
			return true
		}
		if st.Effects.Has(rally.GameStarted) || g == nil && st.After.Phase() == rally.Playing || g != nil && st.Event.Kind() == rally.SetPosition {
			opened := st.After
			g = &Game{Number: st.After.Game(), Rules: st.Rules, before: opened, Last: opened}
			if st.Event.Kind() == rally.SetPosition {
				g.Sides[rally.A].from, g.Sides[rally.B].from = opened.Score(rally.A), opened.Score(rally.B)
			}
			g.First, _ = opened.First()
			g.Starters, _ = opened.Starters()
			out = append(out, g)
		}
		if g != nil {
			g.take(st)
		}
		return true
	})
	return out
}

// take marks what an entry did.
func (g *Game) take(st rally.Step) {
	before := st.Before
	if before.Phase() != rally.Playing { // the rally opens the game
		before = g.before
		if opened, _, refusal := st.Rules.Apply(st.Before, rally.Start(g.First, g.Starters)); refusal == rally.NotRefused {
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
	if st.After.Game() != g.Number {
		return // the game that comes was forfeited unplayed
	}
	if st.After.Phase() == rally.Playing || st.Effects.Has(rally.GameWon) {
		g.level(st)
	}
	g.Last = st.After
}

// level sees to it that each side has as many marks as points: a penalty gives
// and takes them without a server, and so does a ruling.
func (g *Game) level(st rally.Step) {
	for side := range g.Sides {
		m := &g.Sides[side]
		for own := st.After.Score(rally.Side(side)) - m.from; own != len(m.Servers) && own >= 0; {
			if own < len(m.Servers) {
				m.Servers, m.Entries = m.Servers[:own], m.Entries[:own]
				break
			}
			m.Servers, m.Entries = append(m.Servers, 0), append(m.Entries, st.N)
		}
	}
}

func (g *Game) rally(st rally.Step, before rally.State, serving rally.Side, number int) {
	if n := len(g.turns); n == 0 || g.turns[n-1].side != serving || g.turns[n-1].number != number || g.turns[n-1].out {
		g.turns = append(g.turns, turn{side: serving, number: number})
	}
	now := &g.turns[len(g.turns)-1]
	if st.Effects.Has(rally.Point) {
		scorer := serving
		if st.After.Score(serving) == before.Score(serving) {
			scorer, number = serving.Other(), 0
		}
		m := &g.Sides[scorer]
		m.Servers, m.Entries = append(m.Servers, uint8(number)), append(m.Entries, st.N)
		if scorer == serving {
			now.points = append(now.points, len(m.Servers))
		}
	}
	if st.Effects.Has(rally.SideOut) {
		now.out = true
		m := &g.Sides[serving]
		m.Ends = append(m.Ends, len(m.Servers))
	}
}

// Text is the marks of a side in a row: the number of the server for each point,
// a dot where he has none, and a stroke where turns of the side ended.
func (m *Marks) Text() string {
	var b strings.Builder
	for _, c := range m.Cells() {
		b.WriteString(c.Mark)
		if c.End { // turns without a point between them fall on one spot
			b.WriteByte('/')
		}
	}
	return b.String()
}

// markOf is the mark of a point: the number of its server, a dot without one.
func markOf(server uint8) string { return ".123456789"[server : server+1] }

// ReadMarks reads the marks of a side as [Marks.Text] writes them.
func ReadMarks(text string) (m Marks, ok bool) {
	m.Ends = []int{}
	for _, c := range text {
		switch {
		case c == '/':
			m.Ends = append(m.Ends, len(m.Servers))
		case c == '.':
			m.Servers = append(m.Servers, 0)
		case c == '1' || c == '2':
			m.Servers = append(m.Servers, uint8(c-'0'))
		default:
			return m, false
		}
	}
	return m, true
}
