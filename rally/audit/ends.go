package audit

import (
	"slices"

	"github.com/evencourt/evencourt/rally"
)

// missedEnds reports games that ended with the end change at their midpoint
// still due, if the log records end changes. It follows what the repair says
// happened, or the rows if there was nothing to repair.
func (l *RallyLog) missedEnds(rows []kept, repair *Repair, at Place, out []Finding) []Finding {
	if !l.EndChanges && !slices.ContainsFunc(rows, func(r kept) bool { return r.Event.Kind() == rally.EndsChanged }) {
		return out
	}
	s := l.begin(rows)
	var events []rally.Event
	if repair == nil {
		for i := range rows {
			events = append(events, rows[i].Event)
		}
	} else if events = repair.Truth; l.Start == nil && len(events) > 0 && events[0].Kind() == rally.StartGame {
		s = l.Rules.New(events[0].Side())
	}
	for _, e := range events {
		next, did, refusal := l.Rules.Apply(s, e)
		if refusal != rally.NotRefused {
			continue
		}
		if did.Has(rally.GameWon) && s.EndChangeDue() {
			p := at
			p.Game = next.Game()
			out = append(out, l.found(endChangeMissing, p))
		}
		s = next
	}
	return out
}
