package rally

import "github.com/evencourt/evencourt/format/clause"

// Apply returns the state after an event and what the event did, or s itself
// and why the event was refused. It is total: any state and any event give an
// answer. It never allocates.
func (r *Rules) Apply(s State, e Event) (State, Effects, Refusal) {
	if play, did, ok := r.game(s).play(s.play, e); ok {
		return State{play, s.ledger}, did, NotRefused
	}
	return r.apply(s, e)
}

// apply is Apply where the table of plain rallies does not hold. It knows three
// events of every game by their looks, for speed alone: a rally at an edge, the
// start of the first game, and the end change that is due.
func (r *Rules) apply(s State, e Event) (State, Effects, Refusal) {
	next, did, refusal := s, Effects(0), NotRefused
	switch {
	case e&^sideFlag == Event(RallyWon) && s.play&ordinary == uint64(Playing)<<phaseAt:
		next, did, refusal, _ = r.score(s, 0, e.Side())
	case e&^(sideFlag|3<<argAt) == Event(StartGame) && s == r.New(e.Side()) && r.openings[e>>sideAt&1][e>>argAt&3] != 0:
		return State{play: r.openings[e>>sideAt&1][e>>argAt&3]}, GameStarted, NotRefused
	case e == Event(EndsChanged) && s.play&(phaseMask|aborted) == uint64(Playing)<<phaseAt:
		next, did, refusal, _ = r.endsChanged(s)
	default:
		next, did, refusal, _ = r.decide(s, e)
	}
	if refusal != NotRefused {
		return s, 0, refusal
	}
	return next, did, NotRefused
}

// Decide is [Rules.Apply] with the grounds of its answer.
func (r *Rules) Decide(s State, e Event) (State, Effects, Refusal, Grounds) {
	next, did, refusal, by := r.decide(s, e)
	if refusal != NotRefused {
		return s, 0, refusal, by
	}
	return next, did, NotRefused, by
}

// refused is what a rule returns that does not let an event pass.
func refused(why Refusal, by Grounds) (State, Effects, Refusal, Grounds) {
	return State{}, 0, why, by
}

func (r *Rules) decide(s State, e Event) (State, Effects, Refusal, Grounds) {
	if !e.wellFormed() || s.Phase() > Closed {
		return refused(Malformed, clause.EventWords)
	}
	return r.answer(s, e)
}

// answer decides on an event that is well formed.
func (r *Rules) answer(s State, e Event) (State, Effects, Refusal, Grounds) {
	k := e.Kind()
	switch {
	case k >= Undo:
		return refused(LogOnly, clause.EventWords)
	case s.Phase() == Closed:
		return refused(MatchClosed, clause.SheetFinal)
	case s.Phase() == Over && !canFollowTheEnd(k) && !(k == LateArrival && s.ledger&lateBit != 0):
		return refused(MatchOver, unlessMedical(k, clause.MatchOver))
	case s.play&aborted != 0 && k != ResumePlay && k != SheetReturned && k != Concussion:
		return refused(MatchAbandoned, unlessMedical(k, clause.Resumed))
	case !r.doubles && e.namesPartner():
		return refused(NoSuchPlayer, clause.EventWords)
	case r.unruled.Has(k), r.unruled != 0 && k == RallyWon && e != RallyTo(e.Side()):
		return refused(NotInEdition, clause.ScoringOnly)
	}
	switch k {
	case RallyWon, Replay, Stop:
		return r.rally(s, e)
	case StartGame:
		return r.startGame(s, e.Side(), e.Starters())
	case EndsChanged:
		return r.endsChanged(s)
	case Exchange:
		return r.exchange(s, e.Side())
	case FirstChoice:
		return r.firstChoice(s, e.Side(), e.Choice())
	case TimeOut:
		return r.timeOut(s, e.Side())
	case TimeIn:
		return timeIn(s)
	case EquipmentTimeOut:
		return equipment(s, e.Person())
	case RefereeTimeOut, BloodTimeOut, HazardTimeOut, IllnessTimeOut:
		return refereeBreak(s, RefereeBreak+Break(k-RefereeTimeOut))
	case Dealt:
		return dealt(s)
	case MedicalRequest:
		return medicalRequest(s, e.Person())
	case HelpArrived:
		return helpArrived(s, e.Person())
	case MedicalValid, MedicalInvalid, MedicalWithdrawn:
		return r.medicalAnswer(s, k, e.Person())
	case PlayOnAlone:
		return r.playOnAlone(s, e.Person())
	case Concussion:
		return concussion(s, e.Person())
	case VerbalWarning, TechnicalWarning, TechnicalFoul:
		return r.penalty(s, k, e.Side())
	case CarryVerbal, CarryWarning, CarryFoul:
		return r.carry(s, CarriedVerbal<<(k-CarryVerbal), e.Person(), false)
	case CarrySameVerbal, CarrySameWarning, CarrySameFoul:
		return r.carry(s, CarriedVerbal<<(k-CarrySameVerbal), e.Person(), true)
	case ChallengeLost, ChallengeWithdrawn:
		return r.challenge(s, k, e.Side())
	case GameForfeit:
		return r.gameForfeit(s, 0, e.Side(), clause.GameForfeit)
	case MatchForfeit:
		return matchForfeit(s, 0, e.Side(), clause.ForfeitEndsMatch)
	case DoubleForfeit:
		s, did := endMatch(s, MatchForfeited, ByDoubleForfeit, nobody)
		return s, did, NotRefused, clause.DoubleForfeit
	case LateArrival:
		return r.late(s, e.Side(), e.Seconds())
	case Retirement:
		return retire(s, e.Side())
	case Withdrawal:
		return withdraw(s, e.Side())
	case Abandon:
		s.play |= aborted
		return s, Recorded, NotRefused, clause.Resumed
	case ResumePlay:
		return resume(s)
	case Ejection, Expulsion:
		return s, Recorded, NotRefused, clause.Ejection
	case SheetReturned:
		return sheetReturned(s)
	}
	return refused(LocalRule, clause.NoSubstitution) // Substitution
}

