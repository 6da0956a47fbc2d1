package referee

import (
	"sync"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/internal/names"
	"github.com/evencourt/evencourt/rally/words"
)

// Moment is a part of a match that has duties of its own.
type Moment uint8

// The moments.
const (
	BeforeMatch  Moment = iota
	BeforeCall          // between two rallies, up to the score call
	DuringRally         // from the score call until the ball is dead
	AtBreak             // a break is running
	EndChange           // the mid-game end change is due
	BetweenGames        //
	AtEnd               // the match is decided, the sheet not yet returned
	AfterMatch          // the sheet is returned
	Suspended           // the match is abandoned and may be resumed
)

var momentNames = []string{"before-match", "before-call", "during-rally", "at-break", "end-change", "between-games", "at-end",
	"after-match", "suspended"}

// String returns the text name of m.
func (m Moment) String() string { return names.Of(momentNames, m) }

// MarshalText implements encoding.TextMarshaler.
func (m Moment) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (m *Moment) UnmarshalText(text []byte) error { return unmarshal(momentNames, "moment", text, m) }

// Duty is one thing to do or to say, in its order among the others.
type Duty struct {
	Text   words.Text    `json:"text"`
	Clause format.Clause `json:"clause"`
	Source format.Source `json:"source"` // of the clause, in the match's edition
}

// Cited is where the duty comes from, as text.
func (d *Duty) Cited() words.Text { return Cite(d.Clause, d.Source) }

// duty is a duty of the first of its clauses that stands.
func (g *Guide) duty(t words.Text, from ...format.Clause) Duty {
	c, source := g.standing(from...)
	return Duty{t, c, source}
}

// A dutyRow names the clauses of which a duty is: the first that stands in the
// match's edition.
type dutyRow struct {
	code    words.Code
	clauses []format.Clause
}

