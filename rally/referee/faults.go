package referee

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Caller is who may call a fault.
type Caller uint8

// The callers.
const (
	Referee       Caller = iota + 1
	LineJudge            // for his line
	EndPlayers           // the players at whose end the ball landed
	ServingSide          // the serving side's players
	ReceivingSide        // the receiving side's players
	EitherSide           // any player; where they disagree the rally is replayed
	Offender             // the side that committed it, against itself
)

var callerNames = []string{"", "referee", "line-judge", "end-players", "serving-side", "receiving-side", "either-side", "offender"}

// String returns the text name of c.
func (c Caller) String() string {
	if int(c) < len(callerNames) {
		return callerNames[c]
	}
	return "?"
}

// MarshalText implements encoding.TextMarshaler.
func (c Caller) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// Loser is the side that can commit a fault, and so lose the rally by it.
type Loser uint8

// The losers.
const (
	ServersLose   Loser = iota + 1 // only the serving side can commit it
	ReceiversLose                  // only the receiving side can
	OffenderLoses                  // whichever side committed it
)

var loserNames = []string{"", "serving-side", "receiving-side", "offender"}

// String returns the text name of l.
func (l Loser) String() string {
	if int(l) < len(loserNames) {
		return loserNames[l]
	}
	return "?"
}

// MarshalText implements encoding.TextMarshaler.
func (l Loser) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// Fault is all that is to know about calling a fault.
type Fault struct {
	Fault      rally.Fault   `json:"fault"`
	Exists     bool          `json:"exists"`    // whether the edition faults it at all
	Officiated []Caller      `json:"referee"`   // who may call it where there is a referee
	Without    []Caller      `json:"without"`   // who may call it where there is none
	Name       Text          `json:"name"`      // what it is called
	Said       Text          `json:"said"`      // what the caller says
	When       Text          `json:"when"`      // when it is said
	Loses      Loser         `json:"loses"`     // which side loses the rally
	Source     format.Source `json:"source"`    // of who may call it
	WordMark   format.Mark   `json:"word_mark"` // how well the spoken words are known
}

// faultRow is a row of the closed list of faults.
type faultRow struct {
	officiated []Caller
	without    []Caller
	said       Code
	when       Code
	loses      Loser
	rule       string
	mark       format.Mark
	by         format.Switch // where the edition decides
}

