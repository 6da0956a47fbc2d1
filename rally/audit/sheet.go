package audit

import (
	"slices"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
	"github.com/evencourt/evencourt/serviceorder"
)

// Sheet is what the marks of one game on a referee's sheet say. Everything but
// the points may be unknown. Penalty points are not marks of rallies: a game
// that has one is rebuilt from the score after it.
type Sheet struct {
	Rules    *rally.Rules
	Game     int             // number of the game, from 1; 0 for the first
	First    MaybeSide       // who served first in it
	Starters *rally.Starters // the starting servers of it
	Sides    [2]SideMarks    // A and B
	Serving  MaybeSide       // whom the sheet is turned to
	Number   int             // server number that the marker shows, 1 or 2; 0 if unknown
	Stands   [2]*rally.Court // where each side's starting server stands now
	TimeOuts []TimeOutNote   // notes of time-outs
}

// SideMarks are one side's marks of a game.
type SideMarks struct {
	// Servers has one entry a point, in order: the number of the server who
	// scored it, or 0 where the sheet does not split points by server.
	Servers []uint8
	// Ends holds the own scores at which a turn of the side ended, in any
	// order. Turns without a point between them leave marks on one spot, so
	// how often a score stands here says nothing. Nil if they are not marked.
	Ends []int
}

// TimeOutNote is a time-out noted with the score of its moment.
type TimeOutNote struct {
	Side   rally.Side
	Score  Score
	Number int // server number, or 0 where none is noted
}

// Reading is what a sheet allows.
type Reading struct {
	States   []rally.State      // every state that agrees with the marks
	Question serviceorder.Probe // the easiest that would leave one; none if there is one
	Findings []Finding
}

// mostNotes bounds the notes that are followed.
const mostNotes = 8

// sheetNode is a position of the game with what its marks still owe.
type sheetNode struct {
	state rally.State
	ended [2]bool // a turn of the side has ended at its present score
	notes uint8   // time-outs met
}

