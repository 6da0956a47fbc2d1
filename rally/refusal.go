package rally

import "github.com/evencourt/evencourt/format"

// Refusal says why an event was refused; NotRefused if it was accepted. A
// refused event changes nothing. Several reasons may hold: the first in the
// order below is given. [Rules.Why] explains it.
//
// Every refusal rests on a clause. Some are rules of this library and of no book:
// a malformed event, a correction, a player whom singles has not, a score that can
// hold no more, and what can come only at its moment (not-in-play, in-play, in-break,
// no-break, no-request, not-due, and not-now but for an exchange of courts, a
// withdrawal and a penalty brought twice).
type Refusal uint8

// The refusals.
const (
	NotRefused        Refusal = iota
	Malformed                 // no such event, or its parts contradict each other
	LogOnly                   // a correction: the log carries it out
	MatchClosed               // the sheet has been returned
	MatchOver                 // the match is decided
	MatchAbandoned            // only resume and sheet go on
	NoSuchPlayer              // singles has no A2 and no B2
	NotInEdition              // the edition has no such rule
	LocalRule                 // only a local rule could allow it
	NotStarted                // not before the match
	NotInPlay                 // only while a game is in play
	InPlay                    // only before the match or between games
	NoFirstServer             // nobody has chosen who serves first
	FirstSettled              // only before the first game: the first choice is final
	WrongSideFirst            // the other side serves first in this game
	NotItsChoice              // it is for the other side to choose, or that was not left to choose
	Undealt                   // the cause of the referee's time-out has not been dealt with
	AwaitingMedical           // whether the condition is valid, or the request withdrawn, comes first
	InBreak                   // not while a break is running
	NoBreakRunning            // no break is running
	NoneLeft                  // no time-out left in this game
	MedicalUsedBefore         // the medical time-out is used up; play may still be stopped for safety
	NoRequest                 // the player has not asked for medical time
	PlayerIsOut               // the player is out of this match
	NobodyLeft                // there is no partner left to play on alone
	AbsentDue                 // a player who is out is due: Rules.AbsentFault comes first
	NotDue                    // no mid-game end change is due
	NotFixed                  // partners exchange places only on fixed courts
	NotNow                    // not at this moment
	SecondVerbal              // one verbal warning a side: give a technical warning
	OutOfWindow               // too late, or too early, for that ruling in this edition
	NoMorePoints              // format.MostPoints are the most a score can hold
	refusalCount
)

var refusalNames = []string{"-", "malformed", "log-only", "closed", "over", "abandoned", "no-such-player",
	"not-in-edition", "local-rule", "not-started", "not-in-play", "in-play", "no-first-server", "first-settled",
	"wrong-side-first", "not-its-choice", "undealt", "awaiting-medical", "in-break", "no-break", "none-left",
	"medical-used", "no-request", "player-out", "nobody-left", "absent-due", "not-due", "not-fixed", "not-now",
	"second-verbal", "out-of-window", "most-points"}

// NameError reports a text name that does not exist.
type NameError struct {
	Kind string // what was to be named, such as "break"
	Text string // what was read, shortened
}

// Error implements error.
func (e *NameError) Error() string { return "rally: no such " + e.Kind + ": " + format.Quote(e.Text) }
