package rally

import "github.com/evencourt/evencourt/format"

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
)

// ruled plays a rally with an incident on it. The state is that before the
// rally, so nothing need be remembered.
func (m *move) ruled(e Event, i Incident, faultedBefore bool) Refusal {
	ended := e.Kind() == RallyWon
	serving := m.s.order().Side()
	c := claim{r: m.r, i: i, serving: serving, ended: ended, reach: i.reached(e), excused: faultedBefore &&
		m.r.switchIs(format.FaultAgain, format.FaultAgainExcused)}
	if c.warnsBy1999() {
		return m.warned1999(e.Side(), serving)
	}
	v := c.verdict()
	loser := serving
	switch {
	case v == again, v == asEntered && !ended:
		m.did |= PlayedAgain
		if ended {
			m.did |= Overruled
		}
		return NotRefused
	case v == asEntered:
		m.did |= Stands
		return m.score(e.Side())
	case v == receiversLose:
		loser = serving.Other()
	}
	if ended && e.Side() == loser {
		m.did |= Overruled
	}
	if refusal := m.score(loser.Other()); refusal != NotRefused {
		return refusal
	}
	if m.did&SecondServer != 0 && i.Mistakes&serversMistakes != 0 && c.regime() == format.OrderErrorFault {
		m.s.play |= dutyBit
		m.did |= PutRight
	}
	return NotRefused
}

// warned1999 counts a wrong server by the 1999 text: the rally stands and a
// technical warning is given; the second time a technical foul, with a point
// to the opponents.
func (m *move) warned1999(winner, serving Side) Refusal {
	m.s.count(wrongAt, 2, serving)
	if m.s.WrongServers(serving) == 1 {
		m.did |= Stands
		if refusal := m.score(winner); refusal != NotRefused {
			return refusal
		}
		return m.warn(serving)
	}
	if m.r.switchIs(format.SecondOffence, format.SecondOffenceCounts) {
		m.did |= Stands
		if refusal := m.score(winner); refusal != NotRefused {
			return refusal
		}
	} else {
		m.did |= Overruled
	}
	m.s.count(foulAt, 3, serving)
	m.did |= Fouled
	if m.s.Phase() != Playing {
		return NotRefused // the rally ended the game, and 1999 knows no foul between games
	}
	return m.movePoint(serving)
}

// A claim is an incident being ruled on.
type claim struct {
	r       *Rules
	i       Incident
	serving Side
	ended   bool // the rally went to its end
	reach   Reach
	excused bool // the serving side was faulted just before and nobody put it right
}

func (c *claim) regime() uint16 { return c.r.format.Rulings[format.OrderError] }

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
	return c.regime() == format.OrderErrorStandsWarned && c.ended && c.i.Since != AfterSheet &&
		c.i.Mistakes.Has(WrongServer) && c.reach >= Struck
}

// verdict rules on the claim. It is total.
func (c *claim) verdict() verdict {
	i := c.i
	switch {
	case i.Mistakes.Has(WrongSideServed):
		return c.wrongSide()
	case c.aboutCall():
		return c.wrongCall()
	}
	switch c.regime() {
	case format.OrderErrorFault:
		return c.fault()
	case format.OrderErrorReplayIfStopped:
		return c.replayIfStopped()
	}
	return c.unlessEnded(again)
}

// unlessEnded lets a rally stand that went to its end.
func (c *claim) unlessEnded(v verdict) verdict {
	if c.ended {
		return asEntered
	}
	return v
}

// wrongSide: stopped, the rally is replayed; completed, it is annulled until
// the next serve.
func (c *claim) wrongSide() verdict {
	if c.ended && (c.i.Since.pastNextServe() || !c.r.switchIs(format.LateSide, format.LateSideAnnulled)) {
		return asEntered
	}
	return again
}

func (c *claim) aboutCall() bool {
	if c.i.Claimed && !c.i.Misled {
		return c.i.Claim == WrongCall
	}
	return c.i.Misled || c.i.Mistakes == 1<<WrongCall
}

