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

// lineValues are the values of a line's fields.
type lineValues [len(lineFields)]string

// ParseLine reads a canonical line as a state of this format. It refuses, with
// a [*LineError], whatever is not the line of a state that this format can be
// in: ParseLine(Line(s)) == s, and what it accepts, Line writes back unchanged.
// A line of version L1 is read too, and written back as L2.
func (r *Rules) ParseLine(text string) (State, error) {
	var values lineValues
	first, err := cutLine(text, &values)
	switch {
	case err != nil:
		return State{}, err
	case first:
		values.modernize(r)
	}
	var s State
	fail := func(i int, reason string) (State, error) {
		return State{}, &LineError{Field: lineFields[i].name, Text: shorten(values[i]), Reason: reason}
	}
	for i := range lineFields {
		var ok bool
		if s, ok = lineFields[i].read(&lineFields[i], s, values[i]); !ok {
			return fail(i, "cannot be read")
		}
	}
	if s.Phase() == Playing {
		var ok bool
		if s, ok = r.findOrder(s, &values); !ok {
			return fail(firstPlace, "no order of service of this format puts the players so")
		}
	}
	for i := range lineFields {
		if got := r.field(s, i); string(got.text[:got.size]) != values[i] {
			return fail(i, "contradicts the other fields, want "+string(got.text[:got.size]))
		}
	}
	if field, reason := r.impossible(s); field != "" {
		for i := range lineFields {
			if lineFields[i].name == field {
				return fail(i, reason)
			}
		}
	}
	return s, nil
}

// modernize makes the values of an L1 line those of L2. A player brought one
// warning or one foul; partners on fixed courts could exchange as long as the
// end change was due. A line that L1 could not have written stays one that
// cannot be read.
func (v *lineValues) modernize(r *Rules) {
	for i := range lineFields {
		switch lineFields[i].name {
		case "due":
			if v[i] != "" && v[i][len(v[i])-1] == 'x' {
				v[i] = "?"
			}
			if e := v[i] == "e" || v[i] == "ep"; e && r.format.Game.Order == format.FixedCourts {
				v[i] += "x"
			}
		case "carry":
			letters := []byte(v[i])
			for at, c := range letters {
				switch c {
				case 'w':
					letters[at] = '2'
				case 'f':
					letters[at] = '4'
				case '-':
				default:
					letters[at] = '?'
				}
			}
			v[i] = string(letters)
		}
	}
}

// cutLine cuts a line into the values of its fields; first says that it is of
// the first version.
func cutLine(text string, values *lineValues) (first bool, _ error) {
	const most = 400 // bounds the work on a text that is too long to be a line
	words := split(text[:min(len(text), most)])
	switch {
	case words[0] != LineVersion && words[0] != "L1":
		return false, &LineError{Text: shorten(text), Reason: "want version " + LineVersion}
	case len(words) != len(lineFields)+1:
		return false, &LineError{Text: shorten(text),
			Reason: "want " + strconv.Itoa(len(lineFields)) + " fields, have " + strconv.Itoa(len(words)-1)}
	}
	for i := range lineFields {
		name, value, ok := format.Cut(words[i+1], '=')
		if want := lineFields[i].name; !ok || name != want {
			return false, &LineError{Field: want, Text: shorten(words[i+1]), Reason: "want field " + want + " here"}
		}
		values[i] = value
	}
	return words[0] == "L1", nil
}

// findOrder finds the moving part of the order of service from the places.
func (r *Rules) findOrder(s State, values *lineValues) (State, bool) {
	a, b := s.scores()
	fixed := s.Order() &^ serviceorder.Moving
	order := r.game(s).order
	for moving := serviceorder.Turn(0); moving <= serviceorder.Moving; moving++ {
		if !order.Valid(fixed|moving, a, b) {
			continue
		}
		found := s.withOrder(fixed | moving)
		same := true
		for i := firstPlace; i <= lastPlace && same; i++ {
			got := r.field(found, i)
			same = string(got.text[:got.size]) == values[i]
		}
		if same {
			return found, true
		}
	}
	return s, false
}

func readNothing(_ *lineField, s State, _ string) (State, bool) { return s, true }

// cutPair reads two numbers with sep between them.
func cutPair(v string, sep byte, most int) (a, b int, ok bool) {
	left, right, _ := format.Cut(v, sep)
	a, okA := format.Natural(left, most)
	b, okB := format.Natural(right, most)
	return a, b, okA && okB
}

// with adds bits of the field to those of a state, at the field's lowest bit.
func (f *lineField) with(s State, bits uint64) State {
	if f.ledger {
		s.ledger |= bits << f.at
	} else {
		s.play |= bits << f.at
	}
	return s
}

func readCounts(f *lineField, s State, v string) (State, bool) {
	a, b, ok := cutPair(v, ':', 1<<f.width-1)
	if !ok {
		return s, false
	}
	return f.with(s, uint64(a)|uint64(b)<<f.width), true
}

func readLetters(f *lineField, s State, v string) (State, bool) {
	if len(v) != 4 {
		return s, false
	}
	bits := uint64(0)
	for i := range 4 {
		before, _, found := format.Cut(f.letters, v[i])
		if !found {
			return s, false
		}
		bits |= uint64(len(before)) << (f.width * i)
	}
	return f.with(s, bits), true
}

