package rally

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
)

// rule carries out a ruled correction: something happened in rally n, and a
// rule changes what the rally does. What is over since is read from the log.
// The ruled result stands in the place of the rally's; what happened since
// stays as it was judged then.
func (f *folding) rule(n int, e Event) (version, Effects, *EntryError) {
	st, err := f.holding(n)
	if err != nil {
		return version{}, 0, err
	}
	_, rides := e.Incident()
	_, rode := st.Event.Incident()
	switch {
	case st.Event.Kind() != RallyWon || e.Kind() != RallyWon || !rides:
		return version{}, 0, refuse(n, NotNow, "want-rally")
	case e.Side() != st.Event.Side():
		return version{}, 0, refuse(n, NotNow, "other-winner")
	case rode && st.Effects&(Stands|Warned|Fouled) != Stands:
		return version{}, 0, refuse(n, NotNow, "ruled-then")
	case st.ruled:
		return version{}, 0, refuse(n, NotNow, "ruled")
	}
	g := ruling{folding: f, rally: st, since: f.since(n)}
	for _, later := range g.since {
		switch k := later.Event.Kind(); {
		case k == SetPosition || k == ChangeFormat:
			return version{}, 0, refuse(later.N, NotNow, "across")
		case k == RuleOn:
			return version{}, 0, refuse(later.N, NotNow, "ruled-since")
		case later.Effects&(GameForfeited|MatchForfeited) != 0:
			return version{}, 0, refuse(later.N, NotNow, "forfeit-since")
		}
	}
	if f.now.state.Phase() == Over && st.Rules.takes(clause.LastPointFinal) {
		return version{}, 0, tooLate(clause.LastPointFinal, "last-point")
	}
	return g.carryOut(e)
}

// tooLate refuses a ruling whose window has closed, or never opened.
func tooLate(by Grounds, reason EntryReason) *EntryError {
	return &EntryError{Refusal: OutOfWindow, By: by, Reason: reason}
}

// ruling is a ruled correction being carried out.
type ruling struct {
	*folding
	rally *Step
	since []*Step // what holds after it
	then  []told  // what becomes of the rally and of these, in their order

	game    State  // the game as ruled, with what was carried over to it so far
	used    [2]int // its time-outs
	retired Event  // the retirement since, 0 for none
}

// told is what a step does once a ruling is carried out.
type told struct {
	back    State
	effects Effects
	gone    bool
}

// served reports whether a serve was struck with an event, or its rally has a
// winner all the same: then it is no longer the rally before.
func (e Event) served() bool {
	switch e.Kind() {
	case RallyWon, Replay:
		return true
	case Stop:
		i, _ := e.Incident()
		return i.Reach == ToItsEnd || i.Reach >= Struck
	}
	return false
}

// servedBy returns the side that served a rally.
func (st *Step) servedBy() Side {
	if side, playing := st.Before.Serving(); playing {
		return side
	}
	side, _ := st.After.First() // the rally opened the game
	return side
}

// over reads from the log what is over after the rally.
func (g *ruling) over() Since {
	over := RallyOver
	if g.rally.Effects.Has(GameWon) {
		over = GameOver
	}
	for _, st := range g.since {
		if !st.Event.served() {
			continue
		}
		if st.After.Game() != g.rally.After.Game() || st.Before.Phase() != Playing ||
			st.Effects.Has(Point) || st.servedBy() != g.rally.servedBy() {
			return Overtaken
		}
		over = NextServed
	}
	return over
}

func (g *ruling) carryOut(e Event) (version, Effects, *EntryError) {
	r := g.rally.Rules
	over := g.over()
	i, _ := e.Incident()
	if i.Since = max(i.Since, over); over.pastNextServe() && i.Since == GameOver {
		i.Since = over // a next serve has come after the game
	}
	s, did, refusal, by := r.Decide(g.before(), e.WithIncident(i))
	switch {
	case refusal != NotRefused:
		return version{}, 0, &EntryError{Refusal: refusal, By: by}
	case did.Has(Stands) && did&(Warned|Fouled) == 0, over.pastNextServe() && r.takes(clause.OrderStandsWarned):
		i.Since = RallyOver
		if _, at, _ := r.Apply(g.before(), e.WithIncident(i)); at.Has(Stands) && at&(Warned|Fouled) == 0 {
			return version{}, 0, tooLate(by, "stands")
		}
		return version{}, 0, tooLate(by, "too-late")
	}
	var to version
	var err *EntryError
	if over.pastNextServe() {
		to, did, err = g.pointOff(did, by)
	} else {
		to, err = g.inPlace(s, did)
	}
	if err != nil {
		return version{}, 0, err
	}
	g.rally.ruled = true
	for i, st := range append([]*Step{g.rally}, g.since...) {
		st.back, st.Effects, st.Holds = g.then[i].back, g.then[i].effects, !g.then[i].gone
		st.Final = st.Holds && st.Effects&(GameWon|GameForfeited) != 0
	}
	return to, did, nil
}

