package rally

// Effects is what an accepted event did: a set, not an error.
type Effects uint64

// The effects, in the order in which they are listed.
const (
	Point          Effects = 1 << iota // the winner of the rally scored
	SecondServer                       // the serve passes to the second server of the same side
	SideOut                            // the serve passes to the other side
	PlayedAgain                        // the rally is played again, nothing else changes
	Withheld                           // receivers won the rally, but their score was frozen
	Stands                             // an error was noticed and the result stands all the same
	Overruled                          // a ruling took the rally from the side that had won it
	GameStarted                        // also with a rally that opens a game
	GameWon                            // by a rally or a penalty
	MatchWon                           // and with it the match
	EndsDue                            // the mid-game end change is due from now
	EndsMade                           // it has been made
	Exchanged                          // partners exchanged their fixed courts
	BreakBegan                         // of any kind
	BreakEnded                         // also by a rally
	TimeOutCharged                     // a standard time-out was charged
	LastTimeOut                        // it was the side's last in this game
	MedicalUsedUp                      // a player's medical time-out is used up
	Warned                             // a technical warning, given or made
	Fouled                             // a technical foul, given or made
	WarnedVerbally                     // a verbal warning was recorded
	PenaltyPoint                       // a penalty moved a score
	GameForfeited                      // a side forfeited the game
	MatchForfeited                     // a side, or both, forfeited the match
	PlayerOut                          // a player can take no further part
	CallHelp                           // call qualified help first
	PutRight                           // the referee must see that the side is right before the next call
	Recorded                           // a fact was recorded that changes nothing in the game
	FirstChosen                        // it is settled who serves first
	SheetClosed                        // the sheet is returned
)

var effectNames = []string{"point", "second-server", "side-out", "replay", "withheld", "stands", "overruled",
	"game-started", "game-won", "match-won", "ends-due", "ends-changed", "exchanged", "break", "time-in",
	"time-out-charged", "last-time-out", "medical-used", "warning", "foul", "verbal-warning", "penalty-point",
	"game-forfeit", "match-forfeit", "player-out", "help", "put-right", "recorded", "first-chosen", "closed"}

// Has reports whether all of x happened.
func (e Effects) Has(x Effects) bool { return e&x == x }

// ResultWord is the word that the referee says after a rally.
type ResultWord uint8

// The result calls; NoCall after a replay and after anything but a rally.
const (
	NoCall ResultWord = iota
	CallPoint
	CallSecondServer
	CallSideOut
)

var resultNames = []string{"-", "point", "second-server", "side-out"}

// Result returns the result call. When the serve passes, that is what is
// called, also where the receivers scored.
func (e Effects) Result() ResultWord {
	switch {
	case e&SideOut != 0:
		return CallSideOut
	case e&SecondServer != 0:
		return CallSecondServer
	case e&Point != 0:
		return CallPoint
	}
	return NoCall
}