var dutyRows = [...]dutyRow{
	// help first
	{"duty.help", []format.Clause{clause.HelpFirst}},
	{"duty.safety", []format.Clause{clause.HelpFirst}},
	{"duty.qualified", []format.Clause{clause.MedicalWhoSays}},
	{"duty.medical-clock.arrival", []format.Clause{clause.MedicalFromArrival}},
	{"duty.medical-clock.request", []format.Clause{clause.MedicalFromRequest}},
	{"duty.note-medical", []format.Clause{clause.PracticeBreak}},
	{"duty.medical-answer", []format.Clause{clause.MedicalWhoSays}},
	{"duty.medical-penalty", []format.Clause{clause.MedicalInvalidFree, clause.MedicalInvalidWarned, clause.MedicalInvalidCharged}},
	{"duty.await-dealt", []format.Clause{clause.RefereeBreak}},
	{"duty.out-of-match", []format.Clause{clause.Concussion}},
	{"duty.what-remains", []format.Clause{clause.Concussion}},
	{"duty.plays-alone", []format.Clause{clause.OnePlayer}},
	// before the match
	{"duty.know-format", []format.Clause{clause.PracticeBeforeMatch}},
	{"duty.check-court", []format.Clause{clause.PracticeBeforeMatch}},
	{"duty.check-paddles", []format.Clause{clause.PracticeBeforeMatch}},
	{"duty.brief", []format.Clause{clause.PracticeBeforeMatch}},
	{"duty.ask-starters", []format.Clause{clause.StarterNamed}},
	{"duty.ask-places", []format.Clause{clause.FixedCourts}},
	{"duty.first-choice", []format.Clause{clause.FirstChoice}},
	{"duty.note-choice", []format.Clause{clause.FirstChoice}},
	{"duty.opening-point", []format.Clause{clause.CarriedPenalties}},
	{"duty.orient", []format.Clause{clause.PracticeBeforeMatch}},
	{"duty.first-call", []format.Clause{clause.OpeningCall}},
	// after a rally
	{"duty.say-result", []format.Clause{clause.ResultWord}},
	{"duty.mark-point", []format.Clause{clause.PracticeMarks}},
	{"duty.mark-point-server", []format.Clause{clause.PracticeMarks}},
	{"duty.marker-two", []format.Clause{clause.PracticeMarks}},
	{"duty.mark-turn-end", []format.Clause{clause.PracticeMarks}},
	{"duty.turn-record", []format.Clause{clause.PracticeAfterRally}},
	{"duty.read-score", []format.Clause{clause.PracticeAfterRally}},
	{"duty.set-marker", []format.Clause{clause.PracticeAfterRally}},
	{"duty.set-court", []format.Clause{clause.PracticeAfterRally}},
	{"duty.then-look", []format.Clause{clause.PracticeAfterRally}},
	{"duty.rehearse", []format.Clause{clause.PracticeAfterRally}},
	{"duty.say-replay", []format.Clause{clause.ReplayChangesNothing}},
	{"duty.note-replay", []format.Clause{clause.ReplayChangesNothing}},
	{"duty.withheld", []format.Clause{clause.RallyPointOnServe, clause.FreezeWinningPoint, clause.FreezeEach, clause.FreezeLeaderTrailer, clause.FreezeBoth}},
	{"duty.say-ruling", []format.Clause{clause.OrderStandsWarned, clause.OrderFault, clause.OrderReplay, clause.OrderCorrected}},
	{"duty.say-end-change", []format.Clause{clause.EndChangeSingle, clause.EndChangeLast}},
	{"duty.say-game", []format.Clause{clause.GameWon}},
	// before the call
	{"duty.say-time-in", []format.Clause{clause.PracticeBreak}},
	{"duty.call-absence", []format.Clause{clause.AbsentDue}},
	{"duty.put-right", []format.Clause{clause.FaultAgain, clause.FaultAgainExcused}},
	{"duty.check-order", []format.Clause{clause.RefereeCorrects}},
	{"duty.check-order.singles", []format.Clause{clause.RefereeCorrects}},
	{"duty.correct-nobody", []format.Clause{clause.NoVolunteering}},
	{"duty.receiver-ready", []format.Clause{clause.NotReady, clause.PracticeBeforeCall}},
	{"duty.receiver-ready.singles", []format.Clause{clause.NotReady, clause.PracticeBeforeCall}},
	{"duty.server", []format.Clause{clause.PracticeBeforeCall}},
	{"duty.feet", []format.Clause{clause.PracticeBeforeCall}},
	{"duty.call", []format.Clause{clause.PracticeBeforeCall}},
	// during a rally
	{"duty.count", []format.Clause{clause.TenSeconds}},
	{"duty.watch-serve", []format.Clause{clause.PracticeDuringRally}},
	{"duty.watch-zone", []format.Clause{clause.PracticeDuringRally}},
	{"duty.line-appeal", []format.Clause{clause.LineCallUnasked}},
	{"duty.stop.stands-warned", []format.Clause{clause.OrderStandsWarned}},
	{"duty.stop.fault", []format.Clause{clause.OrderFault}},
	{"duty.stop.replay-if-stopped", []format.Clause{clause.OrderReplay}},
	{"duty.stop.corrected", []format.Clause{clause.OrderCorrected}},
	// breaks
	{"duty.say-time-out", []format.Clause{clause.PracticeBreak}},
	{"duty.note-time-out", []format.Clause{clause.PracticeBreak}},
	{"duty.coaching", []format.Clause{clause.CoachingAtBreaks}},
	{"duty.no-coaching", []format.Clause{clause.CoachingAtBreaks}},
	{"duty.note-time-out.between", []format.Clause{clause.PracticeBreak}},
	{"duty.note-equipment", []format.Clause{clause.PracticeBreak}},
	{"duty.note-stop", []format.Clause{clause.PracticeBreak}},
	{"duty.clock", []format.Clause{clause.TimeOutClock}},
	{"duty.clock-equipment", []format.Clause{clause.EquipmentClock}},
	{"duty.reasonable", []format.Clause{clause.EquipmentReasonable}},
	{"duty.paddles", []format.Clause{clause.PracticeBreak}},
	{"duty.notice", []format.Clause{clause.NoticeClock}},
	{"duty.compare", []format.Clause{clause.PracticeBreak}},
	{"duty.not-ready.penalty", []format.Clause{clause.RestartPenalty}},
	{"duty.not-ready.ten-seconds", []format.Clause{clause.RestartCount}},
	{"duty.not-ready.when-ready", []format.Clause{clause.RestartWhenReady}},
	{"duty.last-time-out", []format.Clause{clause.PracticeBreak}},
	// end change
	{"duty.note-number", []format.Clause{clause.PracticeBreak}},
	{"duty.clock-ends", []format.Clause{clause.EndChangeClock}},
	{"duty.same-server", []format.Clause{clause.EndChangeSingle}},
	// between games
	{"duty.write-final", []format.Clause{clause.PracticeBetweenGames}},
	{"duty.write-forfeit", []format.Clause{clause.ForfeitNil, clause.ForfeitKept}},
	{"duty.clock-games", []format.Clause{clause.BetweenGamesClock}},
	{"duty.change-ends", []format.Clause{clause.Alternate}},
	{"duty.keep-ends", []format.Clause{clause.Alternate}},
	{"duty.next-first", []format.Clause{clause.Alternate}},
	{"duty.ask-first", []format.Clause{clause.FirstChoice}},
	{"duty.new-starters", []format.Clause{clause.StarterBetweenGames}},
	{"duty.new-places", []format.Clause{clause.FixedCourts}},
	{"duty.time-outs-coming", []format.Clause{clause.TimeOutBetween}},
	{"duty.time-outs-none", []format.Clause{clause.NoTimeOutBetween}},
	// the end
	{"duty.say-match", []format.Clause{clause.MatchOver}},
	{"duty.say-match.single", []format.Clause{clause.MatchOver}},
	{"duty.say-outcome.tied", []format.Clause{clause.MatchOver}},
	{"duty.say-outcome.retired", []format.Clause{clause.RetirementWhen}},
	{"duty.say-outcome.withdrew", []format.Clause{clause.Withdrawal}},
	{"duty.say-outcome.forfeited", []format.Clause{clause.ForfeitEndsMatch}},
	{"duty.say-outcome.double-forfeit", []format.Clause{clause.DoubleForfeit}},
	{"duty.sign", []format.Clause{clause.PracticeEnd}},
	{"duty.note-incidents", []format.Clause{clause.PracticeEnd}},
	{"duty.correctable", []format.Clause{clause.SheetFinal}},
	{"duty.final", []format.Clause{clause.LastPointFinal}},
	{"duty.carry", []format.Clause{clause.CarriedPenalties}},
	{"duty.between-matches", []format.Clause{clause.BetweenMatchesClock}},
	{"duty.return-sheet", []format.Clause{clause.PracticeEnd}},
	{"duty.free", []format.Clause{clause.PracticeEnd}},
	{"duty.suspended", []format.Clause{clause.Resumed}},
	// penalties and other decisions
	{"duty.say-verbal", []format.Clause{clause.FoulAwards, clause.FoulRemoves}},
	{"duty.say-warning", []format.Clause{clause.FoulAwards, clause.FoulRemoves}},
	{"duty.say-foul", []format.Clause{clause.FoulDirect, clause.FoulAwards, clause.FoulRemoves}},
	{"duty.note-penalty", []format.Clause{clause.PracticeMarks}},
	{"duty.penalty-point", []format.Clause{clause.FoulAwards, clause.FoulRemoves}},
	{"duty.penalty-places", []format.Clause{clause.FoulPlaces}},
	{"duty.say-forfeit-game", []format.Clause{clause.GameForfeit}},
	{"duty.exchanged", []format.Clause{clause.ExchangeOfCourts}},
	{"duty.ends-made", []format.Clause{clause.EndChangeSingle}},
	{"duty.note", []format.Clause{clause.PracticeMarks}},
}

