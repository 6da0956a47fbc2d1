package rally

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
)

// timeOut charges a standard time-out, in play to this game and between games
// to the coming one. One may follow another at once; by some editions a side may
// add its own to the medical time of its player.
func (r *Rules) timeOut(s State, side Side) (State, Effects, Refusal, Grounds) {
	phase := s.Phase()
	b, owner := s.Break()
	added := b == MedicalBreak && owner.Side() == side && !s.medicalPending()
	switch {
	case phase == Before:
		return refused(NotStarted, clause.TimeOutBeforeMatch)
	case phase == Between && !r.takes(clause.TimeOutBetween):
		return refused(NotInEdition, clause.NoTimeOutBetween)
	case added && !r.takes(clause.MedicalWithTimeOuts):
		return refused(InBreak, clause.MedicalEnds)
	case !added:
		if why, by := afterTimeOut(s); why != NotRefused {
			return refused(why, by)
		}
	}
	s, did, ok := r.charge(s, side)
	if !ok {
		return refused(NoneLeft, both(clause.TimeOutNoneLeft, Grounds(r.format.Rulings.Clause(format.TimeOutSwitch(r.coming(s).Target)))))
	}
	by := Grounds(clause.TimeOutPerGame)
	switch {
	case added:
		by = clause.MedicalWithTimeOuts
	case b == TimeOutBreak:
		by = clause.TimeOutAgain
	case phase == Between:
		by = clause.TimeOutBetween
	}
	return s.withBreak(TimeOutBreak, Person(side<<1)), did | BreakBegan, NotRefused, by
}

// TimeOutsAllowed returns how many standard time-outs the format gives a side in the
// game in play; before the match and between games, in the coming one.
func (r *Rules) TimeOutsAllowed(s State) int { return int(r.coming(s).TimeOuts) }

// coming returns how the game in play is played; before the match and between
// games, the next one.
func (r *Rules) coming(s State) *game {
	if s.Phase() != Playing {
		s.play += 1 << gameAt
	}
	return r.game(s)
}

// charge takes a time-out from a side, if it has one left.
func (r *Rules) charge(s State, side Side) (State, Effects, bool) {
	used, allowed := s.TimeOutsUsed(side), r.TimeOutsAllowed(s)
	switch {
	case used >= allowed:
		return s, 0, false
	case used+1 == allowed:
		return s.counted(timeOutsAt, 4, side), TimeOutCharged | LastTimeOut, true
	}
	return s.counted(timeOutsAt, 4, side), TimeOutCharged, true
}

// afterTimeOut refuses a break that can begin only in play or follow at once
// on a time-out.
func afterTimeOut(s State) (Refusal, Grounds) {
	switch b, _ := s.Break(); {
	case b >= BloodBreak:
		return Undealt, undealt(b)
	case s.medicalPending():
		return AwaitingMedical, clause.MedicalWhoSays
	case b != NoBreak && b != TimeOutBreak:
		return InBreak, clause.OneMoment
	}
	return NotRefused, 0
}

// undealt is the clause of a break that ends only when it is dealt with.
func undealt(b Break) Grounds {
	if b == BloodBreak {
		return clause.Blood
	}
	return clause.RefereeBreak
}

// endBreak ends the break that is running, if any.
func (s State) endBreak(did Effects) (State, Effects) {
	if s.play&breakMask == 0 {
		return s, did
	}
	s.play &^= breakMask
	return s, did | BreakEnded
}

func timeIn(s State) (State, Effects, Refusal, Grounds) {
	b, _ := s.Break()
	switch {
	case b >= BloodBreak:
		return refused(Undealt, undealt(b))
	case s.medicalPending():
		return refused(AwaitingMedical, clause.MedicalWhoSays)
	case b == NoBreak:
		return refused(NoBreakRunning, clause.OneMoment)
	}
	s, did := s.endBreak(0)
	return s, did, NotRefused, clause.TimeOutKeeps
}

func equipment(s State, p Person) (State, Effects, Refusal, Grounds) {
	if s.Phase() == Before {
		return refused(NotStarted, clause.Equipment)
	}
	if why, by := afterTimeOut(s); why != NotRefused {
		return refused(why, by)
	}
	return s.withBreak(EquipmentBreak, p), BreakBegan, NotRefused, clause.Equipment
}

