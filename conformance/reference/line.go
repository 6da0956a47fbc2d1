package reference

import "strconv"

// version is that of the line which is written: the second, in which due says
// until when partners may exchange and carry is a set a person.
const version = 2

// Line returns the state as the canonical line.
func (m *Match) Line() string { return m.line(version) }

func (m *Match) line(version int) string {
	b := make([]byte, 0, 360)
	b = strconv.AppendInt(append(b, 'L'), int64(version), 10)
	b = append(b, " game="...)
	b = strconv.AppendInt(b, int64(m.number), 10)
	b = pair(append(b, " won="...), m.won, ':')
	b = pair(append(b, " score="...), m.score, '-')
	b = pair(append(b, " opens="...), m.opens, ':')
	b = append(b, " serve="...)
	if m.phase == inPlay {
		b = append(append(b, name(m.server)...), '@', m.servesFrom(), '#')
		if m.rules().Servers == 1 {
			b = append(b, '-')
		} else {
			b = append(b, '0'+byte(m.turn))
		}
		b = append(append(b, " receive="...), m.receiverName()...)
	} else {
		b = append(b, "- receive=-"...)
	}
	for _, s := range bothSides {
		c := &m.floor[s]
		b = append(b, ' ', s.letter(), '=', c.right.digit(), c.left.digit())
	}
	b = append(b, " first="...)
	if m.choice != 0 {
		b = append(b, byte(m.choice))
	}
	if m.first == noSide {
		b = append(b, '-')
	} else {
		b = append(b, m.first.letter())
	}
	b = append(b, " start="...)
	if !m.begun {
		b = append(b, '-')
	} else {
		for _, s := range bothSides {
			b = append(b, name(personOf(s, m.starts[s]))...)
		}
	}
	b = append(b, " ends="...)
	b = append(b, '0'+byte(m.ends))
	if m.made {
		b = append(b, 'm')
	}
	b = append(append(b, " due="...), orDash(m.dues(version))...)
	b = append(append(b, " phase="...), m.phase...)
	result := m.result
	if m.paused {
		result += "ab"
	}
	b = append(append(b, " result="...), orDash(result)...)
	b = append(append(b, " break="...), orDash(m.pause)...)
	b = pair(append(b, " timeouts="...), m.calls, ':')
	b = append(append(b, " medical="...), m.medical.word()...)
	b = append(append(b, " out="...), m.out.word()...)
	b = pair(append(b, " vw="...), m.verbals, ':')
	b = pair(append(b, " tw="...), m.warnings, ':')
	b = pair(append(b, " tf="...), m.fouls, ':')
	b = pair(append(b, " gf="...), m.forfeits, ':')
	b = pair(append(b, " wrong="...), m.wrong, ':')
	b = append(b, " carry="...)
	for p := a1; p <= b2; p++ {
		b = append(b, m.carriedBy(p).letter(version))
	}
	return string(b)
}

// dues are the letters of what is due.
func (m *Match) dues(version int) string {
	s := ""
	if m.due {
		s += "e"
	}
	if m.right {
		s += "p"
	}
	if m.walking && version > 1 {
		s += "x"
	}
	return s
}

// word writes what is said about each of the four.
func (w *perPerson) word() string {
	b := []byte("----")
	for i, c := range w {
		if c != 0 {
			b[i] = c
		}
	}
	return string(b)
}

// carriedBy is what the line says that a person brought: with a warning or foul
// of the same pair as the partner's said to be so where more than one is on record.
func (m *Match) carriedBy(p person) carried {
	c, s := m.carried[p-a1], p.side()
	both := c & m.carried[p.partner()-a1]
	if both&carriedWarning != 0 && m.brought[s].warnings == 1 && m.warnings[s] > 1 {
		c |= sameWarning
	}
	if both&carriedFoul != 0 && m.brought[s].fouls == 1 && m.fouls[s] > 1 {
		c |= sameFoul
	}
	return c
}

func (c carried) letter(version int) byte {
	switch {
	case c == 0:
		return '-'
	case version > 1:
		return "-123456789abcdefghijklmnopqrstuv"[c]
	case c&carriedFoul != 0:
		return 'f'
	case c&carriedWarning != 0:
		return 'w'
	}
	return '-' // the first version has no word for a verbal warning
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

func name(p person) string { return string([]byte{p.side().letter(), p.digit()}) }

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// receiverName writes who receives, a dash where nobody says it.
func (m *Match) receiverName() string {
	if p := m.receiver(); p != nobody {
		return name(p)
	}
	return "-"
}
