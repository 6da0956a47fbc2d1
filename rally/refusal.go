package rally

// Refusal says why an event was refused; NotRefused if it was accepted. A
// refused event changes nothing. Several reasons may hold: the first in the
// order below is given. [Rules.Why] explains it.
type Refusal uint8

// The refusals.
const (
	NotRefused Refusal = iota
	Malformed
	LogOnly
	MatchClosed
	MatchOver
	MatchAbandoned
	NoSuchPlayer
	NotInEdition
	LocalRule
	NotStarted
	NotInPlay
	InPlay
	NoFirstServer
	FirstSettled
	WrongSideFirst
	NotItsChoice
	Undealt
	AwaitingMedical
	InBreak
	NoBreakRunning
	NoneLeft
	MedicalUsedBefore
	NoRequest
	PlayerIsOut
	NobodyLeft
	AbsentDue
	NotDue
	NotFixed
	NotNow
	SecondVerbal
	OutOfWindow
	MostPoints
	refusalCount
)

var refusalNames = []string{"-", "malformed", "log-only", "closed", "over", "abandoned", "no-such-player",
	"not-in-edition", "local-rule", "not-started", "not-in-play", "in-play", "no-first-server", "first-settled",
	"wrong-side-first", "not-its-choice", "undealt", "awaiting-medical", "in-break", "no-break", "none-left",
	"medical-used", "no-request", "player-out", "nobody-left", "absent-due", "not-due", "not-fixed", "not-now",
	"second-verbal", "out-of-window", "most-points"}

// NameError reports a text name that does not exist.
type NameError struct{ Kind, Text string }

// Error implements error.
func (e *NameError) Error() string { return "rally: no such " + e.Kind + ": " + e.Text }
