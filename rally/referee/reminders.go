package referee

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Reminder is something that is still open. It comes back after every entry
// until one of those that settle it is made, or play has passed it.
type Reminder struct {
	Text words.Text `json:"text"`
	// Settles are the entries that may be made now and settle it, the usual one
	// first; none where there is only something to know or to wait for.
	Settles []rally.Entry `json:"settles,omitempty"`
}

// reminding collects what is open as a log stands.
type reminding struct {
	g   *Guide
	log *rally.Log
	s   rally.State
	out []Reminder
}

// Reminders lists everything that is open after the last entry of a log, at an
// elapsed time in milliseconds, the most pressing first: help that is not yet
// there, what must be answered or ended before play goes on, who serves first,
// the starting servers, ends, a side to be put right, then what is in force and
// how the clock stands. A negative time asks for no clock.
func (g *Guide) Reminders(l *rally.Log, ms int64) []Reminder {
	r := &reminding{g: g, log: l, s: l.State()}
	if r.s.Phase() == rally.Closed {
		return nil
	}
	r.care()
	if cause, _, _ := r.s.Outcome(); cause == rally.ByAbandonment {
		r.add(say("reminder.abandoned"), rally.EventOf(rally.ResumePlay), rally.EventOf(rally.SheetReturned))
		return r.out
	}
	r.breakOpen()
	switch r.s.Phase() {
	case rally.Before, rally.Between:
		r.beforeGame()
	case rally.Playing:
		r.inPlay()
	case rally.Over:
		r.add(say("reminder.sheet"), rally.EventOf(rally.SheetReturned))
		return r.out
	}
	r.timeOuts()
	r.clock(ms)
	return r.out
}

// add reminds of something; of the events that settle it only those that would
// be accepted now are given.
func (r *reminding) add(text words.Text, settles ...rally.Event) {
	out := Reminder{Text: text}
	for _, e := range settles {
		if _, _, refusal := r.log.Rules().Apply(r.s, e); refusal == rally.NotRefused {
			out.Settles = append(out.Settles, e.Entry())
		}
	}
	r.out = append(r.out, out)
}

// care: help first, then the answer of qualified people, then what remains
// after a suspected concussion.
func (r *reminding) care() {
	aided := r.aided()
	for _, p := range persons {
		if r.s.Medical(p) == rally.MedicalRequested && !aided[p] {
			r.add(say("reminder.help", r.g.person("player", p)), rally.OfPerson(rally.HelpArrived, p))
		}
	}
	for _, p := range persons {
		if r.s.Medical(p) == rally.MedicalRequested {
			r.add(say("reminder.medical", r.g.person("player", p)), rally.OfPerson(rally.MedicalValid, p),
				rally.OfPerson(rally.MedicalInvalid, p), rally.OfPerson(rally.MedicalWithdrawn, p))
		}
		if r.s.Medical(p) == rally.MedicalGranted {
			r.add(say("reminder.medical-waits", r.g.person("player", p)), rally.EventOf(rally.Dealt))
		}
		if r.s.Absence(p) == rally.Concussed && r.s.Phase() < rally.Over {
			r.add(say("reminder.concussion", r.g.person("player", p)), rally.OfSide(rally.Retirement, p.Side()), rally.OfSide(rally.MatchForfeit, p.Side()))
		}
	}
}

// aided are the players at whom help has arrived since they asked for medical
// time.
func (r *reminding) aided() (out [4]bool) {
	r.log.Each(func(st rally.Step) bool {
		if k := st.Event.Kind(); k == rally.HelpArrived || k == rally.MedicalRequest {
			out[st.Event.Person()] = k == rally.HelpArrived
		}
		return true
	})
	return out
}

// breakOpen: a break lasts until an entry ends it.
func (r *reminding) breakOpen() {
	b, _ := r.s.Break()
	switch {
	case b == rally.NoBreak:
	case b >= rally.BloodBreak:
		r.add(say("reminder.dealt", within("break", words.For(b))), rally.EventOf(rally.Dealt))
	default:
		r.add(say("reminder.time-in", within("break", words.For(b))), rally.EventOf(rally.TimeIn))
	}
}

