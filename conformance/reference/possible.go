package reference

import (
	"strings"

	"github.com/evencourt/evencourt/format"
)

// What no play and no penalty can bring about. A position that one of the rows
// speaks of cannot be stated; what they do not speak of can.
var impossible = []struct {
	about string
	is    func(m *Match) bool
}{
	// Games and match.
	{"before the match nothing is won or played", func(m *Match) bool {
		return m.phase == before && (m.number != 0 || m.won != [2]int{} || m.score != [2]int{} || m.begun || m.ends != 0)
	}},
	{"before the match nobody has had time out", func(m *Match) bool {
		return m.phase == before && (m.medical != perPerson{} || m.calls != [2]int{})
	}},
	{"a game that was begun has its number", func(m *Match) bool { return m.begun && m.number == 0 }},
	{"a phase there is", func(m *Match) bool {
		return m.phase != before && m.phase != inPlay && m.phase != between && m.phase != over && m.phase != closed
	}},
	{"no more games than the match has", func(m *Match) bool { return m.number > int(m.book.match.Games) }},
	{"each game before this one has been won", func(m *Match) bool { return m.phase == inPlay && m.won[sideA]+m.won[sideB] != m.number-1 }},
	{"each game so far has been won", func(m *Match) bool {
		return m.phase == between && (m.number == 0 || m.won[sideA]+m.won[sideB] != m.number)
	}},
	{"a match that is decided is over", func(m *Match) bool { return (m.phase == inPlay || m.phase == between) && m.book.decides(m.won) }},
	{"nobody wins more games than were played, or after the match was decided", func(m *Match) bool {
		most := int(m.book.match.Games)/2 + 1
		return m.won[sideA]+m.won[sideB] > m.number || !m.book.match.PlayAll && max(m.won[sideA], m.won[sideB]) > most
	}},
	{"a match played to its end had a winner of every game", func(m *Match) bool {
		return m.phase == over && len(m.result) == 1 && m.won[sideA]+m.won[sideB] != m.number
	}},
	{"where no game was begun nobody has a point", func(m *Match) bool { return m.phase != inPlay && !m.begun && m.score != [2]int{} }},
	{"a match won by games is decided", func(m *Match) bool { return m.phase == over && len(m.result) == 1 && !m.book.decides(m.won) }},
	{"the winner has more games", func(m *Match) bool {
		w := sideIn(m.result)
		return w != noSide && m.won[w] <= m.won[w.other()]
	}},
	{"a tie is of equal games", func(m *Match) bool {
		return m.result == "tie" && (m.won[sideA] != m.won[sideB] || !m.book.match.PlayAll)
	}},
	{"nobody plays on after a forfeit, and a match in play has no result", func(m *Match) bool {
		switch m.phase {
		case before, inPlay:
			return m.result != ""
		case between:
			return m.result != "" && m.result != "Agf" && m.result != "Bgf"
		case over:
			return m.result == "" || strings.HasSuffix(m.result, "gf") || m.paused
		}
		return false
	}},
	{"lateness forfeits a match before its first game", func(m *Match) bool {
		return strings.HasSuffix(m.result, "late") && (m.phase != over || m.begun || m.number != 0)
	}},
	{"a final is a score at which a game ends", func(m *Match) bool {
		return (m.phase == between && m.result == "" || m.phase == over && len(m.result) == 1 && m.forfeits == [2]int{}) && !m.isFinal()
	}},

	// The game in play.
	{"a game that is won is over", func(m *Match) bool { return m.phase == inPlay && m.wonAlready() }},
	{"a game goes on from no score that the point before would have ended", func(m *Match) bool {
		return m.phase == inPlay && endsAll(m.rules(), max(m.score[sideA], m.score[sideB])) && m.behindUnfouled()
	}},
	{"somebody serves", func(m *Match) bool { return m.phase == inPlay && (m.server == nobody || m.first == noSide || !m.begun) }},
	{"people stand where they belong", func(m *Match) bool { return m.phase == inPlay && m.server != nobody && !m.placesFit() }},
	{"nobody stands on court outside a game", func(m *Match) bool { return m.phase != inPlay && (m.server != nobody || m.floor != floor{}) }},
	{"a starting server there is", func(m *Match) bool { return m.singles() && m.begun && m.starts != [2]int{1, 1} }},
	{"a game that was played had a first server", func(m *Match) bool { return m.begun && (m.first == noSide || m.choice != 0) }},
	{"a choice is half made before the first game", func(m *Match) bool { return m.choice != 0 && (m.phase == over && !m.lateMatch() || m.phase == closed) }},
	{"points to open with are those of one side, outside a game", func(m *Match) bool {
		return m.opens != [2]int{} && (m.phase != before && m.phase != between && !m.lateMatch() || m.opens[sideA] > 0 && m.opens[sideB] > 0)
	}},
	{"points to open with come from penalties", func(m *Match) bool { // how many, warnings of a game may have been forgotten with it
		return m.opens[sideA] > 0 && m.penalties(sideB) == 0 || m.opens[sideB] > 0 && m.penalties(sideA) == 0
	}},
	{"two points to open with are fouls that two partners brought: a second one that is given forfeits", func(m *Match) bool {
		for _, s := range []side{sideA, sideB} {
			if m.opens[s] > 1 && (m.phase == between || m.singles() || m.fouls[s.other()] < 2) {
				return true
			}
		}
		return false
	}},

	// What is due.
	{"an end change is due in a game that has one", func(m *Match) bool {
		return m.due && (m.phase != inPlay || m.rules().ChangeEndsAt+m.rules().ChangeEndsEvery == 0 || m.made)
	}},
	{"in a single game ends change in mid-game only", func(m *Match) bool {
		return m.book.match.Games == 1 && m.book.last.ChangeEndsEvery == 0 && (m.ends == 1) != m.made
	}},
	{"partners exchange at an end change, on fixed courts", func(m *Match) bool {
		return m.walking && (m.phase != inPlay || m.rules().Order != format.FixedCourts || !m.due && !m.made && m.rules().ChangeEndsEvery == 0)
	}},
	{"in a single game ends have been changed as often as the points say, but for one that is due", func(m *Match) bool {
		every := 0
		if m.phase == inPlay && m.book.match.Games == 1 && m.penalties(sideA)+m.penalties(sideB) == 0 {
			every = int(m.rules().ChangeEndsEvery)
		}
		return every > 0 && ((m.score[sideA]+m.score[sideB])/every+m.ends)%2 == 1 != m.due
	}},
	{"ends were changed in mid-game in a game that has it", func(m *Match) bool { return m.made && (m.number == 0 || m.rules().ChangeEndsAt == 0) }},
	{"a side is put right where an error of order is a fault", func(m *Match) bool {
		return m.right && (m.phase != inPlay || !m.is("order-error", "fault") || m.turn != 2)
	}},

	// The ledger.
	{"no more time-outs than there are", func(m *Match) bool {
		most := 0
		if m.phase != over && m.phase != closed {
			most = int(m.coming().TimeOuts)
		}
		return max(m.calls[sideA], m.calls[sideB]) > most
	}},
	{"no break after the match", func(m *Match) bool { return m.pause != "" && (m.phase == over || m.phase == closed) }},
	{"no break before the match", func(m *Match) bool { return m.pause != "" && m.phase == before }},
	{"a time-out that runs has been charged, but for a game forfeited since", func(m *Match) bool {
		return m.phase == inPlay && m.atTimeOut() && m.calls[sideIn(m.pause[1:])] == 0
	}},
	{"a medical break is somebody's who asked", func(m *Match) bool { return m.atMedical() && m.medical.of(personIn(m.pause[1:])) == 0 }},
	{"an open request has a break running", func(m *Match) bool { return m.asking() && m.pause == "" && m.phase != over && m.phase != closed }},
	{"medical time is granted for later while something is dealt with", func(m *Match) bool {
		return m.medical.any(granted) != nobody && !m.undealt()
	}},
	{"in singles there is no partner", func(m *Match) bool {
		others := []person{a2, b2}
		for _, p := range others {
			if m.singles() && (m.medical.of(p) != 0 || m.out.of(p) != 0 || m.carried[p-a1] != 0) {
				return true
			}
		}
		return m.singles() && (strings.HasSuffix(m.pause, "A2") || strings.HasSuffix(m.pause, "B2") || m.out.any('x') != nobody)
	}},
	{"one partner plays on alone", func(m *Match) bool {
		return m.out.of(a1) == 'x' && m.out.of(a2) == 'x' || m.out.of(b1) == 'x' && m.out.of(b2) == 'x'
	}},
	{"counts that the edition has", func(m *Match) bool {
		return m.wrong != [2]int{} && !m.is("order-error", "stands-warned") || m.carried != [4]carried{} && !m.is("carried-penalties", "yes")
	}},
}

