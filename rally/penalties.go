package rally

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/serviceorder"
)

// penalty gives a verbal warning, a technical warning or a technical foul.
func (r *Rules) penalty(s State, k Kind, side Side) (State, Effects, Refusal, Grounds) {
	switch phase := s.Phase(); {
	case r.by(clause.FoulAwards) == 0:
		return refused(NotInEdition, clause.BadmintonMisconduct)
	case phase == Before && !r.takes(clause.PenaltyBefore):
		return refused(NotInEdition, clause.NoPenaltyBefore)
	case phase == Over && !r.takes(clause.CarriedPenalties):
		return refused(NotInEdition, clause.NothingCarried)
	case k == VerbalWarning && s.VerbalWarnings(side) > 0:
		return refused(SecondVerbal, clause.VerbalWarning)
	case phase == Over:
		return penaltyAfterTheEnd(s, k, side)
	case k == VerbalWarning:
		return s.counted(verbalAt, 1, side), WarnedVerbally, NotRefused, clause.VerbalWarning
	case k == TechnicalWarning:
		return r.warn(s, 0, side)
	case phase == Between && !r.takes(clause.FoulsBetween):
		return refused(NotInEdition, clause.NoFoulsBetween)
	}
	return r.foul(s, 0, side)
}

// penaltyAfterTheEnd records a penalty that is carried into the next match.
func penaltyAfterTheEnd(s State, k Kind, side Side) (State, Effects, Refusal, Grounds) {
	did := Recorded
	switch k {
	case VerbalWarning:
		s, did = s.counted(verbalAt, 1, side), did|WarnedVerbally
	case TechnicalWarning:
		s, did = s.counted(warningAt, 3, side), did|Warned
	default:
		s, did = s.counted(foulAt, 3, side), did|Fouled
	}
	return s, did, NotRefused, clause.CarriedPenalties
}

// warn gives a technical warning by the ladder: the second one makes a foul,
// one after a foul forfeits the game, one after a game forfeit the match.
func (r *Rules) warn(s State, did Effects, side Side) (State, Effects, Refusal, Grounds) {
	warnings, fouls, forfeits := s.TechnicalWarnings(side), s.TechnicalFouls(side), s.GameForfeits(side)
	if forfeits == 0 && fouls == 0 && warnings == 1 && !r.foulFollows(s) {
		return refused(NotInEdition, both(clause.NoWarningBetween, clause.NoFoulsBetween))
	}
	s = s.counted(warningAt, 3, side)
	switch {
	case forfeits > 0:
		return matchForfeit(s, did|Warned, side, clause.MatchForfeit)
	case fouls > 0 || warnings >= 2:
		return r.gameForfeit(s, did|Warned, side, clause.GameForfeit)
	case warnings == 1:
		return r.movePoint(s, did|Warned|Fouled, side, r.by(clause.SecondWarning))
	}
	return s, did | Warned, NotRefused, clause.TechnicalWarning
}

// foulFollows reports whether a foul can follow at this moment from a second
// warning, or from a cost that a side has no time-out left for. Between games that
// may be so where none can be given.
func (r *Rules) foulFollows(s State) bool {
	return s.Phase() != Between || r.takes(clause.FoulsBetween) || r.takes(clause.WarningBetween)
}

// foul gives a technical foul by the ladder.
func (r *Rules) foul(s State, did Effects, side Side) (State, Effects, Refusal, Grounds) {
	if !r.foulFollows(s) {
		return refused(NotInEdition, both(clause.NoWarningBetween, clause.NoFoulsBetween))
	}
	warnings, fouls, forfeits := s.TechnicalWarnings(side), s.TechnicalFouls(side), s.GameForfeits(side)
	s = s.counted(foulAt, 3, side)
	switch {
	case forfeits > 0:
		return matchForfeit(s, did|Fouled, side, clause.MatchForfeit)
	case fouls > 0 && r.takes(clause.TwoFoulsGame):
		return r.gameForfeit(s, did|Fouled, side, clause.TwoFoulsGame)
	case fouls > 0:
		return matchForfeit(s, did|Fouled, side, r.by(clause.TwoFoulsMatch))
	case warnings >= 2 && r.takes(clause.MadeFoulCounts):
		return matchForfeit(s, did|Fouled, side, clause.MadeFoulCounts)
	case warnings >= 2:
		return r.gameForfeit(s, did|Fouled, side, clause.MadeFoulApart)
	case warnings > 0:
		return r.gameForfeit(s, did|Fouled, side, clause.GameForfeit)
	}
	return r.movePoint(s, did|Fouled, side, 0)
}

