package rally

import "github.com/evencourt/evencourt/format"

// A move is an event being carried out: the state so far and what was done.
type move struct {
	r   *Rules
	s   State
	did Effects
}

// apply is Apply for everything that the table of plain rallies leaves out.
func (r *Rules) apply(s State, e Event) (State, Effects, Refusal) {
	m := move{r: r, s: s}
	if refusal := m.do(e); refusal != NotRefused {
		return s, 0, refusal
	}
	return m.s, m.did, NotRefused
}

func (m *move) do(e Event) Refusal {
	k := e.Kind()
	switch {
	case !e.wellFormed() || m.s.Phase() > Closed:
		return Malformed
	case k >= Undo:
		return LogOnly
	case m.s.Phase() == Closed:
		return MatchClosed
	case m.s.Phase() == Over && !canFollowTheEnd(k):
		return MatchOver
	case m.s.play&aborted != 0 && k != Resume && k != SheetReturned:
		return MatchAbandoned
	case !m.r.doubles && e.namesPartner():
		return NoSuchPlayer
	}
	switch k {
	case RallyWon, Replay, Stop:
		return m.rally(e)
	case StartGame:
		return m.startGame(e.Side(), e.Starters())
	case EndsChanged:
		return m.endsChanged()
	case Exchange:
		return m.exchange(e.Side())
	case FirstChoice:
		return m.firstChoice(e.Side(), e.Choice())
	case TimeOut:
		return m.timeOut(e.Side())
	case TimeIn:
		return m.timeIn()
	case EquipmentTimeOut:
		return m.equipment(e.Person())
	case RefereeTimeOut, BloodTimeOut, HazardTimeOut, IllnessTimeOut:
		return m.refereeBreak(RefereeBreak + Break(k-RefereeTimeOut))
	case Dealt:
		return m.dealt()
	case MedicalRequest:
		return m.medicalRequest(e.Person())
	case MedicalValid, MedicalInvalid, MedicalWithdrawn:
		return m.medicalAnswer(k, e.Person())
	case PlayOnAlone:
		return m.playOnAlone(e.Person())
	case Concussion:
		return m.concussion(e.Person())
	case VerbalWarning, TechnicalWarning, TechnicalFoul:
		return m.penalty(k, e.Side())
	case CarryWarning, CarryFoul:
		return m.carry(k, e.Person())
	case ChallengeLost, ChallengeWithdrawn:
		return m.challenge(k, e.Side())
	case GameForfeit:
		return m.gameForfeit(e.Side())
	case MatchForfeit:
		m.matchForfeit(e.Side())
		return NotRefused
	case DoubleForfeit:
		m.endMatch(DoubleForfeited, 0)
		m.did |= MatchForfeited
		return NotRefused
	case LateArrival:
		return m.late(e.Side(), e.Seconds())
	case Retirement:
		return m.retire(e.Side())
	case Withdrawal:
		return m.withdraw(e.Side())
	case Abandon:
		m.s.play |= aborted
		m.did |= Recorded
		return NotRefused
	case Resume:
		return m.resume()
	case Ejection, Expulsion:
		m.did |= Recorded
		return NotRefused
	case SheetReturned:
		return m.sheetReturned()
	}
	return LocalRule // Substitution
}

// canFollowTheEnd reports whether a kind of event can come after the last
// point, while the match is won but correctable.
func canFollowTheEnd(k Kind) bool {
	switch k {
	case SheetReturned, Ejection, Expulsion, VerbalWarning, TechnicalWarning, TechnicalFoul:
		return true
	}
	return false
}

// namesPartner reports whether the event names a second player of a side.
func (e Event) namesPartner() bool {
	switch forms[e.Kind()].shape {
	case personShape:
		return e&playerFlag != 0
	case startShape:
		return e.bits(argAt, 2) != 0
	}
	return false
}

// game returns how the game in play, or the last one, is played.
func (m *move) game() *game { return m.r.game(m.s.Game()) }

// rally plays a rally, after opening the game it belongs to.
func (m *move) rally(e Event) Refusal {
	opening := m.s.Phase() != Playing
	first, known := m.r.NextFirst(m.s)
	if opening && !known {
		return NoFirstServer
	}
	if refusal := m.readyToPlay(); refusal != NotRefused {
		return refusal
	}
	if opening {
		st, _ := m.s.Starters()
		m.open(first, st)
	}
	m.endBreak()
	if side, absent := m.absentDue(); absent &&
		(e.Kind() != RallyWon || e.Side() == side || e.Fault() != AbsentPlayer) {
		return AbsentDue
	}
	faultedBefore := m.s.PutRightDue()
	i, rides := e.Incident()
	if e.Kind() != Stop || i.Reach == ToItsEnd || i.Reach >= Struck {
		m.s.play &^= dutyBit // the next serve has come
	}
	switch {
	case rides:
		return m.ruled(e, i, faultedBefore)
	case e.Kind() == Replay:
		m.did |= PlayedAgain
		return NotRefused
	}
	return m.score(e.Side())
}

// readyToPlay reports what stands between the players and the next serve.
func (m *move) readyToPlay() Refusal {
	b, _ := m.s.Break()
	switch {
	case b >= BloodBreak:
		return Undealt
	case m.s.medicalPending():
		return AwaitingMedical
	case m.concussed():
		return PlayerIsOut
	}
	return NotRefused
}

// absentDue reports the side whose absent player is due to serve or receive.
// The server's fault comes first.
func (m *move) absentDue() (Side, bool) {
	if m.s.play&outMask == 0 {
		return A, false
	}
	p := m.r.Places(m.s)
	switch {
	case m.s.Absence(p.Server) != Present:
		return p.Server.Side(), true
	case m.s.Absence(p.Receiver) != Present:
		return p.Receiver.Side(), true
	}
	return A, false
}

// score gives a rally to a side.
func (m *move) score(winner Side) Refusal {
	g := m.game()
	before := m.s.order()
	own, other := uint8(m.s.Score(winner)), uint8(m.s.Score(winner.Other()))
	scored := g.scores(before, winner)
	if scored && g.Freeze != format.NoFreeze && winner != before.Side() && g.Frozen(own, other) {
		scored = false
		m.did |= Withheld
	}
	if scored {
		if own == format.MostPoints {
			return MostPoints
		}
		own++
		m.s.play += 1 << (scoreAAt + 8*int(winner))
		if g.Won(own, other) {
			m.did |= Point
			m.endGame(winner)
			m.did |= GameWon
			return NotRefused
		}
	}
	a, b := m.s.scores()
	after := g.order.Rally(before, winner, scored, a, b)
	m.s.setOrder(after)
	m.did |= rallyEffects(before, after, winner, scored)
	if scored {
		m.reach(own)
	}
	return NotRefused
}

// reach makes the mid-game end change due when a side has first reached it.
func (m *move) reach(score uint8) {
	g := m.game()
	if g.ChangeEndsAt == 0 || score < g.ChangeEndsAt || m.s.play&(midDue|midDone) != 0 || !m.changesInMidGame() {
		return
	}
	m.s.play |= midDue
	m.did |= EndsDue
}

// changesInMidGame leaves the mid-game change out of a last game that is not
// the last one played in turn, because an earlier game was forfeited unplayed:
// it belongs to the last game if the games played, this one included, are as
// many as the match can have, or differ from it by an even number.
func (m *move) changesInMidGame() bool {
	match := m.r.format.Match
	if !match.ChangeEnds || m.r.games[0].ChangeEndsAt != 0 {
		return true
	}
	return m.s.EndChanges() == int(match.Games-1)&1
}
