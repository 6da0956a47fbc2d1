package rally

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/serviceorder"
)

// NextFirst returns the side that serves first in the coming game, by the
// format. It is false where that has to be chosen.
func (r *Rules) NextFirst(s State) (Side, bool) {
	first, known := s.First()
	if s.play&started == 0 {
		return first, known
	}
	switch r.format.Match.NextServe {
	case format.OtherSide:
		return first.Other(), true
	case format.Winner:
		return s.lastWinner(), true
	case format.Loser:
		return s.lastWinner().Other(), true
	}
	return A, false
}

// lastWinner returns the side that won the last game.
func (s State) lastWinner() Side {
	if winner, forfeited := s.ForfeitWinner(); forfeited {
		return winner
	}
	if s.Score(B) > s.Score(A) {
		return B
	}
	return A
}

// ForfeitWinner returns, between games, who won the last one by forfeit; its
// score is then that at which it was forfeited, not the one that is reported.
func (s State) ForfeitWinner() (Side, bool) {
	w := s.ledgerBits(winnerAt, 2)
	return Side((w - 1) & 1), s.Phase() == Between && w != 0
}

// startGame opens a game with starting servers that are named.
func (r *Rules) startGame(s State, side Side, st Starters) (State, Effects, Refusal, Grounds) {
	if s.Phase() == Playing && st != s.Order().Starters() {
		return refused(InPlay, clause.StarterBetweenGames)
	}
	if s.Phase() == Playing {
		return refused(InPlay, clause.OneMoment)
	}
	if first, known := r.NextFirst(s); known && first != side {
		return refused(WrongSideFirst, r.firstBy(s))
	}
	if last, begun := s.Starters(); begun && !r.coming(s).order.Follows(last, st) {
		return refused(NotItsChoice, clause.TableTennisReceiver)
	}
	if why, by := readyToPlay(s); why != NotRefused {
		return refused(why, by)
	}
	by := Grounds(clause.StarterNamed)
	if _, forfeited := s.ForfeitWinner(); forfeited {
		by = both(by, clause.AfterGameForfeit)
	}
	s, did := r.open(s, side, st)
	return s, did, NotRefused, by
}

// firstBy is the clause that says who serves first in the coming game.
func (r *Rules) firstBy(s State) Grounds {
	switch {
	case s.play&started == 0:
		return clause.ChoiceFinal
	case r.format.Match.NextServe == format.OtherSide:
		return r.standing(clause.TableTennisFirst, clause.Alternate)
	case r.format.Match.NextServe == format.Winner:
		return clause.BadmintonFirstServe
	}
	return clause.LocalRules
}

// open starts the next game: ends change first if another was played before.
func (r *Rules) open(s State, first Side, st Starters) (State, Effects) {
	if s.play&started != 0 && r.format.Match.ChangeEnds {
		s.play ^= endsBit
	}
	a, b := uint8(s.Opens(A)), uint8(s.Opens(B))
	s, did := s.endBreak(GameStarted)
	s.play = s.play&^(midDue|midDone|phaseMask|choiceMask) | started | knownBit | uint64(Playing)<<phaseAt
	s.play += 1 << gameAt
	s.ledger &^= opensMask
	s = s.withScores(a, b).withOutcome(NotEnded, nobody)
	s = s.withOrder(r.game(s).order.Start(first, st, a, b))
	if (a|b) == 0 || !r.takes(clause.PenaltyEndChange) {
		return s, did
	}
	ahead := A // of an opening point only one side has any
	if b > 0 {
		ahead = B
	}
	return r.reach(s, did, ahead)
}

// What State.ledger holds as the winner.
const (
	nobody = 0
	tied   = 3
)

func winning(side Side) uint64 { return uint64(side) + 1 }

// endGame counts a game for its winner and ends the match if that decides it.
func (r *Rules) endGame(s State, did Effects, winner Side) (State, Effects) {
	s.play += 1 << (wonAAt + 4*int(winner))
	s.play &^= orderMask | midDue | walkBit | dutyBit
	s.ledger &^= r.ofGame
	switch match, last := &r.format.Match, s.play >= r.last; {
	case !match.PlayAll && s.Won(winner) >= int(match.Needed()):
		return endMatch(s, did|MatchWon, ByPlay, winning(winner))
	case !last:
		return s.withPlay(phaseAt, 3, uint64(Between)), did
	case s.Won(A) == s.Won(B):
		return endMatch(s, did, ByTie, tied)
	case s.Won(A) > s.Won(B):
		return endMatch(s, did|MatchWon, ByPlay, winning(A))
	}
	return endMatch(s, did|MatchWon, ByPlay, winning(B))
}

