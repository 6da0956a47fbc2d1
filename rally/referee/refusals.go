package referee

import (
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Refusal says why an event would be refused at s, by which clause, and what
// may be done instead, in the order in which it should be read: help first
// where a player may need it. An event that would be accepted has one line
// that says so.
func (g *Guide) Refusal(s rally.State, e rally.Event) []words.Text {
	x := g.rules.Why(s, e)
	if x.Refusal == rally.NotRefused {
		return []words.Text{say("refusal.accepted")}
	}
	var out []words.Text
	if x.Help {
		out = append(out, say("duty.help"), say("duty.safety"))
	}
	reason := words.Refusal(x.Refusal)
	if x.Source != nil {
		reason = say("refusal.clause", within("reason", reason), within("clause", Cite(0, *x.Source)))
	}
	event := say("event.none")
	if k := e.Kind(); k != rally.NoKind && k.String() != "?" {
		event = words.Kind(k)
	}
	out = append(out, say("refusal.sentence", within("event", event), within("reason", reason)))
	if x.Instead != 0 {
		out = append(out, say("refusal.instead", kinds(x.Instead)))
	}
	if x.Allowed == 0 {
		return append(out, say("refusal.nothing"))
	}
	return append(out, say("refusal.allowed", kinds(x.Allowed)))
}

// kinds lists kinds of events.
func kinds(set rally.KindSet) words.Arg {
	var out []words.Text
	for _, k := range rally.Kinds() {
		if set.Has(k) {
			out = append(out, words.Kind(k))
		}
	}
	return words.Each("kinds", out...)
}
