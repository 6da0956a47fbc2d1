package referee

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

func (l *list) atBreak(s rally.State) {
	b, owner := s.Break()
	switch {
	case pendingMedical(s) || b == rally.MedicalBreak:
		l.medical(s, patient(s))
	case b == rally.BloodBreak || b == rally.IllnessBreak:
		l.help()
		l.add("duty.qualified")
		l.add("duty.await-dealt")
		l.add("duty.note-stop")
	case b == rally.HazardBreak:
		l.add("duty.safety")
		l.add("duty.await-dealt")
		l.add("duty.note-stop")
	case b == rally.TimeOutBreak:
		l.timeOut(s, owner.Side())
	case b == rally.EquipmentBreak:
		l.equipment(s, owner)
	default:
		l.add("duty.note-stop")
		l.paddles(s)
		l.restart(s)
	}
}

// help opens the duties wherever a player may need care.
func (l *list) help() {
	for _, d := range l.out {
		if d.Text.Code == "duty.help" {
			return
		}
	}
	l.add("duty.help")
	l.add("duty.safety")
}

// patient is the player whose medical request is open, or whose break it is.
func patient(s rally.State) rally.Person {
	for _, p := range persons {
		if s.Medical(p) == rally.MedicalRequested {
			return p
		}
	}
	_, owner := s.Break()
	return owner
}

// medical: help, then those who may judge, then the clock and the record, and
// what it may cost at the very end.
func (l *list) medical(s rally.State, p rally.Person) {
	g := l.g
	l.help()
	l.add("duty.qualified")
	open := s.Medical(p) == rally.MedicalRequested
	if open {
		l.add("duty.medical-answer")
	}
	if n := g.number(clause.Medical); n > 0 {
		clock := words.Code("duty.medical-clock.arrival")
		if g.takes(clause.MedicalFromRequest) {
			clock = "duty.medical-clock.request"
		}
		l.add(clock, count("minutes", n/60))
	}
	l.add("duty.note-medical", g.person("player", p))
	if open && !g.takes(clause.MedicalInvalidFree) && g.format.Rulings.Of(clause.MedicalInvalidFree) != clause.None {
		l.add("duty.medical-penalty")
	}
	if !open {
		l.restart(s)
	}
}

func (l *list) timeOut(s rally.State, side rally.Side) {
	g := l.g
	l.add("duty.say-time-out", g.side("side", side))
	l.noteTimeOut(s, side)
	l.coaching("duty.coaching")
	if n := g.number(clause.TimeOutClock); n > 0 {
		l.add("duty.clock", count("seconds", n))
	}
	l.paddles(s)
	l.restart(s)
}

// coaching says who may speak to the players now, where the edition says so.
func (l *list) coaching(c words.Code) {
	if format.Clause(clause.CoachingAtBreaks).In(l.g.format.Edition) {
		l.add(c)
	}
}

// noteTimeOut writes a charged time-out down, with the score at that moment.
func (l *list) noteTimeOut(s rally.State, side rally.Side) {
	used, allowed := s.TimeOutsUsed(side), l.g.rules.TimeOutsAllowed(s)
	code, when := words.Code("duty.note-time-out"), within("call", l.g.Call(s))
	if s.Phase() != rally.Playing {
		code, when = "duty.note-time-out.between", count("game", s.Game()+1)
	}
	l.add(code, l.g.side("side", side), count("used", used), count("left", allowed-used), when)
	if used == allowed {
		l.add("duty.last-time-out", l.g.side("side", side))
	}
}

func (l *list) equipment(s rally.State, p rally.Person) {
	g := l.g
	l.add("duty.note-equipment", g.person("player", p))
	if n := g.number(clause.EquipmentClock); n > 0 {
		l.add("duty.clock-equipment", count("seconds", n))
	} else {
		l.add("duty.reasonable")
	}
	l.paddles(s)
	l.restart(s)
}

func (l *list) paddles(s rally.State) {
	if s.Phase() == rally.Playing && !concussed(s) {
		l.add("duty.paddles", l.g.person("server", l.g.rules.Places(s).Server))
	}
}
