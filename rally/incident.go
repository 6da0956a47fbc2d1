package rally

import (
	"github.com/evencourt/evencourt/format/clause"
)

// verdict is what a ruling makes of a rally.
type verdict uint8

const (
	asEntered verdict = iota // the rally stands
	again                    // it is played again
	serversLose
	receiversLose
)

// The mistakes of either side that an edition can fault.
const (
	orderMistakes = 1<<WrongServer | 1<<WrongCourt | 1<<WrongReceived | 1<<WrongReceiverCourt |
		1<<UnannouncedServer | 1<<UnannouncedReceiver
	serversMistakes   = Mistakes(1<<WrongServer | 1<<WrongCourt)
	receiversMistakes = Mistakes(1<<WrongReceived | 1<<WrongReceiverCourt)
	starterMistakes   = Mistakes(1<<UnannouncedServer | 1<<UnannouncedReceiver)
)

// ruled plays a rally with an incident on it. The state is that before the
// rally, so nothing need be remembered.
func (r *Rules) ruled(s State, did Effects, e Event, i Incident, faultedBefore bool) (State, Effects, Refusal, Grounds) {
	ended := e.Kind() == RallyWon
	serving := s.Order().Side()
	c := claim{r: r, i: i, serving: serving, ended: ended, reach: i.reached(e), faulted: faultedBefore}
	if c.warnsBy1999() {
		return r.warned1999(s, did, e.Side(), serving)
	}
	if ended && i.Since == GameOver && r.takes(clause.LastPointFinal) {
		if as, did, refusal, _ := r.score(s, did|Stands, e.Side()); refusal == NotRefused && as.Phase() == Over {
			return as, did, NotRefused, clause.LastPointFinal
		}
	}
	v, by := c.verdict()
	loser := serving
	switch {
	case v == again, v == asEntered && !ended:
		if ended {
			did |= Overruled
		}
		return s, did | PlayedAgain, NotRefused, by
	case v == asEntered:
		s, did, refusal, _ := r.score(s, did|Stands, e.Side())
		return s, did, refusal, by
	case v == receiversLose:
		loser = serving.Other()
	}
	if ended && e.Side() == loser {
		did |= Overruled
	}
	s, did, refusal, _ := r.score(s, did, loser.Other())
	if did&SecondServer != 0 && i.Mistakes&serversMistakes != 0 && c.r.takes(clause.OrderFault) {
		s.play |= dutyBit
		did |= PutRight
	}
	return s, did, refusal, by
}

// warned1999 counts a wrong server by the 1999 text: the rally stands and a
// technical warning is given; the second time a technical foul, with a point
// to the opponents, whatever warnings stand. A match that the rally has won
// stays won, and what else the ruling costs is recorded only.
func (r *Rules) warned1999(s State, did Effects, winner, serving Side) (State, Effects, Refusal, Grounds) {
	s = s.counted(wrongAt, 2, serving)
	second := s.WrongServers(serving) > 1
	by := Grounds(clause.OrderStandsWarned)
	if second {
		by = both(clause.OrderSecondOffence, r.by(clause.SecondOffenceIgnored))
	}
	played, does, refusal, _ := r.score(s, did|Stands, winner)
	over := played.Phase() == Over
	switch {
	case second && !over && !r.takes(clause.SecondOffenceCounts):
		did |= Overruled
	case refusal != NotRefused:
		return refused(refusal, clause.MostPoints)
	default:
		s, did = played, does
	}
	switch {
	case second && over:
		s, did, by = s.counted(foulAt, 3, serving), did|Fouled|Recorded, both(clause.OrderSecondOffence, clause.WonStaysWon)
	case over:
		s, did, by = s.counted(warningAt, 3, serving), did|Warned|Recorded, both(by, clause.WonStaysWon)
	case second:
		s, did, refusal, _ = r.movePoint(s.counted(foulAt, 3, serving), did|Fouled, serving, 0)
	default:
		s, did, refusal, _ = r.warn(s, did, serving)
	}
	return s, did, refusal, by
}

// A claim is an incident being ruled on.
type claim struct {
	r       *Rules
	i       Incident
	serving Side
	ended   bool // the rally went to its end
	reach   Reach
	faulted bool // the serving side was faulted just before and nobody put it right
}

