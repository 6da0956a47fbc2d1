package referee

import "github.com/evencourt/evencourt/rally"

// After lists what to say and do once an event has happened, s being the state
// before it, and the state that it leads to. A refused event has no duties and
// leads back to s; [Guide.Refusal] explains it.
//
// After a rally the word comes first, then the mark, then the next call is
// rehearsed while the ball comes back. On a side-out the end of the turn is
// marked, the record turned, the score read and the marker set before anybody
// looks at people.
func (g *Guide) After(s rally.State, e rally.Event) ([]Duty, rally.State) {
	next, did, refusal := g.rules.Apply(s, e)
	if refusal != rally.NotRefused {
		return nil, s
	}
	l := &list{g: g}
	if did.Has(rally.CallHelp) {
		l.help()
	}
	switch e.Kind() {
	case rally.RallyWon, rally.Replay, rally.Stop:
		if g.scoringOnly() {
			break
		}
		l.afterRally(s, e, next, did)
	default:
		if !g.scoringOnly() {
			l.afterEvent(s, e, next, did)
		}
	}
	if did.Has(rally.EndsDue) {
		l.add("duty.say-end-change")
	}
	if did.Has(rally.PutRight) {
		p := g.rules.Places(next)
		l.add("duty.put-right", g.side("side", p.Server.Side()), g.person("server", p.Server), court("court", p.Court))
	}
	if len(l.out) == 0 {
		l.add("duty.note")
	}
	return l.out, next
}

func (l *list) afterRally(s rally.State, e rally.Event, next rally.State, did rally.Effects) {
	g, serving := l.g, l.g.serves(s)
	if _, rides := e.Incident(); rides {
		l.add("duty.say-ruling", within("ruling", g.Ruling(s, e).Text))
	}
	if did.Has(rally.PlayedAgain) {
		l.add("duty.say-replay")
		l.add("duty.note-replay")
		l.add("duty.rehearse", within("call", g.Call(next)))
		return
	}
	l.add("duty.say-result", within("result", g.ResultWord(did)))
	l.mark(s, next, serving, did)
	if next.Phase() != rally.Playing {
		l.penalties(serving, s, next, did)
		l.gameEnd(next, did)
		return
	}
	if did.Has(rally.SideOut) {
		l.sideOut(next)
	}
	if did.Has(rally.SecondServer) {
		l.add("duty.marker-two", g.person("server", g.rules.Places(next).Server))
	}
	l.penalties(serving, s, next, did)
	l.add("duty.rehearse", within("call", g.Call(next)))
}

// mark writes down what the rally did to the score: the point under the
// server's number, and the end of the turn after its last point.
func (l *list) mark(s, next rally.State, serving rally.Side, did rally.Effects) {
	g := l.g
	if did.Has(rally.SideOut) {
		l.add("duty.mark-turn-end", g.side("side", serving))
	}
	if did.Has(rally.Withheld) {
		winner := serving.Other()
		l.add("duty.withheld", g.side("side", winner), count("score", next.Score(winner)))
	}
	if !did.Has(rally.Point) {
		return
	}
	scorer := serving
	if did.Has(rally.SideOut) || did.Has(rally.SecondServer) || lost(s, next, serving) {
		scorer = serving.Other()
	}
	if c, ok := g.rules.Call(s); ok && c.Number > 0 && scorer == serving {
		l.add("duty.mark-point-server", g.side("side", scorer), count("score", next.Score(scorer)), count("number", c.Number))
		return
	}
	l.add("duty.mark-point", g.side("side", scorer), count("score", next.Score(scorer)))
}

// lost reports whether a side that served lost the rally that ended the game.
func lost(s, next rally.State, serving rally.Side) bool {
	return next.Phase() != rally.Playing && next.Won(serving.Other()) > s.Won(serving.Other())
}

// serves is the side that serves the next rally, also where that opens a game.
func (g *Guide) serves(s rally.State) rally.Side {
	if serving, playing := s.Serving(); playing {
		return serving
	}
	first, _ := g.rules.NextFirst(s)
	return first
}

