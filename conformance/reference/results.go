package reference

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
	if m.lateForfeit() && seconds >= atGame { // now the other side has come late too
		m.number, m.won, m.phase, m.result, m.winner, m.skipped = 0, [2]int{}, before, "", noSide, false
		m.timeIn() // nothing runs before the match, and nothing has been used
		m.calls, m.medical = [2]int{}, perPerson{}
		if !whole {
			m.did.add(recorded)
			return
		}
	}
	switch {
	case whole:
		m.did.add(matchForfeit)
		m.end(s.other(), "mf")
	case seconds >= atGame:
		m.forfeitGame(s)
	default:
		m.did.add(recorded)
	}
}

// lateForfeit says whether game 1 was forfeited by lateness and nothing has
// happened since.
func (m *Match) lateForfeit() bool {
	return m.phase == between && !m.begun && m.number == 1 && m.forfeits == [2]int{}
}

// abandoned says whether play was broken off.
func (m *Match) abandoned() bool { return m.paused && m.phase != closed }
