package reference

import "strings"

// undealt says whether play waits for something to be dealt with.
func (m *Match) undealt() bool {
	return m.pause == "blood" || m.pause == "hazard" || m.pause == "illness"
}

// atTimeOut says whether a standard time-out is running.
func (m *Match) atTimeOut() bool { return m.pause == "tA" || m.pause == "tB" }

// atMedical says whether a medical time-out is running.
func (m *Match) atMedical() bool { return strings.HasPrefix(m.pause, "m") }

// asking says whether a medical request has not been answered.
func (m *Match) asking() bool { return m.medical.any(asked) != nobody }

// any is the first of the four about whom that is said.
func (w *perPerson) any(what byte) person {
	for p := a1; p <= b2; p++ {
		if w.of(p) == what {
			return p
		}
	}
	return nobody
}

// pauseFor begins a break, or turns the one that runs into another.
func (m *Match) pauseFor(event string) {
	m.pause = event
	m.did.add(breakBegan)
}

// charge takes a standard time-out from a side.
func (m *Match) charge(s side) {
	m.calls[s]++
	m.did.add(timeOutCharged)
	if m.calls[s] == int(m.coming().TimeOuts) {
		m.did.add(lastTimeOut)
	}
}

// Medical time of a player: asked for, granted while something else must be
// dealt with first, used up.
const (
	asked   = 'r'
	granted = 'g'
	used    = 'u'
)

// dealWith ends a break for blood, a hazard or an illness. Medical time that
// had to wait follows: what was granted goes on, else what has been asked for
// comes first.
func (m *Match) dealWith() {
	m.timeIn()
	next := m.medical.any(granted)
	if next == nobody {
		next = m.medical.any(asked)
	}
	m.waitNoMore()
	if next != nobody {
		m.pauseFor("m" + name(next))
	}
}

// waitNoMore uses up medical time that was granted for later: it follows now,
// or the match has ended and nothing follows.
func (m *Match) waitNoMore() {
	for p := a1; p <= b2; p++ {
		if m.medical.of(p) == granted {
			m.medical.set(p, used)
		}
	}
}

// askMedical takes a request for medical time; help is called at once. A break
// that must be dealt with, and that for another player, go on.
func (m *Match) askMedical(p person) {
	m.medical.set(p, asked)
	m.did.add(help)
	if !m.undealt() && !m.atMedical() {
		m.pauseFor("m" + name(p))
	}
}

// answerMedical enters what qualified people found, or that the request was
// withdrawn. Only a valid condition uses up the player's medical time.
func (m *Match) answerMedical(o order) {
	s := o.side
	if o.word == "m+" {
		m.did.add(medicalUsed)
		if m.undealt() {
			m.medical.set(o.person, granted)
			return
		}
		m.medical.set(o.person, used)
		m.pause = "m" + name(o.person)
		return
	}
	m.medical.set(o.person, 0)
	m.leaveMedical(o.person)
	cost := m.book.answers["medical-invalid"]
	if o.word == "mw" {
		cost = m.book.answers["medical-withdrawn"]
	}
	none := m.calls[s] >= int(m.coming().TimeOuts)
	switch {
	case cost == "warning":
		m.warn(s)
	case cost == "time-out-and-warning" && none, cost == "time-out-or-foul" && none:
		m.penalize(s)
	case cost == "time-out-and-warning":
		m.charge(s)
		m.warn(s)
	case cost == "time-out-or-foul":
		m.charge(s)
		m.did.add(recorded)
	default:
		m.did.add(recorded)
	}
}

// leaveMedical ends a player's medical break; it goes on for another who asks.
func (m *Match) leaveMedical(p person) {
	if m.pause != "m"+name(p) {
		return
	}
	if other := m.medical.any(asked); other != nobody {
		m.pause = "m" + name(other)
		return
	}
	m.timeIn()
}

// caredFor says whether somebody has asked for help and is being seen to.
func (m *Match) caredFor(p person) bool {
	now := m.medical.of(p)
	return now == asked || now == granted || now == used && m.pause == "m"+name(p)
}

// mayAdd says whether a side may add a time-out of its own to the medical time
// of its player that is running.
func (m *Match) mayAdd(s side) bool {
	return m.is("medical-time-outs", "yes") && m.atMedical() && personIn(m.pause[1:]).side() == s
}

// lose takes a player out: the partner plays on alone (x), or nothing goes on
// without an official (c). A request of his falls with him; what is left of
// its break is another's who asks, or the referee's.
func (m *Match) lose(p person, how byte) {
	m.out.set(p, how)
	m.did.add(playerOut, help)
	if m.medical.of(p) != asked {
		return
	}
	m.medical.set(p, 0)
	if m.pause == "m"+name(p) {
		m.pause = "ref"
		if other := m.medical.any(asked); other != nobody {
			m.pause = "m" + name(other)
		}
	}
}
