package rally

// Event is one thing that happened, in one word. The zero Event is invalid.
// Its text form is in [Event.String] and [ParseEvent]; the constructors below
// make the common ones.
type Event uint64

// The fields of an Event, by their lowest bit.
const (
	kindAt     = 0  // 7 bits
	sideAt     = 7  // 1
	playerAt   = 8  // 1: second player of the side
	argAt      = 9  // 6: fault, choice or starting servers
	secondsAt  = 15 // 16
	mistakesAt = 32 // 8
	claimAt    = 40 // 4: 0 as the mistakes, else 1 + mistake
	misledAt   = 44 // 1
	reachAt    = 45 // 3
	overAt     = 48 // 3
	stopperAt  = 51 // 2
	askedAt    = 53 // 1
	ridesAt    = 54 // 1: an incident rides on the rally
	eventBits  = 55

	sideFlag   = Event(1) << sideAt
	playerFlag = Event(1) << playerAt
	ridesFlag  = Event(1) << ridesAt
	incidents  = Event(1)<<eventBits - Event(1)<<mistakesAt
)

func (e Event) bits(at, width int) uint64 { return uint64(e) >> at & (1<<width - 1) }

// Kind is what sort of thing happened.
type Kind uint8

// The kinds of events. Those from Undo on are corrections: log entries with a
// payload that [Rules.Apply] refuses and a [Log] carries out.
const (
	NoKind             Kind = iota // of the zero Event
	RallyWon                       // a side won the rally, with or without a fault named: A, B:net
	Replay                         // the rally is played again: replay
	Stop                           // the rally was stopped by somebody's claim: stop?server,struck,byA
	StartGame                      // a game begins with its starting servers: gA1B1
	EndsChanged                    // the players have made the mid-game end change: ends
	Exchange                       // partners exchange their fixed courts: xA
	TimeOut                        // standard time-out of a side: tA
	TimeIn                         // the break is over: in
	EquipmentTimeOut               // of a player: eqA1
	RefereeTimeOut                 // ends with TimeIn: ref
	BloodTimeOut                   // referee's time-out that ends only with Dealt: blood
	HazardTimeOut                  // the same: hazard
	IllnessTimeOut                 // the same: illness
	Dealt                          // its cause has been dealt with, the break is over: dealt
	MedicalRequest                 // a player asked for medical time: mA1
	MedicalValid                   // qualified people found a valid condition: mA1+
	MedicalInvalid                 // they found none: mA1-
	MedicalWithdrawn               // the request is withdrawn: mA1w
	HelpArrived                    // qualified people are with the player: aidA1
	PlayOnAlone                    // a player cannot go on, the partner plays alone: outA1
	Concussion                     // suspected concussion, the player is out of this match: cA1
	VerbalWarning                  // of a side: vwA
	TechnicalWarning               // of a side: twA
	TechnicalFoul                  // of a side: tfA
	CarryVerbal                    // a player brings a verbal warning from the last match: cvA1
	CarryWarning                   // the same of a technical warning: cwA1
	CarryFoul                      // the same of a technical foul: cfA1
	CarrySameVerbal                // the partner has brought it, from the same pair: cvA2=
	CarrySameWarning               // the same: cwA2=
	CarrySameFoul                  // the same: cfA2=
	GameForfeit                    // a side forfeits the game: gfA
	MatchForfeit                   // a side forfeits the match: mfA
	DoubleForfeit                  // both sides do: dmf
	Ejection                       // a fact that the director recorded: ejA1
	Expulsion                      // the same: exA1
	LateArrival                    // a side arrived so many seconds late: lateA:600
	ChallengeLost                  // a side lost its challenge to a ruling: lostA
	ChallengeWithdrawn             // a side withdrew it after it was accepted: backA
	FirstChoice                    // serve, receive, end or defer: fcA:serve
	Retirement                     // of a side: retA
	Withdrawal                     // of a side, before the match: wdA
	Abandon                        // the match is abandoned: abandon
	ResumePlay                     // it is resumed where it stood: resume
	Substitution                   // under a local rule: subA1
	SheetReturned                  // nothing can be ruled on afterwards: sheet
	Undo                           // takes back the last entry that holds
	Redo                           // takes the last undo back
	Amend                          // an entry says what did not happen: amend 3 B
	RuleOn                         // something happened, and a rule changes its effect: rule 3 B?server
	Rewind                         // the game as it was after an entry, the ledger as it is: rewind 3
	SetPosition                    // states the position as a line: set L2 ...
	ChangeFormat                   // by decision of somebody: format ID now WHO
	kindCount
)