// before returns the state in which the rally is ruled on: the game as it was
// before it, and on record what is on record now.
func (g *ruling) before() State {
	const game = timeOutsMask | 0xff<<medicalAt | 7<<causeAt | 3<<winnerAt | opensMask
	then, now := g.rally.Before, g.now.state
	s := State{then.play, then.ledger&game | now.ledger&^game}
	if g.ended() && g.rally.Rules.takes(clause.SecondWarningGame) {
		for side := A; side <= B; side++ {
			given := min(then.TechnicalWarnings(side)+now.TechnicalWarnings(side), 7)
			s = s.withLedger(warningAt+3*int(side), 3, uint64(given))
		}
	}
	return s
}

// ended reports whether the game of the rally has ended, by it or since.
func (g *ruling) ended() bool {
	return g.now.state.Phase() != Playing || g.now.state.Game() != g.rally.After.Game()
}

// retiredSince reports whether a side has retired in the rally's own game.
func (g *ruling) retiredSince() bool {
	cause, _, _ := g.now.state.Outcome()
	return cause == ByRetirement && g.now.state.Game() == g.rally.After.Game()
}

// inPlace puts the ruled result, which leads to s, in the place of the
// rally's. No rally was decided since.
func (g *ruling) inPlace(s State, did Effects) (version, *EntryError) {
	g.then = append(g.then, told{back: s, effects: did})
	if s.play == g.rally.After.play && did.Has(GameWon) == g.rally.Effects.Has(GameWon) {
		return g.onRecord(s), nil // nothing moves: only what is on record can be more
	}
	g.game, g.used = s, [2]int{s.TimeOutsUsed(A), s.TimeOutsUsed(B)}
	for _, st := range g.since {
		t, err := g.follow(st)
		if err != nil {
			return version{}, err
		}
		t.back = g.game
		g.then = append(g.then, t)
	}
	return g.settled(s.Phase() == Playing), nil
}

// follow carries over to the game as ruled what happened since, as it was
// judged then, and returns what becomes of the step.
func (g *ruling) follow(st *Step) (told, *EntryError) {
	r, t := g.rally.Rules, told{effects: st.Effects}
	switch k := st.Event.Kind(); {
	case st.Effects.Has(PenaltyPoint) && (st.Before.Phase() != Playing || g.game.Phase() != Playing):
		return t, refuse(st.N, NotNow, "penalty-opens")
	case st.Effects.Has(PenaltyPoint):
		by := [2]int{st.After.Score(A) - st.Before.Score(A), st.After.Score(B) - st.Before.Score(B)}
		s, moved, reason := r.movedBy(g.game, by)
		if reason != "" {
			return t, refuse(st.N, NotNow, reason)
		}
		g.game, t.effects = s, t.effects&^(GameWon|MatchWon|EndsDue)|moved
	case k == StartGame:
		t.gone, t.effects = true, 0
	case k == Stop:
		t.effects &^= GameStarted
	case k == Exchange && st.Before.Phase() == Playing && g.game.Phase() == Playing:
		if o, ok := r.game(g.game).order.Exchange(g.game.Order(), st.Event.Side()); ok {
			g.game = g.game.withOrder(o)
		}
	case k == Retirement:
		g.retired = st.Event
	}
	if st.Effects.Has(TimeOutCharged) {
		side := st.Event.Side()
		t.effects &^= TimeOutCharged | LastTimeOut
		if allowed := r.TimeOutsAllowed(g.game); g.used[side] < allowed {
			g.used[side]++
			t.effects |= TimeOutCharged
			if g.used[side] == allowed {
				t.effects |= LastTimeOut
			}
		}
	}
	return t, nil
}

