package rally

import "github.com/evencourt/evencourt/format"

// inMatch refuses what needs a match that has begun.
func (m *move) inMatch() Refusal {
	if m.s.Phase() == Before {
		return NotStarted
	}
	return NotRefused
}

// timeOut charges a standard time-out, in play to this game and between games
// to the coming one. One may follow another at once.
func (m *move) timeOut(side Side) Refusal {
	phase := m.s.Phase()
	if phase == Before {
		return NotStarted
	}
	if phase == Between && !m.r.switchIs(format.TimeOutBetween, format.Yes) {
		return NotInEdition
	}
	if refusal := m.afterTimeOut(); refusal != NotRefused {
		return refusal
	}
	if !m.charge(side) {
		return NoneLeft
	}
	m.begin(TimeOutBreak, Person(side<<1))
	return NotRefused
}

// TimeOuts returns how many standard time-outs the format gives a side in the
// game in play; before the match and between games, in the coming one.
func (r *Rules) TimeOuts(s State) int { return int(r.coming(s).TimeOuts) }

// coming returns how the game in play is played; before the match and between
// games, the next one.
func (r *Rules) coming(s State) *game {
	n := s.Game()
	if s.Phase() != Playing {
		n++
	}
	return r.game(n)
}

// charge takes a time-out from a side, if it has one left.
func (m *move) charge(side Side) bool {
	used, allowed := m.s.TimeOutsUsed(side), m.r.TimeOuts(m.s)
	if used >= allowed {
		return false
	}
	m.s.count(timeOutsAt, 4, side)
	m.did |= TimeOutCharged
	if used+1 == allowed {
		m.did |= LastTimeOut
	}
	return true
}

// afterTimeOut refuses a break that can begin only in play or follow at once
// on a time-out.
func (m *move) afterTimeOut() Refusal {
	switch b, _ := m.s.Break(); {
	case b >= BloodBreak:
		return Undealt
	case m.s.medicalPending():
		return AwaitingMedical
	case b != NoBreak && b != TimeOutBreak:
		return InBreak
	}
	return NotRefused
}

func (m *move) begin(b Break, owner Person) {
	m.s.setBreak(b, owner)
	m.did |= BreakBegan
}

func (m *move) endBreak() {
	if m.s.play&breakMask != 0 {
		m.s.play &^= breakMask
		m.did |= BreakEnded
	}
}

func (m *move) timeIn() Refusal {
	b, _ := m.s.Break()
	switch {
	case b >= BloodBreak:
		return Undealt
	case m.s.medicalPending():
		return AwaitingMedical
	case b == NoBreak:
		return NoBreakRunning
	}
	m.endBreak()
	return NotRefused
}

func (m *move) equipment(p Person) Refusal {
	if refusal := m.inMatch(); refusal != NotRefused {
		return refusal
	}
	if refusal := m.afterTimeOut(); refusal != NotRefused {
		return refusal
	}
	m.begin(EquipmentBreak, p)
	return NotRefused
}

// refereeBreak stops play; safety never waits for another break to end.
func (m *move) refereeBreak(b Break) Refusal {
	if refusal := m.inMatch(); refusal != NotRefused {
		return refusal
	}
	if running, _ := m.s.Break(); b == RefereeBreak && running >= BloodBreak {
		return Undealt // it would end with time in, and the cause be forgotten
	}
	m.begin(b, 0)
	if b == BloodBreak || b == IllnessBreak {
		m.did |= CallHelp
	}
	return NotRefused
}

func (m *move) dealt() Refusal {
	if b, _ := m.s.Break(); b < BloodBreak {
		return NoBreakRunning
	}
	m.endBreak()
	for p := A1; p <= B2; p++ {
		if m.s.Medical(p) == MedicalRequested {
			m.begin(MedicalBreak, p) // a request that had to wait comes first
		}
	}
	return NotRefused
}

// medicalPending reports whether a request is open: the low bit of a pair.
func (s State) medicalPending() bool {
	return s.ledger&(0x55*uint64(MedicalRequested)<<medicalAt) != 0
}

