// Package rally says what HAPPENS in a match: its state, the events that
// change it, what each event did or why it was refused, the score call, and
// the log that proves the score afterwards.
//
// A [State] is a small comparable value and never changes; [Rules], compiled
// from a format, take it from one event to the next:
//
//	next, effects, refusal := rules.Apply(state, event)
//
// Nothing here parses prose or prints it: codes and names only. Words are in
// rally/referee, files in rally/record.
package rally

import (
	"github.com/evencourt/evencourt/serviceorder"
)

// Words of the order of service, under the names a caller of this package needs.
type (
	// Side is one team or player: A or B. It has Other, the opponents, and the text "A" or "B".
	Side = serviceorder.Side
	// Person is a player as entered for the whole match. It has Side, Partner and Player, which
	// is 1 or 2, and the text "A1" and so on.
	Person = serviceorder.Person
	// Court is a service court: Right or Left. It has Other, and the text "R" or "L".
	Court = serviceorder.Court
	// Places says where everybody stands: Server from Court to Receiver in the court Receives,
	// Number of the server, At by side and court, and in singles Standing by side,
	// if all that is Known; AnyReceives where either partner may.
	Places = serviceorder.Places
	// Starters are the starting servers of a game, by side: [2]Person{A1, B2}.
	Starters = serviceorder.Starters
)

// The sides, persons and courts.
const (
	A     = serviceorder.A
	B     = serviceorder.B
	A1    = serviceorder.A1
	A2    = serviceorder.A2
	B1    = serviceorder.B1
	B2    = serviceorder.B2
	Right = serviceorder.Right
	Left  = serviceorder.Left
)

// State is a match at one moment: the game in play, the tally of games, and
// the ledger of time-outs, medical time, warnings and fouls. It is comparable
// and 16 bytes long; within a format, equal states behave equally for ever.
//
// The zero State is a match before its first choice: nobody has chosen who
// serves first. [Rules.New] is the same with the choice made.
type State struct {
	play   uint64 // the game, the tally, who can play
	ledger uint64 // what has been used and given
}

// MarshalText refuses: what a state means only its rules know.
func (s State) MarshalText() ([]byte, error) {
	return nil, noText("a state has no text without its rules: keep Rules.Line, and read it with Rules.ParseLine")
}

// The fields of State.play, by their lowest bit. What a rally depends on below
// the edge of a game stands at the bottom: the moving bits of the order of
// service, a copy of the parity of B's score, and A's score with its own parity
// lowest. So the lowest seven bits, as they are, index the table of plain rallies.
const (
	orderAt   = 0  // 5 bits: moving part of serviceorder.Turn
	parityBAt = 5  // 1: lowest bit of B's score
	scoreAAt  = 6  // 8
	scoreBAt  = 14 // 8
	fixedAt   = 22 // 3: fixed part of serviceorder.Turn
	phaseAt   = 25 // 3
	breakAt   = 28 // 3
	ownerAt   = 31 // 2: person of the break
	outAt     = 33 // 8: two bits a person
	dutyAt    = 41 // 1: the referee must put a side right
	abandonAt = 42 // 1
	knownAt   = 43 // 1: who serves first is settled
	startedAt = 44 // 1: a game has been started
	endsAt    = 45 // 1
	midDueAt  = 46 // 1
	midDoneAt = 47 // 1
	wonAAt    = 48 // 4
	wonBAt    = 52 // 4
	choiceAt  = 56 // 3: first choice under way
	walkAt    = 59 // 1: partners on fixed courts may exchange until the next rally
	gameAt    = 60 // 4: on top, so that words compare as the numbers of their games

	orderMask  = uint64(serviceorder.Moving)
	plainIndex = uint64(1)<<(scoreAAt+1) - 1
	fixedMask  = uint64(7) << fixedAt
	phaseMask  = uint64(7) << phaseAt
	breakMask  = uint64(31) << breakAt
	outMask    = uint64(255) << outAt
	dutyBit    = uint64(1) << dutyAt
	aborted    = uint64(1) << abandonAt
	knownBit   = uint64(1) << knownAt
	started    = uint64(1) << startedAt
	endsBit    = uint64(1) << endsAt
	midDue     = uint64(1) << midDueAt
	midDone    = uint64(1) << midDoneAt
	choiceMask = uint64(7) << choiceAt
	walkBit    = uint64(1) << walkAt
	scoreMask  = uint64(0xffff)<<scoreAAt | 1<<parityBAt
)

// The fields of State.ledger.
const (
	timeOutsAt = 0  // 4 + 4
	medicalAt  = 8  // 8: two bits a person
	verbalAt   = 16 // 1 + 1
	warningAt  = 18 // 3 + 3
	foulAt     = 24 // 3 + 3
	forfeitAt  = 30 // 2 + 2
	wrongAt    = 34 // 2 + 2
	carryAt    = 38 // 12: three bits a person
	causeAt    = 50 // 3: how the match ended
	winnerAt   = 53 // 2: 0 none, 1 A, 2 B, 3 tie
	opensAt    = 55 // 2 + 2: the points with which a side opens the coming game
	sharedAt   = 59 // 2 + 2: the warning, the foul that both partners bring is of the same pair
	lateAt     = 63 // 1: the match was forfeited by the clock

	timeOutsMask = uint64(0xff) << timeOutsAt
	medicalMask  = uint64(0xff) << medicalAt
	warningsMask = uint64(0x3f) << warningAt
	opensMask    = uint64(15) << opensAt
	carryMask    = uint64(1<<12-1)<<carryAt | 15<<sharedAt
	lateBit      = uint64(1) << lateAt
)