// movePoint carries out the point of a foul. A penalty is no rally: freezes
// and last-point rules never hold it back, side and server number stay. The
// foul may have a ground of its own.
func (r *Rules) movePoint(s State, did Effects, offender Side, foul Grounds) (State, Effects, Refusal, Grounds) {
	value := Grounds(clause.FoulAwards)
	if r.takes(clause.FoulRemoves) {
		value = clause.FoulRemoves
	}
	if foul == 0 {
		foul, value = value, 0
	}
	did |= PenaltyPoint
	switch s.Phase() {
	case Before:
		before := Grounds(clause.PenaltyBefore)
		if !r.takes(clause.PenaltyBefore) {
			before = clause.CarriedPenalties // what was brought is all that can be given there
		}
		return s.chargedOpening(offender), did, NotRefused, both(foul, before)
	case Between:
		between := Grounds(clause.FoulsBetween)
		if !r.takes(clause.FoulsBetween) {
			between = clause.WarningBetween
		}
		return s.chargedOpening(offender), did, NotRefused, both(foul, between)
	}
	gains := offender.Other()
	moved, by, wins := gains, 1, format.Clause(clause.AwardedPointWins)
	if s.Score(offender) > 0 && r.takes(clause.FoulRemoves) {
		moved, by, wins = offender, -1, clause.RemovedPointEnds
	}
	s, ok := s.shifted(moved, by)
	if !ok {
		return refused(NoMorePoints, clause.MostPoints)
	}
	g := r.game(s)
	won := g.Won(s.against(gains))
	ends := r.by(wins)
	switch {
	case won && (ends == clause.AwardedPointWins || ends == clause.RemovedPointEnds):
		s, did = r.endGame(s, did|GameWon, gains)
		return s, did, NotRefused, both(foul, ends)
	case won:
		value = ends
	}
	a, b := s.scores()
	s = s.withOrder(g.order.Penalty(s.Order(), moved, a, b))
	if value == 0 {
		value = Grounds(g.order.PenaltyBy())
	}
	if moved != gains {
		return s, did, NotRefused, both(foul, value)
	}
	if due, more := r.reach(s, did, gains); more != did {
		value = r.by(clause.PenaltyNoEndChange)
		if r.takes(clause.PenaltyEndChange) {
			s, did = due, more
		}
	}
	return s, did, NotRefused, both(foul, value)
}

// chargedOpening charges a foul to the coming game: the opponents open it with
// a point, or the offenders lose the one they would have opened with.
func (s State) chargedOpening(offender Side) State {
	side, by := offender.Other(), 1
	if s.Opens(offender) > 0 {
		side, by = offender, -1
	}
	return s.withLedger(opensAt+2*int(side), 2, uint64(s.Opens(side)+by))
}

