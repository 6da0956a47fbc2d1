package referee

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/internal/names"
	"github.com/evencourt/evencourt/rally/words"
)

// Caller is who may call a fault.
type Caller uint8

// The callers.
const (
	Referee          Caller = iota + 1
	LineJudge               // for his line
	EndPlayers              // the players at whose end the ball landed
	ServingPlayers          // the serving side's players
	ReceivingPlayers        // the receiving side's players
	AnyPlayer               // any player; where they disagree the rally is replayed
	Offender                // the side that committed it, against itself
)

var callerNames = []string{"", "referee", "line-judge", "end-players", "serving-side", "receiving-side", "either-side", "offender"}

// String returns the text name of c.
func (c Caller) String() string { return names.Of(callerNames, c) }

// MarshalText implements encoding.TextMarshaler.
func (c Caller) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (c *Caller) UnmarshalText(text []byte) error { return unmarshal(callerNames, "caller", text, c) }

// FaultedSide is the side that can commit a fault, and so lose the rally by it.
type FaultedSide uint8

// The losers.
const (
	serversLose   FaultedSide = iota + 1 // only the serving side can commit it
	receiversLose                        // only the receiving side can
	offenderLoses                        // whichever side committed it
)

var loserNames = []string{"", "serving-side", "receiving-side", "offender"}

// String returns the text name of l.
func (l FaultedSide) String() string { return names.Of(loserNames, l) }

// MarshalText implements encoding.TextMarshaler.
func (l FaultedSide) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (l *FaultedSide) UnmarshalText(text []byte) error {
	return unmarshal(loserNames, "loser", text, l)
}

// FaultCall is all that is to know about calling a fault.
type FaultCall struct {
	Fault      rally.Fault   `json:"fault"`
	Exists     bool          `json:"exists"`    // whether the edition faults it at all
	Officiated []Caller      `json:"referee"`   // who may call it where there is a referee
	Without    []Caller      `json:"without"`   // who may call it where there is none
	Name       words.Text    `json:"name"`      // what it is called
	Said       words.Text    `json:"said"`      // what the caller says
	When       words.Text    `json:"when"`      // when it is said
	Loses      FaultedSide   `json:"loses"`     // which side loses the rally
	Clause     format.Clause `json:"clause"`    // that it is one, and who may call it
	Source     format.Source `json:"source"`    // of the clause, in the match's edition
	WordMark   format.Mark   `json:"word_mark"` // how well the spoken words are known
}

// faultRow is a row of the closed list of faults.
type faultRow struct {
	officiated []Caller
	without    []Caller
	said       words.Code
	when       words.Code
	loses      FaultedSide
	clauses    []format.Clause // the first that stands says so
}

