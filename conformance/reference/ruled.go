package reference

import (
	"slices"
	"strings"
)

// Ruled corrections: something happened in rally n, and a rule changes its
// effect. What the rally brings instead is looked up in the same table as on
// the spot; how late it is, the record says.
func (l *Log) rule(m *Match, i int, event string, states []Match) string {
	n := l.entries[i].of
	live, in := l.live()
	at := states[n] // before the rally
	o, _ := read(event)
	was, _ := read(in[n])
	switch {
	case o.word != "rally" || o.trouble == nil || l.entries[n].word != "event" || !live[n]:
		return "not-now"
	case was.word != "rally" || was.side != o.side:
		return "not-now" // what did not happen is amended
	case was.trouble != nil && !at.stood(was):
		return "not-now" // it was ruled on when it was entered
	}
	since := l.since(n, i, live, in, states)
	book := at.book
	if at.phase != inPlay && at.next != nil {
		book = at.next // which the rally opened
	}
	switch {
	case since.mended, since.forfeit:
		return "not-now"
	case book.scoringOnly:
		return "not-in-edition"
	case at.absentDue(o):
		return "absent-due"
	case m.phase == over && m.is("correctable", "last-point"):
		return "out-of-window"
	}
	o.trouble.since = since.word
	r := at.ruling(o)
	switch {
	case r.verdict == "stands", r.verdict == "played", since.nextGame:
		return "out-of-window"
	case !since.struck && since.opening:
		return "not-now"
	case !since.struck:
		return m.replaceBy(&at, o, since, states[:i+1])
	case r.verdict != "annulled" && (r.verdict == "servers") != (at.servesRally() == o.side):
		return "out-of-window" // the rally keeps its winner, and nothing else is touched
	}
	return m.takeOff(o.side, &at, &states[n+1])
}

// replaceBy puts the match where the ruled rally leaves it, with the ledger of
// now, the exchanges of partners, the mid-game change of ends and the penalty
// points since. What ended with the rally goes on again if it did not end.
func (m *Match) replaceBy(at *Match, o order, since past, states []Match) string {
	ruled := at.Clone()
	ruled.did = 0
	ruled.ledgerOf(m)
	ruled.pause = at.pause
	ended := m.phase != inPlay || m.number != at.number && at.phase == inPlay
	if ended {
		ruled.warnAgain(lastOf(at, states).warnings)
	}
	ruled.play(o)
	did := ruled.did
	if at.number == m.number && at.phase == m.phase && m.made {
		ruled.ends, ruled.made, ruled.due = m.ends, true, false
	}
	if ended && ruled.phase == inPlay {
		ruled.calls = usedIn(at, states, m.calls)
	}
	ruled.pause = m.pause
	for _, s := range since.exchanges {
		ruled.exchange(s)
	}
	if len(since.moves) > 0 && ruled.phase != inPlay {
		return "not-now" // there is no score to move
	}
	for _, moved := range since.moves {
		if ruled.score[moved.side] += moved.by; ruled.score[moved.side] < 0 {
			return "not-now"
		}
		gains, reading := moved.side, "awarded-point-wins"
		if moved.by < 0 {
			gains, reading = moved.side.other(), "removed-point-wins"
		}
		if ruled.is(reading, "yes") && ruled.hasWon(gains) {
			ruled.endGame(gains)
			break
		}
		ruled.walkAfterPenalty(moved.side)
		if moved.by > 0 && ruled.is("penalty-end-change", "yes") {
			ruled.watchEnds(moved.side)
		}
	}
	if since.retired != "" && ruled.phase != over {
		ruled.end(sideIn(since.retired[:1]), since.retired[1:])
	}
	if ruled.phase == over {
		ruled.pause, ruled.paused = "", false // what the ruling decides is not broken off
	}
	ruled.did = did
	*m = *ruled
	return ""
}

// servesRally is the side that serves the rally to come.
func (m *Match) servesRally() side {
	if m.phase != inPlay {
		return m.servesNext()
	}
	return m.server.side()
}