// reached says how far a rally got for certain. One that ended by a fault of
// the serve never saw a return.
func (i Incident) reached(e Event) Reach {
	switch {
	case i.Reach != ToItsEnd:
		return i.Reach
	case e.Fault() == TenSeconds || e.Fault() == AbsentPlayer:
		return Called
	case e.Fault().OfServe():
		return Struck
	}
	return ThirdShot
}

func (c *claim) warnsBy1999() bool {
	return c.r.takes(clause.OrderStandsWarned) && c.ended && !c.i.Since.pastNextServe() &&
		c.i.Mistakes.Has(WrongServer) && !c.i.Mistakes.Has(WrongSideServed) && c.reach >= Struck
}

// verdict rules on the claim and says by which clauses. It is total.
func (c *claim) verdict() (verdict, Grounds) {
	i := c.i
	switch {
	case i.Mistakes.Has(WrongSideServed):
		return c.wrongSide()
	case c.aboutCall():
		return c.wrongCall()
	}
	regime := c.r.by(clause.OrderStandsWarned)
	if regime == clause.OrderFault {
		return c.fault()
	}
	if v := c.starter(regime); v != asEntered {
		return v, clause.StarterFault
	}
	if regime == clause.OrderReplay {
		return c.replayIfStopped()
	}
	return c.corrected()
}

// starter: where other errors of order are no faults, a starting server changed
// without notice still is one if the rules of an event say so: alone, until the
// next serve, and not where a stop is judged by what it claims.
func (c *claim) starter(regime Grounds) verdict {
	wrong := c.i.Mistakes & orderMistakes &^ c.confirmed()
	switch judged := c.i.Claimed && !c.ended && regime == clause.OrderReplay; {
	case !c.r.takes(clause.StarterFault) || c.i.Mistakes&orderMistakes&^starterMistakes != 0 || c.i.Since.pastNextServe() || judged:
	case wrong.Has(UnannouncedServer) && c.reach >= Struck:
		return serversLose
	case wrong.Has(UnannouncedReceiver) && c.reach >= Returned:
		return receiversLose
	}
	return asEntered
}

// corrected: in 1999, but for a wrong server whose rally went to its end, and
// in badminton an error is put right when found and the score stands.
func (c *claim) corrected() (verdict, Grounds) {
	wrong := c.i.Mistakes&orderMistakes&^starterMistakes != 0
	score, inTime := c.callInTime()
	switch {
	case c.ended && c.i.Mistakes&orderMistakes == 0:
		return asEntered, clause.NothingWrong
	case c.ended:
		return asEntered, clause.OrderStands
	case c.reach <= Called:
		return again, clause.BeforeStrike
	case wrong && c.r.takes(clause.OrderCorrected):
		return again, clause.OrderCorrected
	case c.confirmed() != 0:
		return again, clause.ConfirmedMistake
	case !c.byPlayer():
		return again, clause.RefereeStoppedWrongly
	case wrong:
		return again, clause.OrderStandsWarned
	case inTime:
		return again, score
	}
	return c.stopperLoses(clause.StoppedWrongly)
}

// wrongSide: stopped, the rally is replayed; completed, it is annulled until
// the next serve.
func (c *claim) wrongSide() (verdict, Grounds) {
	switch {
	case !c.ended:
		return again, clause.WrongSideStopped
	case !c.r.takes(clause.LateSideAnnulled):
		return asEntered, clause.LateSideStands
	case c.i.Since.pastNextServe():
		return asEntered, clause.LateSideAnnulled
	}
	return again, clause.LateSideAnnulled
}

// aboutCall reports whether the ruling is about the score call: it misled the
// player who stopped, where the edition asks that, or nothing else was wrong.
func (c *claim) aboutCall() bool {
	wrong, order := c.i.Mistakes.Has(WrongCall), c.i.Mistakes&orderMistakes != 0
	switch {
	case c.i.Misled && wrong && !c.ended && c.r.takes(clause.Misled):
		return true
	case order:
		return false
	case c.i.Claimed && (c.ended || c.r.takes(clause.OrderReplay)):
		return c.i.Claim == WrongCall
	}
	return wrong || c.i.Claimed && c.i.Claim == WrongCall
}