// dutyByCode is made when a duty is first asked for.
var dutyByCode = sync.OnceValue(func() map[words.Code]dutyRow {
	by := make(map[words.Code]dutyRow, len(dutyRows))
	for _, row := range dutyRows {
		by[row.code] = row
	}
	return by
})

// list collects duties in their order.
type list struct {
	g   *Guide
	out []Duty
}

func (l *list) add(c words.Code, args ...words.Arg) {
	l.out = append(l.out, l.g.duty(say(c, args...), dutyByCode()[c].clauses...))
}

// Moments lists the moments that a state can be in, the most pressing first.
func (g *Guide) Moments(s rally.State) []Moment {
	if cause, _, _ := s.Outcome(); cause == rally.ByAbandonment && s.Phase() != rally.Closed {
		return []Moment{Suspended}
	}
	var out []Moment
	if b, _ := s.Break(); b != rally.NoBreak || pendingMedical(s) {
		out = append(out, AtBreak)
	}
	switch s.Phase() {
	case rally.Before:
		return append(out, BeforeMatch)
	case rally.Playing:
		if s.EndChangeDue() {
			out = append(out, EndChange)
		}
		return append(out, BeforeCall, DuringRally)
	case rally.Between:
		return append(out, BetweenGames)
	case rally.Over:
		return append(out, AtEnd)
	}
	return append(out, AfterMatch)
}