// possible says whether play and penalties can bring the position about.
func (m *Match) possible() bool {
	for _, row := range impossible {
		if row.is(m) {
			return false
		}
	}
	return true
}

// penalties is how often a side has been fouled or warned.
func (m *Match) penalties(s side) int { return m.fouls[s] + m.warnings[s]/2 }

// behindUnfouled says whether the side behind, or where they are level each,
// has no penalty that could have taken a point off it or given the other one.
func (m *Match) behindUnfouled() bool {
	for _, s := range bothSides {
		if m.score[s] <= m.score[s.other()] && m.penalties(s) > 0 {
			return false
		}
	}
	return true
}

// wonAlready says whether the score of the game in play is one at which it
// would be over, whatever penalties took off the side behind since, which ends
// nothing, or gave the side ahead where that ends nothing.
func (m *Match) wonAlready() bool {
	for _, s := range bothSides {
		own, other, since := m.score[s], m.score[s.other()], m.penalties(s.other())
		if m.is("awarded-point-wins", "no") {
			own -= since
		} else {
			other += since
		}
		if wins(m.rules(), own, other) {
			return true
		}
	}
	return false
}

// endsAll says whether no game goes on once a side has so many points, whatever
// the other has.
func endsAll(g *format.Game, points int) bool {
	return g.Cap > 0 && points >= int(g.Cap) || g.WinBy == 1 && points >= int(g.Target)
}

