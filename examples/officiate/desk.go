package main

import (
	"strings"

	"github.com/evencourt/evencourt/examples/paper"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// desk is a match being officiated: its log, its names, and the guide to it.
type desk struct {
	log      *rally.Log
	setup    rally.Setup
	guide    *referee.Guide
	language *words.Language
	terse    bool     // short forms, for who listens
	lines    []string // canonical line after every entry, as it was when the entry was made
}

func newDesk(l *rally.Log, u rally.Setup, language *words.Language) *desk {
	return &desk{log: l, setup: u, guide: referee.New(l.Rules(), u), language: language}
}

// entered is one entry and what it did.
type entered struct {
	n      int
	text   string
	event  rally.Event // 0 for a correction
	before rally.State
	after  rally.State
	did    rally.Effects
	undone string // what an undo took back or a redo brought back
	ledUp  int    // its entry
}

// enter adds an entry to the log.
func (d *desk) enter(what rally.Entry) (entered, error) {
	e := entered{text: what.String(), before: d.log.State()}
	switch {
	case !what.Corrects():
		e.event = what.Event
	case what.Kind == rally.Undo:
		e.ledUp, _ = d.log.Undoable()
	case what.Kind == rally.Redo:
		e.ledUp, _ = d.log.Redoable()
	}
	e.undone = d.log.Entry(e.ledUp).String()
	rules := d.log.Rules()
	var err error
	if e.did, err = d.log.Do(what); err != nil {
		return e, err
	}
	if d.log.Rules() != rules {
		d.guide = referee.New(d.log.Rules(), d.setup)
	}
	e.n, e.after = d.log.Len(), d.log.State()
	d.lines = append(d.lines, d.log.Rules().Line(e.after))
	return e, nil
}

func (d *desk) say(t words.Text) string {
	if d.terse {
		return d.language.Short(t)
	}
	return d.language.Say(t)
}

// tell says a text of the program.
func (d *desk) tell(c words.Code, args ...words.Arg) string { return d.say(words.New(c, args...)) }

func (d *desk) doubles() bool { return d.log.Rules().Format().Game.Sides == format.Doubles }

// side and player name a side and a player in a text.
func (d *desk) side(name string, s rally.Side) words.Arg {
	return words.Arg{Name: name, Value: d.guide.Side(s)}
}

func (d *desk) player(name string, p rally.Person) words.Arg {
	return words.Name(name, d.setup.Name(p))
}

// word is what is said about an entry: the result call after a rally, else
// what sort of thing happened and whose it is.
func (d *desk) word(e entered) string {
	switch e.event.Kind() {
	case rally.NoKind:
		return d.correction(e)
	case rally.RallyWon, rally.Replay, rally.Stop:
		if result := d.guide.ResultWord(e.did); result.Code != "result.none" {
			return d.tell("officiate.said", words.Within("result", result))
		}
		if e.did.Has(rally.GameWon) {
			return d.tell("officiate.rally-to", d.side("side", e.event.Side()))
		}
		return d.tell("officiate.no-point")
	case rally.StartGame:
		return d.tell("officiate.game-begins", words.Count("game", e.after.Game()))
	}
	return d.tell("officiate.happened", words.Within("event", d.guide.Event(e.event)))
}

func (d *desk) correction(e entered) string {
	switch word, _, _ := strings.Cut(e.text, " "); word {
	case "undo":
		return d.tell("officiate.undone", words.Count("entry", e.ledUp), words.Name("what", e.undone))
	case "redo":
		return d.tell("officiate.redone", words.Count("entry", e.ledUp), words.Name("what", e.undone))
	}
	return d.tell("officiate.correction", words.Name("what", e.text))
}

// why says what decided a rally.
func (d *desk) why(e entered) string {
	k := e.event.Kind()
	if k != rally.RallyWon && k != rally.Stop {
		return ""
	}
	if _, rides := e.event.Incident(); rides {
		return d.say(d.guide.Ruling(e.before, e.event).Text)
	}
	if f := e.event.Fault(); f != rally.NoFault {
		return d.tell("officiate.fault", d.side("side", e.event.Side().Other()), words.Within("fault", words.For(f)))
	}
	return d.tell("officiate.won", d.side("side", e.event.Side()))
}

// news says what else is to be told about an entry, most pressing first.
func (d *desk) news(e entered) []string {
	var out []string
	add := func(c words.Code, args ...words.Arg) { out = append(out, d.tell(c, args...)) }
	s := e.after
	if e.did.Has(rally.GameWon) || e.did.Has(rally.GameForfeited) {
		winner := rally.A
		if s.Won(rally.B) > e.before.Won(rally.B) {
			winner = rally.B
		}
		how := words.Code("officiate.game-won")
		if e.did.Has(rally.GameForfeited) {
			how = "officiate.game-forfeited"
		}
		add(how, words.Count("game", s.Game()), d.side("side", winner), words.Count("own", s.Score(winner)), words.Count("other", s.Score(winner.Other())),
			words.Count("won", s.Won(winner)), words.Count("lost", s.Won(winner.Other())))
	}
	if text := d.outcome(s); text != "" && d.outcome(e.before) == "" {
		out = append(out, text)
	}
	if e.did.Has(rally.Withheld) {
		add("officiate.withheld")
	}
	if _, said := e.event.Incident(); said { // the ruling says it
	} else if e.did.Has(rally.Fouled) && e.event.Kind() != rally.TechnicalFoul {
		add("officiate.makes-foul")
	} else if e.did.Has(rally.Warned) && e.event.Kind() != rally.TechnicalWarning {
		add("officiate.with-warning")
	}
	if e.did.Has(rally.PenaltyPoint) && s.Phase() == rally.Playing {
		add("officiate.penalty-score", d.side("side-a", rally.A), words.Count("a", s.Score(rally.A)), d.side("side-b", rally.B), words.Count("b", s.Score(rally.B)))
	}
	if s.EndChangeDue() && !e.before.EndChangeDue() {
		add("officiate.ends-now")
	}
	return out
}

// outcome says how the match ended; "" while it has not.
func (d *desk) outcome(s rally.State) string {
	if how, over := paper.Outcome(d.guide, s); over {
		return d.say(how)
	}
	return ""
}

// next says what is called next, and who serves to whom from where.
func (d *desk) next(s rally.State) string {
	if cause, _, _ := s.Outcome(); cause == rally.ByAbandonment {
		return ""
	}
	for p := rally.A1; p <= rally.B2; p++ {
		if s.Absence(p) == rally.Concussed {
			return "" // the match does not go on without him
		}
	}
	switch s.Phase() {
	case rally.Playing:
		if e, due := d.log.Rules().AbsentFault(s); due {
			return d.tell("officiate.absent-due", words.Name("event", e.String()))
		}
		p := d.log.Rules().Places(s)
		call := words.Code("officiate.call")
		if b, _ := s.Break(); b != rally.NoBreak {
			call = "officiate.call-later"
		}
		return d.tell(call, words.Within("call", d.guide.Call(s)), d.player("server", p.Server), courtWord(p.Court), d.player("receiver", p.Receiver))
	case rally.Before, rally.Between:
		game := words.Count("game", s.Game()+1)
		if first, known := d.log.Rules().NextFirst(s); known {
			return d.tell("officiate.first", d.side("side", first), game)
		}
		return d.tell("officiate.nobody-first", game)
	}
	return ""
}

func courtWord(c rally.Court) words.Arg {
	return words.Word("court", words.OfCourt(c))
}

// line is an entry in one line: what is said, what decided it, the news, the
// next call.
func (d *desk) line(e entered) string {
	parts := []string{d.word(e) + "."}
	if why := d.why(e); why != "" {
		parts = append(parts, why)
	}
	parts = append(parts, d.news(e)...)
	if s := e.after; e.did.Has(rally.TimeOutCharged) && s.Phase() == e.before.Phase() {
		used, allowed := s.TimeOutsUsed(e.event.Side()), d.log.Rules().TimeOutsAllowed(s)
		parts = append(parts, d.tell("officiate.time-outs", words.Count("used", used), words.Count("left", allowed-used)))
	}
	if next := d.next(e.after); next != "" {
		parts = append(parts, next)
	}
	return strings.Join(parts, " ")
}

// needsHelp reports whether somebody may need care now.
func needsHelp(e entered) bool {
	return e.did.Has(rally.CallHelp) || e.event.Kind() == rally.MedicalValid
}

// help is said before everything else where somebody may need care.
func (d *desk) help() string { return d.tell("duty.help") }

// duties lists what a referee does at a moment that is not a rally: a break
// that began, ends that change, a penalty, a game or the match that is over.
// Where somebody may need care, help has been said before, and what concerns
// clocks comes last.
func (d *desk) duties(e entered) []string {
	var list []referee.Duty
	if e.event == 0 {
		return nil
	}
	if e.did&(rally.Warned|rally.Fouled|rally.WarnedVerbally|rally.PlayerOut|rally.GameForfeited) != 0 {
		list, _ = d.guide.After(e.before, e.event)
	}
	if e.did&(rally.BreakBegan|rally.MedicalUsedUp|rally.EndsDue) != 0 || e.after.Phase() != rally.Playing && e.before.Phase() == rally.Playing {
		list = append(list, d.guide.Now(e.after)...)
	}
	var first, clocks []string
	told := map[words.Code]bool{}
	for _, duty := range list {
		if told[duty.Text.Code] {
			continue
		}
		told[duty.Text.Code] = true
		text, code := d.say(duty.Text), string(duty.Text.Code)
		switch {
		case !needsHelp(e):
			first = append(first, text)
		case code == "duty.help":
		case strings.Contains(code, "clock") || strings.HasPrefix(code, "duty.notice"):
			clocks = append(clocks, text)
		default:
			first = append(first, text)
		}
	}
	return append(first, clocks...)
}
