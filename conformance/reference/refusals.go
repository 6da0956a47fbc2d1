package reference

import (
	"strings"

	"github.com/evencourt/evencourt/format"
)

// A refusal is a reason why an event cannot come now. Events of the row for
// which when holds are refused.
type refusal struct {
	reason string
	clause string
	events string // their words; with a leading "but", all but those
	when   func(m *Match, o order) bool
}

// rallies are the events that play a rally or begin to.
const rallies = "rally replay stop"

// The reasons, in the order in which they are given: the first that holds.
var refusals = []refusal{
	{"closed", "sheet-final", "but", func(m *Match, _ order) bool { return m.phase == closed }},
	{"over", "match-over", "but sheet vw tw tf lost back c ej ex late", func(m *Match, _ order) bool { return m.phase == over }},
	{"over", "match-over", "late", func(m *Match, o order) bool { return m.phase == over && m.lateLoser() != o.side.other() }},
	{"over", "no-challenge-last-rally", "lost back", func(m *Match, _ order) bool {
		return m.phase == over && !m.book.scoringOnly && !m.is("challenge-last-rally", "yes")
	}},
	{"abandoned", "resumed", "but resume sheet c", func(m *Match, _ order) bool { return m.abandoned() }},
	{"no-such-player", "local-rules", "but", func(m *Match, o order) bool {
		return m.singles() && (o.person.digit() == '2' || o.starts[0] == 2 || o.starts[1] == 2)
	}},

	{"not-in-edition", "scoring-only", "eq m m+ m- mw aid out vw tw tf cv cw cf cv= cw= cf= lost back gf late ej ex", func(m *Match, _ order) bool { return m.book.scoringOnly }},
	{"not-in-edition", "scoring-only", "rally stop", func(m *Match, o order) bool {
		return m.playedBy().scoringOnly && (o.word == "stop" || o.trouble != nil || o.fault != "")
	}},
	{"not-in-edition", "scoring-only", "t", func(m *Match, _ order) bool {
		return m.book.scoringOnly && m.book.game.TimeOuts+m.book.last.TimeOuts == 0
	}},
	{"not-in-edition", "no-time-out-between", "t", func(m *Match, _ order) bool { return m.phase == between && !m.is("time-out-between", "yes") }},
	{"not-in-edition", "badminton-misconduct", "vw tw tf", func(m *Match, _ order) bool { return m.is("foul-value", "") }},
	{"not-in-edition", "no-penalty-before", "vw tw tf", func(m *Match, _ order) bool { return m.phase == before && !m.is("pre-match-penalties", "yes") }},
	{"not-in-edition", "no-fouls-between", "tf", func(m *Match, _ order) bool { return m.phase == between && !m.is("fouls-between", "yes") }},
	{"not-in-edition", "no-warning-between", "tw", func(m *Match, o order) bool {
		return m.phase == between && m.is("warning-between", "no") && m.becomes(o.side, "warning") == "point"
	}},
	{"not-in-edition", "nothing-carried", "vw tw tf", func(m *Match, _ order) bool { return m.phase == over && !m.is("carried-penalties", "yes") }},
	{"not-in-edition", "nothing-carried", "cv cw cf cv= cw= cf=", func(m *Match, _ order) bool { return !m.is("carried-penalties", "yes") }},
	{"not-in-edition", "challenge-free", "lost", func(m *Match, _ order) bool { return m.is("challenge-lost", "nothing") || m.is("challenge-lost", "") }},
	{"not-in-edition", "challenge-dropped-free", "back", func(m *Match, _ order) bool {
		return m.is("challenge-withdrawn", "nothing") || m.is("challenge-withdrawn", "")
	}},
	{"not-in-edition", "no-deferring", "fc", func(m *Match, o order) bool { return o.choice == "defer" && !m.is("defer", "yes") }},
	{"not-in-edition", "late-game", "late", func(m *Match, _ order) bool { return m.is("late-game-seconds", "") }},
	{"local-rule", "no-substitution", "sub", func(*Match, order) bool { return true }},

	{"not-started", "one-moment", "x t eq ref blood hazard illness m out lost back ret", func(m *Match, _ order) bool { return m.phase == before }},
	{"not-started", "one-moment", "x", func(m *Match, _ order) bool { return !m.begun }},
	{"not-started", "retirement-when", "ret", func(m *Match, _ order) bool { return !m.begun }},
	{"not-in-play", "one-moment", "ends", func(m *Match, _ order) bool { return m.phase != inPlay }},
	{"in-play", "one-moment", "g fc late cv cw cf cv= cw= cf=", func(m *Match, _ order) bool { return m.phase == inPlay }},
	{"no-first-server", "first-choice", rallies, func(m *Match, _ order) bool { return m.phase != inPlay && m.servesNext() == noSide }},
	{"first-settled", "late-game", "late", func(m *Match, o order) bool { return m.phase != before && m.lateLoser() != o.side.other() }},
	{"first-settled", "carried-penalties", "cv cw cf cv= cw= cf=", func(m *Match, _ order) bool { return m.phase == between }},
	{"first-settled", "choice-final", "fc", func(m *Match, _ order) bool { return m.chosen() != noSide }},
	{"wrong-side-first", "alternate", "g", func(m *Match, o order) bool { return m.servesNext() != noSide && m.servesNext() != o.side }},
	{"not-its-choice", "table-tennis-receiver", "g", func(m *Match, o order) bool {
		return m.begun && !m.singles() && m.coming().Order == format.CountedTurns &&
			m.mustFollow(personOf(o.side, o.starts[o.side])) != personOf(o.side.other(), o.starts[o.side.other()])
	}},
	{"not-its-choice", "first-choice", "fc", func(m *Match, o order) bool { return !m.mayChoose(o) }},

	{"undealt", "referee-break", rallies + " g t in eq ref", func(m *Match, _ order) bool { return m.undealt() }},
	{"awaiting-medical", "medical-who-says", rallies + " g t in eq", func(m *Match, _ order) bool { return m.asking() }},
	{"awaiting-medical", "medical-who-says", "m", func(m *Match, o order) bool { return m.medical.of(o.person) == asked }},
	{"in-break", "one-moment", "eq", func(m *Match, _ order) bool { return m.pause != "" && !m.atTimeOut() }},
	{"in-break", "medical-ends", "t", func(m *Match, o order) bool { return m.pause != "" && !m.atTimeOut() && !m.mayAdd(o.side) }},
	{"no-break", "one-moment", "in", func(m *Match, _ order) bool { return m.pause == "" }},
	{"no-break", "one-moment", "dealt", func(m *Match, _ order) bool { return !m.undealt() }},
	{"none-left", "time-out-none-left", "t", func(m *Match, o order) bool { return m.calls[o.side] >= int(m.coming().TimeOuts) }},
	{"medical-used", "medical-once", "m", func(m *Match, o order) bool {
		return m.medical.of(o.person) == used || m.medical.of(o.person) == granted
	}},
	{"no-request", "medical-who-says", "m+ m- mw", func(m *Match, o order) bool { return m.medical.of(o.person) != asked }},
	{"no-request", "medical-from-arrival", "aid", func(m *Match, o order) bool { return !m.caredFor(o.person) }},
	{"player-out", "concussion", rallies + " g", func(m *Match, _ order) bool { return m.out.any('c') != nobody }},
	{"player-out", "concussion", "c", func(m *Match, o order) bool { return m.out.of(o.person) == 'c' }},
	{"player-out", "one-player", "m out", func(m *Match, o order) bool { return m.out.of(o.person) != 0 }},
	{"nobody-left", "one-player", "out", func(m *Match, o order) bool { return m.singles() || m.out.of(o.person.partner()) != 0 }},
	{"absent-due", "absent-due", rallies, func(m *Match, o order) bool { return m.absentDue(o) }},
	{"not-due", "end-change-single", "ends", func(m *Match, _ order) bool { return !m.due }},
	{"not-fixed", "exchange-of-courts", "x", func(m *Match, _ order) bool { return m.coming().Order != format.FixedCourts }},
	{"not-now", "exchange-of-courts", "x", func(m *Match, _ order) bool { return m.phase == inPlay && !m.atTimeOut() && !m.walking }},
	{"not-now", "carried-penalties", "cv cw cf cv= cw= cf=", func(m *Match, o order) bool { return m.carried[o.person-a1]&bringing(o.word) != 0 }},
	{"not-now", "carried-penalties", "cv= cw= cf=", func(m *Match, o order) bool { return m.carried[o.person.partner()-a1]&bringing(o.word) == 0 }},
	{"not-now", "withdrawal", "wd", func(m *Match, _ order) bool { return m.begun }},
	{"not-now", "resumed", "resume", func(m *Match, _ order) bool { return !m.abandoned() }},
	{"not-now", "sheet-final", "sheet", func(m *Match, _ order) bool { return m.phase != over && !m.abandoned() }},
	{"second-verbal", "verbal-warning", "vw", func(m *Match, o order) bool { return m.verbals[o.side] >= mostVerbals }},
	{"most-points", "most-points", "but", func(m *Match, o order) bool { return m.tooManyPoints(o) }},
}

