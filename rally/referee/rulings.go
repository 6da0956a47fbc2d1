package referee

import (
	"slices"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
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
func (v Verdict) String() string { return nameOf(verdictNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (v *Verdict) UnmarshalText(text []byte) error {
	return unmarshal(verdictNames, "verdict", text, v)
}

// Text says the verdict.
func (v Verdict) Text() words.Text { return say(words.Code("verdict." + v.String())) }

// Reading is one rule of the edition that a ruling rests on.
type Reading struct {
	Switch format.Switch `json:"switch"`
	Text   words.Text    `json:"text"` // what the edition says
	Source format.Source `json:"source"`
}

// Ruling is the ruling on a rally with an incident, and why it is so.
type Ruling struct {
	Verdict  Verdict       `json:"verdict"`
	Effects  rally.Effects `json:"effects"`
	Text     words.Text    `json:"text"`     // verdict, reason and clause in one sentence
	Readings []Reading     `json:"readings"` // the rules it rests on, the first one named in Text
}

// ruledBy are the switches that can decide about an incident.
var ruledBy = []format.Switch{format.OrderError, format.OrderWindow, format.Questions, format.ScoreStop, format.Misled,
	format.ReceiverFault, format.LateReceiver, format.LateSide, format.BothWrong, format.SecondOffence, format.FaultAgain, format.StarterNotice}

// reading is what the edition says about a switch.
func (g *Guide) reading(by format.Switch) words.Text {
	if by == format.Questions {
		return words.Rule(g.mayAsk(Confirm))
	}
	return say(words.Code("reading." + by.String() + "." + g.format.Rulings.Text(by)))
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
		text, source := g.reading(by), g.source(by)
		if by == format.OrderWindow && g.format.Rulings[by] == 0 { // played out where nothing is faulted
			text = say("reading.order-window.none")
			source, _ = format.Clause(clause.OrderStands).Source(g.format.Edition)
		}
		r.Readings = append(r.Readings, Reading{by, text, source})
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

// source says where the reading of a switch comes from in the match's edition.
func (g *Guide) source(s format.Switch) format.Source {
	e := g.format.Edition
	if source, ok := format.Origin(e, s); ok {
		return source
	}
	return format.Source{Document: e.Document(), Edition: e, Mark: format.Derived}
}

func (r *Ruling) sentence() words.Text {
	args := []words.Arg{within("verdict", r.Verdict.Text()), within("reason", r.Readings[0].Text),
		within("clause", Cite(0, r.Readings[0].Source))}
	if len(r.Readings) == 1 {
		return say("ruling.one", args...)
	}
	return say("ruling.two", append(args, within("reason2", r.Readings[1].Text), within("clause2", Cite(0, r.Readings[1].Source)))...)
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
