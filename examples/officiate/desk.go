package main

import (
	"fmt"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// desk is a match being officiated: its log, its names, and the guide to it.
type desk struct {
	log   *rally.Log
	setup rally.Setup
	guide *referee.Guide
	lines []string // canonical line after every entry, as it was when the entry was made
}

func newDesk(l *rally.Log, u rally.Setup) *desk {
	return &desk{log: l, setup: u, guide: referee.New(l.Rules(), u)}
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

func (d *desk) say(t words.Text) string { return words.English().Say(t) }

func (d *desk) doubles() bool { return d.log.Rules().Format().Game.Sides == format.Doubles }

func (d *desk) side(s rally.Side) string { return d.setup.SideName(s, d.doubles()) }

func (d *desk) player(p rally.Person) string { return d.setup.Name(p) }

// word is what is said about an entry: the result call after a rally, else
// what sort of thing happened and whose it is.
func (d *desk) word(e entered) string {
	switch k := e.event.Kind(); k {
	case rally.NoKind:
		return d.correction(e)
	case rally.RallyWon, rally.Replay, rally.Stop:
		if word := d.say(referee.Result(e.did)); word != "nothing" {
			return capital(word)
		}
		if e.did.Has(rally.GameWon) {
			return "Rally to " + d.side(e.event.Side())
		}
		return "No point"
	case rally.FirstChoice:
		return capital(d.say(words.Text{Code: "kind." + words.Code(k.String())})) + ": " + d.side(e.event.Side()) + " chooses " + choice(e.event.Choice())
	case rally.StartGame:
		return fmt.Sprintf("Game %d begins", e.after.Game())
	case rally.MatchForfeit, rally.GameForfeit, rally.Retirement, rally.Withdrawal, rally.TimeOut, rally.VerbalWarning, rally.TechnicalWarning, rally.TechnicalFoul,
		rally.ChallengeLost, rally.ChallengeWithdrawn, rally.LateArrival, rally.Exchange:
		return capital(d.say(words.Text{Code: "kind." + words.Code(k.String())})) + ", " + d.side(e.event.Side())
	case rally.EquipmentTimeOut, rally.MedicalRequest, rally.MedicalValid, rally.MedicalInvalid, rally.MedicalWithdrawn, rally.PlayOnAlone,
		rally.Concussion, rally.CarryWarning, rally.CarryFoul, rally.Ejection, rally.Expulsion:
		return capital(d.say(words.Text{Code: "kind." + words.Code(k.String())})) + ", " + d.player(e.event.Person())
	default:
		return capital(d.say(words.Text{Code: "kind." + words.Code(k.String())}))
	}
}

func choice(c rally.Choice) string {
	return [...]string{"", "to serve", "to receive", "an end", "to defer"}[c]
}

func (d *desk) correction(e entered) string {
	switch word, _, _ := strings.Cut(e.text, " "); word {
	case "undo":
		return fmt.Sprintf("Taken back: entry %d, %s", e.ledUp, e.undone)
	case "redo":
		return fmt.Sprintf("Brought back: entry %d, %s", e.ledUp, e.undone)
	default:
		return "Correction: " + e.text
	}
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
		return "Fault of " + d.side(e.event.Side().Other()) + ": " + d.say(words.Text{Code: "fault." + words.Code(f.String())}) + "."
	}
	return "Rally won by " + d.side(e.event.Side()) + "."
}

// news says what else is to be told about an entry, most pressing first.
func (d *desk) news(e entered) []string {
	var out []string
	s := e.after
	if e.did.Has(rally.GameWon) || e.did.Has(rally.GameForfeited) {
		winner := rally.A
		if s.Won(rally.B) > e.before.Won(rally.B) {
			winner = rally.B
		}
		how := ","
		if e.did.Has(rally.GameForfeited) {
			how = " by forfeit at"
		}
		out = append(out, fmt.Sprintf("Game %d to %s%s A %d B %d; games A %d B %d.", s.Game(), d.side(winner), how,
			s.Score(rally.A), s.Score(rally.B), s.Won(rally.A), s.Won(rally.B)))
	}
	if text := d.outcome(s); text != "" && d.outcome(e.before) == "" {
		out = append(out, text)
	}
	if e.did.Has(rally.Withheld) {
		out = append(out, "At this score the receivers score on their own serve only: no point.")
	}
	if e.did.Has(rally.Fouled) && e.event.Kind() != rally.TechnicalFoul {
		out = append(out, "That makes a technical foul.")
	} else if e.did.Has(rally.Warned) && e.event.Kind() != rally.TechnicalWarning {
		out = append(out, "A technical warning with it.")
	}
	if e.did.Has(rally.PenaltyPoint) && s.Phase() == rally.Playing {
		out = append(out, fmt.Sprintf("A penalty moves the score: A %d B %d.", s.Score(rally.A), s.Score(rally.B)))
	}
	if s.EndChangeDue() && !e.before.EndChangeDue() {
		out = append(out, "Ends change now.")
	}
	return out
}

// outcome says how the match ended; "" while it has not.
func (d *desk) outcome(s rally.State) string {
	cause, winner, won := s.Outcome()
	switch {
	case cause == rally.NotEnded:
		return ""
	case cause == rally.Played && won:
		return fmt.Sprintf("Match to %s, %d to %d in games.", d.side(winner), s.Won(winner), s.Won(winner.Other()))
	case won:
		return fmt.Sprintf("Match to %s: %s has %s.", d.side(winner), d.side(winner.Other()),
			map[rally.Cause]string{rally.Retired: "retired", rally.Withdrew: "withdrawn", rally.Forfeited: "forfeited it"}[cause])
	case cause == rally.Tied:
		return "The match is tied."
	case cause == rally.DoubleForfeited:
		return "Both sides have forfeited the match."
	}
	return "The match is abandoned."
}

// next says what is called next, and who serves to whom from where.
func (d *desk) next(s rally.State) string {
	if cause, _, _ := s.Outcome(); cause == rally.Abandoned {
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
			return fmt.Sprintf("A player who is out is due: enter %s.", e)
		}
		p := d.log.Rules().Places(s)
		call := "Call"
		if b, _ := s.Break(); b != rally.NoBreak {
			call = "When play goes on, call"
		}
		return fmt.Sprintf(call+" %q: %s serves from the %s court to %s.", d.say(d.guide.StartCall(s)),
			d.player(p.Server), courtWord(p.Court), d.player(p.Receiver))
	case rally.Before, rally.Between:
		n := s.Game() + 1
		if first, known := d.log.Rules().NextFirst(s); known {
			return fmt.Sprintf("%s serves first in game %d.", d.side(first), n)
		}
		return fmt.Sprintf("Nobody has chosen yet who serves first in game %d.", n)
	}
	return ""
}

func courtWord(c rally.Court) string {
	if c == rally.Right {
		return "right"
	}
	return "left"
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// line is an entry in one line: what is said, what decided it, the news, the
// next call.
func (d *desk) line(e entered) string {
	parts := []string{d.word(e) + "."}
	if k := e.event.Kind(); k == rally.RallyWon || k == rally.Stop {
		parts = append(parts, d.why(e))
	}
	parts = append(parts, d.news(e)...)
	if s := e.after; e.did.Has(rally.TimeOutCharged) && s.Phase() == e.before.Phase() {
		used, allowed := s.TimeOutsUsed(e.event.Side()), d.log.Rules().TimeOuts(s)
		parts = append(parts, fmt.Sprintf("Time-outs used %d, left %d.", used, allowed-used))
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
func (d *desk) help() string { return d.say(words.Text{Code: "duty.help"}) }

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