func pendingMedical(s rally.State) bool {
	for _, p := range persons {
		if s.Medical(p) == rally.MedicalRequested {
			return true
		}
	}
	return false
}

// Now lists the duties of the most pressing moment.
func (g *Guide) Now(s rally.State) []Duty { return g.Duties(s, g.Moments(s)[0]) }

// Duties lists the duties of a moment in their order; none of them may be
// skipped. A moment that the state is not in has none.
func (g *Guide) Duties(s rally.State, m Moment) []Duty {
	fits := false
	for _, possible := range g.Moments(s) {
		fits = fits || possible == m
	}
	if !fits {
		return nil
	}
	l := &list{g: g}
	if l.concussion(s); concussed(s) && m != AtBreak && m != Suspended {
		return l.out // no serve can come
	}
	if g.scoringOnly() {
		return l.ofAnySport(m)
	}
	switch m {
	case BeforeMatch:
		l.beforeMatch(s)
	case BeforeCall:
		l.beforeCall(s)
	case DuringRally:
		l.duringRally(s)
	case AtBreak:
		l.atBreak(s)
	case EndChange:
		l.endChange(s)
	case BetweenGames:
		l.betweenGames(s)
	case AtEnd:
		l.atEnd(s)
	case AfterMatch:
		l.add("duty.free")
	case Suspended:
		l.add("duty.suspended")
		l.add("duty.note-stop")
	}
	return l.out
}

// ofAnySport are the duties where nothing is known of the sport but its scoring.
func (l *list) ofAnySport(m Moment) []Duty {
	switch m {
	case EndChange:
		l.add("duty.say-end-change")
	case AtBreak, Suspended:
		l.add("duty.note-stop")
	default:
		l.add("duty.note")
	}
	return l.out
}

// concussion puts help before everything else while a player is out on
// suspicion of a concussion and the match is not yet over.
func (l *list) concussion(s rally.State) {
	if !concussed(s) {
		return
	}
	l.help()
	for _, p := range persons {
		if s.Absence(p) == rally.Concussed {
			l.add("duty.out-of-match", l.g.person("player", p))
		}
	}
	l.add("duty.what-remains")
}

// concussed reports whether the match cannot be played on because somebody is
// out on suspicion of a concussion.
func concussed(s rally.State) bool {
	for _, p := range persons {
		if s.Absence(p) == rally.Concussed {
			return s.Phase() < rally.Over
		}
	}
	return false
}

