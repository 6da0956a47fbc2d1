package rally

import (
	"iter"
	"strconv"

	"github.com/evencourt/evencourt/format"
)

// What is printed of values that hold more than fields: in the names of the
// canonical line, so that a log of a program can be read. Only where it says so does
// it read back; what does is in MarshalText.

// String says the part of the canonical line that needs no rules, such as
// "game=1 won=0:0 score=4-3 phase=play".
func (s State) String() string {
	var buf [64]byte
	dst := buf[:0]
	for i := range lineFields {
		f := &lineFields[i]
		switch f.name {
		case "game", "won", "score", "phase":
			if len(dst) > 0 {
				dst = append(dst, ' ')
			}
			value := f.write(f, nil, s)
			dst = append(append(append(dst, f.name...), '='), value.text[:value.size]...)
		}
	}
	return string(dst)
}

// String says the format, how many entries there are, and the state.
func (l *Log) String() string {
	if l == nil || l.now.rules == nil {
		return "no log"
	}
	return l.now.rules.String() + " entries=" + strconv.Itoa(len(l.entries)) + " " + l.now.state.String()
}

// String says the number of the entry, its event and what that did.
func (st Step) String() string {
	out := strconv.Itoa(st.N) + " " + st.Event.String() + " " + st.Effects.String()
	if !st.Holds {
		out += " (does not hold)"
	}
	return out
}

// String says the canonical line, after the format.
func (v Snapshot) String() string { return v.Format + " " + v.Line }

// String says the call as it is written, such as "4-2-1".
func (c Call) String() string {
	out := strconv.Itoa(c.Serving) + "-" + strconv.Itoa(c.Receiving)
	if c.Number != 0 {
		out += "-" + strconv.Itoa(c.Number)
	}
	return out
}

// String says the incident as its event does, such as "server,struck,byref"; "-"
// for an empty one.
func (i Incident) String() string {
	if i == (Incident{}) {
		return "-"
	}
	return string(i.appendText(nil))
}

// String says who stands where, such as "A1 L left far".
func (s Spot) String() string {
	return s.Person.String() + " " + s.Court.String() + " " + s.Hand.String() + " " + s.Depth.String()
}

// String says on which hand the sides are, and who serves from where to whom.
func (v View) String() string {
	out := "A " + v.Hands[A].String() + ", B " + v.Hands[B].String()
	if v.Server != nil {
		out += ": " + v.Server.String()
	}
	if v.Receiver != nil {
		out += " to " + v.Receiver.String()
	}
	return out
}

// String says number, score and how the game came to it, such as "2: 9-11 played".
func (g GameScore) String() string {
	return strconv.Itoa(g.Number) + ": " + strconv.Itoa(g.Score[A]) + "-" + strconv.Itoa(g.Score[B]) + " " + g.How.String()
}

// String says the cause, the winner, the games won and the scores, such as
// "played A 2:0, 11-7 11-4".
func (m MatchResult) String() string {
	out := m.Cause.String()
	if m.Winner != nil {
		out += " " + m.Winner.String()
	}
	out += " " + strconv.Itoa(m.Won[A]) + ":" + strconv.Itoa(m.Won[B])
	for i, g := range m.Games {
		if i == 0 {
			out += ","
		}
		out += " " + strconv.Itoa(g.Score[A]) + "-" + strconv.Itoa(g.Score[B])
		if g.How != PlayedGame {
			out += " " + g.How.String()
		}
	}
	return out
}

// String says the name of the side, or of its players.
func (t Team) String() string {
	switch a, b := t.Players[0].Name, t.Players[1].Name; {
	case t.Name != "":
		return t.Name
	case a != "" && b != "":
		return a + " / " + b
	default:
		return a + b
	}
}

// String says what the match is called, and the names of both sides.
func (u Setup) String() string {
	var out string
	if u.Match != "" {
		out = u.Match + ": "
	}
	a, b := u.Sides[A].String(), u.Sides[B].String()
	if a == "" {
		a = A.String()
	}
	if b == "" {
		b = B.String()
	}
	return out + a + " - " + b
}

// All yields the clauses, the one that decided first.
func (g Grounds) All() iter.Seq[format.Clause] {
	return func(yield func(format.Clause) bool) {
		if first := g.First(); first != 0 && !yield(first) {
			return
		}
		if second := g.Second(); second != 0 {
			yield(second)
		}
	}
}

// String joins the ids of the clauses by a comma; "-" for none.
func (g Grounds) String() string {
	var out string
	for c := range g.All() {
		if out != "" {
			out += ","
		}
		out += c.String()
	}
	if out == "" {
		return "-"
	}
	return out
}

// MarshalText implements encoding.TextMarshaler.
func (g Grounds) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler. An unknown clause is a
// [*NameError].
func (g *Grounds) UnmarshalText(text []byte) error {
	var both [2]format.Clause
	rest, more := string(text), string(text) != "-"
	for n := 0; more; n++ {
		var id string
		id, rest, more = format.Cut(rest, ',')
		c, err := format.ClauseNamed(id)
		if err != nil || n >= len(both) {
			return &NameError{"clause", shorten(id)}
		}
		both[n] = c
	}
	*g = Grounds(both[0]) | Grounds(both[1])<<16
	return nil
}
