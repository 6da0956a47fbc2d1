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
		l.afterRally(s, e, next, did)
	default:
		l.afterEvent(e, next, did)
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
	g := l.g
	if _, rides := e.Incident(); rides {
		l.add("duty.say-ruling", within("ruling", g.Ruling(s, e).Text))
	}
	if did.Has(rally.PlayedAgain) {
		l.add("duty.say-replay")
		l.add("duty.note-replay")
		l.add("duty.rehearse", within("call", g.Call(next)))
		return
	}
	l.add("duty.say-result", within("result", Result(did)))
	l.mark(s, next, did)
	if did.Has(rally.GameWon) || next.Phase() != rally.Playing {
		l.gameEnd(next, did)
		return
	}
	if did.Has(rally.SideOut) {
		l.sideOut(next)
	}
	if did.Has(rally.SecondServer) {
		l.add("duty.marker-two", g.person("server", g.rules.Places(next).Server))
	}
	l.penalties(e, next, did)
	l.add("duty.rehearse", within("call", g.Call(next)))
}

// mark writes down what the rally did to the score: the point under the
// server's number, and the end of the turn after its last point.
func (l *list) mark(s, next rally.State, did rally.Effects) {
	g := l.g
	serving, playing := s.Serving()
	if !playing { // the rally opened the game
		serving, _ = g.rules.NextFirst(s)
	}
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
	before := 0
	if playing {
		before = s.Score(serving.Other())
	} else {
		before = s.Opens(serving.Other())
	}
	if next.Score(serving.Other()) > before {
		scorer = serving.Other()
	}
	if c, ok := g.rules.Call(s); ok && c.Number > 0 && scorer == serving {
		l.add("duty.mark-point-server", g.side("side", scorer), count("score", next.Score(scorer)), count("number", c.Number))
		return
	}
	l.add("duty.mark-point", g.side("side", scorer), count("score", next.Score(scorer)))
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

func (l *list) afterEvent(e rally.Event, next rally.State, did rally.Effects) {
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
	case rally.TimeIn, rally.Dealt, rally.Resume:
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
	l.penalties(e, next, did)
	if next.Phase() == rally.Over && did&(rally.GameForfeited|rally.MatchForfeited|rally.MatchWon) != 0 {
		l.outcome(next)
	}
}

// penalties says a warning or foul, marks it, and sends the side whose score
// moved to the places of its new score.
func (l *list) penalties(e rally.Event, next rally.State, did rally.Effects) {
	g := l.g
	side := e.Side()
	if rides := e.Kind() == rally.RallyWon; rides {
		if did&(rally.Warned|rally.Fouled) == 0 {
			return
		}
		side = offender(next)
	}
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
	if did.Has(rally.TimeOutCharged) {
		used, allowed := next.TimeOutsUsed(side), g.rules.TimeOuts(next)
		l.add("duty.note-time-out", g.side("side", side), count("used", used), count("left", allowed-used), within("call", g.Call(next)))
	}
	if did.Has(rally.GameForfeited) || did.Has(rally.MatchForfeited) && next.Phase() != rally.Over {
		l.add("duty.say-forfeit-game", g.side("side", side))
	}
	if !did.Has(rally.PenaltyPoint) {
		return
	}
	if next.Phase() != rally.Playing {
		l.opening(next)
		return
	}
	l.add("duty.penalty-point", count("a", next.Score(rally.A)), count("b", next.Score(rally.B)))
	if g.doubles {
		l.add("duty.penalty-places", g.side("side", side), g.person("server", g.rules.Places(next).Server))
	}
}

// offender is the side that the 1999 text warns for a wrong server: the one
// with more of them on the ledger last, which is the only one that can have
// been warned by a rally.
func offender(s rally.State) rally.Side {
	if s.WrongServers(rally.B) > s.WrongServers(rally.A) {
		return rally.B
	}
	return rally.A
}