// canFollowTheEnd reports whether a kind of event can come after the last
// point, while the match is won but correctable.
func canFollowTheEnd(k Kind) bool {
	switch k {
	case SheetReturned, Ejection, Expulsion, VerbalWarning, TechnicalWarning, TechnicalFoul,
		ChallengeLost, ChallengeWithdrawn, Concussion:
		return true
	}
	return false
}

// unlessMedical is the clause by which an event is refused outside play: where
// somebody asks for medical time, that none is charged there, and help is called
// all the same.
func unlessMedical(k Kind, by Grounds) Grounds {
	if k == MedicalRequest {
		return both(clause.MedicalOutsidePlay, by)
	}
	return by
}

// namesPartner reports whether the event names a second player of a side.
func (e Event) namesPartner() bool {
	switch forms[e.Kind()].shape {
	case personShape:
		return e&playerFlag != 0
	case startShape:
		return e.bits(argAt, 2) != 0
	}
	return false
}

// rally plays a rally, after opening the game it belongs to.
func (r *Rules) rally(s State, e Event) (State, Effects, Refusal, Grounds) {
	var did Effects
	if s.Phase() != Playing {
		first, known := r.NextFirst(s)
		if !known {
			return refused(NoFirstServer, r.standing(clause.BeachFirst, clause.FirstChoice))
		}
		if why, by := readyToPlay(s); why != NotRefused {
			return refused(why, by)
		}
		st, _ := s.Starters()
		s, did = r.open(s, first, st)
	} else if why, by := readyToPlay(s); why != NotRefused {
		return refused(why, by)
	}
	s, did = s.endBreak(did)
	if side, absent := r.absentDue(s); absent &&
		(e.Kind() != RallyWon || e.Side() == side || e.Fault() != AbsentPlayer) {
		return refused(AbsentDue, clause.AbsentDue)
	}
	s, did, refusal, by := r.played(s, did, e)
	if by == 0 && did.Has(BreakEnded) {
		by = clause.TimeOutOver
	}
	return s, did, refusal, by
}

// played carries out a rally of the game in play.
func (r *Rules) played(s State, did Effects, e Event) (State, Effects, Refusal, Grounds) {
	faultedBefore := s.PutRightDue()
	i, rides := e.Incident()
	if e.Kind() != Stop || i.Reach == ToItsEnd || i.Reach >= Struck {
		s.play &^= dutyBit | walkBit // the next serve has come
	}
	switch {
	case rides:
		return r.ruled(s, did, e, i, faultedBefore)
	case e.Kind() == Replay:
		return s, did | PlayedAgain, NotRefused, clause.ReplayChangesNothing
	}
	s, did, refusal, by := r.score(s, did, e.Side())
	if by == 0 && e.Fault() != NoFault {
		by = faultBy(e.Fault())
	}
	return s, did, refusal, by
}

// faultBy is the clause that makes a fault of what the loser of a rally did:
// one of its own where the engine knows it. The eye and the ear that see the
// others are the referee's.
func faultBy(f Fault) Grounds {
	switch f {
	case TenSeconds:
		return both(clause.TenSeconds, clause.LostRally)
	case AbsentPlayer:
		return both(clause.AbsentDue, clause.LostRally)
	case StoppedPlay:
		return both(clause.StoppedWrongly, clause.LostRally)
	case LateTimeOut:
		return both(clause.TimeOutLate, clause.LostRally)
	}
	return clause.LostRally
}

// readyToPlay reports what stands between the players and the next serve.
func readyToPlay(s State) (Refusal, Grounds) {
	b, _ := s.Break()
	switch {
	case b >= BloodBreak:
		return Undealt, undealt(b)
	case s.medicalPending():
		return AwaitingMedical, clause.MedicalWhoSays
	case s.concussed():
		return PlayerIsOut, clause.Concussion
	}
	return NotRefused, 0
}

// absentDue reports the side whose absent player is due to serve or receive.
// The server's fault comes first.
func (r *Rules) absentDue(s State) (Side, bool) {
	if s.play&outMask == 0 {
		return A, false
	}
	p := r.Places(s)
	switch {
	case s.Absence(p.Server) != Present:
		return p.Server.Side(), true
	case !p.AnyReceives && s.Absence(p.Receiver) != Present:
		return p.Receiver.Side(), true
	}
	return A, false
}
