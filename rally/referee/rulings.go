package referee

import (
	"slices"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
)

// Verdict is what a ruling makes of a rally.
type Verdict uint8

// The verdicts.
const (
	Unaffected     Verdict = iota // nothing was ruled on, or the event is refused
	RallyStands                   // its result counts
	RallyReplayed                 // it is played again
	ServersFault                  // the serving side loses it
	ReceiversFault                // the receiving side loses it
	RallyIgnored                  // it does not count and is not played again (1999, second offence)
)

var verdictNames = []string{"unaffected", "stands", "replay", "servers-lose", "receivers-lose", "ignored"}

// Verdicts lists what a ruling can make of a rally.
func Verdicts() []Verdict {
	return []Verdict{RallyStands, RallyReplayed, ServersFault, ReceiversFault, RallyIgnored}
}

// String returns the text name of v.
func (v Verdict) String() string {
	if int(v) < len(verdictNames) {
		return verdictNames[v]
	}
	return "?"
}

// MarshalText implements encoding.TextMarshaler.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// Text says the verdict.
func (v Verdict) Text() Text { return say(Code("verdict." + v.String())) }

// Reading is one rule of the edition that a ruling rests on.
type Reading struct {
	Switch format.Switch `json:"switch"`
	Text   Text          `json:"text"` // what the edition says
	Source format.Source `json:"source"`
}

// Ruling is the ruling on a rally with an incident, and why it is so.
type Ruling struct {
	Verdict  Verdict       `json:"verdict"`
	Effects  rally.Effects `json:"effects"`
	Text     Text          `json:"text"`     // verdict, reason and clause in one sentence
	Readings []Reading     `json:"readings"` // the rules it rests on, the first one named in Text
}

// ruledBy are the switches that can decide about an incident.
var ruledBy = []format.Switch{format.OrderError, format.OrderWindow, format.Questions, format.ScoreStop, format.Misled,
	format.ReceiverFault, format.LateReceiver, format.LateSide, format.BothWrong, format.SecondOffence, format.FaultAgain, format.StarterNotice}

func rulingTexts() []Entry {
	out := []Entry{
		{"ruling.none", nil},
		{"ruling.one", []string{"verdict", "reason", "clause"}},
		{"ruling.two", []string{"verdict", "reason", "clause", "reason2", "clause2"}},
		{"ruling.warned", []string{"ruling"}},
		{"ruling.fouled", []string{"ruling"}},
	}
	for _, v := range append(Verdicts(), Unaffected) {
		out = append(out, Entry{v.Text().Code, nil})
	}
	for _, s := range ruledBy {
		if s == format.Questions {
			continue // its readings stand with the questions
		}
		for _, reading := range append(s.Readings(), "-") {
			out = append(out, Entry{readingCode(s, reading), nil})
		}
	}
	return out
}

func readingCode(s format.Switch, reading string) Code {
	return Code("reading." + s.String() + "." + reading)
}

// Ruling explains what the edition makes of a rally with an incident, s being
// the state before the rally. For any other event it says that there was
// nothing to rule on.
func (g *Guide) Ruling(s rally.State, e rally.Event) Ruling {
	incident, rides := e.Incident()
	next, did, refusal := g.rules.Apply(s, e)
	if !rides || refusal != rally.NotRefused {
		return Ruling{Text: say("ruling.none")}
	}
	r := Ruling{Verdict: g.verdict(s, next, did), Effects: did}
	for _, by := range g.restsOn(s, e, incident, r.Verdict) {
		reading, source := g.format.Rulings.Text(by), g.source(by, "", format.Open)
		if by == format.OrderWindow && reading == "-" { // played out where nothing is faulted
			reading = "none"
			source, _ = format.Clause(clause.OrderStands).Source(g.format.Edition)
		}
		r.Readings = append(r.Readings, Reading{by, say(readingCode(by, reading)), source})
	}
	r.Text = r.sentence()
	switch {
	case did.Has(rally.Fouled):
		r.Text = say("ruling.fouled", within("ruling", r.Text))
	case did.Has(rally.Warned):
		r.Text = say("ruling.warned", within("ruling", r.Text))
	}
	return r
}

func (r *Ruling) sentence() Text {
	args := []Arg{within("verdict", r.Verdict.Text()), within("reason", r.Readings[0].Text),
		within("clause", Clause(r.Readings[0].Source))}
	if len(r.Readings) == 1 {
		return say("ruling.one", args...)
	}
	return say("ruling.two", append(args, within("reason2", r.Readings[1].Text), within("clause2", Clause(r.Readings[1].Source)))...)
}

func (g *Guide) verdict(s, next rally.State, did rally.Effects) Verdict {
	serving := g.serves(s)
	switch {
	case did.Has(rally.PlayedAgain):
		return RallyReplayed
	case did.Has(rally.Stands):
		return RallyStands
	case did.Has(rally.Overruled | rally.Fouled):
		return RallyIgnored
	case did&(rally.SideOut|rally.SecondServer) != 0, lost(s, next, serving):
		return ServersFault
	}
	return ReceiversFault
}

// restsOn lists the switches that a ruling rests on: the one about what was
// claimed, and every other one whose change of reading would change the
// ruling. That is found by trying, so that no rule is written down twice.
func (g *Guide) restsOn(s rally.State, e rally.Event, i rally.Incident, v Verdict) []format.Switch {
	out := []format.Switch{about(i)}
	over := out[0] == format.OrderError && v == RallyStands && g.reads(format.OrderError, format.OrderErrorReplayIfStopped)
	if over {
		out[0] = format.OrderWindow // nobody can stop it any more
	}
	next, did, _ := g.rules.Apply(s, e)
	for _, by := range ruledBy {
		if over && by == format.OrderError {
			continue
		}
		if !slices.Contains(out, by) && g.turnsOn(by, s, e, next, did) {
			out = append(out, by)
		}
	}
	return out
}

// about is the switch that an incident is first of all about.
func about(i rally.Incident) format.Switch {
	const starters = rally.Mistakes(1<<rally.UnannouncedServer | 1<<rally.UnannouncedReceiver)
	switch {
	case i.Mistakes.Has(rally.WrongSideServed):
		return format.LateSide
	case i.Misled, i.Claimed && i.Claim == rally.WrongCall, !i.Claimed && i.Mistakes == 1<<rally.WrongCall:
		return format.ScoreStop
	case i.Mistakes != 0 && i.Mistakes&^starters == 0:
		return format.StarterNotice
	}
	return format.OrderError
}

func (g *Guide) turnsOn(by format.Switch, s rally.State, e rally.Event, next rally.State, did rally.Effects) bool {
	current := g.format.Rulings.Text(by)
	if current == "-" {
		return false
	}
	for _, reading := range by.Readings() {
		f := g.format
		if reading == current || f.Rulings.SetText(by, reading) != nil {
			continue
		}
		other, err := rally.Compile(f)
		if err != nil {
			continue
		}
		if n, d, refusal := other.Apply(s, e); n != next || d != did || refusal != rally.NotRefused {
			return true
		}
	}
	return false
}