func readCarry(f *lineField, s State, v string) (State, bool) {
	if len(v) != 4 {
		return s, false
	}
	for p := A1; p <= B2; p++ {
		before, _, found := format.Cut(f.letters, v[p])
		if !found {
			return s, false
		}
		at := Carry(len(before))
		s = s.withLedger(carryAt+3*int(p), 3, uint64(at&(sharedIn*CarriedWarning-1)))
		for what := CarriedWarning; what <= CarriedFoul; what <<= 1 {
			if at.Has(what*sharedIn) || s.bringers(p.Side(), what) == 2 && s.onRecord(p.Side(), what) < 2 {
				s.ledger |= sharedBit(p.Side(), what)
			}
		}
	}
	return s, true
}

func readGame(_ *lineField, s State, v string) (State, bool) {
	n, ok := format.Natural(v, 9)
	return s.withPlay(gameAt, 4, uint64(n)), ok
}

func readScore(_ *lineField, s State, v string) (State, bool) {
	a, b, ok := cutPair(v, '-', format.MostPoints)
	return s.withScores(uint8(a), uint8(b)), ok
}

func readOpens(_ *lineField, s State, v string) (State, bool) {
	a, b, ok := cutPair(v, ':', 2)
	return s.withLedger(opensAt, 4, uint64(a)|uint64(b)<<2), ok
}

func readFirst(_ *lineField, s State, v string) (State, bool) {
	switch {
	case v == "-":
		return s, true
	case len(v) == 1 && isSide(v[0]):
		s.play |= knownBit
		return s.withOrder(serviceorder.Prepare(Side(v[0]-'A'), Starters{})), true
	case len(v) == 2 && (v[0] == 'd' || v[0] == 'e') && isSide(v[1]):
		return s.withPlay(choiceAt, 3, uint64(1+2*(v[0]-'d')+v[1]-'A')), true
	}
	return s, false
}

func readStart(_ *lineField, s State, v string) (State, bool) {
	if v == "-" {
		return s, true
	}
	if len(v) != 4 || !isPerson(v) || !isPerson(v[2:]) || v[0] != 'A' || v[2] != 'B' {
		return s, false
	}
	s.play |= started
	return s.withOrder(serviceorder.Prepare(s.Order().First(), Starters{person(v), person(v[2:])})), true
}

func readEnds(_ *lineField, s State, v string) (State, bool) {
	if v == "0m" || v == "1m" {
		s.play |= midDone
		v = v[:1]
	}
	if v == "1" {
		s.play |= endsBit
	}
	return s, v == "0" || v == "1"
}

func readDue(_ *lineField, s State, v string) (State, bool) {
	if v == "-" {
		return s, true
	}
	for i := range len(v) {
		switch v[i] {
		case 'e':
			s.play |= midDue
		case 'p':
			s.play |= dutyBit
		case 'x':
			s.play |= walkBit
		default:
			return s, false
		}
	}
	return s, true
}

func readPhase(_ *lineField, s State, v string) (State, bool) {
	n := index(phaseNames, v)
	return s.withPlay(phaseAt, 3, uint64(max(n, 0))), n >= 0
}

func readOutcome(_ *lineField, s State, v string) (State, bool) {
	switch v {
	case "-":
		return s, true
	case "tie":
		return s.withOutcome(ByTie, tied), true
	case "dmf":
		return s.withOutcome(ByDoubleForfeit, nobody), true
	case "ab":
		if s.Phase() == Closed {
			return s.withOutcome(ByAbandonment, nobody), true
		}
		s.play |= aborted
		return s, true
	}
	if v == "" || !isSide(v[0]) {
		return s, false
	}
	winner := winning(Side(v[0] - 'A'))
	if v[1:] == "gfab" {
		s.play |= aborted
		v = v[:3]
	}
	if v[1:] == "late" {
		s.ledger |= lateBit
		return s.withOutcome(ByForfeit, winner), true
	}
	if v[1:] == "gf" {
		return s.withOutcome(ByForfeit, winner), true
	}
	for cause := ByPlay; cause <= ByForfeit; cause++ {
		if outcomeTexts[cause] == v[1:] {
			return s.withOutcome(cause, winner), true
		}
	}
	return s, false
}

func readBreak(_ *lineField, s State, v string) (State, bool) {
	for b := RefereeBreak; b <= IllnessBreak; b++ {
		if v == b.String() {
			return s.withBreak(b, 0), true
		}
	}
	switch {
	case v == "-":
		return s, true
	case len(v) == 2 && v[0] == 't' && isSide(v[1]):
		return s.withBreak(TimeOutBreak, Person(v[1]-'A')<<1), true
	case len(v) == 3 && v[0] == 'm' && isPerson(v[1:]):
		return s.withBreak(MedicalBreak, person(v[1:])), true
	case len(v) == 4 && v[:2] == "eq" && isPerson(v[2:]):
		return s.withBreak(EquipmentBreak, person(v[2:])), true
	}
	return s, false
}