// settled returns the version in which the game is as ruled; breaks, absences,
// medical time and ends that were changed are as they are now.
func (g *ruling) settled(playing bool) version {
	r, s, now := g.rally.Rules, g.game, g.now.state
	last := g.rally.After // the latest state of the rally's own game
	for _, st := range g.since {
		if st.After.Game() == last.Game() {
			last = st.After
		}
	}
	if now.Game() == last.Game() {
		last = now
	}
	const kept, medical = outMask | breakMask | aborted, uint64(0xff) << medicalAt
	s.play = s.play&^(kept|endsBit|midDone) | now.play&kept | last.play&(endsBit|midDone)
	if s.EndChangeMade() {
		s.play &^= midDue
	}
	s.ledger = s.ledger&^(medical|timeOutsMask) | now.ledger&medical
	if s.Phase() == Playing || s.Phase() == Between {
		if !g.ended() && playing {
			g.used = [2]int{now.TimeOutsUsed(A), now.TimeOutsUsed(B)}
		}
		for side := A; side <= B; side++ {
			s = s.withLedger(timeOutsAt+4*int(side), 4, uint64(min(g.used[side], r.TimeOutsAllowed(s))))
		}
	} else {
		s.play &^= breakMask | aborted // what the ruling decides is not broken off
	}
	if g.retired != 0 && s.Phase() != Over {
		s, _, _ = r.Apply(s, g.retired)
	}
	to := g.now
	to.state, to.rules = s, r
	if g.now.rules != r {
		to.pending = g.now.rules // it took effect with the end of the game: pending again
	}
	return to
}

// onRecord is the position as it is, with what a ruling adds on record.
func (g *ruling) onRecord(s State) version {
	for _, st := range g.since {
		g.then = append(g.then, told{back: st.back, effects: st.Effects})
	}
	const record = uint64(1)<<carryAt - 1<<verbalAt
	to := g.now
	to.state.ledger = to.state.ledger&^record | s.ledger&record
	return to
}

// pointOff takes the point off that the rally gave: the window is open though
// others were served since, and their results and the serve stay.
func (g *ruling) pointOff(did Effects, by Grounds) (version, Effects, *EntryError) {
	side, at := g.rally.Event.Side(), g.rally.Rules.game(g.rally.After).ChangeEndsAt
	switch {
	case !g.rally.Effects.Has(Point) || !did.Has(Overruled):
		return version{}, 0, tooLate(by, "point-only")
	case g.ended() && !g.retiredSince():
		return version{}, 0, refuse(0, NotNow, "game-ended")
	}
	off := func(s State) (State, bool) {
		if s.Score(side) == 0 {
			return s, false
		}
		s, _ = s.shifted(side, -1)
		if s.Phase() != Playing {
			return s, true
		}
		a, b := s.scores()
		s = s.withOrder(g.rally.Rules.game(s).order.Penalty(s.Order(), side, a, b))
		if !g.rally.Before.EndChangeDue() && a < at && b < at {
			s.play &^= midDue | walkBit
		}
		return s, true
	}
	effects := g.rally.Effects&^(Point|Stands) | Overruled
	back, _ := off(g.rally.back)
	if !back.EndChangeDue() {
		effects &^= EndsDue
	}
	g.then = append(g.then, told{back: back, effects: effects})
	for _, st := range g.since {
		back, ok := off(st.back)
		if !ok {
			return version{}, 0, refuse(st.N, NotNow, "below-zero")
		}
		g.then = append(g.then, told{back: back, effects: st.Effects})
	}
	to, ok := g.now, false
	if to.state, ok = off(to.state); !ok {
		return version{}, 0, refuse(0, NotNow, "below-zero")
	}
	return to, effects, nil
}

// movedBy adds to a score what a penalty once moved.
func (r *Rules) movedBy(s State, by [2]int) (State, Effects, EntryReason) {
	side := A
	if by[B] != 0 {
		side = B
	}
	own := s.Score(side) + by[side]
	if own < 0 || own > format.MostPoints {
		return s, 0, "below-zero"
	}
	s, _ = s.shifted(side, by[side])
	gains, wins := side, format.Clause(clause.AwardedPointWins)
	if by[side] < 0 {
		gains, wins = side.Other(), clause.RemovedPointEnds
	}
	g := r.game(s)
	if g.Won(s.against(gains)) && r.takes(wins) {
		s, did := r.endGame(s, GameWon, gains)
		return s, did, ""
	}
	a, b := s.scores()
	s = s.withOrder(g.order.Penalty(s.Order(), side, a, b))
	if by[side] > 0 && r.takes(clause.PenaltyEndChange) {
		s, did := r.reach(s, 0, side)
		return s, did, ""
	}
	return s, 0, ""
}
