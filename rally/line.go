package rally

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/serviceorder"
)

// LineVersion is the version of the canonical line that this package writes.
const LineVersion = "L1"

// The fields of the line, in their order.
var lineFields = []string{"game", "won", "score", "opens", "serve", "receive", "A", "B", "first", "start", "ends", "due",
	"phase", "result", "break", "timeouts", "medical", "out", "vw", "tw", "tf", "gf", "wrong", "carry"}

// Line returns the canonical line of a state: everything that can affect a
// later event or call, in one line of ASCII. Within a format, line and state
// are one to one.
func (r *Rules) Line(s State) string {
	var buf [320]byte
	return string(r.AppendLine(buf[:0], s))
}

// AppendLine appends the canonical line of a state to dst.
func (r *Rules) AppendLine(dst []byte, s State) []byte {
	dst = append(dst, LineVersion...)
	for _, name := range lineFields {
		dst = append(dst, ' ')
		dst = append(dst, name...)
		dst = append(dst, '=')
		dst = r.appendField(dst, name, s)
	}
	return dst
}

func (r *Rules) appendField(dst []byte, name string, s State) []byte {
	playing := s.Phase() == Playing
	switch name {
	case "game":
		return strconv.AppendInt(dst, int64(s.Game()), 10)
	case "won":
		return appendPair(dst, s.Won(A), ':', s.Won(B))
	case "score":
		return appendPair(dst, s.Score(A), '-', s.Score(B))
	case "opens":
		return appendPair(dst, s.Opens(A), ':', s.Opens(B))
	case "serve", "receive", "A", "B":
		if playing {
			return r.appendPlaces(dst, name, s)
		}
		if name == "A" || name == "B" {
			dst = append(dst, '-')
		}
		return append(dst, '-')
	case "first":
		return appendFirst(dst, s)
	case "start":
		if st, known := s.Starters(); known {
			return append(dst, st.String()...)
		}
	case "ends":
		dst = append(dst, '0'+byte(s.EndChanges()))
		if s.EndChangeMade() {
			dst = append(dst, 'm')
		}
		return dst
	case "due":
		if s.EndChangeDue() {
			dst = append(dst, 'e')
		}
		if s.PutRightDue() {
			dst = append(dst, 'p')
		}
		if s.EndChangeDue() || s.PutRightDue() {
			return dst
		}
	case "phase":
		return append(dst, s.Phase().String()...)
	case "result":
		return appendOutcome(dst, s)
	case "break":
		return appendBreak(dst, s)
	case "timeouts":
		return appendPair(dst, s.TimeOutsUsed(A), ':', s.TimeOutsUsed(B))
	case "medical", "out", "carry":
		for p := A1; p <= B2; p++ {
			dst = append(dst, personLetter(name, s, p))
		}
		return dst
	case "vw":
		return appendPair(dst, s.VerbalWarnings(A), ':', s.VerbalWarnings(B))
	case "tw":
		return appendPair(dst, s.TechnicalWarnings(A), ':', s.TechnicalWarnings(B))
	case "tf":
		return appendPair(dst, s.TechnicalFouls(A), ':', s.TechnicalFouls(B))
	case "gf":
		return appendPair(dst, s.GameForfeits(A), ':', s.GameForfeits(B))
	case "wrong":
		return appendPair(dst, s.WrongServers(A), ':', s.WrongServers(B))
	}
	return append(dst, '-')
}

func appendPair(dst []byte, a int, sep byte, b int) []byte {
	dst = strconv.AppendInt(dst, int64(a), 10)
	return strconv.AppendInt(append(dst, sep), int64(b), 10)
}

func (r *Rules) appendPlaces(dst []byte, name string, s State) []byte {
	p := r.Places(s)
	switch name {
	case "serve":
		dst = append(dst, p.Server.String()...)
		dst = append(dst, '@')
		dst = append(dst, p.Court.String()...)
		dst = append(dst, '#')
		if p.Number == 0 {
			return append(dst, '-')
		}
		return append(dst, '0'+p.Number)
	case "receive":
		return append(dst, p.Receiver.String()...)
	}
	side := Side(name[0] - 'A')
	if r.doubles {
		return append(dst, '0'+byte(p.At[side][Right].Player()), '0'+byte(p.At[side][Left].Player()))
	}
	if p.Standing[side] == Right {
		return append(dst, "1-"...)
	}
	return append(dst, "-1"...)
}

