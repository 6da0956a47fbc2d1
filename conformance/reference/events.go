package reference

import (
	"strings"

	"github.com/evencourt/evencourt/format"
)

// An effect is one thing an event did; the constants stand in the order in
// which effects are listed.
type effect uint

const (
	point effect = iota
	secondServer
	sideOut
	replayed
	withheld
	gameStarted
	gameWon
	matchWon
	endsDue
	endsChanged
	exchanged
	breakBegan
	timeIn
	timeOutCharged
	lastTimeOut
	foul
	penaltyPoint
	help
	sheetClosed
)

var effectNames = []string{"point", "second-server", "side-out", "replay", "withheld", "game-started",
	"game-won", "match-won", "ends-due", "ends-changed", "exchanged", "break", "time-in",
	"time-out-charged", "last-time-out", "foul", "penalty-point", "help", "closed"}

// effects is a set of them.
type effects uint32

func (e *effects) add(which ...effect) {
	for _, w := range which {
		*e |= 1 << w
	}
}

func (e effects) names() []string {
	var out []string
	for i, name := range effectNames {
		if e&(1<<i) != 0 {
			out = append(out, name)
		}
	}
	return out
}

// kind is what sort of event a text is.
type kind int

const (
	unknown kind = iota // an event that this model does not play
	malformed
	rallyWon
	replay
	gameStart
	endsMade
	exchange
	timeOut
	backIn
	stoppage
	dealt
	technicalFoul
	sheet
)

// An order to the match: the parts of an event's text.
type order struct {
	kind   kind
	side   side
	person person // of an equipment time-out
	starts [2]int // of a start
}

var faults = map[string]bool{"foot": true, "serve": true, "short": true, "early": true, "ten": true,
	"net": true, "out": true, "bounce": true, "nvz": true, "twice": true, "body": true, "touch": true,
	"plane": true, "receiver": true, "stopped": true, "timeout": true, "absent": true, "distract": true,
	"other": true}

var words = map[string]kind{"replay": replay, "ends": endsMade, "in": backIn, "ref": stoppage,
	"blood": stoppage, "hazard": stoppage, "illness": stoppage, "dealt": dealt, "sheet": sheet}

// read takes an event's text apart.
func read(text string) order {
	if s := sideIn(text); s != noSide {
		return order{kind: rallyWon, side: s}
	}
	if k := words[text]; k != unknown {
		return order{kind: k}
	}
	if winner, fault, ok := strings.Cut(text, ":"); ok && sideIn(winner) != noSide {
		if !faults[fault] {
			return order{kind: malformed}
		}
		return order{kind: rallyWon, side: sideIn(winner)}
	}
	if who, ok := strings.CutPrefix(text, "eq"); ok {
		return about(stoppage, noSide, personIn(who))
	}
	if who, ok := strings.CutPrefix(text, "tf"); ok {
		return about(technicalFoul, sideIn(who), nobody)
	}
	if len(text) == 2 && text[0] == 't' {
		return about(timeOut, sideIn(text[1:]), nobody)
	}
	if len(text) == 2 && text[0] == 'x' {
		return about(exchange, sideIn(text[1:]), nobody)
	}
	if len(text) == 5 && text[0] == 'g' {
		one, two := personIn(text[1:3]), personIn(text[3:])
		if one == nobody || two == nobody || one.side() == two.side() {
			return order{kind: malformed}
		}
		o := order{kind: gameStart, side: one.side()}
		o.starts[one.side()] = int(one.digit() - '0')
		o.starts[two.side()] = int(two.digit() - '0')
		return o
	}
	return order{}
}

// about builds an order that concerns a side or a person, if there is one.
func about(k kind, s side, p person) order {
	if s == noSide && p == nobody {
		return order{kind: malformed}
	}
	return order{kind: k, side: s, person: p}
}

func sideIn(text string) side {
	switch text {
	case "A":
		return sideA
	case "B":
		return sideB
	}
	return noSide
}

func personIn(text string) person {
	switch text {
	case "A1":
		return a1
	case "A2":
		return a2
	case "B1":
		return b1
	case "B2":
		return b2
	}
	return nobody
}

// Do plays one event. It returns the effects in their listed order, or the
// code of the reason why the event is refused; a refused event changes
// nothing. What the model does not play is refused as "unsupported".
func (m *Match) Do(event string) (effects []string, refusal string) {
	o := read(event)
	m.did = 0
	switch {
	case o.kind == malformed:
		return nil, "malformed"
	case m.phase == closed:
		return nil, "closed"
	case o.kind == unknown, o.kind == technicalFoul && m.phase != inPlay:
		return nil, "unsupported"
	case m.phase == over && o.kind != sheet:
		return nil, "over"
	case m.singles() && (o.person.digit() == '2' || o.starts[0] == 2 || o.starts[1] == 2):
		return nil, "no-such-player"
	}
	if refusal = m.do(o, event); refusal != "" {
		return nil, refusal
	}
	return m.did.names(), ""
}

