package rally

import (
	"strconv"
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
	if winner, won := s.ForfeitWinner(); won {
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