var kindNames = []string{"", "rally", "replay", "stop", "start-game", "ends-changed", "exchange", "time-out", "time-in",
	"equipment", "referee", "blood", "hazard", "illness", "dealt", "medical-request", "medical-valid", "medical-invalid",
	"medical-withdrawn", "help-arrived", "play-on-alone", "concussion", "verbal-warning", "technical-warning", "technical-foul",
	"carried-verbal", "carried-warning", "carried-foul", "same-verbal", "same-warning", "same-foul", "game-forfeit", "match-forfeit", "double-forfeit", "ejection", "expulsion",
	"late-arrival", "challenge-lost", "challenge-withdrawn", "first-choice", "retirement", "withdrawal", "abandon",
	"resume", "substitution", "sheet-returned", "undo", "redo", "amend", "rule", "rewind", "set", "format"}

// Kinds lists every kind of event, corrections included.
func Kinds() []Kind {
	out := make([]Kind, 0, kindCount-1)
	for k := RallyWon; k < kindCount; k++ {
		out = append(out, k)
	}
	return out
}

// Kind returns what sort of event e is.
func (e Event) Kind() Kind { return Kind(e.bits(kindAt, 7)) }

// Side returns the side of the event: the winner of a rally, whose time-out,
// warning or forfeit it is.
func (e Event) Side() Side { return Side(e.bits(sideAt, 1)) }

// Person returns the player of the event, where it has one.
func (e Event) Person() Person { return Person(e.bits(playerAt, 1) | e.bits(sideAt, 1)<<1) }

// Fault returns the fault that decided a rally, or NoFault.
func (e Event) Fault() Fault { return Fault(e.bits(argAt, 6)) }

// Choice returns the choice of a first-choice event.
func (e Event) Choice() Choice { return Choice(e.bits(argAt, 6)) }

// Starters returns the starting servers that a start event names.
func (e Event) Starters() Starters {
	return Starters{A1 + Person(e.bits(argAt, 1)), B1 + Person(e.bits(argAt+1, 1))}
}

// Seconds returns the seconds of lateness.
func (e Event) Seconds() int { return int(e.bits(secondsAt, 16)) }

func simple(k Kind) Event             { return Event(k) }
func sided(k Kind, s Side) Event      { return Event(k) | Event(s&1)<<sideAt }
func personal(k Kind, p Person) Event { return Event(k) | Event(p>>1&1)<<sideAt | Event(p&1)<<playerAt }

// RallyTo is a rally that a side won.
func RallyTo(s Side) Event { return sided(RallyWon, s) }

// FaultTo is a rally that a side won by the other side's fault.
func FaultTo(s Side, f Fault) Event { return RallyTo(s) | Event(f&63)<<argAt }

// Start is the start of a game with its starting servers; first serves first.
func Start(first Side, st Starters) Event {
	return sided(StartGame, first) | Event(st[A]&1)<<argAt | Event(st[B]&1)<<(argAt+1)
}

// EventOf makes an event of a kind that has neither side nor person.
func EventOf(k Kind) Event { return simple(k) }

// OfSide makes an event of a kind that belongs to a side.
func OfSide(k Kind, s Side) Event { return sided(k, s) }

// OfPerson makes an event of a kind that belongs to a player.
func OfPerson(k Kind, p Person) Event { return personal(k, p) }

