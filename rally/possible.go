package rally

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
)

// impossible names the first field that no event can bring about in this
// format, and why; "" if there is none.
func (r *Rules) impossible(s State) (field, reason string) {
	m := r.format.Match
	phase, n, won := s.Phase(), s.Game(), s.Won(A)+s.Won(B)
	cause, winner, _ := s.Outcome()
	decided := !m.PlayAll && (s.Won(A) >= int(m.Needed()) || s.Won(B) >= int(m.Needed())) || won >= int(m.Games)
	switch {
	case n > int(m.Games):
		return "game", "the match has at most " + strconv.Itoa(int(m.Games)) + " games"
	case phase == Before && n != 0, phase == Playing && n == 0, phase == Between && n == 0, n == 0 && s.play&started != 0:
		return "game", "does not go with the phase"
	case phase == Playing && won != n-1, phase == Between && won != n, won > n, phase == Over && cause == ByPlay && won != n:
		return "won", "is not the games played"
	case (phase == Playing || phase == Between) && decided, cause == ByPlay && !decided:
		return "won", "does not go with the phase"
	case !m.PlayAll && (s.Won(A) > int(m.Needed()) || s.Won(B) > int(m.Needed())):
		return "won", "the match was decided before"
	}
	switch {
	case cause == ByPlay && s.Won(winner) <= s.Won(winner.Other()):
		return "won", "the winner has more games"
	case cause == ByTie && (s.Won(A) != s.Won(B) || !m.PlayAll):
		return "won", "a tie is of equal games, all of them played"
	}
	for _, impossible := range [...]func(*Rules, State) (string, string){(*Rules).impossibleScore, (*Rules).impossibleOpening,
		(*Rules).impossibleDue, (*Rules).impossibleStop} {
		if field, reason := impossible(r, s); field != "" {
			return field, reason
		}
	}
	return r.impossibleLedger(s)
}

func (r *Rules) impossibleScore(s State) (field, reason string) {
	g := r.game(s)
	a, b := s.scores()
	cause, _, _ := s.Outcome()
	_, forfeited := s.ForfeitWinner()
	ended := g.Won(a, b) || g.Won(b, a)
	final := g.Final(a, b) || g.Final(b, a)
	// A score that no rallies lead to needs a penalty of the side that is behind:
	// a point taken off it, or given to the other without ending the game.
	// Where warnings are of one game, they are forgotten with it.
	penalties := s.fouled(B) && a >= b || s.fouled(A) && b >= a ||
		s.Phase() != Playing && r.takes(clause.SecondWarningGame)
	played := s.Phase() == Between && !forfeited || cause == ByPlay && s.ledger&(15<<forfeitAt) == 0
	switch {
	case s.Phase() != Playing && s.play&started == 0 && a|b != 0:
		return "score", "no game has been played"
	case s.Phase() == Playing && (r.wonBefore(s, A) || r.wonBefore(s, B)):
		return "score", "more than the penalties on record can have moved"
	case s.Phase() == Playing && (ended || g.decidedBefore(a, b)) && !penalties:
		return "score", "the game has ended"
	case played && !final && !penalties:
		return "score", "no game of this format ends so"
	case played && !ended:
		return "score", "the game has not ended"
	}
	return "", ""
}

// fouled reports whether a side has been given a technical foul, or one made of
// two warnings.
func (s State) fouled(side Side) bool {
	return s.TechnicalFouls(side) > 0 || s.TechnicalWarnings(side) > 1
}

// broughtTwo reports whether the coming game can open at two points: what is
// given for a second foul is a forfeit, so both were brought into the match, each
// by a partner.
func (r *Rules) broughtTwo(s State) bool {
	offender := B
	if s.Opens(B) > 0 {
		offender = A
	}
	return r.doubles && s.Phase() != Between && s.TechnicalFouls(offender) > 1
}

// wonBefore reports whether a side has won the game in play, whatever penalties
// of the other took off it since, or gave the side where no game is won so.
func (r *Rules) wonBefore(s State, side Side) bool {
	own, other := s.Score(side), s.Score(side.Other())
	moved := s.TechnicalFouls(side.Other())
	if s.TechnicalWarnings(side.Other()) > 1 {
		moved++
	}
	if r.takes(clause.AwardedPointWinsNot) {
		own = max(own-moved, 0)
	} else {
		other = min(other+moved, format.MostPoints)
	}
	return r.game(s).Won(uint8(own), uint8(other))
}

// decidedBefore reports whether a game cannot have come to a score that goes on:
// a point before had ended it.
func (g *game) decidedBefore(a, b uint8) bool {
	high := max(a, b)
	return g.Cap != 0 && high >= g.Cap || g.WinBy == 1 && high >= g.Target
}

// impossibleOpening names what cannot stand in a line of the way into a match or a
// game: lateness, points that penalties open with, the first choice, the starting servers.
func (r *Rules) impossibleOpening(s State) (field, reason string) {
	phase := s.Phase()
	_, known := s.First()
	_, begun := s.Starters()
	ended, late := phase == Over || phase == Closed, s.ledger&lateBit != 0
	switch {
	case late && (phase != Over || begun || s.Game() != 0):
		return "result", "lateness forfeits a match before its first game"
	case phase != Before && phase != Between && !late && s.Opens(A)+s.Opens(B) != 0:
		return "opens", "only a coming game can open so"
	case s.Opens(A) > 0 && !s.fouled(B) || s.Opens(B) > 0 && !s.fouled(A):
		return "opens", "no penalty on record opens the game so"
	case (s.Opens(A) > 1 || s.Opens(B) > 1) && !r.broughtTwo(s):
		return "opens", "two points come of fouls that two partners brought"
	case phase == Before && (s.EndsSwapped() || s.EndChangeMade()):
		return "ends", "no ends have been changed"
	case phase == Playing && !known, begun && !known:
		return "first", "somebody served first"
	case s.playBits(choiceAt, 3) != 0 && (known || begun || ended && !late):
		return "first", "the choice is over"
	case phase == Playing && !begun:
		return "start", "a game has starting servers"
	case phase == Before && begun:
		return "start", "no game has been started"
	case !r.doubles && s.Order().Starters() != Starters{A1, B1}:
		return "start", "singles has no second player"
	}
	return "", ""
}

