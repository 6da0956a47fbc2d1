package reference

import "slices"

// A carried is what a person brings from his last match (rule 13.G.4): a set
// of verbal warning, technical warning and technical foul.
type carried byte

const (
	carriedVerbal carried = 1 << iota
	carriedWarning
	carriedFoul
	sameWarning // in the line: of the same pair as the partner's
	sameFoul
)

// most that the line holds of each count.
const (
	mostVerbals  = 1
	mostWarnings = 7
	mostFouls    = 7
	mostForfeits = 3
	mostWrong    = 3
)

func count(n *int, most int) {
	if *n < most {
		*n++
	}
}

// The ladder of penalties (rules 13.G to 13.I): what stands against a side,
// what it is given now, and what comes of it. The first row that fits holds.
// What several persons brought along has not climbed; the first penalty that
// is given climbs on all of it. Verbal warnings never count.
var ladder = []struct {
	clause  string
	stands  string
	given   string
	becomes string
}{
	{"match-forfeit", "a game forfeit", "warning", "match forfeit"},
	{"match-forfeit", "a game forfeit", "foul", "match forfeit"},
	{"game-forfeit", "a foul", "warning", "game forfeit"},
	{"two-fouls-game", "a foul, where two forfeit the game", "foul", "game forfeit"},
	{"two-fouls-match", "a foul", "foul", "match forfeit"},
	{"game-forfeit", "two warnings", "warning", "game forfeit"},
	{"made-foul-counts", "two warnings, counted as a foul", "foul", "match forfeit"},
	{"made-foul-apart", "two warnings", "foul", "game forfeit"},
	{"second-warning", "a warning", "warning", "point"},
	{"game-forfeit", "a warning", "foul", "game forfeit"},
	{"technical-warning", "nothing", "warning", "nothing"},
	{"foul-removes", "nothing", "foul", "point"},
}

// against says whether that much stands against a side.
func (m *Match) against(s side, what string) bool {
	switch what {
	case "a game forfeit":
		return m.forfeits[s] > 0
	case "a foul":
		return m.fouls[s] > 0
	case "a foul, where two forfeit the game":
		return m.fouls[s] > 0 && m.is("two-fouls", "game-forfeit")
	case "two warnings":
		return m.warnings[s] >= 2
	case "two warnings, counted as a foul":
		return m.warnings[s] >= 2 && m.is("made-foul-counts", "yes")
	case "a warning":
		return m.warnings[s] == 1
	}
	return true
}

// becomes looks up what a warning or foul given to a side comes to.
func (m *Match) becomes(s side, given string) string {
	for _, row := range ladder {
		if row.given == given && m.against(s, row.stands) {
			return row.becomes
		}
	}
	return ""
}

// warn gives a technical warning, penalize a technical foul. After the last
// point both only stand on record, for the next match.
func (m *Match) warn(s side) {
	becomes := m.becomes(s, "warning")
	if becomes == "point" && m.noFoulNow() {
		m.did.add(recorded)
		return
	}
	count(&m.warnings[s], mostWarnings)
	m.did.add(warning)
	if m.phase == over {
		m.did.add(recorded)
		return
	}
	if becomes == "point" {
		m.did.add(foul)
	}
	m.carryOut(s, becomes)
}

func (m *Match) penalize(s side) {
	becomes := m.becomes(s, "foul")
	if m.noFoulNow() {
		m.did.add(recorded)
		return
	}
	count(&m.fouls[s], mostFouls)
	m.did.add(foul)
	if m.phase == over {
		m.did.add(recorded)
		return
	}
	m.carryOut(s, becomes)
}

// noFoulNow says whether no foul can be made between games, by whatever.
func (m *Match) noFoulNow() bool {
	return m.phase == between && m.is("fouls-between", "no") && m.is("warning-between", "no")
}

func (m *Match) carryOut(s side, becomes string) {
	switch becomes {
	case "point":
		m.penaltyPoint(s)
	case "game forfeit":
		count(&m.forfeits[s], mostForfeits)
		m.forfeitGame(s)
	case "match forfeit":
		m.did.add(matchForfeit)
		m.end(s.other(), "mf")
	}
}

