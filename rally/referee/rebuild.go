package referee

import (
	"strconv"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// TurnMarks are what a sheet shows of a turn in side-out doubles: enough to know
// who serves without having seen the last rally.
type TurnMarks struct {
	Opening  bool // no side-out has been marked yet in this game
	Own      int  // the serving side's score at its last side-out mark: where its turn began
	Number   int  // server number now, 1 or 2
	OwnNow   int  // its score now
	OtherNow int  // the other side's score now
}

// MarksError reports marks that no turn can leave.
type MarksError struct {
	Field  string
	Reason string
}

// Error implements error.
func (e *MarksError) Error() string { return "referee: marks: " + e.Field + ": " + e.Reason }

// Rebuilt is the server that marks give.
type Rebuilt struct {
	Starter bool        `json:"starter"` // the starting server; if not, the partner
	Court   rally.Court `json:"court"`
	Text    words.Text  `json:"text"`
}

// Rebuild finds the server of side-out doubles from marks (common practice):
// the own score at the last side-out mark together with the server number.
// Even and one, or odd and two, is the starting server; odd and one, or even
// and two, is the partner; the opening turn is the starting server's. The
// court follows from the score now, if no penalty has moved it. The error is a
// [*MarksError].
func Rebuild(m TurnMarks) (Rebuilt, error) {
	switch {
	case m.Number != 1 && m.Number != 2:
		return Rebuilt{}, &MarksError{"number", "must be 1 or 2, not " + strconv.Itoa(m.Number)}
	case m.Own < 0 || m.OwnNow < 0 || m.OtherNow < 0:
		return Rebuilt{}, &MarksError{"own", "a score is never below 0"}
	case m.Own > m.OwnNow:
		return Rebuilt{}, &MarksError{"own", "was " + strconv.Itoa(m.Own) + " when the turn began but is " + strconv.Itoa(m.OwnNow) + " now"}
	case m.Opening && m.Number != 2:
		return Rebuilt{}, &MarksError{"number", "the opening turn has number 2 only"}
	}
	r := Rebuilt{Starter: m.Opening || (m.Own%2 == 0) == (m.Number == 1)}
	if r.Starter != (m.OwnNow%2 == 0) {
		r.Court = rally.Left
	}
	at, score := court("court", r.Court), count("score", m.OwnNow)
	if m.Opening {
		r.Text = say("rebuild.opening", at, score)
		return r, nil
	}
	code := words.Code("rebuild.partner")
	if r.Starter {
		code = "rebuild.starter"
	}
	r.Text = say(code, count("own", m.Own), parity("parity", m.Own), count("number", m.Number), at, score)
	return r, nil
}