// medicalRequest stops play for a player who asks for it. Whether there is a
// valid condition is for qualified people to say: the answer is an event.
func (m *move) medicalRequest(p Person) Refusal {
	if refusal := m.inMatch(); refusal != NotRefused {
		return refusal
	}
	switch b, _ := m.s.Break(); {
	case b >= BloodBreak:
		return Undealt
	case m.s.medicalPending():
		return AwaitingMedical
	case b == MedicalBreak:
		return InBreak
	case m.s.Medical(p) == MedicalUsed:
		return MedicalUsedBefore
	case m.s.Absence(p) != Present:
		return PlayerIsOut
	}
	m.s.setMedical(p, MedicalRequested)
	m.begin(MedicalBreak, p)
	m.did |= CallHelp
	return NotRefused
}

// medicalAnswer takes what qualified people found, or that the player withdrew
// his request.
func (m *move) medicalAnswer(k Kind, p Person) Refusal {
	if m.s.Medical(p) != MedicalRequested {
		return NoRequest
	}
	if k == MedicalValid {
		m.s.setMedical(p, MedicalUsed)
		if b, _ := m.s.Break(); b < BloodBreak { // what must be dealt with stays
			m.s.setBreak(MedicalBreak, p)
		}
		m.did |= MedicalUsedUp
		return NotRefused
	}
	m.s.setMedical(p, MedicalUnused)
	if b, _ := m.s.Break(); b == MedicalBreak {
		m.endBreak()
	}
	side := p.Side()
	if k == MedicalWithdrawn {
		if m.r.switchIs(format.MedicalWithdrawn, format.MedicalWithdrawnTimeOutOrFoul) && !m.charge(side) {
			return m.foul(side)
		}
		m.did |= Recorded
		return NotRefused
	}
	refusal := NotInEdition
	switch m.r.format.Rulings[format.MedicalInvalid] {
	case format.MedicalInvalidWarning:
		refusal = m.warn(side)
	case format.MedicalInvalidTimeOutAndWarning:
		refusal = m.chargeAndWarn(side)
	}
	if refusal == NotInEdition {
		// No penalty, or none that can be given now: what qualified people
		// found is recorded all the same.
		m.did |= Recorded
		return NotRefused
	}
	return refusal
}

// chargeAndWarn charges a time-out and gives a technical warning; with no
// time-out left it is a technical foul instead.
func (m *move) chargeAndWarn(side Side) Refusal {
	if !m.charge(side) {
		return m.foul(side)
	}
	return m.warn(side)
}

// playOnAlone takes a player out whose partner plays on. Service order and
// places stay as if both were there.
func (m *move) playOnAlone(p Person) Refusal {
	switch {
	case m.s.Phase() == Before:
		return NotStarted
	case m.s.Absence(p) != Present:
		return PlayerIsOut
	case !m.r.doubles || m.s.Absence(p.Partner()) != Present:
		return NobodyLeft
	}
	m.s.setAbsence(p, CannotGoOn)
	m.s.forgetRequest(p)
	m.did |= PlayerOut | CallHelp
	return NotRefused
}

// concussion takes a player out of this match on suspicion. Only an entry
// repair with a stated reason lifts it.
func (m *move) concussion(p Person) Refusal {
	if m.s.Absence(p) == Concussed {
		return PlayerIsOut
	}
	m.s.setAbsence(p, Concussed)
	m.s.forgetRequest(p)
	m.did |= PlayerOut | CallHelp
	return NotRefused
}

// forgetRequest drops a medical request of a player who is out: there is
// nothing left to grant.
func (s *State) forgetRequest(p Person) {
	if s.Medical(p) != MedicalRequested {
		return
	}
	s.setMedical(p, MedicalUnused)
	if b, owner := s.Break(); b == MedicalBreak && owner == p {
		s.setBreak(RefereeBreak, 0)
	}
}

// concussed reports whether anybody is out for that: the high bit of a pair.
func (m *move) concussed() bool { return m.s.play&(0x55*uint64(Concussed)<<outAt) != 0 }