// refereeBreak stops play; safety never waits for another break to end.
func refereeBreak(s State, b Break) (State, Effects, Refusal, Grounds) {
	if s.Phase() == Before {
		return refused(NotStarted, clause.RefereeBreak)
	}
	if running, _ := s.Break(); b == RefereeBreak && running >= BloodBreak {
		// It would end with time in, and the cause be forgotten.
		return refused(Undealt, undealt(running))
	}
	did, by := BreakBegan, undealt(b)
	if b == BloodBreak || b == IllnessBreak {
		did |= CallHelp
	}
	if b == IllnessBreak {
		by = clause.RefereeStopsForSafety
	}
	return s.withBreak(b, 0), did, NotRefused, by
}

// nothingWaits is s without medical time that waits for something else to be
// dealt with: it is used up like any other.
func (s State) nothingWaits() State {
	const lowest = uint64(0x55) << medicalAt // of the two bits of each player, by which MedicalGranted is more than MedicalUsed
	s.ledger &^= s.ledger >> 1 & lowest
	return s
}

func dealt(s State) (State, Effects, Refusal, Grounds) {
	b, _ := s.Break()
	if b < BloodBreak {
		return refused(NoBreakRunning, clause.OneMoment)
	}
	s, did := s.endBreak(0)
	by := undealt(b)
	next, waits := A1, false // what was granted goes before what is asked, A1's before the others'
	for i := range B2 + 1 {
		p := B2 - i
		if m := s.Medical(p); m == MedicalGranted || m == MedicalRequested && !(waits && s.Medical(next) == MedicalGranted) {
			next, waits = p, true
		}
	}
	s = s.nothingWaits()
	if waits {
		s, did, by = s.withBreak(MedicalBreak, next), did|BreakBegan, both(undealt(b), clause.MedicalInBreak)
	}
	return s, did, NotRefused, by
}

// medicalPending reports whether a request is open.
func (s State) medicalPending() bool {
	_, open := s.medicalOpen()
	return open
}

// medicalOpen returns the first player whose request is open.
func (s State) medicalOpen() (Person, bool) {
	for p := A1; p <= B2; p++ {
		if s.Medical(p) == MedicalRequested {
			return p, true
		}
	}
	return A1, false
}

// medicalRequest stops play for a player who asks for it, also while another is
// cared for or something else is dealt with. Whether there is a valid condition
// is for qualified people to say: the answer is an event.
func medicalRequest(s State, p Person) (State, Effects, Refusal, Grounds) {
	b, _ := s.Break()
	switch {
	case s.Phase() == Before:
		return refused(NotStarted, clause.MedicalOutsidePlay)
	case s.Medical(p) == MedicalRequested:
		return refused(AwaitingMedical, clause.MedicalWhoSays)
	case s.Medical(p) != MedicalUnused:
		return refused(MedicalUsedBefore, clause.MedicalOnce)
	case s.Absence(p) != Present:
		return refused(PlayerIsOut, s.outBy(p))
	}
	s = s.withMedical(p, MedicalRequested)
	switch {
	case b >= BloodBreak:
		return s, CallHelp, NotRefused, clause.MedicalInBreak
	case b == MedicalBreak:
		return s, CallHelp, NotRefused, clause.MedicalTwo
	}
	by := Grounds(clause.Medical)
	if s.Medical(p.Partner()) == MedicalUsed {
		by = both(by, clause.MedicalPartner)
	}
	return s.withBreak(MedicalBreak, p), BreakBegan | CallHelp, NotRefused, by
}

// helpArrived records that qualified people are with a player: his medical time
// runs from that entry.
func helpArrived(s State, p Person) (State, Effects, Refusal, Grounds) {
	b, owner := s.Break()
	if m := s.Medical(p); m != MedicalRequested && m != MedicalGranted && (b != MedicalBreak || owner != p) {
		return refused(NoRequest, clause.OneMoment)
	}
	return s, Recorded, NotRefused, clause.MedicalFromArrival
}

// outBy is the clause by which a player is out.
func (s State) outBy(p Person) Grounds {
	if s.Absence(p) == Concussed {
		return clause.Concussion
	}
	return clause.OnePlayer
}

// medicalAnswer takes what qualified people found, or that the player withdrew
// his request.
func (r *Rules) medicalAnswer(s State, k Kind, p Person) (State, Effects, Refusal, Grounds) {
	if s.Medical(p) != MedicalRequested {
		return refused(NoRequest, clause.OneMoment)
	}
	b, _ := s.Break()
	switch {
	case k == MedicalValid && b >= BloodBreak:
		// What must be dealt with stays; the break that was granted follows it.
		return s.withMedical(p, MedicalGranted), MedicalUsedUp, NotRefused, both(clause.MedicalOnce, clause.MedicalInBreak)
	case k == MedicalValid:
		return s.withMedical(p, MedicalUsed).withBreak(MedicalBreak, p), MedicalUsedUp, NotRefused, clause.MedicalOnce
	}
	s, did := s.withMedical(p, MedicalUnused).endCare(p, 0)
	next, costs, refusal, by := r.requestCosts(s, k, p.Side())
	if refusal == NotInEdition {
		// No penalty that can be given now: what qualified people found is
		// recorded all the same.
		return s, did | Recorded, NotRefused, by
	}
	return next, did | costs, refusal, by
}