func (l *list) beforeMatch(s rally.State) {
	g := l.g
	l.add("duty.know-format", within("played", words.Format(g.format)), count("time-outs", g.rules.TimeOutsAllowed(s)))
	l.add("duty.check-court")
	l.add("duty.check-paddles")
	l.add("duty.brief")
	if g.doubles {
		l.add(g.startersCode("duty.ask-starters", "duty.ask-places"))
	}
	if first, known := s.First(); known {
		l.add("duty.note-choice", g.side("side", first))
	} else {
		l.add("duty.first-choice")
	}
	l.opening(s)
	l.add("duty.orient")
	l.add("duty.first-call")
}

// startersCode picks the duty by whether partners have a starting server, or
// only courts of their own.
func (g *Guide) startersCode(starters, places words.Code) words.Code {
	if g.format.Game.Order == format.FixedCourts {
		return places
	}
	return starters
}

func (l *list) opening(s rally.State) {
	for _, side := range sides {
		if s.Opens(side) > 0 {
			l.add("duty.opening-point", l.g.side("side", side))
		}
	}
}

func (l *list) beforeCall(s rally.State) {
	if concussed(s) {
		return // nothing is called
	}
	g := l.g
	p := g.rules.Places(s)
	serving, _ := s.Serving()
	if b, _ := s.Break(); b != rally.NoBreak {
		l.add("duty.say-time-in")
		l.add("duty.compare", g.person("server", p.Server), court("court", p.Court), g.person("receiver", p.Receiver))
	}
	if e, due := g.rules.AbsentFault(s); due {
		l.add("duty.call-absence", g.side("side", e.Side().Other()))
		return
	}
	if s.EndChangeDue() {
		l.add("duty.say-end-change")
	}
	if s.PutRightDue() {
		l.add("duty.put-right", g.side("side", serving), g.person("server", p.Server), court("court", p.Court))
	}
	switch silent := g.format.Rulings.Of(clause.NoVolunteering); {
	case silent == clause.RefereeCorrects:
		l.add(g.alone("duty.check-order"), g.person("server", p.Server), court("court", p.Court), g.person("receiver", p.Receiver))
	case silent == clause.NoVolunteering && !s.PutRightDue():
		l.add("duty.correct-nobody")
	}
	l.add(g.alone("duty.receiver-ready"), g.person("receiver", p.Receiver))
	l.add("duty.server", g.person("server", p.Server), court("court", p.Court))
	l.add("duty.feet", g.person("server", p.Server))
	l.add("duty.call", within("call", g.Call(s)))
}

// alone is a duty's code in the words for players who have no partner.
func (g *Guide) alone(c words.Code) words.Code {
	if g.doubles {
		return c
	}
	return c + ".singles"
}

func (l *list) duringRally(s rally.State) {
	g := l.g
	if n := g.number(clause.TenSeconds); n > 0 {
		l.add("duty.count", count("seconds", n))
	}
	l.add("duty.watch-serve", g.person("server", g.rules.Places(s).Server))
	if text := g.reading(clause.OrderFault); text != "-" {
		l.add(words.Code("duty.stop." + text))
	}
	l.add("duty.watch-zone")
	l.add("duty.line-appeal")
}

func (l *list) endChange(s rally.State) {
	g := l.g
	p := g.rules.Places(s)
	l.add("duty.say-end-change")
	l.add("duty.note-number", within("call", g.Call(s)))
	if n := g.number(clause.EndChangeClock); n > 0 {
		l.add("duty.clock-ends", count("seconds", n))
	}
	l.coaching("duty.no-coaching")
	l.add("duty.orient")
	l.add("duty.same-server", g.person("server", p.Server))
	l.restart(s)
}

