package reference

import (
	"slices"
	"strings"
)

// Do plays one event. It returns the effects in their listed order, or the
// code of the reason why the event is refused; a refused event changes
// nothing. Corrections are for a [Log].
func (m *Match) Do(event string) (effects []string, refusal string) {
	m.did = 0
	word, _, _ := strings.Cut(event, " ")
	o, ok := read(event)
	switch {
	case slices.Contains(corrections, word):
		return nil, "log-only"
	case !ok:
		return nil, "malformed"
	}
	by := m.Clone()
	reason := ""
	if m.next == nil || !m.opensComing(o) {
		reason = by.refuses(o)
	}
	if reason == "" && m.next != nil && (m.opensComing(o) || m.forfeitsComing(o)) {
		by.nextBook()
		reason = by.refuses(o)
	}
	if reason != "" {
		return nil, reason
	}
	by.carry(o)
	*m = *by
	return m.did.names(), ""
}

// carry carries out an event that nothing forbids.
func (m *Match) carry(o order) {
	switch o.word {
	case "rally", "replay", "stop":
		m.play(o)
	case "g":
		m.timeIn()
		m.starts = o.starts
		m.opening(o.side)
	case "ends":
		m.ends, m.due, m.made = 1-m.ends, false, m.rules().ChangeEndsEvery == 0
		m.did.add(endsChanged)
		m.mayWalk()
	case "x":
		m.exchange(o.side)
	case "t":
		m.pauseFor(o.text)
		m.charge(o.side)
	case "eq", "ref", "hazard":
		m.pauseFor(o.text) // safety never waits for another break to end
	case "blood", "illness":
		m.pauseFor(o.text)
		m.did.add(help)
	case "in":
		m.timeIn()
	case "dealt":
		m.dealWith()
	case "m":
		m.askMedical(o.person)
	case "m+", "m-", "mw":
		m.answerMedical(o)
	case "out":
		m.lose(o.person, 'x')
	case "c":
		m.lose(o.person, 'c')
	case "vw":
		count(&m.verbals[o.side], mostVerbals)
		m.did.add(verbalWarning)
		if m.phase == over {
			m.did.add(recorded)
		}
	case "tw":
		m.warn(o.side)
	case "tf":
		m.penalize(o.side)
	case "cv", "cw", "cf", "cv=", "cw=", "cf=":
		m.bring(o.person, bringing(o.word), strings.HasSuffix(o.word, "="))
	case "gf":
		count(&m.forfeits[o.side], mostForfeits)
		m.forfeitGame(o.side)
	case "mf":
		m.did.add(matchForfeit)
		m.end(o.side.other(), "mf")
	case "dmf":
		m.endForBoth()
	case "ej", "ex", "aid":
		m.did.add(recorded) // nothing on court changes
	case "late":
		m.late(o.side, o.seconds)
	case "lost":
		m.challenge(o.side, true)
	case "back":
		m.challenge(o.side, false)
	case "fc":
		m.choose(o)
	case "ret", "wd":
		m.end(o.side.other(), o.word)
	case "abandon", "resume":
		m.paused = o.word == "abandon"
		m.did.add(recorded)
	case "sheet":
		if m.abandoned() {
			m.leaveCourt(closed)
			m.forgetChoice()
			m.result = ""
			m.timeIn()
			m.waitNoMore()
		}
		if m.lateMatch() { // what lateness forfeited stays so
			m.forgetChoice()
			m.opens, m.result = [2]int{}, m.result[:1]+"mf"
		}
		m.phase = closed
		m.did.add(sheetClosed)
	}
}

// opensComing says whether an event opens the coming game, forfeitsComing whether
// it forfeits it unplayed: then it is the first by the book of that game.
func (m *Match) opensComing(o order) bool {
	return m.phase != inPlay && (o.word == "g" || slices.Contains(strings.Fields(rallies), o.word))
}

func (m *Match) forfeitsComing(o order) bool {
	if m.phase == inPlay {
		return false
	}
	as := m.Clone()
	as.carry(o)
	return as.did.has(gameForfeit) && as.phase != inPlay || o.word == "late" && as.did.has(matchForfeit)
}

// nextBook opens the book of the coming game.
func (m *Match) nextBook() {
	m.book, m.next = m.next, nil
	m.forgetUnknown()
	for s := range m.calls {
		m.calls[s] = min(m.calls[s], int(m.coming().TimeOuts))
	}
}

// bringing is what an event says that somebody brings along.
func bringing(word string) carried {
	return map[string]carried{"cv": carriedVerbal, "cw": carriedWarning, "cf": carriedFoul}[word[:2]]
}

// exchange lets the partners of a side change courts of their own accord,
// which they may only do where the order moves nobody. From then on whoever
// stands right counts as the starting server.
func (m *Match) exchange(s side) {
	m.starts[s] = 3 - m.starts[s]
	m.did.add(exchanged)
	if m.phase == inPlay {
		m.floor[s].swap()
		m.keepServing()
	}
}

// play plays a rally, opening the next game first if none is in play: a scorer
// who forgets to say that the game has begun still says who won. Whoever plays
// a rally has come back from the break.
func (m *Match) play(o order) {
	m.timeIn()
	if m.phase != inPlay {
		m.opening(m.servesNext())
	}
	ruling := m.rule(o)
	if ruling.struck {
		m.right, m.walking = false, false
	}
	m.enforce(o, ruling)
}