// endCare ends the medical break of a player, unless another waits for his.
func (s State) endCare(p Person, did Effects) (State, Effects) {
	if b, owner := s.Break(); b != MedicalBreak || owner != p {
		return s, did
	}
	if other, open := s.medicalOpen(); open {
		return s.withBreak(MedicalBreak, other), did
	}
	return s.endBreak(did)
}

// requestCosts is what a medical request costs that was withdrawn or had no
// valid condition.
func (r *Rules) requestCosts(s State, k Kind, side Side) (State, Effects, Refusal, Grounds) {
	if k == MedicalWithdrawn {
		if !r.takes(clause.MedicalRescinded) {
			return s, Recorded, NotRefused, clause.MedicalKept
		}
		s, did, refusal, by := r.chargeOrFoul(s, side, clause.MedicalRescinded)
		if did.Has(TimeOutCharged) {
			did |= Recorded
		}
		return s, did, refusal, by
	}
	switch r.by(clause.MedicalInvalidFree) {
	case clause.MedicalInvalidWarned:
		s, did, refusal, by := r.warn(s, 0, side)
		return s, did, refusal, both(clause.MedicalInvalidWarned, by)
	case clause.MedicalInvalidCharged:
		return r.chargeAndWarn(s, side, clause.MedicalInvalidCharged, clause.MedicalInvalidFoul)
	}
	return s, Recorded, NotRefused, clause.MedicalInvalidFree
}

// chargeAndWarn charges a time-out and gives a technical warning; with no
// time-out left it is a technical foul instead.
func (r *Rules) chargeAndWarn(s State, side Side, charged, fouled Grounds) (State, Effects, Refusal, Grounds) {
	s, did, ok := r.charge(s, side)
	if !ok {
		s, did, refusal, by := r.foul(s, 0, side)
		return s, did, refusal, both(fouled, by)
	}
	s, did, refusal, by := r.warn(s, did, side)
	return s, did, refusal, both(charged, by)
}

// chargeOrFoul charges a time-out; with none left it is a technical foul.
func (r *Rules) chargeOrFoul(s State, side Side, why Grounds) (State, Effects, Refusal, Grounds) {
	s, did, ok := r.charge(s, side)
	if ok {
		return s, did, NotRefused, why
	}
	s, did, refusal, by := r.foul(s, 0, side)
	return s, did, refusal, both(why, by)
}

// playOnAlone takes a player out whose partner plays on. Service order and
// places stay as if both were there.
func (r *Rules) playOnAlone(s State, p Person) (State, Effects, Refusal, Grounds) {
	switch {
	case s.Phase() == Before:
		return refused(NotStarted, clause.BothPresent)
	case s.Absence(p) != Present:
		return refused(PlayerIsOut, s.outBy(p))
	case !r.doubles || s.Absence(p.Partner()) != Present:
		return refused(NobodyLeft, clause.OnePlayer)
	}
	return s.withAbsence(p, CannotGoOn).forgetRequest(p), PlayerOut | CallHelp, NotRefused, clause.OnePlayer
}

// concussion takes a player out of this match on suspicion. Only an entry
// repair with a stated reason lifts it.
func concussion(s State, p Person) (State, Effects, Refusal, Grounds) {
	if s.Absence(p) == Concussed {
		return refused(PlayerIsOut, clause.Concussion)
	}
	return s.withAbsence(p, Concussed).forgetRequest(p), PlayerOut | CallHelp, NotRefused, clause.Concussion
}

// forgetRequest drops a medical request of a player who is out: there is
// nothing left to grant.
func (s State) forgetRequest(p Person) State {
	if s.Medical(p) != MedicalRequested {
		return s
	}
	s = s.withMedical(p, MedicalUnused)
	if cared, did := s.endCare(p, 0); did == 0 {
		return cared
	}
	return s.withBreak(RefereeBreak, 0) // play waits for the referee
}

// concussed reports whether anybody is out for that: the high bit of a pair.
func (s State) concussed() bool { return s.play&(0x55*uint64(Concussed)<<outAt) != 0 }