// endMatch closes play; what cannot matter any more is cleared, so that equal
// outcomes are equal states.
func endMatch(s State, did Effects, c Cause, winner uint64) (State, Effects) {
	s, did = s.nothingWaits().endBreak(did)
	s.play = s.play&^(orderMask|midDue|walkBit|dutyBit|choiceMask|phaseMask) | uint64(Over)<<phaseAt
	s.ledger &^= timeOutsMask | opensMask
	return s.withOutcome(c, winner), did
}

// firstChoice takes one step of the first choice.
func (r *Rules) firstChoice(s State, side Side, c Choice) (State, Effects, Refusal, Grounds) {
	const deferredByA, endTakenByA = 1, 3 // and for B one more
	switch {
	case c == ChooseDefer && !r.takes(clause.Deferring):
		return refused(NotInEdition, clause.NoDeferring)
	case s.play&started != 0:
		return pastStart(s)
	case s.play&knownBit != 0:
		return refused(FirstSettled, clause.ChoiceFinal)
	}
	pending := s.playBits(choiceAt, 3)
	if pending != 0 && (pending-1)&1 == uint64(side) || pending != 0 && c == ChooseDefer ||
		pending >= endTakenByA && c == ChooseEnd {
		return refused(NotItsChoice, clause.FirstChoice)
	}
	switch c {
	case ChooseDefer:
		return s.withPlay(choiceAt, 3, deferredByA+uint64(side)), Recorded, NotRefused, clause.Deferring
	case ChooseEnd:
		return s.withPlay(choiceAt, 3, endTakenByA+uint64(side)), Recorded, NotRefused, clause.FirstChoice
	case ChooseReceive:
		side = side.Other()
	}
	s.play = s.play&^choiceMask | knownBit
	return s.withOrder(serviceorder.Prepare(side, Starters{})), FirstChosen | Recorded, NotRefused, clause.FirstChoice
}

// pastStart refuses what can only come before the first game.
func pastStart(s State) (State, Effects, Refusal, Grounds) {
	switch s.Phase() {
	case Playing:
		return refused(InPlay, clause.OneMoment)
	case Over:
		return refused(MatchOver, clause.MatchOver)
	}
	return refused(FirstSettled, clause.ChoiceFinal)
}

func (r *Rules) endsChanged(s State) (State, Effects, Refusal, Grounds) {
	switch {
	case s.Phase() != Playing:
		return refused(NotInPlay, clause.OneMoment)
	case s.play&midDue == 0:
		return refused(NotDue, clause.OneMoment)
	}
	g := r.game(s)
	s.play ^= midDue | endsBit
	if g.ChangeEndsEvery != 0 {
		return g.letWalk(s), EndsMade, NotRefused, clause.EndsByTotalMissed
	}
	s.play |= midDone
	return g.letWalk(s), EndsMade, NotRefused, clause.EndChangeLatch
}

// exchange lets partners on fixed courts trade them: at a time-out, between
// games, or at an end change until the next rally.
func (r *Rules) exchange(s State, side Side) (State, Effects, Refusal, Grounds) {
	phase := s.Phase()
	b, _ := s.Break()
	if phase == Before || s.play&started == 0 {
		return refused(NotStarted, clause.ExchangeOfCourts)
	}
	o, ok := r.coming(s).order.Exchange(s.Order(), side)
	switch {
	case !ok:
		return refused(NotFixed, clause.PlacesByScore)
	case phase == Playing && b != TimeOutBreak && !s.ExchangeOpen():
		return refused(NotNow, clause.ExchangeOfCourts)
	}
	return s.withOrder(o), Exchanged, NotRefused, clause.ExchangeOfCourts
}

// late records a side that came late to the match: enough of it forfeits the
// first game, more of it the match. Where both are late over the same limit the
// clock forfeits nothing, and what the first of them forfeited is taken back.
func (r *Rules) late(s State, side Side, seconds int) (State, Effects, Refusal, Grounds) {
	game, match := r.format.Rulings.Number(clause.LateGame), r.format.Rulings.Number(clause.LateMatch)
	loser, forfeited := s.lateFirst()
	whole := seconds >= match || seconds >= game && r.format.Match.Games == 1
	did := Effects(0)
	switch {
	case game == 0 || match == 0:
		return refused(NotInEdition, clause.LateGame)
	case s.Phase() != Before && !(forfeited && loser != side):
		return pastStart(s)
	case s.Phase() == Over && whole:
		return s.takenBack(), Recorded, NotRefused, clause.LateBoth
	case s.Phase() == Over || seconds < game && !whole:
		return s, Recorded, NotRefused, clause.LateGame
	case forfeited:
		s, did = s.endBreak(did)
		s = s.takenBack()
	}
	switch {
	case whole: // all that was before the match is kept, since it may be taken back
		s.ledger |= lateBit
		s = s.withPlay(phaseAt, 3, uint64(Over)).withOutcome(ByForfeit, winning(side.Other()))
		return s, did | MatchForfeited | MatchWon, NotRefused, clause.LateMatch
	case forfeited:
		return s, did | Recorded, NotRefused, clause.LateBoth
	}
	s, did = r.forfeitComing(s, did, side)
	return s, did, NotRefused, clause.LateGame
}

