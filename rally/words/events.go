package words

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Who names the sides and players of a match, each as the value of a name.
type Who interface {
	Side(rally.Side) Value
	Person(rally.Person) Value
}

// letters names sides and players as they are entered: "side A", "A1".
type letters struct{}

func (letters) Side(s rally.Side) Value     { return New("person.side", Name("side", s.String())) }
func (letters) Person(p rally.Person) Value { return Plain(p.String()) }

// Entry is an entry of a log in words, a correction too: what undo would take back.
// Sides and players are those that who names; of nil, their letters.
func Entry(e rally.Entry, who Who) Text {
	n := Count("entry", e.Target)
	event := Within("event", Event(e.Event, who))
	var out Text
	switch e.Kind {
	case rally.Amend:
		if out = New("entry.amend", n, event); e.Event == 0 {
			out = New("entry.strike", n)
		}
	case rally.RuleOn:
		out = New("entry.rule", n, event)
	case rally.Rewind:
		out = New("entry.rewind", n)
	case rally.SetPosition:
		out = New("entry.set", Name("line", e.Line))
	case rally.ChangeFormat:
		code := Code("entry.now")
		if e.Next {
			code = "entry.next"
		}
		if out = New(code, Within("format", Format(e.Format))); e.Note != "" {
			return New("entry.decided", Within("entry", out), Name("by", e.Note))
		}
		return out
	case rally.Undo, rally.Redo:
		return New("event.plain", Word("kind", Code("kind."+e.Kind.String())))
	default:
		return Event(e.Event, who)
	}
	if e.Note != "" {
		return New("entry.stated", Within("entry", out), Name("reason", e.Note))
	}
	return out
}

// Event is an event as a short text: "time-out, side B". A nil who names sides
// and players by their letters.
func Event(e rally.Event, who Who) Text {
	if who == nil {
		who = letters{}
	}
	kind := e.Kind()
	is := Word("kind", Code("kind."+kind.String()))
	side := Arg{"side", who.Side(e.Side())}
	switch kind {
	case rally.NoKind:
		return New("event.none")
	case rally.RallyWon:
		out := New("event.side", is, side)
		if f := e.Fault(); f != rally.NoFault {
			out = New("event.fault", is, side, Word("fault", Code("fault."+f.String())))
		}
		if i, rides := e.Incident(); rides {
			out = New("event.incident", Within("event", out), Within("claim", raised(i)))
		}
		return out
	case rally.Stop:
		i, _ := e.Incident()
		if i.Mistakes == 0 && !i.Claimed {
			return New("event.plain", is) // nobody says that anything was wrong
		}
		return New("event.stop", stopper(i), Word("reach", codeOf("reach.", i.Reach.String(), "ended")), Within("claim", claim(i)))
	case rally.StartGame:
		st := e.Starters()
		return New("event.start", is, side, Arg{"a", who.Person(st[rally.A])}, Arg{"b", who.Person(st[rally.B])})
	case rally.FirstChoice:
		return New("event.choice", is, side, Word("chosen", Code("chosen."+e.Choice().String())))
	case rally.LateArrival:
		return New("event.late", is, side, Count("seconds", e.Seconds()))
	case rally.Exchange, rally.TimeOut, rally.VerbalWarning, rally.TechnicalWarning, rally.TechnicalFoul, rally.GameForfeit,
		rally.MatchForfeit, rally.ChallengeLost, rally.ChallengeWithdrawn, rally.Retirement, rally.Withdrawal:
		return New("event.side", is, side)
	case rally.EquipmentTimeOut, rally.MedicalRequest, rally.MedicalValid, rally.MedicalInvalid, rally.MedicalWithdrawn, rally.HelpArrived,
		rally.PlayOnAlone, rally.Concussion, rally.CarryVerbal, rally.CarryWarning, rally.CarryFoul,
		rally.CarrySameVerbal, rally.CarrySameWarning, rally.CarrySameFoul, rally.Ejection, rally.Expulsion, rally.Substitution:
		return New("event.person", is, Arg{"player", who.Person(e.Person())})
	}
	return New("event.plain", is)
}

// codeOf is the code of a value of an enum, whose zero value has a name here.
func codeOf(family, text, zero string) Code {
	if text == "" {
		text = zero
	}
	return Code(family + text)
}

func stopper(i rally.Incident) Arg {
	return Word("stopper", codeOf("stopper.", i.Stopper.String(), "nobody"))
}

// raised is what was wrong with a rally that was played to its end, and when
// and by whom that was raised.
func raised(i rally.Incident) Text {
	return New("claim.raised", Within("claim", claim(i)), Word("since", codeOf("since.", i.Since.String(), "live")), stopper(i))
}

// claim is what was wrong with a rally, or was said to be.
func claim(i rally.Incident) Text {
	var wrong []Text
	for m := rally.WrongSideServed; m <= rally.UnannouncedReceiver; m++ {
		if i.Mistakes.Has(m) {
			wrong = append(wrong, For(m))
		}
	}
	out := New("claim.mistakes", Each("mistakes", wrong...))
	if len(wrong) == 0 {
		out = New("claim.mistaken", Within("mistake", For(i.Claim)))
	}
	if i.Misled {
		out = New("claim.misled", Within("claim", out))
	}
	if i.Asked {
		out = New("claim.confirmed", Within("claim", out))
	}
	return out
}

// Effects are what an event did, in the order of the effects.
func Effects(did rally.Effects) []Text {
	var out []Text
	for did != 0 {
		one := did & -did
		out = append(out, New(Code("effect."+one.String())))
		did &^= one
	}
	return out
}

// Shown is what the core and the rules have a name for, and so a word.
type Shown interface {
	rally.Phase | rally.Break | rally.Refusal | rally.Kind | rally.Fault | rally.Mistake | format.Clause
	String() string
}

// For is the word for a phase, a break, a refusal, a kind of event, a fault or a
// mistake, and the sentence of a clause.
func For[T Shown](v T) Text {
	family := ""
	switch any(v).(type) {
	case rally.Phase:
		family = "phase."
	case rally.Break:
		family = "break."
	case rally.Refusal:
		family = "refusal."
	case rally.Kind:
		family = "kind."
	case rally.Fault:
		family = "fault."
	case rally.Mistake:
		family = "mistake."
	case format.Clause:
		family = "rule."
	}
	return New(Code(family + v.String()))
}

// OfCourt is the word for a service court; where a sport has none, or nobody says
// in which one somebody is, for the whole of it.
func OfCourt(c rally.Court) Code {
	switch c {
	case rally.Right:
		return "court.right"
	case rally.Left:
		return "court.left"
	}
	return "court.none"
}
