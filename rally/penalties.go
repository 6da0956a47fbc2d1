package rally

import "github.com/evencourt/evencourt/format"

// penalty gives a verbal warning, a technical warning or a technical foul.
func (m *move) penalty(k Kind, side Side) Refusal {
	if m.r.format.Rulings[format.FoulValue] == 0 {
		return NotInEdition
	}
	switch m.s.Phase() {
	case Before:
		if !m.r.switchIs(format.PreMatchPenalties, format.Yes) {
			return NotInEdition
		}
	case Over:
		return m.penaltyAfterTheEnd(k, side)
	}
	switch k {
	case VerbalWarning:
		if m.s.VerbalWarnings(side) > 0 {
			return SecondVerbal
		}
		m.s.count(verbalAt, 1, side)
		m.did |= WarnedVerbally
		return NotRefused
	case TechnicalWarning:
		return m.warn(side)
	}
	return m.foul(side)
}

// penaltyAfterTheEnd records a penalty that is carried into the next match.
func (m *move) penaltyAfterTheEnd(k Kind, side Side) Refusal {
	if !m.r.switchIs(format.CarriedPenalties, format.Yes) {
		return NotInEdition
	}
	switch k {
	case VerbalWarning:
		if m.s.VerbalWarnings(side) > 0 {
			return SecondVerbal
		}
		m.s.count(verbalAt, 1, side)
		m.did |= WarnedVerbally
	case TechnicalWarning:
		m.s.count(warningAt, 3, side)
		m.did |= Warned
	default:
		m.s.count(foulAt, 3, side)
		m.did |= Fouled
	}
	m.did |= Recorded
	return NotRefused
}

// warn gives a technical warning by the ladder: the second one makes a foul,
// one after a foul forfeits the game, one after a game forfeit the match.
func (m *move) warn(side Side) Refusal {
	warnings, fouls := m.s.TechnicalWarnings(side), m.s.TechnicalFouls(side)
	forfeits := m.s.GameForfeits(side)
	if forfeits == 0 && fouls == 0 && warnings == 1 && !m.foulsNow() {
		return NotInEdition
	}
	m.s.count(warningAt, 3, side)
	m.did |= Warned
	switch {
	case forfeits > 0:
		m.matchForfeit(side)
	case fouls > 0 || warnings >= 2:
		return m.gameForfeit(side)
	case warnings == 1:
		m.did |= Fouled
		return m.movePoint(side)
	}
	return NotRefused
}

// foul gives a technical foul by the ladder.
func (m *move) foul(side Side) Refusal {
	if !m.foulsNow() {
		return NotInEdition
	}
	warnings, fouls := m.s.TechnicalWarnings(side), m.s.TechnicalFouls(side)
	forfeits := m.s.GameForfeits(side)
	m.s.count(foulAt, 3, side)
	m.did |= Fouled
	made := warnings >= 2
	switch {
	case forfeits > 0, fouls > 0, made && m.r.switchIs(format.MadeFoulCounts, format.Yes):
		m.matchForfeit(side)
	case warnings > 0:
		return m.gameForfeit(side)
	default:
		return m.movePoint(side)
	}
	return NotRefused
}

// foulsNow reports whether a foul can be given at this moment.
func (m *move) foulsNow() bool {
	return m.s.Phase() != Between || m.r.switchIs(format.FoulsBetween, format.Yes)
}

// movePoint carries out the point of a foul. A penalty is no rally: freezes
// and last-point rules never hold it back, side and server number stay.
func (m *move) movePoint(offender Side) Refusal {
	m.did |= PenaltyPoint
	if m.s.Phase() != Playing {
		m.moveOpening(offender)
		return NotRefused
	}
	g := m.game()
	other := offender.Other()
	moved, winsBy := other, format.AwardedPointWins
	if own := m.s.Score(offender); own > 0 && m.r.switchIs(format.FoulValue, format.FoulValueRemove) {
		moved, winsBy = offender, format.RemovedPointWins
		m.s.setScore(offender, uint8(own-1))
	} else if m.s.Score(other) == format.MostPoints {
		return MostPoints
	} else {
		m.s.setScore(other, uint8(m.s.Score(other)+1))
	}
	if g.Won(uint8(m.s.Score(other)), uint8(m.s.Score(offender))) && m.r.switchIs(winsBy, format.Yes) {
		m.endGame(other)
		m.did |= GameWon
		return NotRefused
	}
	a, b := m.s.scores()
	m.s.setOrder(g.order.Penalty(m.s.order(), moved, a, b))
	if moved == other && m.r.switchIs(format.PenaltyEndChange, format.Yes) {
		m.reach(uint8(m.s.Score(other)))
	}
	return NotRefused
}

// moveOpening charges a foul to the coming game: the opponents open it with a
// point, or the offenders lose the one they would have opened with.
func (m *move) moveOpening(offender Side) {
	opens := uint64(offender.Other()) + 1
	if m.s.Opens(offender) > 0 {
		opens = 0
	}
	m.s.setPlay(opensAt, 2, opens)
}

// carry brings a penalty from a player's last match. The same pair brings it
// only once.
func (m *move) carry(k Kind, p Person) Refusal {
	switch {
	case !m.r.switchIs(format.CarriedPenalties, format.Yes):
		return NotInEdition
	case m.s.Phase() != Before:
		return pastStart(m.s.Phase())
	case m.s.Carried(p) != NoCarry:
		return NotNow
	}
	brought := m.s.Carried(p.Partner())
	side := p.Side()
	if k == CarryWarning {
		m.s.setLedger(carryAt+2*int(p), 2, uint64(CarriedWarning))
		if brought != CarriedWarning {
			m.s.count(warningAt, 3, side)
		}
		m.did |= Warned
		return NotRefused
	}
	m.s.setLedger(carryAt+2*int(p), 2, uint64(CarriedFoul))
	m.did |= Fouled
	if brought != CarriedFoul {
		m.s.count(foulAt, 3, side)
		m.moveOpening(side)
		m.did |= PenaltyPoint
	}
	return NotRefused
}

// challenge settles a challenge to a ruling that its side lost or withdrew.
func (m *move) challenge(k Kind, side Side) Refusal {
	if refusal := m.inMatch(); refusal != NotRefused {
		return refusal
	}
	if k == ChallengeLost {
		if !m.r.switchIs(format.ChallengeLost, format.ChallengeLostTimeOutAndWarning) {
			return NotInEdition
		}
		return m.chargeAndWarn(side)
	}
	if !m.r.switchIs(format.ChallengeWithdrawn, format.ChallengeWithdrawnTimeOutOrFoul) {
		return NotInEdition
	}
	if !m.charge(side) {
		return m.foul(side)
	}
	return NotRefused
}
