package rally

import (
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/serviceorder"
)

// rewind restores the game as it was after entry n. Ledger, absences and
// break stay as they are, and so do ends that were changed. It goes back to
// the start of the game in play at most, or from between games into the one
// just won.
func (f *folding) rewind(n int) (version, *EntryError) {
	st, err := f.holding(n)
	if err != nil {
		return version{}, err
	}
	now, then := f.now.state, f.backTo(n)
	between := now.Phase() == Between
	if then.Phase() != Playing || now.Phase() != Playing && !between || now.Game() != then.Game() {
		return version{}, refuse(0, NotNow, "rewind-game")
	}
	var end State // before the game ended
	for i := n + 1; i < f.last(); i++ {
		later := f.step(i)
		switch {
		case !later.stands():
		case later.Event.Kind() == ChangeFormat || later.Rules != st.Rules:
			return version{}, refuse(later.N, NotNow, "rewind-format")
		case later.Event.Kind() == SetPosition:
			return version{}, refuse(later.N, NotNow, "rewind-stated")
		case later.Event.Kind() != RuleOn && later.Effects&(PenaltyPoint|GameForfeited) != 0: // a ruling is told by its rally
			return version{}, refuse(later.N, NotNow, "penalty-moved")
		case later.Event.Kind() == Rewind && f.log.correction(i).entry.Target < n:
			return version{}, refuse(n, NotNow, "not-held") // a repair that holds, but what it left is gone
		case later.Final:
			end = later.Before
		}
	}
	const kept = outMask | breakMask | aborted | endsBit | midDone
	s := State{then.play&^kept | now.play&kept, now.ledger &^ opensMask}
	switch {
	case s.EndChangeMade():
		s.play &^= midDue
	case st.Rules.game(s).ChangeEndsEvery != 0:
		s.play ^= (then.play ^ now.play) & endsBit >> endsAt << midDueAt // who has changed since changes back
	}
	if between {
		st.Rules.resume(&s, end, [2]int{now.TimeOutsUsed(A), now.TimeOutsUsed(B)})
	}
	for i := n + 1; i < f.last(); i++ {
		later := f.step(i)
		k := later.Event.Kind()
		if k < Undo || k > Amend && (k != RuleOn || f.log.correction(i).entry.Target > n) {
			later.Holds, later.Final = false, false
			later.Effects &^= inGame
		}
	}
	f.now.state = s
	return f.now, nil
}

// backTo is the state to which a rewind to entry n goes back. A repair is no
// event, so that it is what was left by the entry before it, with what was ruled
// on since.
func (f *folding) backTo(n int) State {
	for ; n > f.from; n-- {
		if st := f.step(n); st.N != 0 && !repairs(st.Event) {
			return st.back
		}
	}
	return f.begun
}

// inGame are the effects that a rewind takes back with the game: all but what
// is on record, a break, and ends that were changed.
const inGame = Point | SecondServer | SideOut | PlayedAgain | Withheld | Stands | Overruled | GameStarted | GameWon | MatchWon |
	EndsDue | Exchanged | PutRight

// stands reports whether a step holds and has its own place in the fold.
func (st *Step) stands() bool { return st.N != 0 && st.Holds && !repairs(st.Event) }

// since returns the steps after entry n that hold, up to the entry being read.
func (f *folding) since(n int) []*Step {
	out := make([]*Step, 0, f.last()-n)
	for i := n + 1; i < f.last(); i++ {
		if st := f.step(i); st.stands() {
			out = append(out, st)
		}
	}
	return out
}

// resume gives a game that goes on after all what its end had closed: the
// time-outs used in it, charged with those taken since as far as it has any
// left, and where warnings belong to a game the warnings given in it.
func (r *Rules) resume(s *State, end State, taken [2]int) {
	*s = s.withOutcome(NotEnded, nobody)
	allowed := r.TimeOutsAllowed(*s)
	for side := A; side <= B; side++ {
		used := min(end.TimeOutsUsed(side)+taken[side], allowed)
		*s = s.withLedger(timeOutsAt+4*int(side), 4, uint64(used))
		if r.takes(clause.SecondWarningGame) {
			given := min(end.TechnicalWarnings(side)+s.TechnicalWarnings(side), 7)
			*s = s.withLedger(warningAt+3*int(side), 3, uint64(given))
		}
	}
}

// setPosition states the position outright, as a canonical line.
func (l *Log) setPosition(e Entry) error {
	s, err := l.now.rules.ParseLine(e.Line)
	if err != nil {
		return err
	}
	to, refused := l.now.placed(s)
	if refused != nil {
		return refused
	}
	return l.correctTo(&correction{entry: &e}, to)
}

// set carries out a stated position within a fold. Into an earlier game it
// withdraws the finals from there on.
func (f *folding) set(line string) (version, *EntryError) {
	s, err := f.now.rules.ParseLine(line)
	if err != nil {
		return version{}, &EntryError{Refusal: Malformed, Reason: "line", Detail: err.Error()}
	}
	to, refused := f.now.placed(s)
	if refused != nil {
		return version{}, refused
	}
	for i := range f.steps {
		st := &f.steps[i]
		restated := st.back.Game() == s.Game() && s.Phase() > Playing && st.back.Score(A) == s.Score(A) && st.back.Score(B) == s.Score(B)
		if st.Final && st.back.Game() >= s.Game() && !restated {
			st.Final = false
		}
	}
	return to, nil
}