// penaltyPoint moves the score after a foul: a point to the opponents, or one
// off the offender where the edition takes points away and he has any. Outside
// a game it moves the points with which the coming game opens.
func (m *Match) penaltyPoint(offender side) {
	opponents := offender.other()
	m.did.add(penaltyPoint)
	if m.phase != inPlay {
		if m.awards(offender, m.opens) {
			m.opens[opponents]++
		} else {
			m.opens[offender]--
		}
		return
	}
	if m.awards(offender, m.score) {
		m.score[opponents]++
		if m.is("awarded-point-wins", "yes") && m.hasWon(opponents) {
			m.endGame(opponents)
			return
		}
		if m.is("penalty-end-change", "yes") {
			m.watchEnds(opponents)
		}
		m.walkAfterPenalty(opponents)
		return
	}
	m.score[offender]--
	if m.is("removed-point-wins", "yes") && m.hasWon(opponents) {
		m.endGame(opponents)
		return
	}
	m.walkAfterPenalty(offender)
}

// awards says whether a foul of that side gives the opponents a point.
func (m *Match) awards(offender side, score [2]int) bool {
	return m.is("foul-value", "award") || score[offender] == 0
}

// bring enters a penalty that somebody brings from his last match. What two
// partners bring from the same pair is one penalty: the second entry of it
// only says who brings it. What has been given already before this match climbs
// on it, as if it had been brought first.
func (m *Match) bring(p person, what carried, samePair bool) {
	s := p.side()
	given, before := m.given(s), m.climbing(s)
	m.carried[p-a1] |= what
	switch what {
	case carriedVerbal:
		m.did.add(verbalWarning)
		count(&m.verbals[s], mostVerbals)
	case carriedWarning:
		m.did.add(warning)
		if !samePair {
			count(&m.warnings[s], mostWarnings)
			m.brought[s].warnings++
		}
	case carriedFoul:
		m.did.add(foul)
		if !samePair {
			count(&m.fouls[s], mostFouls)
			m.brought[s].fouls++
			m.penaltyPoint(s)
		}
	}
	if len(given) == 0 || samePair || what == carriedVerbal {
		return // a verbal warning is no step of the ladder
	}
	after := m.climbing(s)
	switch {
	case slices.Contains(after, "match forfeit"):
		m.carryOut(s, "match forfeit")
	case slices.Contains(after, "game forfeit"):
		m.carryOut(s, "game forfeit")
	case slices.Contains(after, "point") && !slices.Contains(before, "point"):
		m.did.add(foul)
		m.carryOut(s, "point")
	}
}

// A tally counts warnings and fouls.
type tally struct{ warnings, fouls int }

// given are the penalties of a side in this match, as far as none has
// forfeited a game: one foul, or up to two warnings.
func (m *Match) given(s side) []string {
	var out []string
	for range m.fouls[s] - m.brought[s].fouls {
		out = append(out, "foul")
	}
	for range m.warnings[s] - m.brought[s].warnings {
		out = append(out, "warning")
	}
	return out
}

// climbing is what the penalties given come to one after the other, on what
// was brought.
func (m *Match) climbing(s side) []string {
	as := m.Clone()
	as.warnings[s], as.fouls[s] = m.brought[s].warnings, m.brought[s].fouls
	var out []string
	for _, what := range m.given(s) {
		becomes := as.becomes(s, what)
		out = append(out, becomes)
		if what == "foul" {
			as.fouls[s]++
		} else {
			as.warnings[s]++
		}
		if becomes == "game forfeit" {
			as.forfeits[s]++
		}
	}
	return out
}

// challenge settles a challenge to a ruling that a side lost, or withdrew
// after it was accepted (rules 13.G.1, 20.J): a time-out, and for a lost one a
// technical warning; with no time-out left a foul. After the last point no
// time-out is left to charge, and the warning is for the next match.
func (m *Match) challenge(s side, warned bool) {
	switch {
	case m.phase == over:
		m.did.add(recorded)
		if warned && m.is("carried-penalties", "yes") {
			m.warn(s)
		}
	case m.calls[s] >= int(m.coming().TimeOuts):
		m.penalize(s)
	default:
		m.charge(s)
		if warned {
			m.warn(s)
		}
	}
}
