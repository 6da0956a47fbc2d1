package rally

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
)

// ordinary masks what must stand at a plain rally for the table to hold. It
// takes in the top bit of either score, so that no score can overflow.
const ordinary = phaseMask | breakMask | outMask | dutyBit | walkBit | aborted | topBits

// play is a plain rally below the edge of a game, read from the table: what
// becomes of State.play, and the effects. It is false where the table does not
// hold, and small enough to be inlined.
func (g *game) play(play uint64, e Event) (next uint64, did Effects, ok bool) {
	winner, i := e>>sideAt&1, play&plainIndex
	next = play + g.delta[winner][i]
	lifted := next + g.edge[play>>midDueAt&3]
	if e&^sideFlag == Event(RallyWon) && (play|lifted)&ordinary == uint64(Playing)<<phaseAt {
		return next, g.effects[winner][i], true
	}
	return play, 0, false
}

// score gives a rally to a side: whether the point counts, and whether with it
// the game ends or the end change falls due. It is the rule of scoring; what a
// rally does to points and order if none of these questions arises is in the
// table, which [game.play] reads alone where none can.
func (r *Rules) score(s State, did Effects, winner Side) (State, Effects, Refusal, Grounds) {
	g := r.game(s)
	winner &= 1
	i := s.play & plainIndex
	next, now := State{s.play + g.delta[winner][i], s.ledger}, g.effects[winner][i]
	own, other := s.against(winner)
	if g.counted && own != format.MostPoints { // by more of the score than the table holds
		next, now = g.step(s, winner, true)
	}
	switch {
	case now&Point == 0:
		return next, did | now, NotRefused, 0
	case g.Freeze != format.NoFreeze && winner != s.Order().Side() && g.Frozen(own, other):
		next, now = g.step(s, winner, false)
		return next, did | now | Withheld, NotRefused, freezes[g.Freeze]
	case own == format.MostPoints:
		return refused(NoMorePoints, clause.MostPoints)
	case g.Won(own+1, other):
		s, did = r.endGame(next, did|Point|GameWon, winner)
		return s, did, NotRefused, clause.GameWon
	}
	if g.ChangeEndsEvery == 0 && (g.ChangeEndsAt == 0 || own+1 < g.ChangeEndsAt || next.play&(midDue|midDone) != 0) {
		return next, did | now, NotRefused, 0
	}
	if s, did = r.reach(next, did|now, winner); !did.Has(EndsDue) {
		return s, did, NotRefused, 0
	}
	return s, did, NotRefused, g.endsBy
}

// step is what a rally does to points and to the order of service in a game
// that goes on: an entry of the table.
func (g *game) step(s State, winner Side, scored bool) (State, Effects) {
	var did Effects
	before := s.Order()
	if scored {
		s, _ = s.shifted(winner, 1)
		did = Point
	}
	a, b := s.scores()
	after := g.order.Rally(before, winner, scored, a, b)
	switch {
	case before.Side() != after.Side():
		did |= SideOut
	case winner != before.Side() && g.order.Numbers():
		did |= SecondServer
	}
	return s.withOrder(after), did
}

// freezes are the clauses that withhold a point.
var freezes = [...]Grounds{
	format.WinOnServe:       clause.FreezeWinningPoint,
	format.EachAtPoint:      clause.FreezeEach,
	format.LeaderAndTrailer: clause.FreezeLeaderTrailer,
	format.BothAtPoint:      clause.FreezeBoth,
}

// against returns the score of a side and that of the other.
func (s State) against(side Side) (own, other uint8) {
	return uint8(s.Score(side)), uint8(s.Score(side.Other()))
}

// shifted moves the score of a side by a point up or down. Every point of a
// game passes here. It is false where the score can hold no more.
func (s State) shifted(side Side, by int) (State, bool) {
	own, other := s.against(side)
	if by > 0 && own == format.MostPoints {
		return s, false
	}
	own += uint8(by)
	if side == B {
		own, other = other, own
	}
	return s.withScores(own, other), true
}

// reach makes the mid-game end change due when a side has first reached it.
func (r *Rules) reach(s State, did Effects, side Side) (State, Effects) {
	g := r.game(s)
	if g.ChangeEndsEvery != 0 {
		return g.everySo(s, did)
	}
	at := g.ChangeEndsAt
	if at == 0 || s.Score(side) < int(at) || s.play&(midDue|midDone) != 0 || !r.changesInMidGame(s) {
		return s, did
	}
	s.play |= midDue
	return g.letWalk(s), did | EndsDue
}

// everySo makes an end change due with each multiple of the points of both sides.
// A change that is still due by then cancels it: who has missed two stands right.
func (g *game) everySo(s State, did Effects) (State, Effects) {
	switch {
	case (s.Score(A)+s.Score(B))%int(g.ChangeEndsEvery) != 0:
		return s, did
	case s.EndChangeDue():
		s.play &^= midDue
		return s, did
	}
	s.play |= midDue
	return g.letWalk(s), did | EndsDue
}

// letWalk lets partners exchange until the next rally, where their courts are
// left to them.
func (g *game) letWalk(s State) State {
	if g.fixed() {
		s.play |= walkBit
	}
	return s
}

// fixed reports whether the order of service moves nobody, so that partners may
// exchange their courts of their own accord.
func (g *game) fixed() bool { return g.Order == format.FixedCourts }

// changesInMidGame leaves the mid-game change out of a last game that is not
// the last one played in turn, because an earlier game was forfeited unplayed:
// it belongs to the last game if the games played, this one included, are as
// many as the match can have, or differ from it by an even number.
func (r *Rules) changesInMidGame(s State) bool {
	if !r.format.Match.ChangeEnds || r.games[0].ChangeEndsAt != 0 {
		return true
	}
	return s.swaps() == int(r.format.Match.Games-1)&1
}