func appendFirst(dst []byte, s State) []byte {
	side, known := s.First()
	if pending := s.playBits(choiceAt, 3); pending != 0 {
		return append(dst, 'd'+byte(pending-1)/2, 'A'+byte(pending-1)&1)
	}
	if !known {
		return append(dst, '-')
	}
	return append(dst, side.String()...)
}

// outcomeTexts follow the winner's letter.
var outcomeTexts = [...]string{Played: "", Retired: "ret", Withdrew: "wd", Forfeited: "mf"}

func appendOutcome(dst []byte, s State) []byte {
	if winner, won := s.forfeitWinner(); won {
		dst = append(append(dst, winner.String()...), "gf"...)
		if s.play&aborted != 0 {
			dst = append(dst, "ab"...)
		}
		return dst
	}
	cause, winner, won := s.Outcome()
	switch {
	case cause == Tied:
		return append(dst, "tie"...)
	case cause == DoubleForfeited:
		return append(dst, "dmf"...)
	case cause == Abandoned:
		return append(dst, "ab"...)
	case !won:
		return append(dst, '-')
	}
	return append(append(dst, winner.String()...), outcomeTexts[cause]...)
}

func appendBreak(dst []byte, s State) []byte {
	b, owner := s.Break()
	dst = append(dst, b.String()...)
	switch b {
	case TimeOutBreak:
		dst = append(dst, owner.Side().String()...)
	case MedicalBreak, EquipmentBreak:
		dst = append(dst, owner.String()...)
	}
	return dst
}

const (
	medicalLetters = "-ru"
	absenceLetters = "-xc"
	carryLetters   = "-wf"
)

func personLetter(field string, s State, p Person) byte {
	switch field {
	case "medical":
		return letter(medicalLetters, s.Medical(p))
	case "out":
		return letter(absenceLetters, s.Absence(p))
	}
	return letter(carryLetters, s.Carried(p))
}

func letter[T ~uint8](letters string, v T) byte {
	if int(v) < len(letters) {
		return letters[v]
	}
	return '?' // no event leads there
}

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

// impossible names the first field that no event can bring about in this
// format, and why; "" if there is none.
func (r *Rules) impossible(s State) (field, reason string) {
	m := r.format.Match
	phase, n, won := s.Phase(), s.Game(), s.Won(A)+s.Won(B)
	cause, _, _ := s.Outcome()
	decided := !m.PlayAll && (s.Won(A) >= int(m.Needed()) || s.Won(B) >= int(m.Needed())) || won >= int(m.Games)
	switch {
	case n > int(m.Games):
		return "game", "the match has at most " + strconv.Itoa(int(m.Games)) + " games"
	case phase == Before && n != 0, phase == Playing && n == 0, phase == Between && n == 0:
		return "game", "does not go with the phase"
	case phase == Playing && won != n-1, phase == Between && won != n, won > n, phase == Over && cause == Played && won != n:
		return "won", "is not the games played"
	case (phase == Playing || phase == Between) && decided, cause == Played && !decided:
		return "won", "does not go with the phase"
	case !m.PlayAll && (s.Won(A) > int(m.Needed()) || s.Won(B) > int(m.Needed())):
		return "won", "the match was decided before"
	}
	if field, reason := r.impossibleScore(s); field != "" {
		return field, reason
	}
	if field, reason := r.impossibleFlow(s); field != "" {
		return field, reason
	}
	return r.impossibleLedger(s)
}

