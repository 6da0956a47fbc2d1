package exercise

import (
	"math/rand/v2"
	"slices"
	"strconv"

	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// turn is one side's turn as a sheet shows it: the points marked under each
// server number. Two turns of one side never follow each other.
type turn struct {
	side     rally.Side
	servers  []int    // numbers that served, in order
	points   [][]int  // own score after each point, by entry of servers
	timeOuts []marked // time-outs called in it
}

// marked is a time-out with its call.
type marked struct {
	side rally.Side
	call string
}

// sheet is a game of side-out doubles by its marks, up to the next call.
type sheet struct {
	starters rally.Starters
	turns    []turn
	call     string       // next call as written
	server   rally.Person // first server of the last turn as written
}

// defect is what is wrong on a sheet; at most one thing is.
type defect uint8

const (
	noDefect      defect = iota
	openingDefect        // the opening turn has two servers
	turnDefect           // an end of a turn is not marked
	pointDefect          // a point is left out
	serverDefect         // the wrong partner began the last turn
	callDefect           // the call has the receivers' score first
	breakDefect          // more time-outs than a side has
	defectCount
)

var defectNames = []string{"none", "opening", "turn", "point", "server", "call", "break"}

// marks writes the sheet of the game in play from the events of a position.
func (p *position) marks() sheet {
	var sh sheet
	s := p.rules.New(p.first)
	for _, word := range p.events {
		e, _ := rally.ParseEvent(word)
		next, did, _ := p.rules.Apply(s, e)
		if did.Has(rally.GameStarted) {
			st, _ := next.Starters()
			sh = sheet{starters: st}
			sh.open(next, p)
		}
		last := &sh.turns[len(sh.turns)-1]
		switch {
		case did.Has(rally.Point):
			n := len(last.points) - 1
			last.points[n] = append(last.points[n], next.Score(last.side))
		case did.Has(rally.SecondServer):
			last.servers, last.points = append(last.servers, 2), append(last.points, nil)
		case did.Has(rally.SideOut):
			sh.open(next, p)
		case did.Has(rally.TimeOutCharged):
			last.timeOuts = append(last.timeOuts, marked{e.Side(), p.call(next)})
		}
		s = next
	}
	sh.call = p.call(s)
	return sh
}

func (sh *sheet) open(s rally.State, p *position) {
	side, _ := s.Serving()
	c, _ := p.rules.Call(s)
	sh.turns = append(sh.turns, turn{side: side, servers: []int{c.Number}, points: [][]int{nil}})
	sh.server = p.rules.Places(s).Server
}

// clone lets a copy be spoilt.
func (sh sheet) clone() sheet {
	sh.turns = slices.Clone(sh.turns)
	for i := range sh.turns {
		t := &sh.turns[i]
		t.servers, t.timeOuts = slices.Clone(t.servers), slices.Clone(t.timeOuts)
		t.points = slices.Clone(t.points)
		for j := range t.points {
			t.points[j] = slices.Clone(t.points[j])
		}
	}
	return sh
}

// spoil puts one defect into a sheet. It is false where the sheet has no room
// for it.
func (sh *sheet) spoil(d defect, rng *rand.Rand, allowed int) bool {
	switch d {
	case openingDefect:
		t := &sh.turns[0]
		t.servers, t.points = []int{1, 2}, append([][]int{nil}, t.points...)
	case turnDefect:
		// Two turns of one side run together: the other side's turn between
		// them, in which nothing was scored, is missing.
		for i := 1; i+1 < len(sh.turns); i++ {
			if sh.turns[i].blank() {
				sh.turns = slices.Delete(sh.turns, i, i+1)
				return true
			}
		}
		return false
	case pointDefect:
		for _, i := range rng.Perm(len(sh.turns)) {
			for j, points := range sh.turns[i].points {
				if len(points) > 1 {
					sh.turns[i].points[j] = points[1:]
					return true
				}
			}
		}
		return false
	case serverDefect:
		if len(sh.turns) < 2 {
			return false
		}
		sh.server = sh.server.Partner()
	case callDefect:
		var a, b, n int
		if !readCall(sh.call, &a, &b, &n) || a == b {
			return false
		}
		sh.call = strconv.Itoa(b) + "-" + strconv.Itoa(a) + "-" + strconv.Itoa(n)
	case breakDefect:
		side, n := rally.A, 0
		for _, t := range sh.turns {
			for _, m := range t.timeOuts {
				if m.side == side {
					n++
				}
			}
		}
		for ; n <= allowed; n++ {
			t := &sh.turns[len(sh.turns)-1]
			t.timeOuts = append(t.timeOuts, marked{side, sh.call})
		}
	}
	return true
}

func (t turn) blank() bool {
	if len(t.timeOuts) > 0 {
		return false
	}
	for _, points := range t.points {
		if len(points) > 0 {
			return false
		}
	}
	return true
}

func readCall(call string, into ...*int) bool {
	parts := split(call)
	if len(parts) != len(into) {
		return false
	}
	for i, part := range parts {
		n, err := strconv.Atoi(part)
		if err != nil {
			return false
		}
		*into[i] = n
	}
	return true
}

// wrongSheet shows a sheet with at most one defect.
func (m *Maker) wrongSheet(rng *rand.Rand) Exercise {
	for {
		p := m.midGame(rng, "sideout-doubles-11")
		p.timeOuts(rng)
		sh := p.marks()
		if len(sh.turns) < 4 || len(sh.turns) > 12 {
			continue
		}
		wrong := defect(rng.IntN(int(defectCount)))
		shown := sh.clone()
		if !shown.spoil(wrong, rng, p.rules.TimeOutsAllowed(p.state)) {
			continue
		}
		x := Exercise{Topic: wrongSheet, Subject: defectNames[wrong], from: p, sheet: &shown, about: detail{defect: wrong},
			Prompt: append(p.lines(shown), say("drill.ask-sheet"))}
		for w := noDefect; w < defectCount; w++ {
			x.Options = append(x.Options, say(words.Code("drill.defect-"+defectNames[w])))
		}
		x.Key = strconv.Itoa(int(wrong) + 1)
		x.Reason = []words.Text{say(words.Code("drill.why-defect-" + defectNames[wrong])),
			p.cited(clause.PracticeMarks)}
		return x
	}
}

// timeOuts puts a time-out or two into the game.
func (p *position) timeOuts(rng *rand.Rand) {
	for n := rng.IntN(3); n > 0; n-- {
		at := 1 + rng.IntN(len(p.events))
		events := slices.Clone(p.events)
		events = slices.Insert(events, at, "t"+rally.Side(rng.IntN(2)).String(), "in")
		s := p.rules.New(p.first)
		ok := true
		for _, word := range events {
			e, _ := rally.ParseEvent(word)
			next, _, refusal := p.rules.Apply(s, e)
			ok = ok && refusal == rally.NotRefused
			s = next
		}
		if ok && s.Phase() == rally.Playing {
			p.state, p.events = s, events
		}
	}
}

// lines writes a sheet as plain lines, one a turn.
func (p *position) lines(sh sheet) []words.Text {
	out := []words.Text{p.match(),
		say("drill.starters", p.person("a", sh.starters[rally.A]), p.person("b", sh.starters[rally.B]))}
	for i, t := range sh.turns {
		marks := words.Text{}
		for j, n := range t.servers {
			m := say("drill.server-blank", number("number", n))
			if len(t.points[j]) > 0 {
				m = say("drill.server-points", number("number", n), plain("points", join(t.points[j])))
			}
			if j == 0 {
				marks = m
			} else {
				marks = say("drill.both", text("one", marks), text("two", m))
			}
		}
		ended := say("drill.turn-ended")
		if i == len(sh.turns)-1 {
			ended = say("drill.turn-open")
		}
		out = append(out, say("drill.turn", number("n", i+1), plain("side", t.side.String()), text("marks", marks), text("ended", ended)))
		for _, m := range t.timeOuts {
			out = append(out, say("drill.time-out-at", p.side("side", m.side), plain("call", m.call)))
		}
	}
	return append(out, say("drill.sheet-now", p.person("server", sh.server), plain("call", sh.call)))
}

func join(points []int) string {
	out := ""
	for i, n := range points {
		if i > 0 {
			out += " "
		}
		out += strconv.Itoa(n)
	}
	return out
}

// rebuilding asks who serves from the marks of a turn alone.
func (m *Maker) rebuilding(rng *rand.Rand) Exercise {
	p := m.midGame(rng, "sideout-doubles-11")
	sh := p.marks()
	last := sh.turns[len(sh.turns)-1]
	serving := p.serving()
	c, _ := p.rules.Call(p.state)
	marks := referee.TurnMarks{Opening: len(sh.turns) == 1, Own: c.Serving, Number: c.Number, OwnNow: c.Serving, OtherNow: c.Receiving}
	for _, points := range last.points {
		marks.Own -= len(points)
	}
	got, err := referee.Rebuild(marks)
	if err != nil {
		panic(err) // marks of a played game
	}
	prompt := []words.Text{p.match(),
		say("drill.starters", p.person("a", sh.starters[rally.A]), p.person("b", sh.starters[rally.B]))}
	if marks.Opening {
		prompt = append(prompt, say("drill.no-turn-ended", p.side("side", serving)))
	} else {
		prompt = append(prompt, say("drill.began-at", p.side("side", serving), number("own", marks.Own)))
	}
	prompt = append(prompt, say("drill.now", number("score", marks.OwnNow), number("number", marks.Number)), say("drill.ask-rebuild"))
	x := Exercise{Topic: rebuilding, Subject: strconv.Itoa(marks.Number) + strconv.Itoa(marks.Own%2), from: p, Prompt: prompt}
	server := sh.starters[serving]
	if !got.Starter {
		server = server.Partner()
	}
	for _, who := range []rally.Person{rally.Person(serving << 1), rally.Person(serving<<1 | 1)} {
		for _, at := range []rally.Court{rally.Right, rally.Left} {
			x.Options = append(x.Options, say("drill.serves-from", p.person("player", who), text("court", courtWord(at))))
			if who == server && at == got.Court {
				x.Key = strconv.Itoa(len(x.Options))
			}
		}
	}
	x.Reason = []words.Text{got.Text, p.cited(clause.Rebuild)}
	return x
}
