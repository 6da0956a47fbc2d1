package reference

import "github.com/evencourt/evencourt/format"

// A side is one team or player.
type side int

const (
	sideA side = iota
	sideB
	noSide side = -1
)

var bothSides = [2]side{sideA, sideB}

func (s side) other() side { return 1 - s }

func (s side) letter() byte { return "AB"[s] }

// A person is one of the four people entered for the match.
type person int

const (
	nobody person = iota
	a1
	a2
	b1
	b2
)

func personOf(s side, number int) person { return a1 + person(2*int(s)+number-1) }

func (p person) side() side { return side((p - 1) / 2) }

// number is the person's number on his side.
func (p person) number() int { return int(p-1)%2 + 1 }

// digit is that number as the line writes it, a dash for nobody.
func (p person) digit() byte { return "-1212"[p] }

// partner is the other person of a side of two.
func (p person) partner() person { return personOf(p.side(), 3-p.number()) }

// letters of the two service courts of a side, as its players see them when
// they look at the net. Facing courts of one letter are diagonal.
const (
	right = 'R'
	left  = 'L'
)

// letterOf is the service court that a score points to: right when it is even.
func letterOf(score int) byte {
	if score%2 == 0 {
		return right
	}
	return left
}

// courts are the two service courts of one side with whoever stands there.
type courts struct{ right, left person }

// in returns who stands in a court.
func (c *courts) in(letter byte) person {
	if letter == right {
		return c.right
	}
	return c.left
}

// swap lets the two walk past each other.
func (c *courts) swap() { c.right, c.left = c.left, c.right }

// walk sends somebody who has no partner to a court.
func (c *courts) walk(p person, letter byte) {
	*c = courts{}
	if letter == right {
		c.right = p
	} else {
		c.left = p
	}
}

// A floor is the whole court: the service courts of A and of B.
type floor [2]courts

// where finds the court somebody stands in.
func (f *floor) where(p person) byte {
	if f[p.side()].right == p {
		return right
	}
	return left
}

// receiver is whoever the serve goes to: the player in the court of the same
// letter, or the only player there is on the other side.
func (m *Match) receiver() person {
	other := m.server.side().other()
	if m.rules().Order == format.CountedTurns {
		return m.round.next
	}
	if m.inRound() && !m.singles() {
		return nobody // either may, or nobody says who does
	}
	if m.singles() {
		return personOf(other, 1)
	}
	return m.floor[other].in(m.floor.where(m.server))
}

// takePlaces puts everybody in place for the first serve of a game. Starting
// servers stand right, unless points given beforehand made their side's score
// odd: then they stand left (rule 4.B.2 in the wording of 2022). On fixed
// courts they stand right whatever the score, and the score picks the server.
func (m *Match) takePlaces() {
	g := m.rules()
	if m.inRound() {
		m.lineUp()
		return
	}
	m.server = personOf(m.first, m.starts[m.first])
	m.turn = int(g.Servers - g.FirstTurn + 1)
	if m.singles() {
		m.walkInSingles()
		return
	}
	for _, s := range bothSides {
		starter := m.starts[s]
		m.floor[s] = courts{right: personOf(s, starter), left: personOf(s, 3-starter)}
		if g.Order != format.FixedCourts && letterOf(m.score[s]) == left {
			m.floor[s].swap()
		}
	}
	m.keepServing()
}

// walkAfterPoint lets the partners walk whose side has scored in a rally.
func (m *Match) walkAfterPoint(scorer side, onServe bool) {
	if m.singles() {
		return
	}
	switch m.rules().Order {
	case format.ByParity:
		m.floor[scorer].swap()
	case format.SwapOnServe:
		if onServe {
			m.floor[scorer].swap()
		}
	}
}

// walkAfterPenalty lets people walk after a penalty moved the score of a side.
// The server and his number stay, but for fixed courts, where the score picks
// the server unless the edition is read otherwise.
func (m *Match) walkAfterPenalty(moved side) {
	if m.singles() {
		m.walkInSingles()
		return
	}
	switch m.rules().Order {
	case format.ByParity:
		m.floor[moved].swap()
	case format.SwapOnServe:
		if m.book.answers["swap-foul"] == "swap" {
			m.floor[moved].swap()
		} else if m.rules().Servers == 1 && moved == m.server.side() {
			m.server = m.floor[moved].in(letterOf(m.score[moved]))
		}
	case format.FixedCourts:
		if m.book.answers["fixed-court-foul"] == "parity" {
			m.keepServing()
		}
	}
}

// keepServing leaves the serve with the side that has it. The same player
// serves on, except where nobody moves: there the ball moves to the court
// that the side's score points to.
func (m *Match) keepServing() {
	if m.rules().Order == format.FixedCourts {
		s := m.server.side()
		m.server = m.floor[s].in(letterOf(m.score[s]))
	}
}

// takeOver gives the serve to a side that won it from the other.
func (m *Match) takeOver(s side) {
	m.turn = 1
	switch {
	case m.rules().Order == format.InTurn:
		m.passOn(s)
	case m.singles():
		m.server = personOf(s, 1)
	case m.rules().Order == format.ByParity:
		m.server = m.floor[s].right // always from the right, whoever stands there
	default:
		m.server = m.floor[s].in(letterOf(m.score[s]))
	}
}

// walkInSingles sends both players to where the next serve is played: by the
// server's score both of them, on half courts each by his own.
func (m *Match) walkInSingles() {
	if !m.singles() || m.inRound() {
		return
	}
	servers := m.score[m.server.side()]
	for _, s := range bothSides {
		score := servers
		if m.rules().Order == format.HalfCourt {
			score = m.score[s]
		}
		m.floor[s].walk(personOf(s, 1), letterOf(score))
	}
}
