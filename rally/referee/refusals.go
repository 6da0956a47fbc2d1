package referee

import "github.com/evencourt/evencourt/rally"

func refusalTexts() []Entry {
	out := []Entry{
		{"refusal.sentence", []string{"event", "reason"}},
		{"refusal.clause", []string{"reason", "clause"}},
		{"refusal.accepted", nil},
		{"refusal.instead", []string{"kinds"}},
		{"refusal.allowed", []string{"kinds"}},
		{"refusal.nothing", nil},
		{"kinds.one", []string{"kind"}},
		{"kinds.more", []string{"kind", "rest"}},
	}
	for _, r := range refusals() {
		out = append(out, Entry{Code("refusal." + r.String()), nil})
	}
	for _, k := range rally.Kinds() {
		out = append(out, Entry{kindCode(k), nil})
	}
	return out
}

func kindCode(k rally.Kind) Code { return Code("kind." + k.String()) }

// refusals lists every reason for which an event can be refused.
func refusals() []rally.Refusal {
	var out []rally.Refusal
	for r := rally.Malformed; r.String() != "?"; r++ {
		out = append(out, r)
	}
	return out
}

// Refusal says why an event would be refused at s, by which clause, and what
// may be done instead, in the order in which it should be read: help first
// where a player may need it. An event that would be accepted has one line
// that says so.
func (g *Guide) Refusal(s rally.State, e rally.Event) []Text {
	x := g.rules.Why(s, e)
	if x.Refusal == rally.NotRefused {
		return []Text{say("refusal.accepted")}
	}
	var out []Text
	if x.Help {
		out = append(out, say("duty.help"), say("duty.safety"))
	}
	reason := say(Code("refusal." + x.Refusal.String()))
	if x.Source != nil {
		reason = say("refusal.clause", within("reason", reason), within("clause", Clause(*x.Source)))
	}
	event := Text{Code: "kind." + Code(rally.RallyWon.String())}
	if k := e.Kind(); k != rally.NoKind && k.String() != "?" {
		event.Code = kindCode(k)
	}
	out = append(out, say("refusal.sentence", within("event", event), within("reason", reason)))
	if x.Instead != 0 {
		out = append(out, say("refusal.instead", within("kinds", kindList(x.Instead))))
	}
	if x.Allowed == 0 {
		return append(out, say("refusal.nothing"))
	}
	return append(out, say("refusal.allowed", within("kinds", kindList(x.Allowed))))
}

// kindList joins event kinds; it nests no deeper than the two halves of it.
func kindList(set rally.KindSet) Text {
	var kinds []rally.Kind
	for _, k := range rally.Kinds() {
		if set.Has(k) {
			kinds = append(kinds, k)
		}
	}
	return joined(kinds)
}

func joined(kinds []rally.Kind) Text {
	switch len(kinds) {
	case 0:
		return say("kinds.one")
	case 1:
		return say("kinds.one", word("kind", kindCode(kinds[0])))
	}
	half := len(kinds) / 2
	return say("kinds.more", within("kind", joined(kinds[:half])), within("rest", joined(kinds[half:])))
}
