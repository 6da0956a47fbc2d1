package walk

import "github.com/evencourt/evencourt/rally"

// Rallies are the two letters of play: a rally won by A, by B.
func Rallies() []rally.Event { return []rally.Event{rally.RallyTo(rally.A), rally.RallyTo(rally.B)} }

// Play is [Rallies] with the mid-game end change made.
func Play() []rally.Event { return append(Rallies(), rally.EventOf(rally.EndsChanged)) }

// Incidents are rallies with one thing wrong: every mistake alone and that of
// both sides together, every mistaken claim, how far the rally got, what is
// over since, who stopped it, whether the referee had been asked.
func Incidents() []rally.Event {
	var out []rally.Event
	add := func(e rally.Event, i rally.Incident) { out = append(out, e.WithIncident(i)) }
	sets := []rally.Mistakes{rally.Mistakes(0).With(rally.WrongServer).With(rally.WrongReceived)}
	for m := rally.WrongSideServed; m <= rally.UnannouncedReceiver; m++ {
		sets = append(sets, rally.Mistakes(0).With(m))
	}
	stop := rally.EventOf(rally.Stop)
	for _, by := range []rally.Stopper{rally.BySideA, rally.BySideB, rally.ByReferee} {
		for reach := rally.NotCalled; reach <= rally.ThirdShot; reach++ {
			for _, set := range sets {
				for _, asked := range []bool{false, true} {
					add(stop, rally.Incident{Mistakes: set, Reach: reach, Stopper: by, Asked: asked})
				}
			}
			for m := rally.WrongSideServed; m <= rally.WrongCall; m++ {
				add(stop, rally.Incident{Claim: m, Claimed: true, Reach: reach, Stopper: by})
			}
			wrong := rally.Mistakes(0).With(rally.WrongCall)
			add(stop, rally.Incident{Mistakes: wrong, Misled: true, Reach: reach, Stopper: by})
		}
	}
	for _, won := range Rallies() {
		for since := rally.RallyOver; since <= rally.AfterSheet; since++ {
			for _, set := range sets {
				for by := rally.Nobody; by <= rally.ByReferee; by++ {
					add(won, rally.Incident{Mistakes: set, Since: since, Stopper: by})
					add(won, rally.Incident{Mistakes: set, Since: since, Stopper: by, Asked: true})
				}
			}
		}
		// A serve that never came back closes no window that waits for the return.
		fault := won | rally.FaultTo(rally.A, rally.ShortServe)
		for _, set := range sets {
			add(fault, rally.Incident{Mistakes: set, Since: rally.RallyOver, Stopper: rally.BySideA})
			add(fault, rally.Incident{Mistakes: set, Since: rally.RallyOver, Stopper: rally.BySideB})
		}
	}
	return out
}

// Breaks are the time-outs of every kind with what ends them.
func Breaks() []rally.Event {
	var out []rally.Event
	for s := rally.A; s <= rally.B; s++ {
		out = append(out, rally.OfSide(rally.TimeOut, s))
	}
	for p := rally.A1; p <= rally.B2; p++ {
		for _, k := range []rally.Kind{rally.EquipmentTimeOut, rally.MedicalRequest, rally.MedicalValid, rally.MedicalInvalid, rally.MedicalWithdrawn, rally.HelpArrived} {
			out = append(out, rally.OfPerson(k, p))
		}
	}
	return append(out, rally.EventOf(rally.TimeIn), rally.EventOf(rally.RefereeTimeOut), rally.EventOf(rally.BloodTimeOut), rally.EventOf(rally.Dealt))
}

// Penalties are warnings, fouls and lost challenges.
func Penalties() []rally.Event {
	var out []rally.Event
	for s := rally.A; s <= rally.B; s++ {
		for _, k := range []rally.Kind{rally.VerbalWarning, rally.TechnicalWarning, rally.TechnicalFoul, rally.ChallengeLost, rally.ChallengeWithdrawn} {
			out = append(out, rally.OfSide(k, s))
		}
	}
	return out
}

// Openings is what can come before the first serve: the first choice, carried
// penalties, late arrival.
func Openings() []rally.Event {
	var out []rally.Event
	for s := rally.A; s <= rally.B; s++ {
		for c := rally.ChooseServe; c <= rally.ChooseDefer; c++ {
			out = append(out, rally.Choose(s, c))
		}
		for _, seconds := range []int{599, 600, 899, 900, 3600} {
			out = append(out, rally.Late(s, seconds))
		}
	}
	for p := rally.A1; p <= rally.B2; p++ {
		for k := rally.CarryVerbal; k <= rally.CarrySameFoul; k++ {
			out = append(out, rally.OfPerson(k, p))
		}
	}
	return out
}