func (l *list) sideOut(s rally.State) {
	g := l.g
	p := g.rules.Places(s)
	side := p.Server.Side()
	score := s.Score(side)
	l.add("duty.turn-record", g.side("side", side))
	l.add("duty.read-score", g.side("side", side), count("score", score), parity("parity", score))
	if g.doubles {
		l.add("duty.set-marker", parity("parity", score), g.person("server", p.Server))
	} else {
		l.add("duty.set-court", parity("parity", score), court("court", p.Court))
	}
	l.add("duty.then-look", g.person("server", p.Server), court("court", p.Court))
}

func (l *list) gameEnd(next rally.State, did rally.Effects) {
	g := l.g
	if did.Has(rally.GameWon) {
		winner := rally.A
		if next.Score(rally.B) > next.Score(rally.A) {
			winner = rally.B
		}
		l.add("duty.say-game", g.side("side", winner), count("own", next.Score(winner)), count("other", next.Score(winner.Other())))
	}
	if next.Phase() == rally.Over {
		l.outcome(next)
	}
}

func (l *list) afterEvent(s rally.State, e rally.Event, next rally.State, did rally.Effects) {
	g := l.g
	switch e.Kind() {
	case rally.StartGame:
		l.add("duty.orient")
		l.beforeCall(next)
		return
	case rally.EndsChanged:
		l.add("duty.ends-made")
		l.restart(next)
		return
	case rally.Exchange:
		l.add("duty.exchanged", g.side("side", e.Side()))
		return
	case rally.FirstChoice:
		if first, known := next.First(); known && did.Has(rally.FirstChosen) {
			l.add("duty.note-choice", g.side("side", first))
			return
		}
	case rally.SheetReturned:
		l.add("duty.free")
		return
	case rally.TimeIn, rally.Dealt, rally.ResumePlay:
		if next.Phase() == rally.Playing {
			l.beforeCall(next)
		}
		return
	case rally.PlayOnAlone:
		l.add("duty.plays-alone", g.person("player", e.Person()), g.person("partner", e.Person().Partner()))
		return
	case rally.Concussion:
		l.add("duty.out-of-match", g.person("player", e.Person()))
		l.add("duty.what-remains")
		return
	case rally.Abandon:
		l.add("duty.suspended")
		l.add("duty.note-stop")
		return
	}
	if b, _ := next.Break(); did.Has(rally.BreakBegan) && b != rally.NoBreak || did.Has(rally.MedicalUsedUp) {
		l.atBreak(next)
		return
	}
	l.penalties(e.Side(), s, next, did)
	l.gameEnd(next, did)
}

// penalties says a warning or foul of a side, marks it, and sends the side
// whose score it moved to the places of its new score.
func (l *list) penalties(side rally.Side, s, next rally.State, did rally.Effects) {
	g := l.g
	switch {
	case did.Has(rally.Fouled):
		l.add("duty.say-foul", g.side("side", side))
	case did.Has(rally.Warned):
		l.add("duty.say-warning", g.side("side", side))
	case did.Has(rally.WarnedVerbally):
		l.add("duty.say-verbal", g.side("side", side))
	}
	if did&(rally.Fouled|rally.Warned|rally.WarnedVerbally) != 0 {
		l.add("duty.note-penalty")
	}
	if did.Has(rally.TimeOutCharged) && next.Phase() == s.Phase() { // else its game is over
		l.noteTimeOut(next, side)
	}
	if did.Has(rally.GameForfeited) {
		l.add("duty.say-forfeit-game", g.side("side", side))
	}
	switch {
	case !did.Has(rally.PenaltyPoint):
	case next.Phase() != rally.Playing:
		l.opening(next)
	default:
		l.add("duty.penalty-point", within("call", g.Call(next)))
		moved := side
		if next.Score(side) == s.Score(side) {
			moved = side.Other()
		}
		if g.doubles {
			l.add("duty.penalty-places", g.side("side", moved), g.person("server", g.rules.Places(next).Server))
		}
	}
}
