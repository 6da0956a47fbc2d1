package format

import "strconv"

// Deviation is one value in which two formats differ.
type Deviation struct {
	Field string // as an id names it: "target", "last-target", "games", "foul-value"
	Was   string
	Is    string
}

// Deviations lists what another format has otherwise than f, in the order of
// an id: fields of all games, of the last one, of the match, then the readings
// of switches. Neither shapes nor editions are compared.
func (f Format) Deviations(is Format) []Deviation {
	var out []Deviation
	games := func(prefix string, a, b *Game) {
		for i := range gameFields {
			x := &gameFields[i]
			if was, now := x.get(a), x.get(b); was != now {
				out = append(out, Deviation{prefix + x.name, x.text(was), x.text(now)})
			}
		}
	}
	games("", &f.Game, &is.Game)
	if f.Match.Games > 1 || is.Match.Games > 1 {
		games("last-", &f.Last, &is.Last)
	}
	for i := range matchFields {
		x := &matchFields[i]
		if was, now := x.get(&f.Match), x.get(&is.Match); was != now {
			out = append(out, Deviation{x.name, x.text(was), x.text(now)})
		}
	}
	for s := Switch(1); s < switchCount; s++ {
		if f.Rulings[s] != is.Rulings[s] {
			out = append(out, Deviation{s.String(), f.Rulings.Text(s), is.Rulings.Text(s)})
		}
	}
	return out
}

// Settle gives every reading that nothing in the format ever asks for the value
// that it has in the edition. [Format.Validate] refuses such a reading as one that
// could do nothing; where a format was stored and a table corrected since, it may
// be there through nobody's fault.
func (f *Format) Settle() {
	edition := RulingsOf(f.Edition)
	for {
		s, _ := f.idle()
		if s == 0 {
			return
		}
		f.Rulings[s] = edition[s]
	}
}

func (f *field[T]) text(v uint8) string {
	if f.names == nil {
		return strconv.Itoa(int(v))
	}
	return nameOf(f.names, v)
}