// wrongCall: a rally may be stopped for a wrong score until the edition's
// moment, and a wrong challenge is a fault. Before the strike there is no
// rally to lose, only a question to answer.
func (c *claim) wrongCall() (verdict, Grounds) {
	wrong := c.i.Mistakes.Has(WrongCall)
	window, inTime := c.callInTime()
	if late := c.r.by(clause.LateScoreReplay); c.ended {
		switch {
		case !wrong:
			return asEntered, clause.NothingWrong
		case late == clause.None:
			return asEntered, clause.LateScoreStands // no text here knows of another answer
		case late != clause.LateScoreReplay:
			return asEntered, late
		case !inTime:
			return asEntered, both(clause.LateScoreClosed, window)
		case !c.byPlayer():
			return asEntered, late // nobody claims it
		}
		// What never came, a return say, cannot have closed the window.
		return again, both(late, window)
	}
	switch misled := wrong && c.i.Misled; {
	case !c.byPlayer():
		return again, clause.ScoreCallByReferee
	case c.reach <= Called:
		return again, clause.BeforeStrike
	case inTime:
		return again, window
	case misled && c.r.takes(clause.Misled):
		return again, clause.Misled
	case misled:
		return c.stopperLoses(both(clause.NotMisled, window))
	case wrong:
		return c.stopperLoses(both(clause.ScoreWasRight, window))
	}
	return c.stopperLoses(clause.ScoreWasRight)
}

// callInTime reports whether the score called was wrong and what closes the
// edition's window for it had not come, and by which clause.
func (c *claim) callInTime() (by Grounds, inTime bool) {
	last, by := Called, Grounds(clause.ScoreBeforeServe)
	switch c.r.by(clause.ScoreBeforeServe) {
	case clause.ScoreBeforeReturn:
		last, by = Struck, clause.ScoreBeforeReturn
	case clause.ScoreBeforeThird:
		last, by = Returned, clause.ScoreBeforeThird
	}
	return by, c.i.Mistakes.Has(WrongCall) && c.reach <= last && !c.i.Since.pastNextServe()
}

// fault: the regime from about 2013 to mid-2023. The serving side's mistake
// ripens when the serve is struck, the receiving side's when the wrong player
// returns it; a wrong receiver's by the edition already when it is struck.
func (c *claim) fault() (verdict, Grounds) {
	confirmed := c.confirmed()
	wrong := c.i.Mistakes &^ confirmed
	servers, receivers := serversMistakes, receiversMistakes
	if c.r.takes(clause.StarterFault) {
		servers, receivers = servers.With(UnannouncedServer), receivers.With(UnannouncedReceiver)
	}
	lapse := wrong&servers != 0 && c.reach >= Struck
	excused := lapse && c.faulted && c.r.takes(clause.FaultAgainExcused)
	byServers := lapse && !excused
	struck := wrong.Has(WrongReceived) && c.reach >= Struck && c.r.takes(clause.ReceiverAtStrike)
	byReceivers := wrong&receivers != 0 && c.reach >= Returned || struck
	window, open := c.window()
	if open {
		v, by := asEntered, Grounds(0)
		switch {
		case byServers && byReceivers && c.r.takes(clause.BothWrongReceivers):
			v, by = receiversLose, clause.BothWrongReceivers
		case byServers && byReceivers:
			v, by = serversLose, clause.BothWrongServers
		case byServers && c.faulted:
			v, by = serversLose, clause.FaultAgain
		case byServers:
			v, by = serversLose, faultOf(wrong&serversMistakes)
		case struck:
			v, by = receiversLose, clause.ReceiverAtStrike
		case byReceivers && wrong.Has(WrongReceived):
			v, by = receiversLose, clause.ReceiverAtReturn
		case byReceivers:
			v, by = receiversLose, faultOf(wrong&receiversMistakes)
		}
		if v != asEntered {
			return v, both(by, window)
		}
	}
	score, inTime := c.callInTime()
	switch stopped := !c.ended && c.byPlayer() && c.reach >= Struck; {
	case excused:
		return c.unlessEnded(again), clause.FaultAgainExcused
	case confirmed != 0:
		return c.unlessEnded(again), clause.ConfirmedMistake
	case stopped && inTime:
		return again, score
	case stopped:
		return c.stopperLoses(clause.StoppedWrongly)
	case byServers || byReceivers: // but the window has closed
		return c.unlessEnded(again), both(window, clause.OrderFault)
	case c.ended:
		return asEntered, c.unfaulted()
	case c.reach <= Called:
		return again, clause.BeforeStrike
	}
	return again, clause.RefereeStoppedWrongly
}