// do carries an order out, or says why not.
func (m *Match) do(o order, event string) (refusal string) {
	switch o.kind {
	case rallyWon, replay:
		return m.doRally(o)
	case gameStart:
		return m.doStart(o)
	case technicalFoul:
		return m.doFoul(o.side)
	case exchange:
		return m.doExchange(o.side)
	case timeOut:
		return m.doTimeOut(o.side, event)
	case stoppage:
		switch {
		case m.phase == before:
			return "not-started"
		case (event == "ref" || strings.HasPrefix(event, "eq")) && m.undealt():
			return "undealt"
		case strings.HasPrefix(event, "eq") && m.pause != "" && !m.atTimeOut():
			return "in-break"
		}
		m.pause = event // safety never waits for another break to end
		m.did.add(breakBegan)
		if event == "blood" || event == "illness" {
			m.did.add(help)
		}
	case backIn:
		switch {
		case m.undealt():
			return "undealt"
		case m.pause == "":
			return "no-break"
		}
		m.timeIn()
	case dealt:
		if !m.undealt() {
			return "no-break"
		}
		m.timeIn()
	case endsMade:
		switch {
		case m.phase != inPlay:
			return "not-in-play"
		case !m.due:
			return "not-due"
		}
		m.ends, m.due, m.made = 1-m.ends, false, true
		m.did.add(endsChanged)
	case sheet:
		if m.phase != over {
			return "not-now"
		}
		m.phase = closed
		m.did.add(sheetClosed)
	}
	return ""
}

// undealt says whether play waits for something to be dealt with.
func (m *Match) undealt() bool {
	return m.pause == "blood" || m.pause == "hazard" || m.pause == "illness"
}

// doRally plays a rally, opening the next game first if none is in play: a
// scorer who forgets to say that the game has begun still says who won.
func (m *Match) doRally(o order) (refusal string) {
	first := m.first
	if m.phase != inPlay {
		first = m.servesNext()
	}
	switch {
	case first == noSide:
		return "no-first-server"
	case m.undealt():
		return "undealt"
	case m.phase == inPlay && o.kind == rallyWon && m.wouldScore(o.side) && m.score[o.side] == format.MostPoints:
		return "most-points"
	}
	m.timeIn() // whoever plays a rally has come back from the break
	if m.phase != inPlay {
		m.open(first)
	}
	if o.kind == replay {
		m.did.add(replayed)
		return ""
	}
	m.rally(o.side)
	return ""
}

// doStart begins a game with the starting servers named.
func (m *Match) doStart(o order) (refusal string) {
	settled := m.servesNext()
	switch {
	case m.phase == inPlay:
		return "in-play"
	case settled != noSide && settled != o.side:
		return "wrong-side-first"
	case m.undealt():
		return "undealt"
	}
	m.timeIn()
	m.starts = o.starts
	m.open(o.side)
	return ""
}

// doTimeOut charges a standard time-out. A second one may follow on the first
// without a rally between; it takes the place of the break that runs.
func (m *Match) doTimeOut(s side, event string) (refusal string) {
	most := int(m.coming().TimeOuts)
	switch {
	case m.phase == between && m.format.Rulings[format.TimeOutBetween] != format.Yes:
		return "not-in-edition"
	case m.phase == before:
		return "not-started"
	case m.undealt():
		return "undealt"
	case m.pause != "" && !m.atTimeOut():
		return "in-break"
	case m.calls[s] >= most:
		return "none-left"
	}
	m.calls[s]++
	m.pause = event
	m.did.add(breakBegan, timeOutCharged)
	if m.calls[s] == most {
		m.did.add(lastTimeOut)
	}
	return ""
}

// atTimeOut says whether a standard time-out is running.
func (m *Match) atTimeOut() bool { return m.pause == "tA" || m.pause == "tB" }

// doExchange lets partners on fixed courts exchange places.
func (m *Match) doExchange(s side) (refusal string) {
	switch {
	case m.phase == before:
		return "not-started"
	case m.coming().Order != format.FixedCourts:
		return "not-fixed"
	case m.phase == inPlay && !m.atTimeOut() && !m.due:
		return "not-now"
	}
	m.exchange(s)
	return ""
}

// doFoul gives a technical foul in play. What a further foul of the same side
// leads to is outside this model.
func (m *Match) doFoul(offender side) (refusal string) {
	switch {
	case m.format.Rulings[format.FoulValue] == 0:
		return "not-in-edition"
	case m.fouls[offender] > 0:
		return "unsupported"
	case m.awards(offender) && m.score[offender.other()] == format.MostPoints:
		return "most-points"
	}
	m.foul(offender)
	return ""
}