// Choose is a step of the first choice.
func Choose(s Side, c Choice) Event { return sided(FirstChoice, s) | Event(c&63)<<argAt }

// Late is a side that arrived so many seconds late, at most 65535.
func Late(s Side, seconds int) Event {
	if seconds < 0 {
		seconds = 0
	} else if seconds > 65535 {
		seconds = 65535
	}
	return sided(LateArrival, s) | Event(seconds)<<secondsAt
}

// Choice is an option of the first choice.
type Choice uint8

// The options: serve, receive, an end, or to leave the choice to the others.
const (
	ChooseServe Choice = iota + 1
	ChooseReceive
	ChooseEnd
	ChooseDefer
)

var choiceNames = []string{"", "serve", "receive", "end", "defer"}

// Fault is a fault that can be called; it is always of the side that lost the
// rally. Who may call it, and what is said, is in rally/referee.
type Fault uint8

// The faults.
const (
	NoFault       Fault = iota
	FootFault           // service foot fault
	ServeFault          // illegal service motion or drop
	ShortServe          // serve in the non-volley zone or on its line
	EarlyServe          // serve before the whole score was called
	TenSeconds          // no serve within ten seconds of the call
	IntoNet             // ball into the net
	OutOfBounds         // ball out of bounds
	TwoBounces          // volley before the two bounces
	VolleyZone          // volley fault at the non-volley zone
	SecondBounce        // second bounce, or ball struck twice
	BodyTouch           // ball touched player or clothing
	NetTouch            // player, clothing or paddle touched net or post
	NetPlane            // net crossed before the strike
	WrongReceiver       // the wrong player returned the serve, where the edition faults it
	StoppedPlay         // a player stopped a live rally without right
	LateTimeOut         // a time-out called after the serve was struck
	AbsentPlayer        // the player due to serve or receive is out
	Distraction         // of an opponent
	OtherFault          // any other fault
	faultCount
)

var faultNames = []string{"", "foot", "serve", "short", "early", "ten", "net", "out", "bounce", "nvz", "twice", "body",
	"touch", "plane", "receiver", "stopped", "timeout", "absent", "distract", "other"}

// Faults lists every fault.
func Faults() []Fault {
	out := make([]Fault, 0, faultCount-1)
	for f := FootFault; f < faultCount; f++ {
		out = append(out, f)
	}
	return out
}

// OfServe reports whether a fault is one of the serve itself: the return then
// never came.
func (f Fault) OfServe() bool { return f >= FootFault && f <= TenSeconds }

// Mistake is something that was wrong when a rally began.
type Mistake uint8

// The mistakes, in the order of their words.
const (
	WrongSideServed     Mistake = iota // the side that was not due served
	WrongServer                        // the partner of the player due served
	WrongCourt                         // the server stood in the wrong court
	WrongReceived                      // the wrong player received
	WrongReceiverCourt                 // the receiver stood in the wrong court
	WrongCall                          // the score was called wrong
	UnannouncedServer                  // the serving side changed its starting server without notice
	UnannouncedReceiver                // the receiving side did
	mistakeCount
)

var mistakeNames = []string{"side", "server", "court", "receiver", "rcourt", "call", "starter", "rstarter"}

// Mistakes is a set of mistakes.
type Mistakes uint8

// Has reports whether the set holds x.
func (s Mistakes) Has(x Mistake) bool { return s>>x&1 != 0 }

// With returns the set with x.
func (s Mistakes) With(x Mistake) Mistakes { return s | 1<<x }

// Reach says how far a rally got when it was stopped or its mistake noticed.
type Reach uint8

// How far a rally can get.
const (
	ToItsEnd  Reach = iota // it was played to its end
	NotCalled              // the score was not called yet
	Called                 // the score was called
	Struck                 // the serve was struck
	Returned               // the serve was returned
	ThirdShot              // the third shot was struck
)

var reachNames = []string{"", "uncalled", "called", "struck", "returned", "third"}