// faultOf is the clause by which a mistake of order is a fault: what is left
// when the mistakes of starting servers are taken out.
func faultOf(order Mistakes) Grounds {
	if order == 0 {
		return clause.StarterFault
	}
	return clause.OrderFault
}

// unfaulted says why a rally that went to its end has no fault of order in it.
func (c *claim) unfaulted() Grounds {
	switch m := c.i.Mistakes; {
	case c.reach <= Called && m&orderMistakes != 0:
		return clause.BeforeStrike
	case m.Has(WrongReceived):
		return clause.ReceiverAtReturn // which never came
	case m&starterMistakes != 0 && m&orderMistakes&^starterMistakes == 0:
		return c.r.by(clause.StarterNoted)
	}
	return clause.NothingWrong
}

// unlessEnded lets a rally stand that went to its end.
func (c *claim) unlessEnded(v verdict) verdict {
	if c.ended {
		return asEntered
	}
	return v
}

// confirmed returns what was wrong though the referee had confirmed it when he
// was asked, as the edition let him: that mistake is his. Where only the servers
// may ask, it is who serves, and not where anybody stands.
func (c *claim) confirmed() Mistakes {
	switch {
	case !c.i.Asked:
		return 0
	case c.r.takes(clause.AskAnything):
		return c.i.Mistakes & orderMistakes
	case c.r.takes(clause.AskServer):
		return c.i.Mistakes & (1<<WrongServer | 1<<UnannouncedServer)
	}
	return 0
}

// window reports whether the edition still faults a mistake, by what is over
// since, and by which clause; none while the rally is live. A next serve that
// never comes keeps its window open.
func (c *claim) window() (by Grounds, open bool) {
	since := c.i.Since
	open = since == StillLive
	switch by = c.r.by(clause.OrderStands); by {
	case clause.WindowOvertaken:
		open = since != Overtaken && since != AfterSheet
	case clause.WindowNextServe, clause.WindowSheet:
		open = !since.pastNextServe()
	default:
		by = clause.OrderStands
	}
	if since == StillLive {
		return 0, true
	}
	return by, open
}

// pastNextServe reports whether the next serve has come, or never can. A game
// that is over has had none yet.
func (s Since) pastNextServe() bool { return s == NextServed || s == Overtaken || s == AfterSheet }

// replayIfStopped: the regime from mid-2023. A rally stopped for a real
// mistake is replayed, a player who stops without one loses it, and a rally
// that went to its end stands.
func (c *claim) replayIfStopped() (verdict, Grounds) {
	i := c.i
	right := i.Mistakes&orderMistakes != 0
	switch {
	case c.ended && i.Mistakes.Has(WrongReceived) && c.reach >= Returned:
		if !c.r.takes(clause.LateReceiverFault) {
			return asEntered, c.lateReceiver()
		}
		if i.Since.pastNextServe() {
			return asEntered, clause.LateReceiverFault
		}
		return receiversLose, clause.LateReceiverFault
	case c.ended && right:
		return asEntered, clause.OrderStands
	case c.ended:
		return asEntered, clause.NothingWrong
	}
	if i.Claimed {
		right = i.Mistakes.Has(i.Claim)
	}
	switch {
	case c.reach <= Called:
		return again, clause.BeforeStrike
	case right:
		return again, clause.OrderReplay
	case !c.byPlayer():
		return again, clause.RefereeStoppedWrongly
	}
	return c.stopperLoses(clause.StoppedWrongly)
}

// lateReceiver is the clause by which a wrong receiver found late changes
// nothing: one of its own where the edition has a reading of that.
func (c *claim) lateReceiver() Grounds {
	if c.r.takes(clause.LateReceiverStands) {
		return both(clause.LateReceiverStands, clause.OrderStands)
	}
	return clause.OrderStands
}

func (c *claim) byPlayer() bool { return c.i.Stopper == BySideA || c.i.Stopper == BySideB }

// stopperLoses gives the rally against the player who stopped it.
func (c *claim) stopperLoses(by Grounds) (verdict, Grounds) {
	if Side(c.i.Stopper-BySideA) == c.serving {
		return serversLose, by
	}
	return receiversLose, by
}