func (s State) playBits(at, width int) uint64   { return s.play >> at & (1<<width - 1) }
func (s State) ledgerBits(at, width int) uint64 { return s.ledger >> at & (1<<width - 1) }

func (s State) withPlay(at, width int, v uint64) State {
	s.play = s.play&^((1<<width-1)<<at) | v<<at
	return s
}

func (s State) withLedger(at, width int, v uint64) State {
	s.ledger = s.ledger&^((1<<width-1)<<at) | v<<at
	return s
}

// counted adds one to a counter of a side and stops at its width.
func (s State) counted(at, width int, side Side) State {
	at += width * int(side)
	if n := s.ledgerBits(at, width); n < 1<<width-1 {
		return s.withLedger(at, width, n+1)
	}
	return s
}

// Phase is where a match stands.
type Phase uint8

// The phases.
const (
	Before  Phase = iota // the first game has not begun
	Playing              // a game is in play
	Between              // between two games; the score is that of the last one
	Over                 // decided; still correctable until the sheet is returned
	Closed               // the sheet has been returned
)

var phaseNames = []string{"before", "play", "between", "over", "closed"}

// Break is a kind of interruption.
type Break uint8

// The breaks.
const (
	NoBreak        Break = iota
	TimeOutBreak         // standard time-out
	MedicalBreak         // medical time-out, requested or granted
	EquipmentBreak       // equipment time-out
	RefereeBreak         // referee's time-out; ends with time in
	BloodBreak           // referee's time-out that ends only when dealt with
	HazardBreak          // the same
	IllnessBreak         // the same
)

var breakNames = []string{"-", "t", "m", "eq", "ref", "blood", "hazard", "illness"}

// Medical says how a player's one medical time-out stands.
type Medical uint8

// The states of a medical time-out.
const (
	MedicalUnused    Medical = iota
	MedicalRequested         // the answer of qualified people is awaited
	MedicalUsed              // used up, whether all of it was taken or not
	MedicalGranted           // used up, but its break has to wait until something else is dealt with
)

var medicalNames = []string{"unused", "requested", "used", "granted"}

// Absence says why a player takes no further part.
type Absence uint8

// The absences.
const (
	Present    Absence = iota
	CannotGoOn         // the partner plays on alone
	Concussed          // suspected concussion: out of this match
)

var absenceNames = []string{"present", "cannot-go-on", "concussed"}

// Cause says how a match ended.
type Cause uint8

// The causes.
const (
	NotEnded        Cause = iota
	ByPlay                // by the games
	ByRetirement          // the other side retired
	ByWithdrawal          // the other side withdrew before the match
	ByForfeit             // the other side forfeited the match
	ByDoubleForfeit       // both sides forfeited it
	ByTie                 // all games played, equally many won
	ByAbandonment         // may be resumed
)

var causeNames = []string{"-", "played", "retired", "withdrew", "forfeited", "double-forfeit", "tied", "abandoned"}

// Phase returns where the match stands.
func (s State) Phase() Phase { return Phase(s.playBits(phaseAt, 3)) }

// Score returns the points of a side in the game in play, or in the last one.
func (s State) Score(side Side) int { return int(s.playBits(scoreAAt+8*int(side), 8)) }

func (s State) scores() (a, b uint8) { return uint8(s.play >> scoreAAt), uint8(s.play >> scoreBAt) }

// withScores sets both scores, and the parity bit with them.
func (s State) withScores(a, b uint8) State {
	s.play = s.play&^scoreMask | uint64(a)<<scoreAAt | uint64(b)<<scoreBAt | uint64(b&1)<<parityBAt
	return s
}

// Game returns the number of the game in play, or of the last one; 0 before
// the first.
func (s State) Game() int { return int(s.playBits(gameAt, 4)) }

// Won returns how many games a side has won.
func (s State) Won(side Side) int { return int(s.playBits(wonAAt+4*int(side), 4)) }

// First returns the side that served first in this game (between games: in
// the last one; before the match: that will). It is false while that is open.
func (s State) First() (Side, bool) {
	return s.Order().First(), s.play&knownBit != 0
}

// Starters returns the starting servers of this game, or of the last one; on
// fixed courts, who stands right. It is false before the first game.
func (s State) Starters() (Starters, bool) { return s.Order().Starters(), s.play&started != 0 }

// Serving returns the side that serves next. It is false outside play.
func (s State) Serving() (Side, bool) { return s.Order().Side(), s.Phase() == Playing }

