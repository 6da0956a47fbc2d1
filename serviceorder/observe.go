package serviceorder

// An Observation is what somebody knows about the court between two rallies.
// A nil field is unknown.
type Observation struct {
	First    *Side     // who served first in this game
	Starters *Starters // the starting servers of this game
	Side     *Side     // who serves
	Number   *uint8    // server number called, 1 or 2
	Server   *Person
	Receiver *Person
	Court    *Court     // from which court the serve comes
	RightOf  [2]*Person // who stands right, by side; in singles: the player if he does
}

// Agreeing returns every state of the order that agrees with the observation
// at these scores, in ascending order. It returns states, not histories: two
// games that came the same way to one state are one.
func (r Service) Agreeing(o Observation, a, b uint8) []Turn {
	var out []Turn
	for n := 0; n < 256; n++ {
		s := Turn(n)
		if r.Valid(s, a, b) && r.agrees(s, o, a, b) {
			out = append(out, s)
		}
	}
	return out
}

func (r Service) agrees(s Turn, o Observation, a, b uint8) bool {
	p := r.Places(s, a, b)
	if o.Receiver != nil && p.AnyReceives && o.Receiver.Side() == p.Receiver.Side() {
		p.Receiver = *o.Receiver
	}
	for side := A; side <= B; side++ {
		right := p.At[side][Right]
		if want := o.RightOf[side]; want != nil && (!p.Known() || right != *want || !r.doubles && p.Standing[side] != Right) {
			return false
		}
	}
	return is(o.First, s.First()) && is(o.Starters, s.Starters()) && is(o.Side, s.Side()) &&
		is(o.Number, p.Number) && is(o.Server, p.Server) && is(o.Receiver, p.Receiver) && is(o.Court, p.Court)
}

func is[T comparable](want *T, got T) bool { return want == nil || *want == got }

// Probe is something that can be asked or looked at to tell states apart.
type Probe uint8

// The questions, from the easiest to settle on court to the hardest.
const (
	NoQuestion      Probe = iota
	WhichCourt            // from which court is the next serve?
	WhichServer           // who serves?
	WhoStandsRightA       // which of A stands right?
	WhoStandsRightB       // which of B stands right?
	WhichReceiver         // who receives?
	WhichSide             // which side serves?
	WhichNumber           // which server number?
	WhichStarterA         // who is A's starting server?
	WhichStarterB         // who is B's starting server?
	WhichFirst            // who served first in this game?
	MoreThanOne           // no single question settles it
)

var questionNames = []string{"none", "court", "server", "right-of-a", "right-of-b", "receiver", "side", "number",
	"starter-a", "starter-b", "first", "more-than-one"}

// String returns the text name of q.
func (q Probe) String() string {
	if int(q) < len(questionNames) {
		return questionNames[q]
	}
	return "?"
}

// MarshalText implements encoding.TextMarshaler.
func (q Probe) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (q *Probe) UnmarshalText(text []byte) error {
	return unmarshal(q, questionNames, "question", text)
}

// Settle returns the states that agree with an observation and the easiest
// single question whose answer would leave one of them; NoQuestion if there is
// at most one already. Score, side and number alone leave two states in most
// positions of side-out doubles; the court of the next serve tells them apart.
func (r Service) Settle(o Observation, a, b uint8) ([]Turn, Probe) {
	states := r.Agreeing(o, a, b)
	if len(states) < 2 {
		return states, NoQuestion
	}
	for q := WhichCourt; q < MoreThanOne; q++ {
		seen := make(map[uint8]bool, len(states))
		for _, s := range states {
			seen[r.answer(q, s, a, b)] = true
		}
		if len(seen) == len(states) {
			return states, q
		}
	}
	return states, MoreThanOne
}

func (r Service) answer(q Probe, s Turn, a, b uint8) uint8 {
	p := r.Places(s, a, b)
	switch q {
	case WhichCourt:
		return uint8(p.Court)
	case WhichServer:
		return uint8(p.Server)
	case WhoStandsRightA, WhoStandsRightB:
		return uint8(p.At[q-WhoStandsRightA][Right])
	case WhichReceiver:
		return uint8(p.Receiver)
	case WhichSide:
		return uint8(s.Side())
	case WhichNumber:
		return p.Number
	case WhichStarterA, WhichStarterB:
		return uint8(s.Starters()[q-WhichStarterA])
	}
	return uint8(s.First())
}
