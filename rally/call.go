package rally

// Places returns where everybody stands at the next serve. It is meaningful
// only while a game is in play.
func (r *Rules) Places(s State) Places {
	a, b := s.scores()
	return r.game(s.Game()).order.Places(s.order(), a, b)
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
	if g := r.game(s.Game()); g.order.Numbers() {
		c.Number = 1 + int(s.play>>2&1)
		first, _ := s.First()
		c.Opening = c.Serving+c.Receiving == 0 && c.Number == 2 && side == first && g.FirstTurn == 1
	}
	return c, true
}

// two holds the numbers 0 to 99 as text, two bytes each, the first of which
// is not used below 10.
var two = func() (t [200]byte) {
	for n := 0; n < 100; n++ {
		t[2*n], t[2*n+1] = byte('0'+n/10), byte('0'+n%10)
	}
	return
}()

func appendScore(dst []byte, n uint8) []byte {
	switch {
	case n < 10:
		return append(dst, '0'+n)
	case n < 100:
		return append(dst, two[2*n], two[2*n+1])
	}
	return append(dst, '0'+n/100, two[2*(n%100)], two[2*(n%100)+1])
}

// AppendCall appends the score call to dst: serving side's score, receiving
// side's score and, where there are two servers a turn, the server number, as
// in "4-2-1". Outside play it appends nothing. It allocates only if dst is too
// short; 11 bytes are always enough.
func (r *Rules) AppendCall(dst []byte, s State) []byte {
	if s.play&phaseMask != uint64(Playing)<<phaseAt {
		return dst
	}
	serving, receiving := s.scores()
	if s.play&1 != 0 {
		serving, receiving = receiving, serving
	}
	dst = appendScore(dst, serving)
	dst = append(dst, '-')
	dst = appendScore(dst, receiving)
	if r.game(s.Game()).Servers == 2 {
		dst = append(dst, '-', '1'+byte(s.play>>2&1))
	}
	return dst
}
