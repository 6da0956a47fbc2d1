package reference

import "github.com/evencourt/evencourt/format"

// change changes the format by decision of an official (words: format ID WHEN
// AUTHORITY), now or from the next game on. It is refused where the number of
// players differs, where the places cannot be taken over, where more time-outs
// are used than there would be, and where the match or the game would be over.
func (m *Match) change(words []string) string {
	f, err := format.Parse(words[1])
	if err != nil {
		return "malformed"
	}
	b := open(&f)
	switch {
	case m.phase == over:
		return "over"
	case b.game.Sides != m.book.game.Sides, m.decidedBy(b, words[2] == "next"):
		return "not-now"
	}
	to := m.Clone()
	if words[2] == "next" {
		if to.next = b; m.phase != inPlay && to.tooManyCalls() {
			return "not-now"
		}
		*m = *to
		return ""
	}
	to.book, to.next = b, nil
	g := to.coming()
	if to.tooManyCalls() || m.phase == between && to.result == "" && !to.isFinal() {
		return "not-now"
	}
	for _, s := range bothSides {
		if m.phase == inPlay && wins(g, to.score[s], to.score[s.other()]) {
			return "not-now"
		}
	}
	if m.phase == inPlay && g.Servers != m.rules().Servers {
		to.turn = 1
	}
	if m.phase == inPlay && to.singles() {
		to.walkInSingles() // who has no partner walks to where he is due
	}
	if m.phase == inPlay && g.Order != m.rules().Order && (to.inRound() || m.inRound()) {
		return "not-now" // who serves in turn comes from no place
	}
	if m.phase == inPlay && !to.placesFit() {
		return "not-now"
	}
	if m.phase == inPlay && to.inRound() {
		to.rejoin(m.server, m.receiver())
	}
	to.forgetUnknown()
	if m.phase == inPlay && b.match.Games == 1 && g.ChangeEndsEvery == 0 && (to.ends == 1) != to.made {
		return "not-now" // there ends are changed in mid-game only
	}
	*m = *to
	return ""
}

// forgetUnknown drops what the format in force has no rule for: penalties that
// were carried in, the wrong servers of 1999, the duty to put a side right, a
// mid-game change of ends.
func (m *Match) forgetUnknown() {
	if !m.is("carried-penalties", "yes") {
		m.carried, m.brought = [4]carried{}, [2]tally{}
	}
	if !m.is("order-error", "stands-warned") {
		m.wrong = [2]int{}
	}
	if !m.is("order-error", "fault") || m.phase == inPlay && m.rules().Servers == 1 {
		m.right = false // nobody is faulted there and serves on
	}
	m.walking = m.walking && m.rules().Order == format.FixedCourts
	if g := m.rules(); m.phase == inPlay && g.ChangeEndsAt == 0 && g.ChangeEndsEvery == 0 {
		m.due, m.made, m.walking = false, false, false // of a mid-game change that this game does not have
	}
}

// tooManyCalls says whether more time-outs are used than the game gives.
func (m *Match) tooManyCalls() bool {
	most := int(m.coming().TimeOuts)
	return m.calls[sideA] > most || m.calls[sideB] > most
}

// decidedBy says whether the games won decide a match of that kind. Before
// the next game it is asked for each winner of the game in play after whom
// there is a next game, and there must be such a one.
func (m *Match) decidedBy(b *book, beforeNext bool) bool {
	if !beforeNext || m.phase != inPlay {
		return b.decides(m.won)
	}
	goesOn := false
	for _, s := range bothSides {
		won := m.won
		won[s]++
		if !m.book.decides(won) {
			if b.decides(won) {
				return true
			}
			goesOn = true
		}
	}
	return !goesOn
}
