package rally

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/serviceorder"
)

// split cuts a text at every space.
func split(text string) []string {
	var out []string
	for more := true; more; {
		var word string
		word, text, more = format.Cut(text, ' ')
		out = append(out, word)
	}
	return out
}

// LineError reports a line that is not one, or not one of this format, and
// the first field at fault.
type LineError struct {
	Field  string // name of the field, or "" for the line as a whole
	Text   string // what stands there, shortened
	Reason string
}

// Error implements error.
func (e *LineError) Error() string {
	at := "rally: line"
	if e.Field != "" {
		at += ": " + e.Field
	}
	return at + " " + format.Quote(e.Text) + ": " + e.Reason
}

// ParseLine reads a canonical line as a state of this format. It refuses, with
// a [*LineError], whatever is not the line of a state that this format can be
// in: ParseLine(Line(s)) == s, and what it accepts, Line writes back unchanged.
func (r *Rules) ParseLine(text string) (State, error) {
	fail := func(field, value, reason string) (State, error) {
		return State{}, &LineError{Field: field, Text: shorten(value), Reason: reason}
	}
	words := split(shortLine(text))
	if words[0] != LineVersion {
		return fail("", text, "want version "+LineVersion)
	}
	if len(words) != len(lineFields)+1 {
		return fail("", text, "want "+strconv.Itoa(len(lineFields))+" fields, have "+strconv.Itoa(len(words)-1))
	}
	values := make(map[string]string, len(lineFields))
	for i, name := range lineFields {
		got, value, ok := format.Cut(words[i+1], '=')
		if !ok || got != name {
			return fail(name, words[i+1], "want field "+name+" here")
		}
		values[name] = value
	}
	var s State
	for _, name := range lineFields {
		if !s.readField(name, values[name]) {
			return fail(name, values[name], "cannot be read")
		}
	}
	if s.Phase() == Playing && !r.findOrder(&s, values) {
		return fail("serve", values["serve"], "no order of service of this format puts the players so")
	}
	for _, name := range lineFields {
		if got := string(r.appendField(nil, name, s)); got != values[name] {
			return fail(name, values[name], "contradicts the other fields, want "+got)
		}
	}
	if field, reason := r.impossible(s); field != "" {
		return fail(field, values[field], reason)
	}
	return s, nil
}

// shortLine bounds the work on a text that is too long to be a line.
func shortLine(text string) string {
	const most = 400
	if len(text) > most {
		return text[:most]
	}
	return text
}

// findOrder finds the moving part of the order of service from the places.
func (r *Rules) findOrder(s *State, values map[string]string) bool {
	a, b := s.scores()
	fixed := s.order() &^ serviceorder.Moving
	order := r.game(s.Game()).order
	for moving := serviceorder.State(0); moving <= serviceorder.Moving; moving++ {
		if !order.Valid(fixed|moving, a, b) {
			continue
		}
		s.setOrder(fixed | moving)
		same := true
		for _, name := range []string{"serve", "receive", "A", "B"} {
			same = same && string(r.appendField(nil, name, *s)) == values[name]
		}
		if same {
			return true
		}
	}
	return false
}