// carry brings a penalty from a player's last match. What is brought never
// climbs among itself; what has been given before the match climbs on all of it,
// in whatever order it was entered. What two partners bring from the same pair
// counts once: the second entry only says who brings it too.
func (r *Rules) carry(s State, what Carry, p Person, same bool) (State, Effects, Refusal, Grounds) {
	side, by := p.Side(), Grounds(clause.CarriedPenalties)
	if same {
		by = clause.CarriedFromPair
	}
	switch {
	case !r.takes(clause.CarriedPenalties):
		return refused(NotInEdition, clause.NothingCarried)
	case s.Phase() != Before:
		return pastStart(s)
	case s.Carried(p).Has(what), same && !s.Carried(p.Partner()).Has(what):
		return refused(NotNow, by)
	}
	warnings, fouls := s.given(side, CarriedWarning), s.given(side, CarriedFoul)
	s = s.withLedger(carryAt+3*int(p), 3, uint64(s.Carried(p)|what))
	var did Effects
	switch what {
	case CarriedVerbal: // the side's one, however many bring it
		return s.counted(verbalAt, 1, side), WarnedVerbally, NotRefused, by
	case CarriedWarning:
		did = Warned
	case CarriedFoul:
		did = Fouled
	}
	if same {
		s.ledger |= sharedBit(side, what)
		return s, did, NotRefused, by
	}
	if what == CarriedWarning {
		s = s.counted(warningAt, 3, side)
	} else {
		s, did = s.counted(foulAt, 3, side).chargedOpening(side), did|PenaltyPoint
	}
	switch came, why := r.climbing(s, side, warnings, fouls); {
	case came.Has(MatchForfeited):
		return matchForfeit(s, did, side, why)
	case came.Has(GameForfeited):
		return r.gameForfeit(s, did, side, why)
	case came.Has(PenaltyPoint) && what == CarriedWarning: // the two warnings make a foul
		return s.chargedOpening(side), did | Fouled | PenaltyPoint, NotRefused, why
	}
	return s, did, NotRefused, by
}

// climbing gives a side once more what it was given before the match, now that
// it has brought more, and returns all that comes of it.
func (r *Rules) climbing(s State, side Side, warnings, fouls int) (came Effects, by Grounds) {
	s = s.withLedger(warningAt+3*int(side), 3, uint64(s.TechnicalWarnings(side)-warnings))
	s = s.withLedger(foulAt+3*int(side), 3, uint64(s.TechnicalFouls(side)-fouls))
	for range fouls {
		s, came, _, by = r.foul(s, came, side)
	}
	for range warnings {
		s, came, _, by = r.warn(s, came, side)
	}
	return came, by
}

// given returns how many warnings or fouls a side was given before the match,
// what it brought left out.
func (s State) given(side Side, what Carry) int {
	return max(s.onRecord(side, what)-s.brought(side, what), 0)
}

// onRecord returns how many warnings or fouls of a side are on record.
func (s State) onRecord(side Side, what Carry) int {
	if what == CarriedWarning {
		return s.TechnicalWarnings(side)
	}
	return s.TechnicalFouls(side)
}

// brought returns how many warnings or fouls a side brought.
func (s State) brought(side Side, what Carry) int {
	n := s.bringers(side, what)
	if s.ledger&sharedBit(side, what) != 0 {
		n--
	}
	return n
}

// bringers counts the players of a side who bring a penalty.
func (s State) bringers(side Side, what Carry) (n int) {
	for player := 1; player <= 2; player++ {
		if s.Carried(serviceorder.PersonOf(side, player)).Has(what) {
			n++
		}
	}
	return n
}

// challenge settles a challenge to a ruling that its side lost or withdrew.
func (r *Rules) challenge(s State, k Kind, side Side) (State, Effects, Refusal, Grounds) {
	switch phase := s.Phase(); {
	case phase == Over && !r.takes(clause.ChallengeLastRally):
		return refused(MatchOver, clause.NoChallengeLastRally)
	case k == ChallengeLost && !r.takes(clause.ChallengeLost):
		return refused(NotInEdition, clause.ChallengeFree)
	case k == ChallengeWithdrawn && !r.takes(clause.ChallengeDropped):
		return refused(NotInEdition, clause.ChallengeDroppedFree)
	case phase == Before:
		return refused(NotStarted, clause.OneMoment)
	case phase == Over && k == ChallengeLost && r.takes(clause.CarriedPenalties):
		// There is no time-out left to lose; the warning is carried.
		s, did, refusal, by := penaltyAfterTheEnd(s, TechnicalWarning, side)
		return s, did, refusal, both(clause.ChallengeLastRally, by)
	case phase == Over && k == ChallengeLost:
		return s, Recorded, NotRefused, both(clause.ChallengeLastRally, clause.NothingCarried)
	case phase == Over:
		return s, Recorded, NotRefused, clause.ChallengeLastRally
	case k == ChallengeLost:
		return r.chargeAndWarn(s, side, clause.ChallengeLost, clause.ChallengeLost)
	}
	return r.chargeOrFoul(s, side, clause.ChallengeDropped)
}