// impossibleDue names what cannot be due, or have been done, in the game: changes of
// ends, exchanges of courts, a side to be put right.
func (r *Rules) impossibleDue(s State) (field, reason string) {
	g, playing, single := r.game(s), s.Phase() == Playing, r.format.Match.Games == 1
	_, begun := s.Starters()
	switch {
	case s.EndChangeDue() && (!playing || g.ChangeEndsAt|g.ChangeEndsEvery == 0 || s.EndChangeMade()):
		return "due", "no mid-game end change can be due"
	case s.ExchangeOpen() && (!playing || !s.EndChangeDue() && !s.EndChangeMade() && g.ChangeEndsEvery == 0 || !g.fixed()):
		return "due", "partners exchange at an end change, on fixed courts"
	case s.EndChangeMade() && (g.ChangeEndsAt == 0 || !begun):
		return "ends", "the game has no mid-game end change"
	case single && g.ChangeEndsEvery == 0 && s.EndsSwapped() != s.EndChangeMade():
		return "ends", "ends change only in mid-game"
	case single && playing && !g.changesSo(s):
		return "due", "is not what the points and the ends changed make it"
	case s.PutRightDue() && (!playing || !r.takes(clause.OrderFault) || s.Order().Number() == 1):
		return "due", "no side was faulted on its first server"
	}
	return "", ""
}

// impossibleStop names what cannot have stopped play: an end that does not go with the
// phase, a break that cannot run.
func (r *Rules) impossibleStop(s State) (field, reason string) {
	phase := s.Phase()
	ended := phase == Over || phase == Closed
	b, owner := s.Break()
	cause, _, _ := s.Outcome()
	_, forfeited := s.ForfeitWinner()
	switch {
	case ended && cause == NotEnded, !ended && cause != NotEnded && cause != ByAbandonment && !forfeited:
		return "result", "does not go with the phase"
	case phase == Over && cause == ByAbandonment:
		return "result", "an abandoned match keeps its phase until the sheet is returned"
	case b != NoBreak && (phase == Before || ended):
		return "break", "no break can run"
	case b == TimeOutBreak && phase == Playing && s.TimeOutsUsed(owner.Side()) == 0:
		return "break", "a time-out that runs has been charged"
	case b == MedicalBreak && s.Medical(owner) == MedicalUnused:
		return "break", "nobody has asked for it"
	case b == NoBreak && s.medicalPending() && (phase == Playing || phase == Between):
		return "break", "a medical request is open, so one is running"
	case !r.doubles && owner&1 != 0:
		return "break", "singles has no second player"
	}
	return "", ""
}

// changesSo reports whether in a single game, where ends change with every so many
// points, a change is due if and only if an odd number of them has not been made.
// Points that penalties took off or gave leave that open.
func (g *game) changesSo(s State) bool {
	if g.ChangeEndsEvery == 0 || s.fouled(A) || s.fouled(B) {
		return true
	}
	fallen := (s.Score(A) + s.Score(B)) / int(g.ChangeEndsEvery)
	return s.EndChangeDue() == ((fallen+s.swaps())%2 == 1)
}

func (r *Rules) impossibleLedger(s State) (field, reason string) {
	ended := s.Phase() == Over || s.Phase() == Closed
	b, _ := s.Break()
	dealing := b >= BloodBreak
	for side := A; side <= B; side++ {
		switch {
		case s.TimeOutsUsed(side) > r.TimeOutsAllowed(s):
			return "timeouts", "more than the game has"
		case ended && s.TimeOutsUsed(side) > 0, s.Phase() == Before && s.TimeOutsUsed(side) > 0:
			return "timeouts", "no game is in play or to come"
		}
	}
	for p := A1; p <= B2; p++ {
		second := !r.doubles && p.Player() == 2
		switch {
		case second && s.Medical(p) != MedicalUnused, s.Phase() == Before && s.Medical(p) != MedicalUnused:
			return "medical", "nobody has played there"
		case s.Medical(p) == MedicalGranted && !dealing:
			return "medical", "nothing is being dealt with that the break would have to wait for"
		case second && s.Absence(p) != Present, !r.doubles && s.Absence(p) == CannotGoOn:
			return "out", "singles has no partner to play on"
		case s.Absence(p) == CannotGoOn && s.Absence(p.Partner()) == CannotGoOn:
			return "out", "one of two must be left to play on"
		case second && s.Carried(p) != NoCarry, s.Carried(p) != NoCarry && !r.takes(clause.CarriedPenalties):
			return "carry", "nobody could carry it into this match"
		}
	}
	if s.ledgerBits(wrongAt, 4) != 0 && !r.takes(clause.OrderStandsWarned) {
		return "wrong", "only the 1999 text counts them"
	}
	return "", ""
}