// ruling is what becomes of the rally to come, which may open a game.
func (m *Match) ruling(o order) ruling {
	at := m.Clone()
	if at.phase != inPlay {
		at.opening(at.servesNext())
	}
	return at.rule(o)
}

// stood says whether a rally with something wrong counted as played.
func (m *Match) stood(o order) bool { return m.ruling(o).verdict == "stands" }

// A moved point is one that a penalty moved.
type moved struct {
	side side
	by   int
}

// past is what has happened since a rally.
type past struct {
	word     string // as the table of troubles calls it
	struck   bool   // a serve has been struck, or a rally lost without one
	nextGame bool   // the next game has been served
	mended   bool   // a correction stands in the way
	forfeit  bool
	penalty  bool // a penalty moved a score
	opening  bool // one opens the next game

	moves     []moved
	exchanges []side
	retired   string // the result, if a side has retired
}

func (l *Log) since(n, i int, live []bool, in []string, states []Match) past {
	p := past{word: "rallyover"}
	served := states[n].servesRally()
	held := l.holds(live, i)
	if states[n+1].phase != inPlay {
		p.word = "gameover"
	}
	for k := n + 1; k < i; k++ {
		if !live[k] {
			continue
		}
		switch e := &l.entries[k]; e.word {
		case "rule":
			p.mended = p.mended || held[k] // one ruling does not reach past another
			p.penalty = p.penalty || e.of > n && states[k+1].did.has(penaltyPoint)
			p.forfeit = p.forfeit || e.of > n && states[k+1].did.has(gameForfeit)
			continue
		case "rewind":
			p.mended = p.mended || e.of < n
			continue
		case "set", "format":
			p.mended = true
			continue
		case "event":
		default:
			continue
		}
		o, _ := read(in[k])
		before, after := &states[k], &states[k+1]
		struck := held[k] && (o.word == "rally" || o.word == "replay" || o.word == "stop" && before.rule(o).struck)
		switch {
		case struck:
			p.struck = true
			if p.word != "overtaken" {
				p.word = "served"
			}
			p.nextGame = p.nextGame || after.number != states[n+1].number || before.phase != inPlay
			if after.did.has(point) || before.server != nobody && before.server.side() != served {
				p.word = "overtaken"
			}
		case o.word == "ret":
			p.retired = after.result
		case o.word == "x":
			p.exchanges = append(p.exchanges, o.side)
		case o.word == "sheet":
			p.word = "sheet"
		}
		p.forfeit = p.forfeit || o.word == "dmf" || after.did.has(gameForfeit) || after.did.has(matchForfeit)
		if after.did.has(penaltyPoint) {
			p.penalty = true
			p.opening = p.opening || before.phase != inPlay && !struck
			for _, s := range bothSides {
				if by := after.score[s] - before.score[s]; by != 0 && before.phase == inPlay && !struck {
					p.moves = append(p.moves, moved{s, by})
				}
			}
		}
	}
	return p
}

// takeOff takes the point off that a rally gave, where later rallies were
// played: their results and the serve stay.
func (m *Match) takeOff(winner side, before, after *Match) string {
	switch {
	case !after.did.has(point):
		return "out-of-window"
	case m.phase == between || m.number != after.number || m.phase == over && !strings.HasSuffix(m.result, "ret"):
		return "not-now" // a final stands
	}
	m.score[winner]--
	if m.score[winner] < 0 {
		return "not-now"
	}
	m.did.add(overruled)
	if before.phase != inPlay {
		m.did.add(gameStarted) // the effects are those of the rally
	}
	if before.pause != "" {
		m.did.add(timeIn)
	}
	if m.phase == inPlay {
		m.walkAfterPenalty(winner)
		if at := int(m.rules().ChangeEndsAt); !before.due && max(m.score[sideA], m.score[sideB]) < at {
			m.due, m.walking = false, false // the score that stands has not reached it
		}
	}
	return ""
}