// Players call faults on themselves and, without a referee, cannot enforce them
// on their opponents; service foot faults and faults at the non-volley zone
// either side may call, and disagreement is a replay; short serves are a line
// call; players call lines at their own end. What the clauses do not name follows
// from them.
var faultRows = [...]faultRow{
	rally.FootFault:     {[]Caller{Referee}, []Caller{AnyPlayer}, "said.foot", "when.struck", serversLose, []format.Clause{clause.FootFaultByEither}},
	rally.ServeFault:    {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.struck", serversLose, []format.Clause{clause.OwnFaults}},
	rally.ShortServe:    {[]Caller{Referee}, []Caller{ReceivingPlayers, ServingPlayers}, "said.short", "when.lands", serversLose, []format.Clause{clause.ShortServe}},
	rally.EarlyServe:    {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.early", serversLose, []format.Clause{clause.ServeAtMotion, clause.ServeAtStrike}},
	rally.TenSeconds:    {[]Caller{Referee}, []Caller{Offender}, "said.ten", "when.count", serversLose, []format.Clause{clause.TenSeconds}},
	rally.IntoNet:       {[]Caller{Referee, Offender}, []Caller{AnyPlayer}, "said.nothing", "when.dead", offenderLoses, []format.Clause{clause.RallyFaults}},
	rally.OutOfBounds:   {[]Caller{LineJudge, EndPlayers}, []Caller{EndPlayers}, "said.out", "when.lands", offenderLoses, []format.Clause{clause.LineCalls}},
	rally.TwoBounces:    {[]Caller{Referee, Offender}, []Caller{Offender}, "said.fault", "when.seen", offenderLoses, []format.Clause{clause.OwnFaults, clause.RallyFaults}},
	rally.VolleyZone:    {[]Caller{Referee, Offender}, []Caller{AnyPlayer}, "said.nvz", "when.seen", offenderLoses, []format.Clause{clause.FootFaultByEither, clause.VolleyZone}},
	rally.SecondBounce:  {[]Caller{Referee, Offender}, []Caller{Offender}, "said.fault", "when.seen", offenderLoses, []format.Clause{clause.OwnFaults, clause.RallyFaults}},
	rally.BodyTouch:     {[]Caller{Referee, Offender}, []Caller{Offender}, "said.fault", "when.seen", offenderLoses, []format.Clause{clause.OwnFaults, clause.RallyFaults}},
	rally.NetTouch:      {[]Caller{Referee, Offender}, []Caller{Offender}, "said.fault", "when.seen", offenderLoses, []format.Clause{clause.OwnFaults, clause.RallyFaults}},
	rally.NetPlane:      {[]Caller{Referee, Offender}, []Caller{Offender}, "said.fault", "when.seen", offenderLoses, []format.Clause{clause.OwnFaults, clause.RallyFaults}},
	rally.WrongReceiver: {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.returned", receiversLose, []format.Clause{clause.OrderFault, clause.ReceiverAtStrike, clause.ReceiverAtReturn, clause.LateReceiverFault}},
	rally.StoppedPlay:   {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.seen", offenderLoses, []format.Clause{clause.StoppedWrongly}},
	rally.LateTimeOut:   {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.seen", offenderLoses, []format.Clause{clause.TimeOutLate}},
	rally.AbsentPlayer:  {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.due", offenderLoses, []format.Clause{clause.AbsentDue}},
	rally.Distraction:   {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.seen", offenderLoses, []format.Clause{clause.OwnFaults, clause.RallyFaults}},
	rally.OtherFault:    {[]Caller{Referee}, []Caller{Offender}, "said.other", "when.seen", offenderLoses, []format.Clause{clause.OwnFaults, clause.LostRally}},
}

// Text names the caller.
func (c Caller) Text() words.Text { return say(words.Code("caller." + c.String())) }

// Text names the side that loses.
func (l FaultedSide) Text() words.Text { return say(words.Code("loser." + l.String())) }

// Faults is the closed list of faults under the match's edition, in the order
// of [rally.Faults].
func (g *Guide) Faults() []FaultCall {
	out := make([]FaultCall, 0, len(faultRows))
	for _, f := range rally.Faults() {
		fault, _ := g.Fault(f)
		out = append(out, fault)
	}
	return out
}

// Fault returns who calls a fault, when, in which words, and who loses the
// rally. It is false for a fault that is not in the list.
func (g *Guide) Fault(f rally.Fault) (FaultCall, bool) {
	if f == rally.NoFault || int(f) >= len(faultRows) {
		return FaultCall{}, false
	}
	row := &faultRows[f]
	name := words.For(f)
	out := FaultCall{Fault: f, Exists: true, Officiated: row.officiated, Without: row.without, Name: name,
		Said: say(row.said), When: say(row.when), Loses: row.loses,
		WordMark: format.Memory}
	out.Clause, out.Source = g.standing(row.clauses...)
	if row.said == "said.fault" {
		out.Said = say(row.said, within("fault", name))
	}
	switch f {
	case rally.TenSeconds:
		out.Exists = g.number(clause.TenSeconds) > 0
		out.When = say(row.when, count("seconds", g.number(clause.TenSeconds)))
	case rally.EarlyServe:
		if g.takes(clause.ServeAtMotion) {
			out.When = say("when.early.motion")
		}
	case rally.LateTimeOut:
		if until := g.reading(clause.TimeOutBeforeStrike); until != "-" {
			out.When = say("when.late." + words.Code(until))
		}
	case rally.WrongReceiver:
		out.Exists = g.takes(clause.OrderFault) ||
			g.takes(clause.LateReceiverFault)
		if g.takes(clause.StopByAnyone) {
			out.Without = []Caller{AnyPlayer}
			out.Officiated = []Caller{Referee, AnyPlayer}
		}
	}
	return out, true
}

// Loser returns the side that loses the rally by a fault before which the
// match stood at s; false if only who committed it can tell, or outside play.
func (f FaultCall) Loser(s rally.State) (rally.Side, bool) {
	serving, playing := s.Serving()
	switch {
	case !playing:
	case f.Loses == serversLose:
		return serving, true
	case f.Loses == receiversLose:
		return serving.Other(), true
	}
	return rally.A, false
}