// readField reads one field into the bits that belong to it. Whether the
// fields agree is seen when they are written back.
func (s *State) readField(name, v string) bool {
	switch name {
	case "game":
		n, ok := parseNumber(v, 9)
		s.setPlay(gameAt, 4, uint64(n))
		return ok
	case "won":
		return readPair(v, ':', 9, func(side Side, n int) { s.setPlay(wonAAt+4*int(side), 4, uint64(n)) })
	case "score":
		return readPair(v, '-', 255, func(side Side, n int) { s.setScore(side, uint8(n)) })
	case "opens":
		return readPair(v, ':', 1, func(side Side, n int) {
			if n == 1 {
				s.setPlay(opensAt, 2, uint64(side)+1)
			}
		})
	case "first":
		return s.readFirst(v)
	case "start":
		if v == "-" {
			return true
		}
		if len(v) != 4 || !isPerson(v) || !isPerson(v[2:]) || v[0] != 'A' || v[2] != 'B' {
			return false
		}
		s.play |= started | uint64(v[1]-'1')<<(fixedAt+1) | uint64(v[3]-'1')<<(fixedAt+2)
		return true
	case "ends":
		if v == "0m" || v == "1m" {
			s.play |= midDone
			v = v[:1]
		}
		if v == "1" {
			s.play |= endsBit
		}
		return v == "0" || v == "1"
	case "due":
		if v == "e" || v == "ep" {
			s.play |= midDue
		}
		if v == "p" || v == "ep" {
			s.play |= dutyBit
		}
		return v == "-" || v == "e" || v == "p" || v == "ep"
	case "phase":
		n := index(phaseNames, v)
		if n < 0 {
			return false
		}
		s.setPlay(phaseAt, 3, uint64(n))
		return true
	case "result":
		return s.readOutcome(v)
	case "break":
		return s.readBreak(v)
	case "timeouts":
		return readPair(v, ':', 15, func(side Side, n int) { s.setLedger(timeOutsAt+4*int(side), 4, uint64(n)) })
	case "medical":
		return readLetters(v, medicalLetters, func(p Person, n int) { s.setMedical(p, Medical(n)) })
	case "out":
		return readLetters(v, absenceLetters, func(p Person, n int) { s.setAbsence(p, Absence(n)) })
	case "carry":
		return readLetters(v, carryLetters, func(p Person, n int) { s.setLedger(carryAt+2*int(p), 2, uint64(n)) })
	case "vw":
		return s.readCounts(v, verbalAt, 1)
	case "tw":
		return s.readCounts(v, warningAt, 3)
	case "tf":
		return s.readCounts(v, foulAt, 3)
	case "gf":
		return s.readCounts(v, forfeitAt, 2)
	case "wrong":
		return s.readCounts(v, wrongAt, 2)
	}
	return true // serve, receive, A, B: see findOrder
}

func (s *State) readCounts(v string, at, width int) bool {
	return readPair(v, ':', 1<<width-1, func(side Side, n int) { s.setLedger(at+width*int(side), width, uint64(n)) })
}

func readPair(v string, sep byte, most int, set func(Side, int)) bool {
	left, right, _ := format.Cut(v, sep)
	a, okA := parseNumber(left, most)
	b, okB := parseNumber(right, most)
	if okA && okB {
		set(A, a)
		set(B, b)
	}
	return okA && okB
}

func readLetters(v, letters string, set func(Person, int)) bool {
	if len(v) != 4 {
		return false
	}
	for p := A1; p <= B2; p++ {
		before, _, found := format.Cut(letters, v[p])
		if !found {
			return false
		}
		set(p, len(before))
	}
	return true
}

func (s *State) readFirst(v string) bool {
	switch {
	case v == "-":
		return true
	case len(v) == 1 && isSide(v[0]):
		s.play |= knownBit | uint64(v[0]-'A')<<fixedAt
		return true
	case len(v) == 2 && (v[0] == 'd' || v[0] == 'e') && isSide(v[1]):
		s.setPlay(choiceAt, 3, uint64(1+2*(v[0]-'d')+v[1]-'A'))
		return true
	}
	return false
}

func (s *State) readOutcome(v string) bool {
	switch v {
	case "-":
		return true
	case "tie":
		s.setOutcome(Tied, 3)
		return true
	case "dmf":
		s.setOutcome(DoubleForfeited, 0)
		return true
	case "ab":
		if s.Phase() == Closed {
			s.setOutcome(Abandoned, 0)
		} else {
			s.play |= aborted
		}
		return true
	}
	if v == "" || !isSide(v[0]) {
		return false
	}
	winner := uint64(v[0]-'A') + 1
	if v[1:] == "gfab" {
		s.play |= aborted
		v = v[:3]
	}
	if v[1:] == "gf" {
		s.setOutcome(Forfeited, winner)
		return true
	}
	for cause := Played; cause <= Forfeited; cause++ {
		if outcomeTexts[cause] == v[1:] {
			s.setOutcome(cause, winner)
			return true
		}
	}
	return false
}

func (s *State) readBreak(v string) bool {
	for b := BloodBreak; b <= IllnessBreak; b++ {
		if v == b.String() {
			s.setBreak(b, 0)
			return true
		}
	}
	switch {
	case v == "-":
		return true
	case v == "ref":
		s.setBreak(RefereeBreak, 0)
		return true
	case len(v) == 2 && v[0] == 't' && isSide(v[1]):
		s.setBreak(TimeOutBreak, Person(v[1]-'A')<<1)
		return true
	case len(v) == 3 && v[0] == 'm' && isPerson(v[1:]):
		s.setBreak(MedicalBreak, person(v[1:]))
		return true
	case len(v) == 4 && v[:2] == "eq" && isPerson(v[2:]):
		s.setBreak(EquipmentBreak, person(v[2:]))
		return true
	}
	return false
}
