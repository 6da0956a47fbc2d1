package rally

import "github.com/evencourt/evencourt/format"

// NextFirst returns the side that serves first in the coming game, by the
// format. It is false where that has to be chosen.
func (r *Rules) NextFirst(s State) (Side, bool) {
	first, known := s.First()
	if s.play&started == 0 {
		return first, known
	}
	switch r.format.Match.NextServe {
	case format.OtherSide:
		return first.Other(), true
	case format.Winner:
		return s.lastWinner(), true
	case format.Loser:
		return s.lastWinner().Other(), true
	}
	return A, false
}

// lastWinner returns the side that won the last game.
func (s State) lastWinner() Side {
	if winner, forfeited := s.ForfeitWinner(); forfeited {
		return winner
	}
	if s.Score(B) > s.Score(A) {
		return B
	}
	return A
}

// ForfeitWinner returns, between games, who won the last one by forfeit; its
// score is then that at which it was forfeited, not the one that is reported.
func (s State) ForfeitWinner() (Side, bool) {
	w := s.ledgerBits(winnerAt, 2)
	return Side((w - 1) & 1), s.Phase() == Between && w != 0
}

// startGame opens a game with starting servers that are named.
func (m *move) startGame(side Side, st Starters) Refusal {
	if m.s.Phase() == Playing {
		return InPlay
	}
	if first, known := m.r.NextFirst(m.s); known && first != side {
		return WrongSideFirst
	}
	if refusal := m.readyToPlay(); refusal != NotRefused {
		return refusal
	}
	m.open(side, st)
	return NotRefused
}

// open starts the next game: ends change first if another was played before.
func (m *move) open(first Side, st Starters) {
	s := &m.s
	if s.play&started != 0 && m.r.format.Match.ChangeEnds {
		s.play ^= endsBit
	}
	a, b := uint8(s.Opens(A)), uint8(s.Opens(B))
	m.endBreak()
	s.play &^= midDue | midDone | phaseMask | uint64(3)<<opensAt | uint64(7)<<choiceAt
	s.play |= started | knownBit | uint64(Playing)<<phaseAt
	s.setPlay(gameAt, 4, uint64(s.Game()+1))
	s.setScore(A, a)
	s.setScore(B, b)
	s.setOutcome(NotEnded, 0)
	s.setOrder(m.game().order.Start(first, st, a, b))
	m.did |= GameStarted
	if (a|b) != 0 && m.r.switchIs(format.PenaltyEndChange, format.Yes) {
		m.reach(a | b)
	}
}

// endGame counts a game for its winner and ends the match if that decides it.
func (m *move) endGame(winner Side) {
	s := &m.s
	s.setPlay(wonAAt+4*int(winner), 4, uint64(s.Won(winner)+1))
	s.play &^= orderMask | midDue | dutyBit
	s.ledger &^= timeOutsMask
	if m.r.switchIs(format.WarningScope, format.WarningScopeGame) {
		s.setLedger(warningAt, 6, 0)
	}
	match := m.r.format.Match
	switch last := s.Game() >= int(match.Games); {
	case !match.PlayAll && s.Won(winner) >= int(match.Needed()), last && s.Won(A) != s.Won(B):
		leader := A
		if s.Won(B) > s.Won(A) {
			leader = B
		}
		m.endMatch(Played, uint64(leader)+1)
	case last:
		m.endMatch(Tied, 3)
	default:
		s.setPlay(phaseAt, 3, uint64(Between))
	}
}

// endMatch closes play; what cannot matter any more is cleared, so that equal
// outcomes are equal states.
func (m *move) endMatch(c Cause, winner uint64) {
	s := &m.s
	m.endBreak()
	s.play &^= orderMask | midDue | dutyBit | uint64(3)<<opensAt | uint64(7)<<choiceAt
	s.ledger &^= timeOutsMask
	s.setPlay(phaseAt, 3, uint64(Over))
	s.setOutcome(c, winner)
	if winner == 1 || winner == 2 {
		m.did |= MatchWon
	}
}

