package referee

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Refusal says why an event would be refused at s, by which clause, what to do
// instead, and what may come, in the order in which it should be read: help
// first where a player may need it. An event that would be accepted has one
// line that says so.
func (g *Guide) Refusal(s rally.State, e rally.Event) []words.Text {
	x := g.rules.Why(s, e)
	if x.Refusal == rally.NotRefused {
		return []words.Text{say("refusal.accepted")}
	}
	var out []words.Text
	if x.Help {
		out = append(out, say("duty.help"), say("duty.safety"))
	}
	out = append(out, g.refused(s, e))
	if x.Instead != 0 && x.Refusal != rally.AbsentDue { // of that one the fault is meant, not any rally
		out = append(out, say("refusal.instead", kinds(x.Instead)))
	} else {
		out = append(out, words.Because("instead.", x.Refusal, e.Kind()))
	}
	if x.Allowed == 0 {
		return append(out, say("refusal.nothing"))
	}
	return append(out, say("refusal.allowed", kinds(x.Allowed)))
}

// refused says that an event is refused and why: by the rule where it is one of
// the book, with where it stands.
func (g *Guide) refused(s rally.State, e rally.Event) words.Text {
	_, _, refusal, by := g.rules.Decide(s, e)
	event := say("event.none")
	if k := e.Kind(); k != rally.NoKind && k.String() != "?" {
		event = words.For(k)
	}
	rule := g.ground(by.First())
	reason := words.Because("refusal.", refusal, e.Kind())
	switch {
	case by.First() == clause.None || rule.Source.Document == format.Own:
		return say("refusal.sentence", within("event", event), within("reason", reason))
	case refusal == rally.NotInEdition:
		return say("refusal.rule", within("event", event), within("rule", rule.Text), within("clause", rule.Cited()))
	}
	code := words.Code("refusal.clause")
	if rule.Source.Mark == format.Open && rule.Source.Document != 0 {
		code = "refusal.open"
	}
	return say(code, within("event", event), within("reason", reason), within("clause", rule.Cited()))
}

// Rule is the rule that decided, with how well it is known in the match's edition;
// false if no rule did.
func (g *Guide) Rule(by rally.Grounds) (Basis, bool) {
	if by.First() == clause.None {
		return Basis{}, false
	}
	return g.ground(by.First()), true
}

// kinds lists kinds of events.
func kinds(set rally.KindSet) words.Arg {
	var out []words.Text
	for _, k := range rally.Kinds() {
		if set.Has(k) {
			out = append(out, words.For(k))
		}
	}
	return words.Each("kinds", out...)
}