// placed returns the version in which the position is s.
func (v version) placed(s State) (version, *EntryError) {
	if s.Phase() == Closed {
		return v, refuse(0, NotNow, "sheet-stated")
	}
	for p := A1; p <= B2; p++ {
		if v.state.Absence(p) == Concussed && s.Absence(p) != Concussed {
			return v, &EntryError{Refusal: NotNow, By: clause.Concussion, Reason: "concussion"}
		}
	}
	if v.pending != nil && s.Phase() <= Between {
		if v.pending.canFollow(s, v.rules) != "" {
			return v, refuse(0, NotNow, "pending")
		}
	}
	v.state = s
	return v, nil
}

// change plays on under another format, from now or from the next game, by
// somebody's decision.
func (f *folding) change(c *correction) (version, *EntryError) {
	s, old := f.now.state, f.now.rules
	if s.Phase() > Between {
		return version{}, refuse(0, MatchOver, "")
	}
	var reason EntryReason
	if c.entry.Next {
		reason, f.now.pending = c.rules.canFollow(s, old), c.rules
	} else {
		f.now.state, reason = c.rules.takeOver(s, old)
		f.now.rules, f.now.pending = c.rules, nil
	}
	if reason != "" {
		return version{}, refuse(0, NotNow, reason)
	}
	return f.now, nil
}

// canFollow says why the next game cannot be played under r; "" if it can,
// whoever wins the game in play.
func (r *Rules) canFollow(s State, old *Rules) EntryReason {
	if reason := r.samePlayers(old); reason != "" {
		return reason
	}
	if s.Phase() != Playing {
		if reason := r.hasGame(s.Game()+1, s.Won(A), s.Won(B)); reason != "" {
			return reason
		}
		return r.givesTimeOuts(s)
	}
	follows := false
	for winner := A; winner <= B; winner++ {
		won := [2]int{s.Won(A), s.Won(B)}
		won[winner]++
		if old.hasGame(s.Game()+1, won[A], won[B]) != "" {
			continue // that would have been the last game
		}
		follows = true
		if reason := r.hasGame(s.Game()+1, won[A], won[B]); reason != "" {
			return reason
		}
	}
	if !follows {
		return "no-next"
	}
	return ""
}

func (r *Rules) samePlayers(old *Rules) EntryReason {
	if r.doubles != old.doubles {
		return "players"
	}
	return ""
}

// hasGame says why no game n is played after so many were won; "" if one is.
func (r *Rules) hasGame(n, wonA, wonB int) EntryReason {
	m := r.format.Match
	switch {
	case n > int(m.Games):
		return "no-game"
	case !m.PlayAll && max(wonA, wonB) >= int(m.Needed()):
		return "decided"
	}
	return ""
}

func (r *Rules) givesTimeOuts(s State) EntryReason {
	if max(s.TimeOutsUsed(A), s.TimeOutsUsed(B)) > r.TimeOutsAllowed(s) {
		return "time-outs"
	}
	return ""
}

// takeOver turns a state under old rules into one under r, or says why not.
func (r *Rules) takeOver(s State, old *Rules) (State, EntryReason) {
	n := s.Game()
	if s.Phase() != Playing {
		n++
	}
	for _, reason := range []EntryReason{r.samePlayers(old), r.hasGame(n, s.Won(A), s.Won(B)), r.givesTimeOuts(s)} {
		if reason != "" {
			return s, reason
		}
	}
	r.forget(&s)
	if s.Phase() == Playing {
		g := r.game(s)
		if a, b := s.scores(); g.Won(a, b) || g.Won(b, a) {
			return s, "game-over"
		}
		if !g.Order.TakesOver(old.game(s).Order) || !r.takePlaces(&s, old.Places(s)) {
			return s, "places"
		}
		if g.ChangeEndsAt == 0 {
			s.play &^= midDone
		}
		if g.ChangeEndsAt|g.ChangeEndsEvery == 0 {
			s.play &^= midDue
		}
		if s.Order().Number() == 1 {
			s.play &^= dutyBit // no fault has brought this server
		}
		if !g.fixed() || g.ChangeEndsAt == 0 {
			s.play &^= walkBit
		}
	}
	// States that read alike are one: what the new rules cannot tell apart is gone.
	as, err := r.ParseLine(r.Line(s))
	switch {
	case err != nil && s.Phase() == Between:
		return s, "no-final"
	case err != nil:
		return s, "no-position"
	}
	return as, ""
}

// forget drops what these rules do not know.
func (r *Rules) forget(s *State) {
	if !r.takes(clause.OrderStandsWarned) {
		*s = s.withLedger(wrongAt, 4, 0)
	}
	if !r.takes(clause.OrderFault) {
		s.play &^= dutyBit
	}
	if !r.takes(clause.CarriedPenalties) {
		s.ledger &^= carryMask
	}
}

// opening turns a state between games into one under r, which opens the next.
// Time-outs charged for the coming game, with nothing left of it, are used.
func (r *Rules) opening(s State) State {
	r.forget(&s)
	for side := A; side <= B; side++ {
		s = s.withLedger(timeOutsAt+4*int(side), 4, uint64(min(s.TimeOutsUsed(side), r.TimeOutsAllowed(s))))
	}
	return s
}

// takePlaces finds the state of this order of service in which everybody
// stands where he stands, the same player serves, and as the same server if
// both orders number them.
func (r *Rules) takePlaces(s *State, p Places) bool {
	a, b := s.scores()
	fixed := s.Order() &^ serviceorder.Moving
	for moving := serviceorder.Turn(0); moving <= serviceorder.Moving; moving++ {
		*s = s.withOrder(fixed | moving)
		q := r.Places(*s)
		if q.Server == p.Server && q.At == p.At && (q.Number == p.Number || q.Number == 0 || p.Number == 0) &&
			r.game(*s).order.Valid(fixed|moving, a, b) {
			return true
		}
	}
	return false
}