// Players call faults on themselves and, without a referee, cannot enforce
// them on their opponents (13.D.1.d); service foot faults and faults at the
// non-volley zone either side may call, and disagreement is a replay
// (13.D.1.c); short serves are a line call (6.D.1, the servers' side by
// 6.D.13). Players call lines at their own end. Those rules were read; the
// rows that they do not name follow from them or are marked as from memory.
var faultRows = map[rally.Fault]faultRow{
	rally.FootFault:     {[]Caller{Referee}, []Caller{EitherSide}, "said.fault", "when.struck", ServersLose, "13.D.1.c", format.Read, 0},
	rally.ServeFault:    {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.struck", ServersLose, "13.D.1.d", format.Derived, 0},
	rally.ShortServe:    {[]Caller{Referee}, []Caller{ReceivingSide, ServingSide}, "said.short", "when.lands", ServersLose, "6.D.1", format.Read, 0},
	rally.EarlyServe:    {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.early", ServersLose, "", format.Derived, format.EarlyServe},
	rally.TenSeconds:    {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.count", ServersLose, "", format.Derived, format.ServeSeconds},
	rally.IntoNet:       {[]Caller{Referee, Offender}, []Caller{EitherSide}, "said.nothing", "when.dead", OffenderLoses, "", format.Memory, 0},
	rally.OutOfBounds:   {[]Caller{LineJudge, EndPlayers}, []Caller{EndPlayers}, "said.out", "when.lands", OffenderLoses, "6.D.1", format.Derived, 0},
	rally.TwoBounces:    {[]Caller{Referee, Offender}, []Caller{Offender}, "said.fault", "when.seen", OffenderLoses, "13.D.1.d", format.Derived, 0},
	rally.VolleyZone:    {[]Caller{Referee, Offender}, []Caller{EitherSide}, "said.fault", "when.seen", OffenderLoses, "13.D.1.c", format.Read, 0},
	rally.SecondBounce:  {[]Caller{Referee, Offender}, []Caller{Offender}, "said.fault", "when.seen", OffenderLoses, "13.D.1.d", format.Derived, 0},
	rally.BodyTouch:     {[]Caller{Referee, Offender}, []Caller{Offender}, "said.fault", "when.seen", OffenderLoses, "13.D.1.d", format.Derived, 0},
	rally.NetTouch:      {[]Caller{Referee, Offender}, []Caller{Offender}, "said.fault", "when.seen", OffenderLoses, "13.D.1.d", format.Derived, 0},
	rally.NetPlane:      {[]Caller{Referee, Offender}, []Caller{Offender}, "said.fault", "when.seen", OffenderLoses, "13.D.1.d", format.Derived, 0},
	rally.WrongReceiver: {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.returned", ReceiversLose, "", format.Derived, format.OrderError},
	rally.StoppedPlay:   {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.seen", OffenderLoses, "13.D.1.d", format.Derived, 0},
	rally.LateTimeOut:   {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.seen", OffenderLoses, "", format.Derived, format.TimeOutDeadline},
	rally.AbsentPlayer:  {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.due", OffenderLoses, "13.H.4", format.Derived, 0},
	rally.Distraction:   {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.seen", OffenderLoses, "13.D.1.d", format.Derived, 0},
	rally.OtherFault:    {[]Caller{Referee}, []Caller{Offender}, "said.fault", "when.seen", OffenderLoses, "13.D.1.d", format.Derived, 0},
}

var faultTexts = func() []Entry {
	out := []Entry{
		{"said.fault", []string{"fault"}}, {"said.short", nil}, {"said.out", nil}, {"said.nothing", nil},
		{"when.struck", nil}, {"when.lands", nil}, {"when.early", nil}, {"when.early.motion", nil}, {"when.count", []string{"seconds"}},
		{"when.dead", nil}, {"when.seen", nil}, {"when.returned", nil}, {"when.due", nil},
	}
	for _, f := range rally.Faults() {
		out = append(out, Entry{faultCode(f), nil})
	}
	for _, name := range callerNames[1:] {
		out = append(out, Entry{Code("caller." + name), nil})
	}
	for _, name := range loserNames[1:] {
		out = append(out, Entry{Code("loser." + name), nil})
	}
	return out
}()

func faultCode(f rally.Fault) Code { return Code("fault." + f.String()) }

// Text names the caller.
func (c Caller) Text() Text { return say(Code("caller." + c.String())) }

// Text names the side that loses.
func (l Loser) Text() Text { return say(Code("loser." + l.String())) }

// Faults is the closed list of faults under the match's edition, in the order
// of [rally.Faults].
func (g *Guide) Faults() []Fault {
	out := make([]Fault, 0, len(faultRows))
	for _, f := range rally.Faults() {
		fault, _ := g.Fault(f)
		out = append(out, fault)
	}
	return out
}

// Fault returns who calls a fault, when, in which words, and who loses the
// rally. It is false for a fault that is not in the list.
func (g *Guide) Fault(f rally.Fault) (Fault, bool) {
	row, ok := faultRows[f]
	if !ok {
		return Fault{}, false
	}
	name := say(faultCode(f))
	out := Fault{Fault: f, Exists: true, Officiated: row.officiated, Without: row.without, Name: name,
		Said: say(row.said), When: say(row.when), Loses: row.loses,
		Source: g.source(row.by, row.rule, row.mark), WordMark: format.Memory}
	if row.said == "said.fault" {
		out.Said = say(row.said, within("fault", name))
	}
	switch f {
	case rally.TenSeconds:
		out.Exists = g.number(format.ServeSeconds) > 0
		out.When = say(row.when, count("seconds", g.number(format.ServeSeconds)))
	case rally.EarlyServe:
		if g.reads(format.EarlyServe, format.EarlyServeMotion) {
			out.When = say("when.early.motion")
		}
	case rally.WrongReceiver:
		out.Exists = g.reads(format.OrderError, format.OrderErrorFault) ||
			g.reads(format.LateReceiver, format.LateReceiverFault)
		if g.reads(format.OrderStop, format.OrderStopAnyone) {
			out.Without = []Caller{EitherSide}
			out.Officiated = []Caller{Referee, EitherSide}
		}
	}
	return out, true
}

// Loser returns the side that loses the rally by a fault before which the
// match stood at s; false if only who committed it can tell, or outside play.
func (f Fault) Loser(s rally.State) (rally.Side, bool) {
	serving, playing := s.Serving()
	switch {
	case !playing:
	case f.Loses == ServersLose:
		return serving, true
	case f.Loses == ReceiversLose:
		return serving.Other(), true
	}
	return rally.A, false
}
