package audit

import "github.com/evencourt/evencourt/rally"

// missedEnds reports games that ended with the end change at their midpoint
// still due, if the log records end changes. It follows what the repair says
// happened, or the rows if there was nothing to repair.
func (l *Log) missedEnds(rows []kept, repair *Repair, at Place, out []Finding) []Finding {
	recorded := l.EndChanges
	var events []rally.Event
	for i := range rows {
		events = append(events, rows[i].Event)
		recorded = recorded || rows[i].Event.Kind() == rally.EndsChanged
	}
	if !recorded {
		return out
	}
	s := l.begin(rows)
	if repair != nil {
		if events = repair.Truth; l.Start == nil && len(events) > 0 && events[0].Kind() == rally.StartGame {
			s = l.Rules.New(events[0].Side())
		}
	}
	for _, e := range events {
		next, did, refusal := l.Rules.Apply(s, e)
		if refusal != rally.NotRefused {
			continue
		}
		if did.Has(rally.GameWon) && s.EndChangeDue() {
			p := at
			p.Game = next.Game()
			out = append(out, found(EndChangeMissing, p, Args{}))
		}
		s = next
	}
	return out
}