// lateFirst returns the side that forfeited the first game or the match by the
// clock, if nothing has been played since.
func (s State) lateFirst() (Side, bool) {
	if s.ledger&lateBit != 0 {
		_, winner, _ := s.Outcome()
		return winner.Other(), true
	}
	winner, forfeited := s.ForfeitWinner()
	return winner.Other(), forfeited && s.play&started == 0 && s.Game() == 1 && s.ledger>>forfeitAt&15 == 0
}

// takenBack is the match before what lateness forfeited: no time-out or medical
// time has been used there.
func (s State) takenBack() State {
	s.ledger &^= timeOutsMask | 0xff<<medicalAt | lateBit
	return s.withPlay(phaseAt, 3, uint64(Before)).withPlay(gameAt, 4, 0).withPlay(wonAAt, 8, 0).withOutcome(NotEnded, nobody)
}

// forfeitComing forfeits the coming game unplayed: nobody serves first in it
// and ends do not change for it.
func (r *Rules) forfeitComing(s State, did Effects, side Side) (State, Effects) {
	s.play &^= scoreMask | midDone
	s.play += 1 << gameAt
	s.ledger &^= opensMask
	return r.forfeitGame(s, did, side)
}

// forfeitGame forfeits the game in play.
func (r *Rules) forfeitGame(s State, did Effects, side Side) (State, Effects) {
	s, did = r.endGame(s, did|GameForfeited, side.Other())
	if s.Phase() == Between {
		s = s.withOutcome(ByForfeit, winning(side.Other()))
	}
	return s, did
}

// gameForfeit forfeits the game in play, or the coming one.
func (r *Rules) gameForfeit(s State, did Effects, side Side, by Grounds) (State, Effects, Refusal, Grounds) {
	s = s.counted(forfeitAt, 2, side)
	if s.Phase() == Playing {
		s, did = r.forfeitGame(s, did, side)
	} else {
		s, did = r.forfeitComing(s, did, side)
	}
	return s, did, NotRefused, by
}

func matchForfeit(s State, did Effects, side Side, by Grounds) (State, Effects, Refusal, Grounds) {
	s, did = endMatch(s, did|MatchForfeited|MatchWon, ByForfeit, winning(side.Other()))
	return s, did, NotRefused, by
}

// retire ends a match of which a score has been called; withdraw one that has
// no score yet, though its first game may have been forfeited by the clock.
func retire(s State, side Side) (State, Effects, Refusal, Grounds) {
	if s.play&started == 0 {
		return refused(NotStarted, clause.RetirementWhen)
	}
	s, did := endMatch(s, MatchWon, ByRetirement, winning(side.Other()))
	return s, did, NotRefused, clause.RetirementWhen
}

func withdraw(s State, side Side) (State, Effects, Refusal, Grounds) {
	if s.play&started != 0 {
		return refused(NotNow, both(clause.Withdrawal, clause.RetirementOnly))
	}
	s, did := endMatch(s, MatchWon, ByWithdrawal, winning(side.Other()))
	return s, did, NotRefused, clause.Withdrawal
}

func resume(s State) (State, Effects, Refusal, Grounds) {
	if s.play&aborted == 0 {
		return refused(NotNow, clause.OneMoment)
	}
	s.play &^= aborted
	return s, Recorded, NotRefused, clause.Resumed
}

func sheetReturned(s State) (State, Effects, Refusal, Grounds) {
	abandoned := s.play&aborted != 0
	if s.Phase() != Over && !abandoned {
		return refused(NotNow, clause.OneMoment)
	}
	did := SheetClosed
	if abandoned {
		s, did = endMatch(s, did, ByAbandonment, nobody)
		s.play &^= aborted
	}
	s.play &^= choiceMask
	s.ledger &^= opensMask | lateBit // what lateness forfeited is no longer taken back
	return s.withPlay(phaseAt, 3, uint64(Closed)), did, NotRefused, clause.SheetFinal
}
