package referee

import (
	"strings"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Captions returns what a page that draws a snapshot shows in place of its codes, in a
// language: every phase, break, effect, refusal, interval and kind ("phase.play",
// "refusal.none-left"), every event that is offered or refused, by the names of the
// match ("event.tB"), and under "undo" and "redo" what those would take.
func (g *Guide) Captions(v *rally.Snapshot, l *words.Language) map[string]string {
	out := map[string]string{}
	for _, s := range words.Codes() {
		switch family, _, _ := strings.Cut(string(s.Code), "."); family {
		case "phase", "refusal", "break", "effect", "interval", "kind":
			if len(s.Params) == 0 {
				out[string(s.Code)] = l.Say(words.New(s.Code))
			}
		}
	}
	for _, e := range v.Allowed {
		out["event."+e.String()] = l.Say(g.Event(e))
	}
	for _, no := range v.Refused {
		out["event."+no.Event.String()] = l.Say(g.Event(no.Event))
	}
	for name, entry := range map[string]string{"undo": v.Undo, "redo": v.Redo} {
		if e, err := rally.ParseEntry(entry); err == nil {
			out[name] = l.Say(g.Entry(e))
		}
	}
	return out
}
