package rally

import "github.com/evencourt/evencourt/format"

// Explanation says why an event was refused, in codes; rally/referee puts it
// into words.
type Explanation struct {
	Event   string         `json:"event"`
	Refusal Refusal        `json:"refusal"` // NotRefused: the event would be accepted
	Switch  format.Switch  `json:"-"`       // the edition's rule that decides, 0 for none
	Rule    string         `json:"rule"`    // its name, or "" for none
	Source  *format.Source `json:"source,omitempty"`
	// Instead are kinds of events that meet the same need and may come: for a
	// second medical need, stopping for safety.
	Instead KindSet `json:"instead"`
	Help    bool    `json:"help"`    // call qualified help first
	Allowed KindSet `json:"allowed"` // what may come next
}

// deciding names the rule that decides about a kind of event.
var deciding = [kindCount]format.Switch{
	TimeOut:            format.TimeOutBetween,
	MedicalRequest:     format.MedicalSeconds,
	MedicalInvalid:     format.MedicalInvalid,
	MedicalWithdrawn:   format.MedicalWithdrawn,
	VerbalWarning:      format.PreMatchPenalties,
	TechnicalWarning:   format.FoulsBetween,
	TechnicalFoul:      format.FoulsBetween,
	CarryWarning:       format.CarriedPenalties,
	CarryFoul:          format.CarriedPenalties,
	ChallengeLost:      format.ChallengeLost,
	ChallengeWithdrawn: format.ChallengeWithdrawn,
	LateArrival:        format.LateGameSeconds,
	FirstChoice:        format.Defer,
}

// Why explains what [Rules.Apply] would say to an event: the refusal, the rule
// behind it with its source, and what is allowed instead.
func (r *Rules) Why(s State, e Event) Explanation {
	_, _, refusal := r.Apply(s, e)
	x := Explanation{Event: e.String(), Refusal: refusal, Allowed: r.Allowed(s)}
	if refusal == NotRefused {
		return x
	}
	x.Switch = r.decides(s, e.Kind(), refusal)
	if x.Switch != 0 {
		x.Rule = x.Switch.String()
		if source, ok := format.Origin(r.format.Edition, x.Switch); ok {
			x.Source = &source
		}
	}
	if e.Kind() == MedicalRequest && (refusal == MedicalUsedBefore || refusal == AwaitingMedical || refusal == InBreak || refusal == PlayerIsOut) {
		x.Help = true
		x.Instead = (1<<RefereeTimeOut | 1<<IllnessTimeOut | 1<<BloodTimeOut) & x.Allowed
	}
	if refusal == AbsentDue {
		x.Instead = 1 << RallyWon
	}
	return x
}

func (r *Rules) decides(s State, k Kind, refusal Refusal) format.Switch {
	switch refusal {
	case NotInEdition:
		if k == VerbalWarning || k == TechnicalWarning || k == TechnicalFoul {
			switch s.Phase() {
			case Before:
				return format.PreMatchPenalties
			case Over:
				return format.CarriedPenalties
			}
		}
		return deciding[k]
	case NoneLeft:
		return format.TimeOutSwitch(r.coming(s).Target)
	case MedicalUsedBefore:
		return format.MedicalSeconds
	case OutOfWindow:
		return format.OrderWindow
	}
	return 0
}

// AbsentFault returns the event to enter when a player who is out is due to
// serve or receive: his side loses the rally. It is false if none is due, and
// after a suspected concussion, with which no rally is played.
func (r *Rules) AbsentFault(s State) (Event, bool) {
	if s.Phase() != Playing || s.concussed() {
		return 0, false
	}
	side, due := r.absentDue(s)
	return FaultTo(side.Other(), AbsentPlayer), due
}
