package reference

import "strconv"

// Line returns the state as the canonical line L1. Fields that belong to
// events outside this model stand at their unused values.
func (m *Match) Line() string {
	b := make([]byte, 0, 320)
	b = append(b, "L1 game="...)
	b = strconv.AppendInt(b, int64(m.number), 10)
	b = pair(append(b, " won="...), m.won, ':')
	b = pair(append(b, " score="...), m.score, '-')
	b = pair(append(b, " opens="...), m.opens, ':')
	b = append(b, " serve="...)
	if m.phase == inPlay {
		b = append(name(b, m.server), '@', m.floor.where(m.server), '#')
		if m.rules().Servers == 1 {
			b = append(b, '-')
		} else {
			b = append(b, '0'+byte(m.turn))
		}
		b = name(append(b, " receive="...), m.receiver())
	} else {
		b = append(b, "- receive=-"...)
	}
	for _, s := range bothSides {
		c := &m.floor[s]
		b = append(b, ' ', s.letter(), '=', c.right.digit(), c.left.digit())
	}
	b = append(b, " first="...)
	if m.first == noSide {
		b = append(b, '-')
	} else {
		b = append(b, m.first.letter())
	}
	b = append(b, " start="...)
	if m.number == 0 {
		b = append(b, '-')
	} else {
		for _, s := range bothSides {
			b = name(b, personOf(s, m.starts[s]))
		}
	}
	b = append(b, " ends="...)
	b = append(b, '0'+byte(m.ends))
	if m.made {
		b = append(b, 'm')
	}
	if m.due {
		b = append(b, " due=e"...)
	} else {
		b = append(b, " due=-"...)
	}
	b = append(append(b, " phase="...), m.phase...)
	b = append(append(b, " result="...), orDash(m.result)...)
	b = append(append(b, " break="...), orDash(m.pause)...)
	b = pair(append(b, " timeouts="...), m.calls, ':')
	b = append(b, " medical=---- out=---- vw=0:0 tw=0:0"...)
	b = pair(append(b, " tf="...), m.fouls, ':')
	b = append(b, " gf=0:0 wrong=0:0 carry=----"...)
	return string(b)
}

// Call returns the score as it is called before the serve: the serving side's
// points first, then the server number in formats with two servers a turn. It
// is empty while no game is in play.
func (m *Match) Call() string {
	if m.phase != inPlay {
		return ""
	}
	s := m.server.side()
	b := pair(make([]byte, 0, 16), [2]int{m.score[s], m.score[s.other()]}, '-')
	if m.rules().Servers == 2 {
		b = append(b, '-', '0'+byte(m.turn))
	}
	return string(b)
}

func pair(b []byte, v [2]int, by byte) []byte {
	b = strconv.AppendInt(b, int64(v[0]), 10)
	return strconv.AppendInt(append(b, by), int64(v[1]), 10)
}

func name(b []byte, p person) []byte { return append(b, p.side().letter(), p.digit()) }

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}