// wrongCall: a rally may be stopped for a wrong score until the edition's
// moment, and a wrong challenge is a fault. Before the strike there is no
// rally to lose, only a question to answer.
func (c *claim) wrongCall() verdict {
	wrong := c.i.Mistakes.Has(WrongCall)
	last := Called
	switch c.r.format.Rulings[format.ScoreStop] {
	case format.ScoreStopBeforeReturn:
		last = Struck
	case format.ScoreStopBeforeThirdShot:
		last = Returned
	}
	inTime := wrong && c.reach <= last && c.i.Since <= RallyOver
	if c.ended {
		// What never came, a return say, cannot have closed the window.
		if inTime && c.byPlayer() {
			return again
		}
		return asEntered
	}
	switch {
	case !c.byPlayer(), c.reach <= Called, inTime:
		return again
	case wrong && c.i.Misled && c.r.switchIs(format.Misled, format.Yes):
		return again
	}
	return c.stopperLoses()
}

// fault: the regime from about 2013 to mid-2023. The serving side's mistake
// ripens when the serve is struck, the receiving side's when the wrong player
// returns it; a wrong receiver's by the edition already when it is struck.
func (c *claim) fault() verdict {
	i := c.i
	if i.Asked && c.confirmed() {
		return c.unlessEnded(again)
	}
	servers, receivers := serversMistakes, receiversMistakes
	if c.r.switchIs(format.StarterNotice, format.StarterNoticeFault) {
		servers, receivers = servers.With(UnannouncedServer), receivers.With(UnannouncedReceiver)
	}
	lapse := i.Mistakes&servers != 0 && c.reach >= Struck
	byServers := lapse && !c.excused
	byReceivers := i.Mistakes&receivers != 0 && c.reach >= Returned ||
		i.Mistakes.Has(WrongReceived) && c.reach >= Struck && c.r.switchIs(format.ReceiverFault, format.ReceiverFaultStruck)
	if c.windowOpen() {
		switch {
		case byServers && byReceivers && c.r.switchIs(format.BothWrong, format.BothWrongReceivingSide):
			return receiversLose
		case byServers:
			return serversLose
		case byReceivers:
			return receiversLose
		}
	}
	if !c.ended && c.byPlayer() && c.reach >= Struck && !(lapse && c.excused) {
		return c.stopperLoses()
	}
	return c.unlessEnded(again)
}

// confirmed reports whether the edition let the referee confirm places, so
// that a mistake he confirmed is his.
func (c *claim) confirmed() bool {
	q := c.r.format.Rulings[format.Questions]
	return q == format.QuestionsAny || q == format.QuestionsServerByServers && c.i.Mistakes&receiversMistakes == 0
}

// windowOpen reports whether the edition still faults a mistake, by what is
// over since. A next serve that never comes keeps its window open.
func (c *claim) windowOpen() bool {
	since := c.i.Since
	if since == StillLive {
		return true
	}
	switch c.r.format.Rulings[format.OrderWindow] {
	case format.OrderWindowOvertaken:
		return since != Overtaken && since != AfterSheet
	case format.OrderWindowNextServe, format.OrderWindowSheet:
		return !since.pastNextServe()
	}
	return false
}

// pastNextServe reports whether the next serve has come, or never can. A game
// that is over has had none yet.
func (s Since) pastNextServe() bool { return s == NextServed || s == Overtaken || s == AfterSheet }

// replayIfStopped: the regime from mid-2023. A rally stopped for a real
// mistake is replayed, a player who stops without one loses it, and a rally
// that went to its end stands.
func (c *claim) replayIfStopped() verdict {
	i := c.i
	if c.ended {
		if i.Mistakes.Has(WrongReceived) && c.reach >= Returned && !i.Since.pastNextServe() &&
			c.r.switchIs(format.LateReceiver, format.LateReceiverFault) {
			return receiversLose
		}
		return asEntered
	}
	right := i.Mistakes&orderMistakes != 0
	if i.Claimed {
		right = i.Mistakes.Has(i.Claim)
	}
	if right || !c.byPlayer() || c.reach == NotCalled || c.reach == Called {
		return again
	}
	return c.stopperLoses()
}

func (c *claim) byPlayer() bool { return c.i.Stopper == BySideA || c.i.Stopper == BySideB }

// stopperLoses gives the rally against the player who stopped it.
func (c *claim) stopperLoses() verdict {
	if Side(c.i.Stopper-BySideA) == c.serving {
		return serversLose
	}
	return receiversLose
}