// Opens returns the points with which a side opens the coming game because
// its opponents brought a penalty.
func (s State) Opens(side Side) int { return int(s.ledgerBits(opensAt+2*int(side), 2)) }

// EndsSwapped reports whether the sides have changed places since the first serve
// of the match: an odd number of times.
func (s State) EndsSwapped() bool { return s.swaps() != 0 }

// swaps is the number of end changes made in the match, mod 2.
func (s State) swaps() int { return int(s.play >> endsAt & 1) }

// EndChangeDue reports whether the mid-game end change is due.
func (s State) EndChangeDue() bool { return s.play&midDue != 0 }

// ExchangeOpen reports whether partners on fixed courts may exchange them
// because of a mid-game end change: from when it falls due, and again from when
// it has been made, until the next rally.
func (s State) ExchangeOpen() bool { return s.play&walkBit != 0 }

// EndChangeMade reports whether the mid-game end change of this game has been
// made.
func (s State) EndChangeMade() bool { return s.play&midDone != 0 }

// PutRightDue reports whether the referee must see that the serving side is
// right before the next call, having faulted it on its first server.
func (s State) PutRightDue() bool { return s.play&dutyBit != 0 }

// Break returns the break that is running and, for time-outs, medical and
// equipment breaks, whose it is: a person, or any person of the side.
func (s State) Break() (Break, Person) {
	return Break(s.playBits(breakAt, 3)), Person(s.playBits(ownerAt, 2))
}

func (s State) withBreak(b Break, owner Person) State {
	s.play = s.play&^breakMask | uint64(b)<<breakAt | uint64(owner)<<ownerAt
	return s
}

// TimeOutsUsed returns the standard time-outs a side has used in this game;
// before the match and between games, in the coming one.
func (s State) TimeOutsUsed(side Side) int { return int(s.ledgerBits(timeOutsAt+4*int(side), 4)) }

// Medical returns how a player's medical time-out stands.
func (s State) Medical(p Person) Medical { return Medical(s.ledgerBits(medicalAt+2*int(p), 2)) }

func (s State) withMedical(p Person, m Medical) State {
	return s.withLedger(medicalAt+2*int(p), 2, uint64(m))
}

// Absence returns whether a player takes no further part, and why.
func (s State) Absence(p Person) Absence { return Absence(s.playBits(outAt+2*int(p), 2)) }

func (s State) withAbsence(p Person, a Absence) State {
	return s.withPlay(outAt+2*int(p), 2, uint64(a))
}

// VerbalWarnings returns the verbal warnings of a side in the match.
func (s State) VerbalWarnings(side Side) int { return int(s.ledgerBits(verbalAt+int(side), 1)) }

// TechnicalWarnings returns the technical warnings of a side in the match.
func (s State) TechnicalWarnings(side Side) int { return int(s.ledgerBits(warningAt+3*int(side), 3)) }

// TechnicalFouls returns the technical fouls given to a side in the match;
// one that two warnings made is counted among the warnings.
func (s State) TechnicalFouls(side Side) int { return int(s.ledgerBits(foulAt+3*int(side), 3)) }

// GameForfeits returns the games a side has forfeited by penalties.
func (s State) GameForfeits(side Side) int { return int(s.ledgerBits(forfeitAt+2*int(side), 2)) }

// WrongServers returns the wrong servers of a side that the 1999 text counts.
func (s State) WrongServers(side Side) int { return int(s.ledgerBits(wrongAt+2*int(side), 2)) }

// Carry is the set of penalties that a player brings from his last match: each
// of them at most once.
type Carry uint8

// The carried penalties.
const (
	CarriedVerbal Carry = 1 << iota
	CarriedWarning
	CarriedFoul

	NoCarry Carry = 0
)

var carryNames = []string{"none", "verbal", "warning", "verbal+warning", "foul", "verbal+foul", "warning+foul", "verbal+warning+foul"}

// Has reports whether every penalty of c2 is in the set.
func (c Carry) Has(c2 Carry) bool { return c&c2 == c2 }

// Carried returns the penalties a player brought into this match.
func (s State) Carried(p Person) Carry { return Carry(s.ledgerBits(carryAt+3*int(p), 3)) }

// sharedBit is the bit of the ledger which says that what both partners of a side
// bring, a warning or a foul, is of the same pair and counts once.
func sharedBit(side Side, what Carry) uint64 {
	return 1 << (sharedAt + 2*int(side) + int(what/CarriedFoul))
}

// Outcome returns how the match ended and, if somebody won it, who.
func (s State) Outcome() (cause Cause, winner Side, won bool) {
	if s.play&aborted != 0 {
		return ByAbandonment, A, false
	}
	if phase := s.Phase(); phase != Over && phase != Closed {
		return NotEnded, A, false
	}
	w := s.ledgerBits(winnerAt, 2)
	return Cause(s.ledgerBits(causeAt, 3)), Side((w - 1) & 1), w == 1 || w == 2
}

func (s State) withOutcome(c Cause, winner uint64) State {
	s.ledger = s.ledger&^(7<<causeAt|3<<winnerAt) | uint64(c)<<causeAt | winner<<winnerAt
	return s
}
