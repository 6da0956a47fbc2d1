package referee

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
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
func (m Moment) String() string {
	if int(m) < len(momentNames) {
		return momentNames[m]
	}
	return "?"
}

// MarshalText implements encoding.TextMarshaler.
func (m Moment) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// Duty is one thing to do or to say, in its order among the others.
type Duty struct {
	Text   Text          `json:"text"`
	Source format.Source `json:"source"`
	// Procedure says that no rulebook has it: it is how officials work, and
	// Source.Mark alone says how well that is known.
	Procedure bool `json:"procedure"`
}

// Clause is where the duty comes from, as text.
func (d Duty) Clause() Text {
	if d.Procedure && d.Source.Mark != format.CommonPractice {
		return say("clause.procedure", word("mark", Code("mark."+d.Source.Mark.String())))
	}
	return Clause(d.Source)
}

// A dutyRow is where a duty comes from: a switch of the edition, or a rule and
// a mark.
type dutyRow struct {
	Entry
	by   format.Switch
	rule string
	mark format.Mark
}

var dutyRows = []dutyRow{
	// help first
	{Entry{"duty.help", nil}, 0, "10.B", format.Read},
	{Entry{"duty.safety", nil}, 0, "", format.CommonPractice},
	{Entry{"duty.qualified", nil}, 0, "10.B.2", format.Read},
	{Entry{"duty.medical-clock.arrival", []string{"minutes"}}, format.MedicalClock, "", 0},
	{Entry{"duty.medical-clock.request", []string{"minutes"}}, format.MedicalClock, "", 0},
	{Entry{"duty.note-medical", []string{"player"}}, 0, "", format.Derived},
	{Entry{"duty.medical-answer", nil}, 0, "10.B.2", format.Read},
	{Entry{"duty.medical-penalty", nil}, format.MedicalInvalid, "", 0},
	{Entry{"duty.await-dealt", nil}, 0, "10.H", format.Memory},
	{Entry{"duty.out-of-match", []string{"player"}}, 0, "", format.Read},
	{Entry{"duty.what-remains", nil}, 0, "", format.Derived},
	{Entry{"duty.plays-alone", []string{"player", "partner"}}, 0, "13.H.4", format.Read},
	// before the match
	{Entry{"duty.know-format", []string{"games", "target", "margin", "time-outs"}}, 0, "", format.Read},
	{Entry{"duty.check-court", nil}, 0, "", format.Read},
	{Entry{"duty.check-paddles", nil}, 0, "", format.Read},
	{Entry{"duty.brief", nil}, 0, "", format.Paraphrase},
	{Entry{"duty.ask-starters", nil}, 0, "", format.Read},
	{Entry{"duty.ask-places", nil}, 0, "", format.Derived},
	{Entry{"duty.first-choice", nil}, 0, "5.A.1", format.Read},
	{Entry{"duty.note-choice", []string{"side"}}, 0, "", format.Derived},
	{Entry{"duty.opening-point", []string{"side"}}, format.CarriedPenalties, "", 0},
	{Entry{"duty.orient", nil}, 0, "", format.Derived},
	{Entry{"duty.first-call", nil}, 0, "", format.Derived},
	// after a rally
	{Entry{"duty.say-result", []string{"result"}}, 0, "", format.Paraphrase},
	{Entry{"duty.mark-point", []string{"side", "score"}}, 0, "", format.Read},
	{Entry{"duty.mark-point-server", []string{"side", "score", "number"}}, 0, "", format.Read},
	{Entry{"duty.marker-two", []string{"server"}}, 0, "", format.Read},
	{Entry{"duty.mark-turn-end", []string{"side"}}, 0, "", format.Read},
	{Entry{"duty.turn-record", []string{"side"}}, 0, "", format.CommonPractice},
	{Entry{"duty.read-score", []string{"side", "score", "parity"}}, 0, "", format.CommonPractice},
	{Entry{"duty.set-marker", []string{"parity", "server"}}, 0, "", format.CommonPractice},
	{Entry{"duty.set-court", []string{"parity", "court"}}, 0, "", format.CommonPractice},
	{Entry{"duty.then-look", []string{"server", "court"}}, 0, "", format.CommonPractice},
	{Entry{"duty.rehearse", []string{"call"}}, 0, "", format.CommonPractice},
	{Entry{"duty.say-replay", nil}, 0, "", format.Memory},
	{Entry{"duty.note-replay", nil}, 0, "", format.Derived},
	{Entry{"duty.withheld", []string{"side", "score"}}, 0, "", format.Derived},
	{Entry{"duty.say-ruling", []string{"ruling"}}, format.OrderError, "", 0},
	{Entry{"duty.say-end-change", nil}, 0, "5.B.3", format.Read},
	{Entry{"duty.say-game", []string{"side", "own", "other"}}, 0, "", format.Memory},
	// before the call
	{Entry{"duty.say-time-in", nil}, 0, "10.A.5", format.Paraphrase},
	{Entry{"duty.call-absence", []string{"side"}}, 0, "13.H.4", format.Derived},
	{Entry{"duty.put-right", []string{"side", "server", "court"}}, 0, "", format.CommonPractice},
	{Entry{"duty.check-order", []string{"server", "court", "receiver"}}, format.Corrects, "", 0},
	{Entry{"duty.check-order.singles", []string{"server", "court", "receiver"}}, format.Corrects, "", 0},
	{Entry{"duty.correct-nobody", nil}, format.Corrects, "", 0},
	{Entry{"duty.receiver-ready", []string{"receiver"}}, 0, "", format.CommonPractice},
	{Entry{"duty.receiver-ready.singles", []string{"receiver"}}, 0, "", format.CommonPractice},
	{Entry{"duty.server", []string{"server", "court"}}, 0, "", format.CommonPractice},
	{Entry{"duty.feet", []string{"server"}}, 0, "", format.CommonPractice},
	{Entry{"duty.call", []string{"call"}}, 0, "", format.CommonPractice},
	// during a rally
	{Entry{"duty.count", []string{"seconds"}}, format.ServeSeconds, "", 0},
	{Entry{"duty.watch-serve", []string{"server"}}, 0, "", format.ParaphraseLow},
	{Entry{"duty.watch-zone", nil}, 0, "", format.CommonPractice},
	{Entry{"duty.stop.stands-warned", nil}, format.OrderError, "", 0},
	{Entry{"duty.stop.fault", nil}, format.OrderError, "", 0},
	{Entry{"duty.stop.replay-if-stopped", nil}, format.OrderError, "", 0},
	{Entry{"duty.stop.corrected", nil}, format.OrderError, "", 0},
	// breaks
	{Entry{"duty.note-time-out", []string{"side", "used", "left", "call"}}, 0, "", format.Read},
	{Entry{"duty.note-time-out.between", []string{"side", "used", "left", "game"}}, 0, "", format.Read},
	{Entry{"duty.note-equipment", []string{"player"}}, 0, "", format.Derived},
	{Entry{"duty.note-stop", nil}, 0, "", format.Derived},
	{Entry{"duty.clock", []string{"seconds"}}, format.TimeOutSeconds, "", 0},
	{Entry{"duty.clock-equipment", []string{"seconds"}}, format.EquipmentSeconds, "", 0},
	{Entry{"duty.reasonable", nil}, 0, "10.D", format.Read},
	{Entry{"duty.paddles", []string{"server"}}, 0, "", format.CommonPractice},
	{Entry{"duty.notice", []string{"seconds"}}, format.NoticeSeconds, "", 0},
	{Entry{"duty.compare", []string{"server", "court", "receiver"}}, 0, "", format.CommonPractice},
	{Entry{"duty.last-time-out", []string{"side"}}, 0, "", format.Derived},
	// end change
	{Entry{"duty.note-number", []string{"call"}}, 0, "", format.Read},
	{Entry{"duty.clock-ends", []string{"seconds"}}, format.EndChangeSeconds, "", 0},
	{Entry{"duty.same-server", []string{"server"}}, 0, "", format.Read},
	// between games
	{Entry{"duty.write-final", []string{"game", "a", "b"}}, 0, "", format.Memory},
	{Entry{"duty.write-forfeit", []string{"game", "a", "b"}}, format.ForfeitScore, "", 0},
	{Entry{"duty.clock-games", []string{"seconds"}}, format.BetweenGamesSeconds, "", 0},
	{Entry{"duty.change-ends", nil}, 0, "5.B.2", format.Read},
	{Entry{"duty.keep-ends", nil}, 0, "", format.Derived},
	{Entry{"duty.next-first", []string{"side"}}, 0, "5.B.2", format.Read},
	{Entry{"duty.ask-first", nil}, 0, "", format.Derived},
	{Entry{"duty.new-starters", nil}, 0, "5.A.2", format.Read},
	{Entry{"duty.new-places", nil}, 0, "", format.Derived},
	{Entry{"duty.time-outs-coming", []string{"allowed"}}, format.TimeOutBetween, "", 0},
	{Entry{"duty.time-outs-none", nil}, format.TimeOutBetween, "", 0},
	// the end
	{Entry{"duty.say-match", []string{"side", "own", "other"}}, 0, "", format.Memory},
	{Entry{"duty.say-outcome.tied", nil}, 0, "", format.Derived},
	{Entry{"duty.say-outcome.retired", []string{"side"}}, 0, "", format.Derived},
	{Entry{"duty.say-outcome.withdrew", []string{"side"}}, 0, "", format.Derived},
	{Entry{"duty.say-outcome.forfeited", []string{"side"}}, 0, "", format.Derived},
	{Entry{"duty.say-outcome.double-forfeit", nil}, 0, "", format.Derived},
	{Entry{"duty.sign", nil}, 0, "", format.Paraphrase},
	{Entry{"duty.note-incidents", nil}, 0, "", format.ParaphraseLow},
	{Entry{"duty.correctable", nil}, format.Correctable, "", 0},
	{Entry{"duty.final", nil}, format.Correctable, "", 0},
	{Entry{"duty.carry", nil}, format.CarriedPenalties, "", 0},
	{Entry{"duty.return-sheet", nil}, 0, "", format.Read},
	{Entry{"duty.free", nil}, 0, "", format.Read},
	{Entry{"duty.suspended", nil}, 0, "", format.Derived},
	// penalties and other decisions
	{Entry{"duty.say-verbal", []string{"side"}}, format.FoulValue, "", 0},
	{Entry{"duty.say-warning", []string{"side"}}, format.FoulValue, "", 0},
	{Entry{"duty.say-foul", []string{"side"}}, format.FoulValue, "", 0},
	{Entry{"duty.note-penalty", nil}, 0, "", format.Derived},
	{Entry{"duty.penalty-point", []string{"a", "b"}}, format.FoulValue, "", 0},
	{Entry{"duty.penalty-places", []string{"side", "server"}}, 0, "13.G.3.c", format.Read},
	{Entry{"duty.say-forfeit-game", []string{"side"}}, 0, "", format.Derived},
	{Entry{"duty.exchanged", []string{"side"}}, 0, "", format.Derived},
	{Entry{"duty.ends-made", nil}, 0, "", format.Derived},
	{Entry{"duty.note", nil}, 0, "", format.Derived},
}