// restart is what ends every break that play follows: notice, time in, a look at
// whether everybody is back where the score puts him, and what follows if not.
func (l *list) restart(s rally.State) {
	if concussed(s) {
		return
	}
	g := l.g
	if n := g.number(clause.NoticeClock); n > 0 {
		l.add("duty.notice", count("seconds", n))
	}
	l.add("duty.say-time-in")
	if s.Phase() == rally.Playing {
		p := g.rules.Places(s)
		l.add("duty.compare", g.person("server", p.Server), court("court", p.Court), g.person("receiver", p.Receiver))
	}
	if text := g.reading(clause.RestartPenalty); text != "-" {
		l.add(words.Code("duty.not-ready." + text))
	}
}

func (l *list) betweenGames(s rally.State) {
	g := l.g
	l.final(s)
	if n := g.number(clause.BetweenGamesClock); n > 0 {
		l.add("duty.clock-games", count("seconds", n))
	}
	_, played := s.Starters() // or every game so far was forfeited unplayed
	if g.format.Match.ChangeEnds && played {
		l.add("duty.change-ends")
	} else {
		l.add("duty.keep-ends")
	}
	if first, known := g.rules.NextFirst(s); known {
		l.add("duty.next-first", g.side("side", first))
	} else {
		l.add("duty.ask-first")
	}
	switch {
	case g.doubles && played:
		l.add(g.startersCode("duty.new-starters", "duty.new-places"))
	case g.doubles:
		l.add(g.startersCode("duty.ask-starters", "duty.ask-places"))
	}
	l.opening(s)
	l.add("duty.orient")
	if g.takes(clause.TimeOutBetween) {
		l.add("duty.time-outs-coming", count("allowed", g.rules.TimeOutsAllowed(s)))
	} else {
		l.add("duty.time-outs-none")
	}
	l.coaching("duty.coaching")
	l.restart(s)
}

// final writes down how the last game ended. A forfeited one ended at a score
// that is not the one reported; once the match is over, a score that wins for
// nobody tells it.
func (l *list) final(s rally.State) {
	a, b := s.Score(rally.A), s.Score(rally.B)
	_, forfeited := s.ForfeitWinner()
	if game := l.g.game(s); s.Phase() == rally.Over {
		forfeited = !game.Won(uint8(a), uint8(b)) && !game.Won(uint8(b), uint8(a))
	}
	code := words.Code("duty.write-final")
	if forfeited {
		code = "duty.write-forfeit"
	}
	l.add(code, count("game", s.Game()), count("a", a), count("b", b))
}

func (l *list) atEnd(s rally.State) {
	g := l.g
	l.outcome(s)
	if cause, _, _ := s.Outcome(); cause == rally.ByPlay || cause == rally.ByTie {
		l.final(s)
	}
	l.add("duty.sign")
	l.add("duty.note-incidents")
	if g.takes(clause.LastPointFinal) {
		l.add("duty.final")
	} else {
		l.add("duty.correctable")
	}
	if g.takes(clause.CarriedPenalties) {
		l.add("duty.carry")
	}
	if n := g.number(clause.BetweenMatchesClock); n > 0 {
		l.add("duty.between-matches", count("seconds", n))
	}
	l.add("duty.return-sheet")
}

func (l *list) outcome(s rally.State) {
	g := l.g
	cause, winner, won := s.Outcome()
	switch {
	case cause == rally.ByPlay && won && g.format.Match.Games == 1:
		l.add("duty.say-match.single", g.side("side", winner), count("own", s.Score(winner)), count("other", s.Score(winner.Other())))
	case cause == rally.ByPlay && won:
		l.add("duty.say-match", g.side("side", winner), count("own", s.Won(winner)), count("other", s.Won(winner.Other())))
	case cause == rally.ByTie:
		l.add("duty.say-outcome.tied")
	case won:
		l.add(words.Code("duty.say-outcome."+cause.String()), g.side("side", winner.Other()))
	case cause == rally.ByDoubleForfeit:
		l.add("duty.say-outcome.double-forfeit")
	}
}