// Since says what is over when a mistake is ruled on.
type Since uint8

// What can be over.
const (
	StillLive Since = iota // nothing: the rally is live
	RallyOver
	NextServed // the next serve has been struck
	Overtaken  // another point was scored, or the opponents have served
	GameOver
	AfterSheet
)

var sinceNames = []string{"", "rallyover", "served", "overtaken", "gameover", "sheet"}

// Stopper says who stopped a rally or raised the matter.
type Stopper uint8

// Who can stop a rally.
const (
	Nobody Stopper = iota
	BySideA
	BySideB
	ByReferee
)

var stopperNames = []string{"", "byA", "byB", "byref"}

// Incident is what was wrong with a rally and how it came to light.
type Incident struct {
	Mistakes Mistakes `json:"mistakes"` // what was wrong; none if the claim was mistaken
	Claim    Mistake  `json:"claim"`    // what the claim was about
	Claimed  bool     `json:"claimed"`  // whether Claim is given; if not, the claim was about the mistakes
	Misled   bool     `json:"misled"`   // a wrong call led the player who stopped to see a wrong server
	Reach    Reach    `json:"reach"`    // how far the rally got
	Since    Since    `json:"since"`    // what is over by now
	Stopper  Stopper  `json:"stopper"`  // who stopped it, or raised the matter
	Asked    bool     `json:"asked"`    // the referee had been asked and had confirmed
}

// WithIncident returns a rally or stop event with an incident on it.
func (e Event) WithIncident(i Incident) Event {
	e = e&^incidents | ridesFlag | Event(i.Mistakes)<<mistakesAt | Event(i.Reach&7)<<reachAt |
		Event(i.Since&7)<<overAt | Event(i.Stopper&3)<<stopperAt
	if i.Claimed {
		e |= Event(i.Claim&7+1) << claimAt
	}
	if i.Misled {
		e |= 1 << misledAt
	}
	if i.Asked {
		e |= 1 << askedAt
	}
	return e
}

// Incident returns the incident that rides on a rally or stop event.
func (e Event) Incident() (Incident, bool) {
	claim := e.bits(claimAt, 4)
	return Incident{
		Mistakes: Mistakes(e.bits(mistakesAt, 8)), Claim: Mistake((claim - 1) & 7), Claimed: claim != 0,
		Misled: e.bits(misledAt, 1) != 0, Reach: Reach(e.bits(reachAt, 3)), Since: Since(e.bits(overAt, 3)),
		Stopper: Stopper(e.bits(stopperAt, 2)), Asked: e.bits(askedAt, 1) != 0,
	}, e&ridesFlag != 0
}

// wellFormed reports whether only bits that the kind has a use for are set,
// and to values that exist.
func (e Event) wellFormed() bool {
	k := e.Kind()
	if k == NoKind || k >= kindCount || e>>eventBits != 0 {
		return false
	}
	if e&^(127<<kindAt|shapeMasks[forms[k].shape]) != 0 {
		return false
	}
	if e == Event(k)|e&(sideFlag|playerFlag) && k != Stop && k != FirstChoice {
		return true
	}
	switch forms[k].shape {
	case rallyShape, stopShape:
		return e.Fault() < faultCount && e.incidentWellFormed()
	case choiceShape:
		return e.Choice() >= ChooseServe && e.Choice() <= ChooseDefer
	case startShape:
		return e.bits(argAt, 6) < 4
	}
	return true
}

func (e Event) incidentWellFormed() bool {
	i, rides := e.Incident()
	if !rides {
		return e&incidents == 0 && e.Kind() != Stop
	}
	return i.Reach <= ThirdShot && i.Since <= AfterSheet && e.bits(claimAt, 4) <= uint64(mistakeCount) &&
		(i.Mistakes != 0 || i.Claimed || e.Kind() == Stop) &&
		(e.Kind() != Stop || i.Since == StillLive && e&incidents != ridesFlag)
}
