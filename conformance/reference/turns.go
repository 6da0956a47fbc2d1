package reference

import "github.com/evencourt/evencourt/format"

// A round is how people take turns at serving where it is not their places that
// say who serves.
type round struct {
	next person       // counted turns: who serves when this turn is over; in table tennis he receives
	left int          // counted turns: points left of this turn
	rows [2][2]person // partners in turn: of each side who serves the next time, and his partner
}

// inRound says whether people take turns in the game in play.
func (m *Match) inRound() bool { return m.counts() || m.rules().Order == format.InTurn }

func (m *Match) counts() bool {
	return m.rules().Order == format.CountedTurns || m.rules().Order == format.TieBreak
}

// partner is who serves for a side after p: p himself where he has no partner.
func (m *Match) partner(p person) person {
	if m.singles() {
		return p
	}
	return p.partner()
}

// lineUp puts people in a row for the first turn of a game.
func (m *Match) lineUp() {
	m.server = personOf(m.first, m.starts[m.first])
	m.turn = 1
	m.round = round{}
	if m.counts() {
		m.round.next = personOf(m.first.other(), m.starts[m.first.other()])
		m.round.left = int(m.rules().FirstTurn)
		for range m.score[sideA] + m.score[sideB] { // what a game opens with counts, though nobody served for it
			if m.round.left--; m.round.left == 0 {
				m.takeTurn()
			}
		}
	} else {
		for _, s := range bothSides {
			starter := personOf(s, m.starts[s])
			m.round.rows[s] = [2]person{starter, m.partner(starter)}
		}
	}
	m.stand()
}

// countPoint takes a point off the turn. From level one short of the target every point
// is a turn, in table tennis. In its last possible game of doubles the pair due to
// receive changes its order when a pair first has the points for it.
func (m *Match) countPoint(scorer side) {
	g := m.rules()
	m.round.left--
	level := min(m.score[sideA], m.score[sideB]) >= int(g.Target)-1
	if m.round.left == 0 || level && g.Order == format.CountedTurns {
		m.takeTurn()
		m.did.add(sideOut)
	}
	at := int(g.ChangeEndsAt)
	if g.Order == format.CountedTurns && at > 0 && m.score[scorer] == at && m.score[scorer.other()] < at {
		m.round.next = m.partner(m.round.next)
	}
	m.stand()
}

// takeTurn lets who waits serve; the old server's partner waits.
func (m *Match) takeTurn() {
	m.server, m.round.next = m.round.next, m.partner(m.server)
	m.round.left = int(m.rules().Serves)
}

// passOn lets a side serve that has won the serve: the player at the head of its
// row. Who has served goes to the end of his.
func (m *Match) passOn(to side) {
	m.round.rows[to.other()] = [2]person{m.partner(m.server), m.server}
	m.server = m.round.rows[to][0]
}

// stand sends people to where they serve and receive, if there is a place for it.
func (m *Match) stand() {
	m.floor = floor{}
	switch g := m.rules(); {
	case g.Order == format.CountedTurns && !m.singles():
		for _, p := range []person{m.server, m.round.next} {
			m.floor[p.side()] = courts{right: p, left: p.partner()}
		}
	case g.Order == format.TieBreak && m.singles():
		for _, s := range bothSides {
			m.floor[s].walk(personOf(s, 1), letterOf(m.score[sideA]+m.score[sideB]))
		}
	}
}

// servesFrom is the letter of the court that the server is in, '-' without one.
func (m *Match) servesFrom() byte {
	switch {
	case m.rules().Order == format.TieBreak:
		return letterOf(m.score[sideA] + m.score[sideB])
	case m.inRound() && m.floor == floor{}:
		return '-'
	}
	return m.floor.where(m.server)
}

// mustFollow returns who has to receive first when p serves first in the coming
// game: in doubles of table tennis who served to him in the game before.
func (m *Match) mustFollow(p person) person {
	server, receiver := personOf(m.first, m.starts[m.first]), personOf(m.first.other(), m.starts[m.first.other()])
	for range 4 {
		if receiver == p {
			return server
		}
		server, receiver = receiver, server.partner()
	}
	return nobody
}

// rejoin finds the row of people again of whom only is known who serves and, in
// table tennis, who receives: it walks from the start of the game to the score in
// ways that matter. It is false where none leads there.
func (m *Match) rejoin(server, receives person) bool {
	score, did := m.score, m.did
	defer func() { m.score, m.did = score, did }()
	found := func() bool {
		return m.server == server && (m.rules().Order != format.CountedTurns || m.round.next == receives)
	}
	if !m.counts() {
		m.lineUp()
		for range 4 {
			if found() {
				return true
			}
			m.passOn(m.server.side().other())
		}
		return false
	}
	at := int(m.rules().ChangeEndsAt)
	for _, leader := range bothSides {
		for others := 0; others < max(at, 1); others++ {
			m.score = [2]int{}
			m.lineUp()
			if at > 0 && score[leader] >= at && score[leader.other()] >= others {
				var turned [2]int
				turned[leader], turned[leader.other()] = at, others
				m.walkTo(turned)
			}
			m.walkTo(score)
			if found() {
				return true
			}
		}
	}
	return false
}

// walkTo plays points up to a score, to the side behind first.
func (m *Match) walkTo(score [2]int) {
	for m.score != score {
		s := sideA
		if m.score[sideA] >= score[sideA] || m.score[sideB] < score[sideB] && m.score[sideB] < m.score[sideA] {
			s = sideB
		}
		m.score[s]++
		m.countPoint(s)
	}
}
