package reference

// A choice is what a side has taken while the other has still to choose: an
// end, or nothing yet, having handed the choice over. 0 when nothing is open.
type choice byte

const (
	tookEnd  choice = 'e'
	deferred choice = 'd'
)

// The first choice (rule 5.A.1). Who takes serve or receive settles who serves
// first; who takes an end leaves serve or receive to the other side; who
// defers leaves all but deferring. While something is open, first is the side
// that has made its choice.
func (m *Match) choose(o order) {
	m.did.add(recorded)
	switch o.choice {
	case "serve":
		m.first = o.side
	case "receive":
		m.first = o.side.other()
	case "end":
		m.first, m.choice = o.side, tookEnd
		return
	case "defer":
		m.first, m.choice = o.side, deferred
		return
	}
	m.choice = 0
	m.did.add(firstChosen)
}

// chosen is the side that serves first once that is settled.
func (m *Match) chosen() side {
	if m.choice != 0 {
		return noSide
	}
	return m.first
}

// mayChoose says whether this choice is left to that side.
func (m *Match) mayChoose(o order) bool {
	switch m.choice {
	case tookEnd:
		return o.side != m.first && (o.choice == "serve" || o.choice == "receive")
	case deferred:
		return o.side != m.first && o.choice != "defer"
	}
	return true
}

// forgetChoice drops a choice that nobody will complete any more.
func (m *Match) forgetChoice() {
	if m.choice != 0 {
		m.first, m.choice = noSide, 0
	}
}