// covers says whether a row speaks of an event.
func (r *refusal) covers(word string) bool {
	words, but := strings.CutPrefix(r.events, "but")
	for words != "" {
		var w string
		if w, words, _ = strings.Cut(words, " "); w == word {
			return !but
		}
	}
	return but
}

// refuses returns the first reason why an event cannot come, "" for none.
func (m *Match) refuses(o order) string {
	if r := m.refusal(o); r != nil {
		return r.reason
	}
	return ""
}

// refusal returns the row of that reason, nil for none.
func (m *Match) refusal(o order) *refusal {
	for i := range refusals {
		if r := &refusals[i]; r.covers(o.word) && r.when(m, o) {
			return r
		}
	}
	return nil
}

// absentDue says whether a player who is out is due to serve or receive, and
// the event is not the fault that this is at once: that of the server first.
func (m *Match) absentDue(o order) bool {
	if m.phase != inPlay {
		if m.out == (perPerson{}) || m.servesNext() == noSide {
			return false
		}
		m = m.Clone()
		m.opening(m.servesNext())
	}
	loser := noSide
	switch {
	case m.out.of(m.server) != 0:
		loser = m.server.side()
	case m.receiver() != nobody && m.out.of(m.receiver()) != 0:
		loser = m.receiver().side()
	default:
		return false
	}
	return !(o.word == "rally" && o.trouble == nil && o.fault == "absent" && o.side == loser.other())
}

// tooManyPoints says whether a score would pass what the line holds.
func (m *Match) tooManyPoints(o order) bool {
	if m.score[sideA] < format.MostPoints && m.score[sideB] < format.MostPoints {
		return false
	}
	m = m.Clone()
	m.carry(o)
	return m.score[sideA] > format.MostPoints || m.score[sideB] > format.MostPoints
}
