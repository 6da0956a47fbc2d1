package reference

import "strings"

// end ends the match for a side without a last point: by retirement (ret),
// withdrawal (wd) or forfeit (mf) of the other. The score stays readable.
func (m *Match) end(winner side, how string) {
	m.leaveCourt(over)
	m.forgetChoice()
	m.result = string(winner.letter()) + how
	m.did.add(matchWon)
	m.timeIn()
	m.waitNoMore()
}

// endForBoth ends the match with both sides forfeiting it: nobody wins.
func (m *Match) endForBoth() {
	m.leaveCourt(over)
	m.forgetChoice()
	m.result = "dmf"
	m.did.add(matchForfeit)
	m.timeIn()
	m.waitNoMore()
}

// forfeitGame gives the game in play, or the coming one if none is, to the
// other side. A game forfeited unplayed leaves first server and ends as they
// were: they wait for the next game that is played.
func (m *Match) forfeitGame(loser side) {
	if m.phase != inPlay {
		m.number++
		m.score = [2]int{}
		m.skipped = !m.skipped
	}
	m.winner = loser.other()
	m.won[m.winner]++
	m.leaveCourt(between)
	m.result = string(m.winner.letter()) + "gf"
	m.did.add(gameForfeit)
	m.decide()
}

// late enters a side that came late (rules 13.H, 13.I). Of two late sides the
// clock forfeits nothing of what both were late for: the director decides.
func (m *Match) late(s side, seconds int) {
	atGame, atMatch := m.book.number("late-game-seconds"), m.book.number("late-match-seconds")
	whole := seconds >= atMatch || seconds >= atGame && m.book.match.Games == 1
	lost := seconds >= atGame || whole // by this side
	switch {
	case !lost, m.lateMatch() && !whole:
		m.did.add(recorded) // what the other side forfeited stays
	case m.lateMatch():
		m.phase, m.result = before, ""
		m.did.add(recorded)
	case m.lateForfeit():
		m.number, m.won, m.phase, m.result, m.winner, m.skipped = 0, [2]int{}, before, "", noSide, false
		m.timeIn() // nothing runs before the match, and nothing has been used
		m.calls, m.medical = [2]int{}, perPerson{}
		if whole {
			m.loseLate(s)
		} else {
			m.did.add(recorded)
		}
	case whole:
		m.loseLate(s)
	default:
		m.forfeitGame(s)
	}
}

// loseLate ends the match for a side that came too late, with everything else as
// it was: should the other side be late too, it is taken back.
func (m *Match) loseLate(s side) {
	m.phase, m.result = over, string(s.other().letter())+"late"
	m.did.add(matchForfeit)
	m.did.add(matchWon)
}

// lateForfeit says whether game 1 was forfeited by lateness and nothing has
// happened since.
func (m *Match) lateForfeit() bool {
	return m.phase == between && !m.begun && m.number == 1 && m.forfeits == [2]int{}
}

// lateMatch says whether the match was forfeited by lateness.
func (m *Match) lateMatch() bool { return m.phase == over && strings.HasSuffix(m.result, "late") }

// lateLoser is the side that has forfeited by lateness what can be taken back.
func (m *Match) lateLoser() side {
	switch {
	case m.lateForfeit():
		return m.winner.other()
	case m.lateMatch():
		return sideIn(m.result[:1]).other()
	}
	return noSide
}

// abandoned says whether play was broken off.
func (m *Match) abandoned() bool { return m.paused && m.phase != closed }
