// Package reference is a second, slow and readable model of a match, to be
// compared with the fast engine after every event.
//
// It shares nothing with that engine but the types of the formats and the texts
// of conformance/LINE.md. What the shapes are and what the editions answer is
// typed a second time (shapes.txt, editions.txt). Where the engine derives who
// serves from scores, this model lets four people stand on a floor and walk
// when the rule tells them to; the server is a person who keeps the ball until
// it is taken from him. Rulings are decision tables that name their clauses:
// troubles.txt for what goes wrong in a rally, the ladder of penalties, the
// reasons of refusals. An error of thought is then unlikely to be made twice in
// the same way.
package reference

import (
	"errors"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// The phases of a match are kept as the words that the line shows.
const (
	before  = "before"
	inPlay  = "play"
	between = "between"
	over    = "over"
	closed  = "closed"
)

// A Match is a match in progress. Make one with [New].
type Match struct {
	book *book // never written to, so that clones can share it
	next *book // by which the games are played from the next one on, if that has been decided

	// Games and points.
	phase  string
	number int    // of the game in play or of the last one
	won    [2]int // games
	score  [2]int // points of the game in play or of the last one
	opens  [2]int // points with which the coming game opens
	winner side   // of the last game
	result string // how the match ended, or how the last game did
	paused bool   // the match is abandoned

	// Who serves, and where people stand.
	first   side   // side that serves, or served, first in the game last played
	choice  choice // what one side has chosen, while the other has still to choose
	begun   bool   // a game has been played, if only in part
	floor   floor
	server  person // who has the ball; nobody outside play
	turn    int    // his server number
	round   round  // who serves after him, where people take turns
	starts  [2]int // starting servers, as their numbers on their sides
	ends    int    // end changes made, mod 2
	made    bool   // the mid-game change of this game has been made
	due     bool   // it ought to be made now
	skipped bool   // an odd number of games were forfeited unplayed
	right   bool   // the referee must see that the serving side is right
	walking bool   // partners on fixed courts may still exchange after an end change

	// The ledger.
	pause    string // event that began the break, "" without one
	calls    [2]int // standard time-outs used
	medical  perPerson
	out      perPerson
	verbals  [2]int
	warnings [2]int
	fouls    [2]int // given ones
	forfeits [2]int // of games, as penalties
	wrong    [2]int // wrong servers by the text of 1999
	carried  [4]carried
	brought  [2]tally // what of the counts was carried into the match

	did effects // what the event being done has done so far
}

// perPerson is a word about each of the four: of medical time asked and used,
// of absence x and c; 0 for nothing.
type perPerson [4]byte

func (w *perPerson) of(p person) byte     { return w[p-a1] }
func (w *perPerson) set(p person, v byte) { w[p-a1] = v }

// New returns a match before its first serve. First is "A", "B", or "" while
// nobody has chosen who serves first; starters are the numbers of the starting
// servers of A and B, for a rally that opens a game without a start event.
func New(f format.Format, first string, starters [2]int) (*Match, error) {
	if err := f.Validate(); err != nil {
		return nil, err
	}
	if !Taught(f.Edition) {
		return nil, errors.New("reference: nobody has typed what " + f.Edition.String() + " answers")
	}
	m := &Match{book: open(&f), phase: before, first: noSide, winner: noSide, starts: starters}
	switch first {
	case "":
	case "A":
		m.first = sideA
	case "B":
		m.first = sideB
	default:
		return nil, errors.New("reference: the side serving first must be A, B or empty")
	}
	for _, n := range starters {
		if n != 1 && (n != 2 || m.singles()) {
			return nil, errors.New("reference: no such starting server")
		}
	}
	return m, nil
}

// Clone returns a match that goes its own way from here.
func (m *Match) Clone() *Match {
	c := *m
	return &c
}

// OpenAt sets the points with which the coming game opens because of a
// penalty given before it. One of the two must be 0. The penalty itself is
// not recorded.
func (m *Match) OpenAt(a, b int) error {
	points := [2]int{a, b}
	g := m.book.of(m.number + 1)
	switch {
	case m.phase != before && m.phase != between:
		return errors.New("reference: no game is about to open")
	case a < 0 || b < 0 || a > 0 && b > 0:
		return errors.New("reference: only one side can open with points")
	case a >= int(g.Target) || b >= int(g.Target):
		return errors.New("reference: the game would be won before it began")
	}
	m.opens = points
	return nil
}

// is says whether the edition gives this answer to a switch.
func (m *Match) is(name, answer string) bool { return m.book.answers[name] == answer }

// answers says whether the edition gives an answer that is named with its
// switch, as in foul-value=award.
func (m *Match) answers(reading string) bool {
	name, answer, _ := strings.Cut(reading, "=")
	return m.is(name, answer)
}

// rules returns how the game in play, or the last one, is played.
func (m *Match) rules() *format.Game { return m.book.of(m.number) }

// coming returns how the game is played that a time-out, an exchange or a
// start would belong to now.
func (m *Match) coming() *format.Game {
	switch {
	case m.phase == inPlay:
		return m.rules()
	case m.next != nil:
		return m.next.of(m.number + 1)
	}
	return m.book.of(m.number + 1)
}

// playedBy is what a rally would be played by now: a format that is to come comes
// with the rally that opens its game.
func (m *Match) playedBy() *book {
	if m.phase != inPlay && m.next != nil {
		return m.next
	}
	return m.book
}

func (m *Match) singles() bool { return m.book.game.Sides == format.Singles }

// servesNext says which side serves first in the coming game, if that is
// settled. The first choice holds for the first game that is played.
func (m *Match) servesNext() side {
	if !m.begun {
		return m.chosen()
	}
	switch m.book.match.NextServe {
	case format.OtherSide:
		return m.first.other()
	case format.Winner:
		return m.winner
	case format.Loser:
		return m.winner.other()
	}
	return noSide
}

// opening begins the next game, side first having the serve.
func (m *Match) opening(first side) {
	if m.next != nil {
		m.nextBook()
	}
	m.number++
	if m.begun && m.book.match.ChangeEnds {
		m.ends = 1 - m.ends
	}
	m.phase, m.first, m.choice, m.begun, m.made, m.due = inPlay, first, 0, true, false, false
	m.score, m.opens, m.result = m.opens, [2]int{}, ""
	m.did.add(gameStarted)
	m.takePlaces()
	for _, s := range bothSides {
		if m.is("penalty-end-change", "yes") {
			m.watchEnds(s)
		}
	}
}

// rally plays a rally that winner won.
func (m *Match) rally(winner side) {
	serving := m.server.side()
	held := winner == serving

	switch {
	case m.wouldScore(winner):
		m.score[winner]++
		m.did.add(point)
		if m.hasWon(winner) {
			m.endGame(winner)
			return
		}
		m.watchEnds(winner)
		if m.counts() {
			m.countPoint(winner)
			return
		}
		m.walkAfterPoint(winner, held)
	case m.rules().Scorer == format.EitherSide:
		m.did.add(withheld)
	}
	switch {
	case held:
		m.keepServing()
	case m.turn < int(m.rules().Servers):
		m.server = m.server.partner() // he serves from wherever he stands by now
		m.turn++
		m.did.add(secondServer)
	default:
		m.takeOver(winner)
		m.did.add(sideOut)
	}
	m.walkInSingles()
}

// wouldScore says whether winning the next rally brings a side a point.
func (m *Match) wouldScore(winner side) bool {
	return winner == m.server.side() || m.rules().Scorer == format.EitherSide && !m.frozen(winner)
}

// hasWon says whether a side that has just scored wins the game by it: more
// points than the other side, and either the target with the margin or the
// cap. It is asked of the scorer only: where a penalty left target and margin
// met without ending the game, the game goes on until somebody scores.
func (m *Match) hasWon(s side) bool { return wins(m.rules(), m.score[s], m.score[s.other()]) }

func wins(g *format.Game, own, other int) bool {
	atCap := g.Cap > 0 && own >= int(g.Cap)
	ahead := own >= int(g.Target) && own-other >= int(g.WinBy)
	return own > other && (atCap || ahead)
}

// frozen says whether a side gets no point for a rally that it wins as
// receivers. Only the present score counts; nothing is remembered.
func (m *Match) frozen(s side) bool {
	g := m.rules()
	own, other := m.score[s], m.score[s.other()]
	point := int(g.Target) - 1
	switch g.Freeze {
	case format.WinOnServe:
		return wins(g, own+1, other)
	case format.EachAtPoint:
		return own >= point
	case format.LeaderAndTrailer:
		return own >= point || own >= point-2 && other >= point
	case format.BothAtPoint:
		return own >= point || other >= point
	}
	return false
}

// watchEnds makes the end change due when a side that has just gained a point
// has reached the midpoint. It is due once in a game at most, and not in
// a last game that is only the second or fourth one played.
func (m *Match) watchEnds(s side) {
	if every := int(m.rules().ChangeEndsEvery); every > 0 {
		// Who has missed a change when the next falls due stands right again.
		if (m.score[sideA]+m.score[sideB])%every == 0 {
			m.due = !m.due
		} else {
			return
		}
		if m.due {
			m.did.add(endsDue)
			m.mayWalk()
		}
		return
	}
	at := int(m.rules().ChangeEndsAt)
	if at == 0 || m.score[s] < at || m.due || m.made || m.skipped && m.number == int(m.book.match.Games) {
		return
	}
	m.due = true
	m.did.add(endsDue)
	m.mayWalk()
}

// mayWalk lets partners on fixed courts exchange until the next rally.
func (m *Match) mayWalk() { m.walking = m.rules().Order == format.FixedCourts }

// endGame books the game for a side and sends everybody off the court.
func (m *Match) endGame(winner side) {
	m.won[winner]++
	m.winner = winner
	m.leaveCourt(between)
	m.did.add(gameWon)
	m.decide()
}

// leaveCourt ends a game: nobody stands or serves, time-outs are new, and what
// was due is so no longer.
func (m *Match) leaveCourt(phase string) {
	m.phase = phase
	m.floor, m.server, m.turn, m.round = floor{}, nobody, 0, round{}
	m.calls, m.opens = [2]int{}, [2]int{}
	m.due, m.right, m.walking = false, false, false
	if m.is("warning-scope", "game") {
		m.warnings = [2]int{}
	}
}

// decide ends the match if the games won decide it, or if all are played.
func (m *Match) decide() {
	if !m.book.decides(m.won) {
		return
	}
	m.phase = over
	m.forgetChoice()
	m.timeIn() // a break can run here only when a penalty ended the game
	m.waitNoMore()
	switch {
	case m.won[sideA] == m.won[sideB]:
		m.result = "tie"
	case m.won[sideA] > m.won[sideB]:
		m.result = "A"
		m.did.add(matchWon)
	default:
		m.result = "B"
		m.did.add(matchWon)
	}
}

// timeIn ends the break if one is running.
func (m *Match) timeIn() {
	if m.pause == "" {
		return
	}
	m.pause = ""
	m.did.add(timeIn)
}
