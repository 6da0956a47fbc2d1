package rally

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/serviceorder"
)

// Rewind restores the game as it was after entry n and keeps the ledger as it
// is now: time-outs used, medical time, warnings and fouls. It never crosses
// the first serve of a game.
func (l *Log) Rewind(n int) error {
	if n < 1 || n > len(l.entries) {
		return &EntryError{"rewind " + strconv.Itoa(n), 0, Malformed, "no such entry"}
	}
	return l.correction(Rewind, payload{target: n})
}

func rewind(now, then State) (State, Refusal, string) {
	if now.Phase() != Playing || then.Phase() != Playing || now.Game() != then.Game() {
		return now, NotNow, "a rewind stays within the game in play"
	}
	const kept = outMask | breakMask
	return State{then.play&^kept | now.play&kept, now.ledger}, NotRefused, ""
}

// SetLine states the position outright, as a canonical line.
func (l *Log) SetLine(line string) error {
	if l.now.Phase() == Closed {
		return &EntryError{"set", 0, MatchClosed, ""}
	}
	if _, err := l.rules.ParseLine(line); err != nil {
		return err
	}
	return l.correction(SetPosition, payload{text: line})
}

// ChangeFormat plays on under another format, from now or from the next game,
// by somebody's decision. It is refused if the game in play would be over
// under the new format, or if its order of service cannot take over the places.
func (l *Log) ChangeFormat(f format.Format, next bool, authority string) error {
	r, err := Compile(f)
	if err != nil {
		return err
	}
	if l.now.Phase() == Closed || l.now.Phase() == Over {
		return &EntryError{"format " + f.ID(), 0, MatchOver, ""}
	}
	if authority == "" || len(split(authority)) != 1 {
		return &EntryError{"format " + f.ID(), 0, Malformed, "one word says who decided"}
	}
	return l.correction(ChangeFormat, payload{rules: r, text: f.ID(), next: next, note: authority})
}

// takeOver turns a state under old rules into one under r, or says why not.
func (r *Rules) takeOver(s State, old *Rules) (State, string) {
	if r.doubles != old.doubles {
		return s, "singles and doubles cannot change into each other"
	}
	if s.Phase() == Playing {
		if !r.takePlaces(&s, old.Places(s)) {
			return s, "the order of service of that format puts the players elsewhere"
		}
		if r.game(s.Game()).ChangeEndsAt == 0 {
			s.play &^= midDue
		}
	}
	if _, err := r.ParseLine(r.Line(s)); err != nil {
		return s, err.Error()
	}
	return s, ""
}

// takePlaces finds the state of this order of service in which everybody
// stands where he stands, the same player serves, and as the same server if
// both orders number them.
func (r *Rules) takePlaces(s *State, p Places) bool {
	a, b := s.scores()
	fixed := s.order() &^ serviceorder.Moving
	for moving := serviceorder.State(0); moving <= serviceorder.Moving; moving++ {
		s.setOrder(fixed | moving)
		q := r.Places(*s)
		if q.Server == p.Server && q.At == p.At && (q.Number == p.Number || q.Number == 0 || p.Number == 0) &&
			r.game(s.Game()).order.Valid(fixed|moving, a, b) {
			return true
		}
	}
	return false
}