// isFinal says whether the last game can have ended so.
func (m *Match) isFinal() bool {
	g := m.rules()
	s := sideA
	if m.score[sideB] > m.score[sideA] {
		s = sideB
	}
	own, other := m.score[s], m.score[s.other()]
	if !wins(g, own, other) || g.Cap > 0 && own > int(g.Cap) {
		return false
	}
	return !wins(g, own-1, other) && !endsAll(g, own-1) || m.penalties(s.other()) > 0 || m.is("warning-scope", "game") // with the game, its warnings are forgotten
}

// placesFit says whether the order of service puts people where they stand.
func (m *Match) placesFit() bool {
	g := m.rules()
	if m.turn < 1 || m.turn > int(g.Servers) {
		return false
	}
	at := m.Clone()
	if m.inRound() {
		return at.rejoin(m.server, m.receiver()) && at.floor == m.floor
	}
	if m.singles() {
		at.walkInSingles()
		return at.floor == m.floor && m.server.number() == 1
	}
	for _, s := range bothSides {
		if c := m.floor[s]; c.right == nobody || c.left == nobody || c.right == c.left {
			return false
		}
		starter := personOf(s, m.starts[s])
		switch g.Order {
		case format.ByParity:
			if m.floor.where(starter) != letterOf(m.score[s]) {
				return false
			}
		case format.FixedCourts:
			if m.floor[s].right != starter {
				return false
			}
		}
	}
	court := letterOf(m.score[m.server.side()])
	switch g.Order {
	case format.FixedCourts:
		return m.floor.where(m.server) == court || m.is("fixed-court-foul", "same-server")
	case format.SwapOnServe:
		return m.floor.where(m.server) == court
	}
	return true
}
