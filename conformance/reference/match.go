// Package reference is a second, slow and readable model of a match, to be
// compared with the fast engine after every event.
//
// It shares nothing with that engine but the formats as data and the texts of
// conformance/LINE.md. Where the engine derives who serves from scores, this
// model lets four people stand on a floor and walk when the rule tells them
// to; the server is a person who keeps the ball until it is taken from him.
// An error of thought is then unlikely to be made twice in the same way.
package reference

import (
	"errors"

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
	format *format.Format // never written to, so that clones can share it
	phase  string
	number int     // of the game in play or of the last one
	won    [2]int  // games
	score  [2]int  // points of the game in play or of the last one
	opens  [2]int  // points with which the coming game opens
	first  side    // side that serves, or served, first in this game
	winner side    // of the last game
	result string  // "" while the match goes on
	floor  floor   // where people stand
	server person  // who has the ball; nobody outside play
	turn   int     // his server number
	starts [2]int  // starting servers, as their numbers on their sides
	ends   int     // end changes made, mod 2
	made   bool    // the mid-game change of this game has been made
	due    bool    // it ought to be made now
	pause  string  // event that began the break, "" without one
	calls  [2]int  // standard time-outs used
	fouls  [2]int  // technical fouls of the match
	did    effects // what the event being done has done so far
	slips  slips   // rules it forgets; none but in mutants
}

// New returns a match before its first serve. First is "A", "B", or "" while
// nobody has chosen who serves first; starters are the numbers of the starting
// servers of A and B, for a rally that opens a game without a start event.
func New(f format.Format, first string, starters [2]int) (*Match, error) {
	if err := f.Validate(); err != nil {
		return nil, err
	}
	m := &Match{format: &f, phase: before, first: noSide, winner: noSide, starts: starters}
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
// outside this model.
func (m *Match) OpenAt(a, b int) error {
	points := [2]int{a, b}
	g := m.format.Of(m.number + 1)
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

// rules returns how the game in play, or the last one, is played.
func (m *Match) rules() *format.Game { return m.format.Of(m.number) }

// coming returns how the game is played that a time-out, an exchange or a
// start would belong to now.
func (m *Match) coming() *format.Game {
	if m.phase == inPlay {
		return m.rules()
	}
	return m.format.Of(m.number + 1)
}

func (m *Match) singles() bool { return m.format.Game.Sides == format.Singles }

// servesNext says which side serves first in the coming game, if that is
// settled.
func (m *Match) servesNext() side {
	if m.phase == before {
		return m.first
	}
	switch m.format.Match.NextServe {
	case format.OtherSide:
		if m.slips.has(SameSideFirst) {
			return m.first
		}
		return m.first.other()
	case format.Winner:
		return m.winner
	case format.Loser:
		return m.winner.other()
	}
	return noSide
}

// open begins the next game, side first having the serve.
func (m *Match) open(first side) {
	m.number++
	if m.number > 1 && m.format.Match.ChangeEnds {
		m.ends = 1 - m.ends
	}
	m.phase, m.first, m.made, m.due = inPlay, first, false, false
	m.score, m.opens = m.opens, [2]int{}
	m.did.add(gameStarted)
	m.takePlaces()
	for _, s := range bothSides {
		if m.format.Rulings[format.PenaltyEndChange] == format.Yes {
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
		m.walkAfterPoint(winner, held)
	case m.rules().Scorer == format.EitherSide:
		m.did.add(withheld)
	}
	switch {
	case held:
		m.keepServing()
	case m.turn < int(m.rules().Servers):
		// The partner serves from wherever he stands by now.
		if !m.slips.has(SamePlayerAgain) {
			m.server = m.partner(m.server)
		}
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
	if m.slips.has(FreezeByOther) {
		own, other = other, own
	}
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
// stands exactly at the midpoint. It is due once in a game at most.
func (m *Match) watchEnds(s side) {
	at := int(m.rules().ChangeEndsAt)
	if at == 0 || m.score[s] != at || m.due || m.made && !m.slips.has(EndsForBoth) {
		return
	}
	m.due = true
	m.did.add(endsDue)
}

// endGame books the game for a side and sends everybody off the court.
func (m *Match) endGame(winner side) {
	m.won[winner]++
	m.winner = winner
	m.phase = between
	m.floor, m.server, m.turn = floor{}, nobody, 0
	if !m.slips.has(TimeOutsKept) {
		m.calls = [2]int{}
	}
	m.due = false
	m.did.add(gameWon)

	played := m.won[sideA] + m.won[sideB]
	decided := !m.format.Match.PlayAll && m.won[winner] >= int(m.format.Match.Needed())
	if !decided && played < int(m.format.Match.Games) {
		return
	}
	m.phase = over
	m.timeIn() // a break can run here only when a penalty ended the game
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

// foul gives the first technical foul of a side: a point to the opponents, or
// one off the offender where the edition takes points away and he has any.
func (m *Match) foul(offender side) {
	opponents := offender.other()
	m.fouls[offender]++
	m.did.add(foul, penaltyPoint)
	if m.awards(offender) {
		m.score[opponents]++
		if m.format.Rulings[format.AwardedPointWins] == format.Yes && m.hasWon(opponents) {
			m.endGame(opponents)
			return
		}
		if m.format.Rulings[format.PenaltyEndChange] == format.Yes {
			m.watchEnds(opponents)
		}
		m.walkAfterPenalty(opponents)
		return
	}
	m.score[offender]--
	if m.format.Rulings[format.RemovedPointWins] == format.Yes && m.hasWon(opponents) {
		m.endGame(opponents)
		return
	}
	m.walkAfterPenalty(offender)
}

// awards says whether a foul of that side gives the opponents a point.
func (m *Match) awards(offender side) bool {
	return m.format.Rulings[format.FoulValue] == format.FoulValueAward || m.score[offender] == 0
}
