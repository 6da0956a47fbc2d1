package reference

import (
	"slices"

	"github.com/evencourt/evencourt/format"
)

// Stated says whether a line states a position that is refused.
func Stated(f format.Format, line string) (*Match, bool) {
	m := &Match{book: open(&f)}
	refused := m.state(line) == "malformed"
	return m, refused
}

// Reasons are the word of an event and all that stands against it, in the order
// in which reasons are given.
func (m *Match) Reasons(event string) (word string, reasons []string) {
	o, ok := read(event)
	if !ok {
		return "", nil
	}
	rows, known := rowsOf[o.word]
	if !known {
		for i := range refusals {
			if refusals[i].covers(o.word) {
				rows = append(rows, &refusals[i])
			}
		}
		rowsOf[o.word] = rows
	}
	for _, r := range rows {
		if r.holds(m, o) && !slices.Contains(reasons, r.reason) {
			reasons = append(reasons, r.reason)
		}
	}
	return o.word, reasons
}

// rowsOf are the rows that speak of an event, found once.
var rowsOf = map[string][]*refusal{}

// holds asks a reason where an earlier one already stands. What it asks about may
// then not be there: it does not hold.
func (r *refusal) holds(m *Match, o order) (holds bool) {
	defer func() {
		if recover() != nil {
			holds = false
		}
	}()
	return r.when(m, o)
}