// beforeGame: what a game needs before its first call.
func (r *reminding) beforeGame() {
	if concussed(r.s) {
		return
	}
	coming := count("game", r.s.Game()+1)
	first, known := r.log.Rules().NextFirst(r.s)
	var starts []rally.Event
	for _, side := range sides {
		for n := range rally.Person(4) {
			if !known || side == first {
				starts = append(starts, rally.Start(side, rally.Starters{rally.A1 + n&1, rally.B1 + n>>1}))
			}
		}
	}
	_, played := r.s.Starters()
	switch choices := r.choices(); {
	case known:
	case len(choices) > 0:
		r.add(say("reminder.first-choice"), choices...)
	default:
		r.add(say("reminder.who-first", coming), starts...)
	}
	for _, side := range sides {
		if r.s.Opens(side) > 0 {
			r.add(say("reminder.opening-point", r.g.side("side", side), coming))
		}
	}
	if r.s.Phase() == rally.Between && r.g.format.Match.ChangeEnds && played {
		r.add(say("reminder.ends-between", coming), starts...)
	}
	if r.g.doubles && known {
		code := r.g.startersCode("reminder.starters", "reminder.places")
		r.add(say(code, coming, r.g.side("side", first)), starts...)
	}
}

// choices lists what may be chosen now by either side.
func (r *reminding) choices() []rally.Event {
	var out []rally.Event
	for c := rally.ChooseServe; c <= rally.ChooseDefer; c++ {
		for _, side := range sides {
			if _, _, refusal := r.log.Rules().Apply(r.s, rally.Choose(side, c)); refusal == rally.NotRefused {
				out = append(out, rally.Choose(side, c))
			}
		}
	}
	return out
}

func (r *reminding) inPlay() {
	g, rules := r.g, r.log.Rules()
	if e, due := rules.AbsentFault(r.s); due {
		r.add(say("reminder.absent", g.side("side", e.Side().Other())), e)
	}
	if opened, ok := r.assumed(); ok {
		st, _ := r.s.Starters()
		r.add(say(g.startersCode("reminder.starters-assumed", "reminder.places-assumed"), count("game", r.s.Game()),
			g.person("a", st[rally.A]), g.person("b", st[rally.B]), count("entry", opened)))
		if last, _ := r.log.Undoable(); last == opened {
			r.out[len(r.out)-1].Settles = []rally.Entry{{Kind: rally.Undo}}
		}
	}
	if r.s.EndChangeDue() {
		r.add(say("reminder.ends"), rally.EventOf(rally.EndsChanged))
	}
	if r.s.PutRightDue() {
		p := rules.Places(r.s)
		r.add(say("reminder.put-right", g.person("server", p.Server), court("court", p.Court)))
	}
	for _, side := range sides {
		if g.game(r.s).Scorer == format.EitherSide && rules.Frozen(r.s, side) {
			r.add(say("reminder.frozen", g.side("side", side), count("score", r.s.Score(side))))
		}
	}
}

// assumed returns the entry that opened the game in play if that was its first
// rally, with nobody named to start, and no rally has been entered since.
func (r *reminding) assumed() (entry int, ok bool) {
	if !r.g.doubles {
		return 0, false
	}
	r.log.Each(func(st rally.Step) bool {
		switch k := st.Event.Kind(); {
		case !st.Holds:
		case st.Effects.Has(rally.GameStarted):
			entry, ok = st.N, k == rally.RallyWon || k == rally.Replay || k == rally.Stop
		case k == rally.RallyWon || k == rally.Replay || k == rally.Stop:
			ok = false
		}
		return true
	})
	return entry, ok
}

// timeOuts reminds who has none left.
func (r *reminding) timeOuts() {
	allowed := r.log.Rules().TimeOutsAllowed(r.s)
	for _, side := range sides {
		if allowed > 0 && r.s.TimeOutsUsed(side) >= allowed {
			r.add(say("reminder.last-time-out", r.g.side("side", side)))
		}
	}
}

// clock reminds of an interval that is about to end, from the edition's notice
// on, and of one that is over. What is over asks for an entry and decides nothing.
func (r *reminding) clock(ms int64) {
	c, running := rally.ClockAt(r.log, ms)
	notice := int64(r.g.number(clause.NoticeClock)) * 1000
	if ms < 0 || !running || c.Limit == 0 || c.Remaining > notice {
		return
	}
	interval := word("interval", words.Code("interval."+c.Interval.String()))
	settles := []rally.Event{rally.EventOf(rally.TimeIn), rally.EventOf(rally.EndsChanged)}
	if c.Asks.Has(rally.Retirement) {
		settles = []rally.Event{rally.EventOf(rally.TimeIn)}
		for _, p := range persons {
			if r.s.Medical(p) == rally.MedicalUsed {
				settles = append(settles, rally.OfPerson(rally.PlayOnAlone, p), rally.OfSide(rally.Retirement, p.Side()))
			}
		}
	}
	seconds := int((max(c.Remaining, -c.Remaining) + 999) / 1000)
	if c.Remaining > 0 {
		r.add(say("reminder.notice", interval, count("seconds", seconds)), settles...)
		return
	}
	r.add(say("reminder.clock-over", interval, count("seconds", seconds)), settles...)
}
