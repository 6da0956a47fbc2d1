package reference

// Slip is a rule that a match can be made to forget. It is there to measure
// cases: an engine that makes a slip must fail one of them. A match without
// slips never asks for them.
type Slip int

// The slips.
const (
	PartnersStay       Slip = iota // partners do not change courts after a point
	ReceiversSwapToo               // the other side changes courts too
	SamePlayerAgain                // the second server is the first one again
	SideOutToSecond                // a side's turn begins with number 2 after a side-out
	LeftOpensTurn                  // the player on the left opens a turn
	StarterOpensTurn               // the starting server opens every turn
	ReceiversParity                // in singles the receiver's score picks the court
	SameServerHolds                // on fixed courts the same player serves on
	PenaltyMovesNobody             // a penalty moves the score and nobody
	StartsRightAlways              // a game that opens at 1-0 opens from the right
	SameSideFirst                  // the same side serves first in every game
	TimeOutsKept                   // time-outs used stay used in the next game
	EndsForBoth                    // each side's midpoint makes an end change due
	FreezeByOther                  // the other side's score freezes
)

// slips is a set of them.
type slips uint32

func (s slips) has(x Slip) bool { return s&(1<<x) != 0 }

// Make makes the match forget a rule from here on.
func (m *Match) Make(x Slip) { m.slips |= 1 << x }