// firstChoice takes one step of the first choice.
func (m *move) firstChoice(side Side, c Choice) Refusal {
	const deferredByA, endTakenByA = 1, 3 // and for B one more
	s := &m.s
	switch {
	case s.play&started != 0:
		return pastStart(s.Phase())
	case s.play&knownBit != 0:
		return FirstSettled
	case c == ChooseDefer && !m.r.switchIs(format.Defer, format.Yes):
		return NotInEdition
	}
	pending := s.playBits(choiceAt, 3)
	if pending != 0 && (pending-1)&1 == uint64(side) {
		return NotItsChoice
	}
	if pending != 0 && c == ChooseDefer || pending >= endTakenByA && c == ChooseEnd {
		return NotItsChoice
	}
	switch c {
	case ChooseDefer:
		s.setPlay(choiceAt, 3, deferredByA+uint64(side))
	case ChooseEnd:
		s.setPlay(choiceAt, 3, endTakenByA+uint64(side))
	case ChooseReceive:
		side = side.Other()
		fallthrough
	default:
		s.setPlay(choiceAt, 3, 0)
		s.play = s.play&^fixedMask | uint64(side)<<fixedAt | knownBit
		m.did |= FirstChosen
	}
	m.did |= Recorded
	return NotRefused
}

// pastStart is the refusal of what can only come before the first game.
func pastStart(p Phase) Refusal {
	if p == Playing {
		return InPlay
	}
	return FirstSettled
}

func (m *move) endsChanged() Refusal {
	if m.s.Phase() != Playing {
		return NotInPlay
	}
	if m.s.play&midDue == 0 {
		return NotDue
	}
	m.s.play = m.s.play&^midDue | midDone
	m.s.play ^= endsBit
	m.did |= EndsMade
	return NotRefused
}

// exchange lets partners on fixed courts trade them, at a time-out, an end
// change or between games.
func (m *move) exchange(side Side) Refusal {
	phase := m.s.Phase()
	b, _ := m.s.Break()
	if phase == Before || m.s.play&started == 0 {
		return NotStarted
	}
	o, ok := m.r.coming(m.s).order.Exchange(m.s.order(), side)
	switch {
	case !ok:
		return NotFixed
	case phase == Playing && b != TimeOutBreak && m.s.play&midDue == 0:
		return NotNow
	}
	m.s.setOrder(o)
	m.did |= Exchanged
	return NotRefused
}

// late records a side that came late to the match: enough of it forfeits the
// first game, more of it the match.
func (m *move) late(side Side, seconds int) Refusal {
	if m.s.Phase() != Before {
		return pastStart(m.s.Phase())
	}
	game, match := int(m.r.format.Rulings[format.LateGameSeconds]), int(m.r.format.Rulings[format.LateMatchSeconds])
	switch {
	case game == 0 || match == 0:
		return NotInEdition
	case seconds >= match, seconds >= game && m.r.format.Match.Games == 1:
		m.matchForfeit(side)
	case seconds >= game:
		m.forfeitComing(side)
	default:
		m.did |= Recorded
	}
	return NotRefused
}

// forfeitComing forfeits the coming game unplayed: nobody serves first in it
// and ends do not change for it.
func (m *move) forfeitComing(side Side) {
	m.s.setPlay(gameAt, 4, uint64(m.s.Game()+1))
	m.s.play &^= scoreMask | uint64(3)<<opensAt
	m.s.setPlay(midDoneAt, 1, 0)
	m.forfeitGame(side)
}

func (m *move) forfeitGame(side Side) {
	m.endGame(side.Other())
	if m.s.Phase() == Between {
		m.s.setOutcome(Forfeited, uint64(side.Other())+1)
	}
	m.did |= GameForfeited
}

// gameForfeit forfeits the game in play, or the coming one.
func (m *move) gameForfeit(side Side) Refusal {
	m.s.count(forfeitAt, 2, side)
	if m.s.Phase() == Playing {
		m.forfeitGame(side)
	} else {
		m.forfeitComing(side)
	}
	return NotRefused
}

func (m *move) matchForfeit(side Side) {
	m.endMatch(Forfeited, uint64(side.Other())+1)
	m.did |= MatchForfeited
}

// retire ends a match that has begun; withdraw one that has not.
func (m *move) retire(side Side) Refusal {
	if m.s.Phase() == Before {
		return NotStarted
	}
	m.endMatch(Retired, uint64(side.Other())+1)
	return NotRefused
}

func (m *move) withdraw(side Side) Refusal {
	if m.s.Phase() != Before {
		return NotNow
	}
	m.endMatch(Withdrew, uint64(side.Other())+1)
	return NotRefused
}

func (m *move) resume() Refusal {
	if m.s.play&aborted == 0 {
		return NotNow
	}
	m.s.play &^= aborted
	m.did |= Recorded
	return NotRefused
}

func (m *move) sheetReturned() Refusal {
	abandoned := m.s.play&aborted != 0
	if m.s.Phase() != Over && !abandoned {
		return NotNow
	}
	if abandoned {
		m.endMatch(Abandoned, 0)
		m.s.play &^= aborted
	}
	m.s.setPlay(phaseAt, 3, uint64(Closed))
	m.did |= SheetClosed
	return NotRefused
}