// Read returns every state that the marks allow. It follows all games that
// leave these marks; turns without a point are as many as they may be.
func (s *Sheet) Read(at Place) Reading {
	var out Reading
	if s.Game > 0 {
		at.Game = s.Game
	}
	fail := func(why words.Code) Reading {
		out.Findings = append(out.Findings, NewFinding(sheetImpossible, at, words.Word("marks", why)))
		return out
	}
	if s.Rules == nil {
		return fail("marks.no-format")
	}
	at.Edition = s.Rules.Format().Edition
	total := Score{len(s.Sides[0].Servers), len(s.Sides[1].Servers)}
	if max(total[0], total[1]) > 60 || len(s.TimeOuts) > mostNotes {
		return fail("marks.too-long")
	}
	for side, m := range s.Sides {
		if slices.ContainsFunc(m.Ends, func(own int) bool { return own < 0 || own > total[side] }) {
			return fail("marks.past-score")
		}
	}
	seen := map[sheetNode]bool{}
	queue := s.starts(seen)
	met := uint8(0)
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		met |= n.notes
		if s.agrees(n, total) && !slices.Contains(out.States, n.state) {
			out.States = append(out.States, n.state)
		}
		for side := rally.A; side <= rally.B; side++ {
			if next, ok := s.follow(n, side, total); ok && !seen[next] {
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	if len(out.States) == 0 {
		for i, note := range s.TimeOuts {
			if met>>i&1 == 0 {
				out.Findings = append(out.Findings, NewFinding(sheetTimeOutScore, at, words.Name("side", note.Side.String()), note.Score.as("score")))
			}
		}
		return fail("marks.no-game")
	}
	slices.SortFunc(out.States, func(a, b rally.State) int {
		la, lb := s.Rules.Line(a), s.Rules.Line(b)
		if la < lb {
			return -1
		} else if la > lb {
			return 1
		}
		return 0
	})
	out.Question = question(s.Rules, out.States)
	if s.coincide() {
		out.Findings = append(out.Findings, NewFinding(sheetTurns, at))
	}
	if len(out.States) > 1 {
		out.Findings = append(out.Findings, NewFinding(sheetSeveral, at, words.Count("states", len(out.States)), words.Word("settles", words.Code("settles."+out.Question.String()))))
	}
	return out
}

// starts returns the positions from which the game can have begun.
func (s *Sheet) starts(seen map[sheetNode]bool) []sheetNode {
	var out []sheetNode
	doubles := s.Rules.Format().Game.Sides == format.Doubles
	for first := rally.A; first <= rally.B; first++ {
		if side, known := s.First.Side(); known && side != first {
			continue
		}
		for v := 0; v < 4; v++ {
			st := rally.Starters{rally.A1 + rally.Person(v&1), rally.B1 + rally.Person(v>>1)}
			if !doubles && v > 0 || s.Starters != nil && *s.Starters != st {
				continue
			}
			state, _, refusal := s.Rules.Apply(s.Rules.New(first), rally.Start(first, st))
			if refusal != rally.NotRefused {
				continue
			}
			n := s.note(sheetNode{state: state})
			if !seen[n] {
				seen[n] = true
				out = append(out, n)
			}
		}
	}
	return out
}

// follow plays a rally if the marks allow it.
func (s *Sheet) follow(n sheetNode, winner rally.Side, total Score) (sheetNode, bool) {
	if n.state.Phase() != rally.Playing {
		return n, false
	}
	serving, _ := n.state.Serving()
	call, _ := s.Rules.Call(n.state)
	next, did, refusal := s.Rules.Apply(n.state, rally.RallyTo(winner))
	if refusal != rally.NotRefused {
		return n, false
	}
	out := sheetNode{next, n.ended, n.notes}
	if did.Has(rally.Point) {
		own := n.state.Score(winner)
		if own >= total[winner] {
			return n, false
		}
		by := int(s.Sides[winner].Servers[own])
		if winner == serving && by != 0 && call.Number != 0 && by != call.Number {
			return n, false
		}
		if s.Sides[winner].marked(own) && !n.ended[winner] && s.Sides[winner].Ends != nil {
			return n, false // a turn should have ended before this point
		}
		out.ended[winner] = false
	}
	if did.Has(rally.SideOut) && s.Sides[serving].Ends != nil {
		own := next.Score(serving)
		if !s.Sides[serving].marked(own) {
			return n, false
		}
		out.ended[serving] = true
	}
	return s.note(out), true
}

// coincide reports whether turns of one side ended at one score.
func (s *Sheet) coincide() bool {
	for i := range s.Sides {
		ends := slices.Sorted(slices.Values(s.Sides[i].Ends))
		if len(slices.Compact(ends)) < len(s.Sides[i].Ends) {
			return true
		}
	}
	return false
}

// marked reports whether a turn ended at an own score.
func (m *SideMarks) marked(own int) bool { return slices.Contains(m.Ends, own) }

// note ticks off the time-outs noted at this position.
func (s *Sheet) note(n sheetNode) sheetNode {
	for i, note := range s.TimeOuts {
		a, b := n.state.Score(rally.A), n.state.Score(rally.B)
		call, playing := s.Rules.Call(n.state)
		if playing && note.Score == (Score{a, b}) && (note.Number == 0 || note.Number == call.Number) {
			n.notes |= 1 << i
		}
	}
	return n
}

// agrees reports whether a position can be the one the sheet shows now.
func (s *Sheet) agrees(n sheetNode, total Score) bool {
	for side := rally.A; side <= rally.B; side++ {
		own := n.state.Score(side)
		m := &s.Sides[side]
		if own != total[side] || m.Ends != nil && m.marked(own) && !n.ended[side] {
			return false
		}
	}
	if n.notes != 1<<len(s.TimeOuts)-1 {
		return false
	}
	if n.state.Phase() != rally.Playing {
		return s.Serving == Nobody && s.Number == 0
	}
	p := s.Rules.Places(n.state)
	if side, known := s.Serving.Side(); known && side != p.Server.Side() {
		return false
	}
	if s.Number != 0 && int(p.Number) != s.Number {
		return false
	}
	st, _ := n.state.Starters()
	for side := rally.A; side <= rally.B; side++ {
		if want := s.Stands[side]; want != nil && courtOf(p, st[side], s.Rules) != *want {
			return false
		}
	}
	return true
}

// courtOf returns where a player stands.
func courtOf(p rally.Places, who rally.Person, r *rally.Rules) rally.Court {
	if r.Format().Game.Sides == format.Singles {
		return p.Standing[who.Side()]
	}
	if p.At[who.Side()][rally.Right] == who {
		return rally.Right
	}
	return rally.Left
}

// question returns the easiest single question whose answer leaves one of the
// states, as [serviceorder.Service.Settle] does for an observation.
func question(r *rally.Rules, states []rally.State) serviceorder.Probe {
	if len(states) < 2 {
		return serviceorder.NoQuestion
	}
	for q := serviceorder.WhichCourt; q < serviceorder.MoreThanOne; q++ {
		answers := map[int]bool{}
		for _, s := range states {
			answers[answer(r, q, s)] = true
		}
		if len(answers) == len(states) {
			return q
		}
	}
	return serviceorder.MoreThanOne
}

func answer(r *rally.Rules, q serviceorder.Probe, s rally.State) int {
	if s.Phase() != rally.Playing {
		return -1
	}
	p := r.Places(s)
	st, _ := s.Starters()
	switch q {
	case serviceorder.WhichCourt:
		return int(p.Court)
	case serviceorder.WhichServer:
		return int(p.Server)
	case serviceorder.WhoStandsRightA:
		return int(p.At[rally.A][rally.Right])
	case serviceorder.WhoStandsRightB:
		return int(p.At[rally.B][rally.Right])
	case serviceorder.WhichReceiver:
		return int(p.Receiver)
	case serviceorder.WhichSide:
		return int(p.Server.Side())
	case serviceorder.WhichNumber:
		return int(p.Number)
	case serviceorder.WhichStarterA:
		return int(st[rally.A])
	case serviceorder.WhichStarterB:
		return int(st[rally.B])
	}
	first, _ := s.First()
	return int(first)
}

// StarterServes tells from the least that a sheet holds whether the starting
// server of a side serves now or his partner: the side's own score at its last
// side-out mark of the opponents, that is when its turn began, and the server
// number. In the opening turn of a game the starting server serves. It asks
// the order of service itself (common practice has it as a table: even and
// first, starter; odd and first, partner; even and second, partner; odd and
// second, starter). It is false in ok where the order has no partners.
func StarterServes(f format.Format, ownAtSideOut, number int, opening bool) (starter, ok bool) {
	if f.Game.Sides != format.Doubles || number < 1 || number > int(f.Game.Servers) || ownAtSideOut < 0 || ownAtSideOut > format.MostPoints {
		return false, false
	}
	if opening {
		return true, true
	}
	order := serviceorder.New(f.Game, f.Rulings)
	st := serviceorder.Starters{serviceorder.A1, serviceorder.B1}
	s := order.Start(serviceorder.B, st, 0, 0)
	own := uint8(ownAtSideOut)
	for i := 0; s.Side() == serviceorder.B && i < 3; i++ {
		s = order.Rally(s, serviceorder.A, false, own, 0) // B loses its turn
	}
	for n := 1; n < number; n++ {
		s = order.Rally(s, serviceorder.B, false, own, 0)
	}
	return order.Server(s, own, 0) == serviceorder.A1, true
}
