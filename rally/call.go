package rally

import "github.com/evencourt/evencourt/serviceorder"

// Places returns where everybody stands at the next serve. It is meaningful
// only while a game is in play.
func (r *Rules) Places(s State) Places {
	a, b := s.scores()
	return r.game(s).order.Places(s.Order(), a, b)
}

// Call is the score call in parts, for languages that say it their own way.
type Call struct {
	Serving   int  `json:"serving"`   // points of the serving side
	Receiving int  `json:"receiving"` // points of the receiving side
	Number    int  `json:"number"`    // server number, 1 or 2; 0 where two numbers are called
	Opening   bool `json:"opening"`   // the call that opens a game: its "two" is often said as "start"
}

// Call returns the score call before the next serve. It is false outside play.
func (r *Rules) Call(s State) (Call, bool) {
	side, playing := s.Serving()
	if !playing {
		return Call{}, false
	}
	c := Call{Serving: s.Score(side), Receiving: s.Score(side.Other())}
	if g := r.game(s); g.order.Numbers() {
		order := s.Order()
		c.Number = order.Number()
		first, _ := s.First()
		// In a later turn at the same score the second server is the partner.
		c.Opening = c.Serving+c.Receiving == 0 && c.Number == 2 && side == first && order.ByStarter() && g.FirstTurn == 1
	}
	return c, true
}

// scoreText holds every score as text with the dash that follows, the first digit
// in the lowest byte, and its length.
var scoreText = func() (t [256]struct {
	text uint32
	size uint8
}) {
	for n := range t {
		at := 0
		for unit := 100; unit > 0; unit /= 10 {
			if n >= unit || unit == 1 {
				t[n].text |= uint32('0'+n/unit%10) << at
				at += 8
			}
		}
		t[n].text |= '-' << at
		t[n].size = uint8(at/8 + 1)
	}
	return
}()

// callSize is the length of the longest call, "255-254-2".
const callSize = 9

// AppendCall appends the score call to dst: serving side's score, receiving
// side's score and, where there are two servers a turn, the server number, as
// in "4-2-1". Outside play it appends nothing. It allocates only if dst has
// room for fewer than nine bytes more.
func (r *Rules) AppendCall(dst []byte, s State) []byte {
	if s.play&phaseMask != uint64(Playing)<<phaseAt {
		return dst
	}
	at := len(dst)
	if cap(dst)-at < callSize {
		dst = append(dst, make([]byte, callSize)...)
	}
	buf := dst[at : at+callSize : at+callSize]
	// No branch here depends on who serves or on the scores: a rally in two
	// would be mispredicted.
	moving := serviceorder.Turn(s.play & orderMask) // all that the call depends on
	side := uint64(moving.Side()) * 8
	first := &scoreText[uint8(s.play>>(scoreAAt+side))]
	put(buf, first.text)
	n := int(first.size)
	second := &scoreText[uint8(s.play>>(scoreBAt-side))]
	put(buf[n:], second.text)
	n += int(second.size)
	if r.game(s).Servers == 2 {
		buf[n] = '0' + byte(moving.Number())
		n += 2
	}
	return dst[:at+n-1]
}

// put stores four bytes, the lowest first; the compiler makes it one store.
func put(buf []byte, text uint32) {
	_ = buf[3]
	buf[0], buf[1], buf[2], buf[3] = byte(text), byte(text>>8), byte(text>>16), byte(text>>24)
}