var dutyTexts, dutyByCode = func() ([]Entry, map[Code]dutyRow) {
	var out []Entry
	by := make(map[Code]dutyRow, len(dutyRows))
	for _, row := range dutyRows {
		out = append(out, row.Entry)
		by[row.Code] = row
	}
	return out, by
}()

// list collects duties in their order.
type list struct {
	g   *Guide
	out []Duty
}

func (l *list) add(c Code, args ...Arg) {
	row := dutyByCode[c]
	l.out = append(l.out, Duty{Text{c, args}, l.g.source(row.by, row.rule, row.mark), row.by == 0 && row.rule == ""})
}

// Moments lists the moments that a state can be in, the most pressing first.
func (g *Guide) Moments(s rally.State) []Moment {
	if cause, _, _ := s.Outcome(); cause == rally.Abandoned && s.Phase() != rally.Closed {
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
	last := g.format.Last
	l.add("duty.know-format", count("games", int(g.format.Match.Games)), count("target", int(last.Target)),
		count("margin", int(last.WinBy)), count("time-outs", g.rules.TimeOuts(s)))
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
func (g *Guide) startersCode(starters, places Code) Code {
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
	switch g.format.Rulings[format.Corrects] {
	case format.Yes:
		l.add(g.alone("duty.check-order"), g.person("server", p.Server), court("court", p.Court), g.person("receiver", p.Receiver))
	case format.No:
		l.add("duty.correct-nobody")
	}
	l.add(g.alone("duty.receiver-ready"), g.person("receiver", p.Receiver))
	l.add("duty.server", g.person("server", p.Server), court("court", p.Court))
	l.add("duty.feet", g.person("server", p.Server))
	l.add("duty.call", within("call", g.Call(s)))
}

// alone is a duty's code in the words for players who have no partner.
func (g *Guide) alone(c Code) Code {
	if g.doubles {
		return c
	}
	return c + ".singles"
}

func (l *list) duringRally(s rally.State) {
	g := l.g
	if n := g.number(format.ServeSeconds); n > 0 {
		l.add("duty.count", count("seconds", n))
	}
	l.add("duty.watch-serve", g.person("server", g.rules.Places(s).Server))
	if text := g.format.Rulings.Text(format.OrderError); text != "-" {
		l.add(Code("duty.stop." + text))
	}
	l.add("duty.watch-zone")
}

func (l *list) endChange(s rally.State) {
	g := l.g
	p := g.rules.Places(s)
	l.add("duty.say-end-change")
	l.add("duty.note-number", within("call", g.Call(s)))
	if n := g.number(format.EndChangeSeconds); n > 0 {
		l.add("duty.clock-ends", count("seconds", n))
	}
	l.add("duty.orient")
	l.add("duty.same-server", g.person("server", p.Server))
	l.restart(s)
}

// restart is what ends every break that play follows: notice, time in, and a
// look at whether everybody is back where the score puts him.
func (l *list) restart(s rally.State) {
	if concussed(s) {
		return
	}
	g := l.g
	if n := g.number(format.NoticeSeconds); n > 0 {
		l.add("duty.notice", count("seconds", n))
	}
	l.add("duty.say-time-in")
	if s.Phase() == rally.Playing {
		p := g.rules.Places(s)
		l.add("duty.compare", g.person("server", p.Server), court("court", p.Court), g.person("receiver", p.Receiver))
	}
}

func (l *list) betweenGames(s rally.State) {
	g := l.g
	l.final(s)
	if n := g.number(format.BetweenGamesSeconds); n > 0 {
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
	if g.reads(format.TimeOutBetween, format.Yes) {
		l.add("duty.time-outs-coming", count("allowed", g.rules.TimeOuts(s)))
	} else {
		l.add("duty.time-outs-none")
	}
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
	code := Code("duty.write-final")
	if forfeited {
		code = "duty.write-forfeit"
	}
	l.add(code, count("game", s.Game()), count("a", a), count("b", b))
}

func (l *list) atEnd(s rally.State) {
	g := l.g
	l.outcome(s)
	if cause, _, _ := s.Outcome(); cause == rally.Played || cause == rally.Tied {
		l.final(s)
	}
	l.add("duty.sign")
	l.add("duty.note-incidents")
	if g.reads(format.Correctable, format.CorrectableLastPoint) {
		l.add("duty.final")
	} else {
		l.add("duty.correctable")
	}
	if g.reads(format.CarriedPenalties, format.Yes) {
		l.add("duty.carry")
	}
	l.add("duty.return-sheet")
}

func (l *list) outcome(s rally.State) {
	g := l.g
	cause, winner, won := s.Outcome()
	switch {
	case cause == rally.Played && won:
		l.add("duty.say-match", g.side("side", winner), count("own", s.Won(winner)), count("other", s.Won(winner.Other())))
	case cause == rally.Tied:
		l.add("duty.say-outcome.tied")
	case won:
		l.add(Code("duty.say-outcome."+cause.String()), g.side("side", winner.Other()))
	case cause == rally.DoubleForfeited:
		l.add("duty.say-outcome.double-forfeit")
	}
}
