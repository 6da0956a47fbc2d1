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
	if x.Instead != 0 {
		out = append(out, say("refusal.instead", kinds(x.Instead)))
	} else {
		out = append(out, say(cause("instead.", x.Refusal, e.Kind())))
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
	reason := say(cause("refusal.", refusal, e.Kind()))
	switch {
	case by.First() == clause.None || rule.Source.Document == format.Own:
		return say("refusal.sentence", within("event", event), within("reason", reason))
	case refusal == rally.NotInEdition:
		return say("refusal.rule", within("event", event), within("rule", rule.Text), within("clause", rule.Cited()))
	}
	return say("refusal.clause", within("event", event), within("reason", reason), within("clause", rule.Cited()))
}

// cause is the text of a family for a refusal: one of its own for this kind of
// event, where the same refusal has several causes.
func cause(family words.Code, r rally.Refusal, k rally.Kind) words.Code {
	code := family + words.Code(r.String())
	if _, ok := words.Lookup(code + "." + words.Code(k.String())); ok {
		return code + "." + words.Code(k.String())
	}
	return code
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
