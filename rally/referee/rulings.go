package referee

import (
	"slices"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/internal/names"
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

// String returns the text name of v.
func (v Verdict) String() string { return names.Of(verdictNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (v *Verdict) UnmarshalText(text []byte) error {
	return unmarshal(verdictNames, "verdict", text, v)
}

// Text says the verdict.
func (v Verdict) Text() words.Text { return say(words.Code("verdict." + v.String())) }

// Basis is a rule that a decision rests on.
type Basis struct {
	Clause format.Clause `json:"clause"`
	Text   words.Text    `json:"text"` // what it rules
	// Source is what is known of it in the match's edition. A clause that only
	// the rules of the event bring has none, and is marked open.
	Source format.Source `json:"source"`
}

// Cited is where the clause stands, as text.
func (d *Basis) Cited() words.Text { return Cite(d.Clause, d.Source) }

// Said says the rule, where it stands and how well that is known.
func (d *Basis) Said() words.Text {
	return say("ruling.ground", within("rule", d.Text), within("clause", d.Cited()))
}

// ground is a clause as a ground of a decision.
func (g *Guide) ground(c format.Clause) Basis {
	source, ok := c.Source(g.format.Edition)
	if !ok {
		source = format.Source{Mark: format.Open}
	}
	return Basis{c, words.For(c), source}
}

// Ruling is the ruling on a rally with an incident, and why it is so.
type Ruling struct {
	Verdict Verdict       `json:"verdict"`
	Effects rally.Effects `json:"effects"`
	Text    words.Text    `json:"text"`    // verdict, rule and where it stands; that no text settles it
	Grounds []Basis       `json:"grounds"` // one rule or two that decided, as the decision gave them
}

// Ruling explains what the edition makes of a rally with an incident, s being
// the state before the rally. For any other event it says that there was
// nothing to rule on.
func (g *Guide) Ruling(s rally.State, e rally.Event) Ruling {
	_, rides := e.Incident()
	next, did, refusal, by := g.rules.Decide(s, e)
	if !rides || refusal != rally.NotRefused {
		return Ruling{Text: say("ruling.none")}
	}
	first := g.ground(by.First())
	r := Ruling{Verdict: g.verdict(s, next, did), Effects: did, Grounds: []Basis{first}}
	args := []words.Arg{within("verdict", r.Verdict.Text()), within("rule", first.Text), within("clause", first.Cited())}
	if by.Second() == clause.None {
		r.Text = say("ruling.one", args...)
	} else {
		second := g.ground(by.Second())
		r.Grounds = append(r.Grounds, second)
		r.Text = say("ruling.two", append(args, within("second", second.Text), within("also", second.Cited()))...)
	}
	switch {
	case did.Has(rally.Fouled):
		r.Text = say("ruling.fouled", within("ruling", r.Text))
	case did.Has(rally.Warned):
		r.Text = say("ruling.warned", within("ruling", r.Text))
	}
	if r.unsettled() {
		r.Text = say("ruling.unsettled", within("ruling", r.Text))
	}
	return r
}

// unsettled reports whether a ruling rests on a default: no text of the edition
// settles it, nor do the rules of the event.
func (r *Ruling) unsettled() bool {
	return slices.ContainsFunc(r.Grounds, func(b Basis) bool { return b.Source.Mark == format.Open && b.Source.Document != 0 })
}

// Why says each rule that a ruling rests on, where it stands and how well that is
// known.
func (r *Ruling) Why() []words.Text {
	var out []words.Text
	for i := range r.Grounds {
		out = append(out, r.Grounds[i].Said())
	}
	return out
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