// after is the match after entry n as the record reads before entry i: with
// what was ruled since on the rallies up to it.
func (l *Log) after(n, i int, live []bool, in []string, states []Match) Match {
	as := Log{start: l.start}
	at := make([]int, i) // where an entry stands in it
	var late []entry     // rulings that only took a point off
	last := 0            // of those that reach back so far: they climb on the warnings before them
	for k := range i {
		if e := &l.entries[k]; live[k] && e.word == "rule" && e.of <= n {
			last = k
		}
	}
	for k := range i {
		e := l.entries[k]
		at[k] = len(as.entries) - 1
		keeps := k <= n && slices.Contains([]string{"event", "rule", "rewind", "set", "format"}, e.word)
		if o, _ := read(in[k]); e.word == "event" && o.word == "tw" {
			keeps = k <= max(n, last)
		}
		if !live[k] || !keeps && !(e.word == "rule" && e.of <= n) {
			continue
		}
		if e.word == "rule" && k > n && l.since(e.of, k, live, in, states).struck {
			late = append(late, e)
			continue
		}
		if e.of >= 0 {
			e.of = at[e.of]
		}
		at[k], e.event = len(as.entries), in[k]
		as.entries = append(as.entries, e)
	}
	folded, _ := as.fold()
	m := folded[len(folded)-1]
	for _, e := range late {
		o, _ := read(e.event)
		if states[e.of+1].number == m.number {
			m.takeOff(o.side, &states[e.of], &states[e.of+1])
		}
	}
	return m
}

// usedIn says which time-outs count in a game that goes on again: those used in
// it, and those that have been taken since, as far as it has any left.
func usedIn(game *Match, states []Match, since [2]int) [2]int {
	used := lastOf(game, states).calls
	for s := range used {
		used[s] = min(used[s]+since[s], int(game.rules().TimeOuts))
	}
	return used
}

// lastOf is the last state in play of a game; none of one that was not played.
func lastOf(game *Match, states []Match) (last Match) {
	for k := range states {
		if states[k].number == game.number && states[k].phase == inPlay {
			last = states[k]
		}
	}
	return last
}

// warnAgain adds the warnings of a game that goes on again, where they were
// forgotten with it.
func (m *Match) warnAgain(given [2]int) {
	for s := range given {
		if m.is("warning-scope", "game") {
			m.warnings[s] = min(m.warnings[s]+given[s], mostWarnings)
		}
	}
}

// ledgerOf takes over from another match what does not belong to its score.
func (m *Match) ledgerOf(other *Match) {
	m.calls, m.pause, m.medical, m.out = other.calls, other.pause, other.medical, other.out
	m.carried, m.brought = other.carried, other.brought
	m.verbals, m.warnings, m.fouls, m.forfeits, m.wrong = other.verbals, other.warnings, other.fouls, other.forfeits, other.wrong
	m.paused = other.paused
}

// rewind restores the game as it was after entry n; the ledger, who is out,
// the break of now, and ends that were changed stay.
func (l *Log) rewind(m *Match, i int, states []Match) string {
	n := l.entries[i].of
	live, in := l.live()
	since := l.since(n, i, live, in, states)
	if !live[n] {
		return "not-now"
	}
	for k := n + 1; k < i; k++ {
		if e := &l.entries[k]; live[k] && (e.word == "set" || e.word == "format" || e.word == "rewind" && e.of < n) {
			return "not-now"
		}
	}
	at := l.after(n, i, live, in, states)
	switch {
	case at.phase != inPlay || m.number != at.number || m.phase != inPlay && m.phase != between:
		return "not-now"
	case since.penalty, since.forfeit:
		return "not-now"
	}
	calls := m.calls
	if m.phase == between {
		calls = usedIn(&at, states[:i+1], m.calls)
	}
	switch {
	case m.made:
		at.made, at.due = true, false
	case m.ends != at.ends:
		at.due = !at.due // by the points then they would stand elsewhere
	}
	at.ends = m.ends // nobody walks back
	given := lastOf(&at, states[:i+1]).warnings
	at.ledgerOf(m)
	if m.phase == between {
		at.warnAgain(given)
	}
	at.calls = calls
	at.did = 0
	*m = at
	return ""
}