func (r *Rules) impossibleScore(s State) (field, reason string) {
	g := r.game(s.Game())
	a, b := s.scores()
	cause, _, _ := s.Outcome()
	_, forfeited := s.forfeitWinner()
	penalties := s.ledger&(63<<foulAt|63<<warningAt) != 0
	ended := g.Won(a, b) || g.Won(b, a)
	final := g.Final(a, b) || g.Final(b, a)
	played := s.Phase() == Between && !forfeited || cause == Played && s.ledger&(15<<forfeitAt) == 0
	switch {
	case s.Phase() != Playing && s.play&started == 0 && a|b != 0:
		return "score", "no game has been played"
	case s.Phase() == Playing && ended && !penalties:
		return "score", "the game has ended"
	case played && !final && !penalties:
		return "score", "no game of this format ends so"
	case played && !ended:
		return "score", "the game has not ended"
	}
	return "", ""
}

func (r *Rules) impossibleFlow(s State) (field, reason string) {
	g := r.game(s.Game())
	phase := s.Phase()
	_, known := s.First()
	_, begun := s.Starters()
	b, owner := s.Break()
	cause, _, _ := s.Outcome()
	_, forfeited := s.forfeitWinner()
	ended := phase == Over || phase == Closed
	switch {
	case phase != Before && phase != Between && s.Opens(A)+s.Opens(B) != 0:
		return "opens", "only a coming game can open so"
	case phase == Playing && !known, begun && !known:
		return "first", "somebody served first"
	case s.playBits(choiceAt, 3) != 0 && (known || begun || ended):
		return "first", "the choice is over"
	case phase == Playing && !begun:
		return "start", "a game has starting servers"
	case phase == Before && begun:
		return "start", "no game has been started"
	case !r.doubles && s.play>>fixedAt&6 != 0:
		return "start", "singles has no second player"
	case s.EndChangeDue() && (phase != Playing || g.ChangeEndsAt == 0 || s.EndChangeMade()):
		return "due", "no mid-game end change can be due"
	case s.EndChangeMade() && (g.ChangeEndsAt == 0 || !begun):
		return "ends", "the game has no mid-game end change"
	case r.format.Match.Games == 1 && (s.EndChanges() == 1) != s.EndChangeMade():
		return "ends", "ends change only in mid-game"
	case s.PutRightDue() && (phase != Playing || r.format.Rulings[format.OrderError] != format.OrderErrorFault ||
		s.play>>2&1 == 0):
		return "due", "no side was faulted on its first server"
	case ended && cause == NotEnded, !ended && cause != NotEnded && cause != Abandoned && !forfeited:
		return "result", "does not go with the phase"
	case phase == Over && cause == Abandoned:
		return "result", "an abandoned match keeps its phase until the sheet is returned"
	case b != NoBreak && (phase == Before || ended):
		return "break", "no break can run"
	case !r.doubles && owner&1 != 0:
		return "break", "singles has no second player"
	}
	return "", ""
}

func (r *Rules) impossibleLedger(s State) (field, reason string) {
	ended := s.Phase() == Over || s.Phase() == Closed
	for side := A; side <= B; side++ {
		switch {
		case s.TimeOutsUsed(side) > r.TimeOuts(s):
			return "timeouts", "more than the game has"
		case ended && s.TimeOutsUsed(side) > 0, s.Phase() == Before && s.TimeOutsUsed(side) > 0:
			return "timeouts", "no game is in play or to come"
		}
	}
	for p := A1; p <= B2; p++ {
		second := !r.doubles && p.Player() == 2
		switch {
		case second && s.Medical(p) != MedicalUnused, s.Phase() == Before && s.Medical(p) != MedicalUnused:
			return "medical", "nobody has played there"
		case second && s.Absence(p) != Present, !r.doubles && s.Absence(p) == CannotGoOn:
			return "out", "singles has no partner to play on"
		case s.Absence(p) == CannotGoOn && s.Absence(p.Partner()) == CannotGoOn:
			return "out", "one of two must be left to play on"
		case second && s.Carried(p) != NoCarry, s.Carried(p) != NoCarry && !r.switchIs(format.CarriedPenalties, format.Yes):
			return "carry", "nobody could carry it into this match"
		}
	}
	if s.ledgerBits(wrongAt, 4) != 0 && r.format.Rulings[format.OrderError] != format.OrderErrorStandsWarned {
		return "wrong", "only the 1999 text counts them"
	}
	return "", ""
}
