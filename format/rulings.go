package format

import "strconv"

// Rulings are an edition's answers to everything that is not scoring: one
// value a [Switch]. A value is an index into the switch's readings, or a plain
// number where the switch holds one; 0 means that the edition has no such rule.
type Rulings [switchCount]uint16

// RulingsOf returns the rulings of an edition, every open point at its default.
func RulingsOf(e Edition) Rulings {
	var r Rulings
	for s := Switch(1); s < switchCount; s++ {
		if sp := spanOf(e, s); sp != nil {
			r[s] = sp.value
		}
	}
	return r
}

// Text returns the value of a switch as text; "-" where there is no such rule.
func (r *Rulings) Text(s Switch) string {
	if s == 0 || s >= switchCount {
		return "-"
	}
	return table[s].text(r[s])
}

// SetText sets a switch to the reading with that name, or to "-".
func (r *Rulings) SetText(s Switch, value string) error {
	if s == 0 || s >= switchCount {
		return &Error{"switch", "no such switch"}
	}
	row := &table[s]
	if value == "-" {
		r[s] = 0
		return nil
	}
	if len(row.values) == 0 {
		n, ok := parseNumber(value)
		if !ok || n > row.most {
			return &Error{"rulings." + s.String(), "want a number up to " + strconv.Itoa(int(row.most)) + ", not " + Quote(value)}
		}
		r[s] = n
		return nil
	}
	for i, name := range row.values {
		if name == value {
			r[s] = uint16(i + 1)
			return nil
		}
	}
	return &Error{"rulings." + s.String(), "unknown reading " + Quote(value) + ", want " + list(row.values)}
}

func (r *Rulings) validate() error {
	if r[0] != 0 {
		return &Error{"rulings", "entry 0 stands for no switch and must be 0"}
	}
	for s := Switch(1); s < switchCount; s++ {
		row := &table[s]
		if len(row.values) > 0 && int(r[s]) > len(row.values) || len(row.values) == 0 && r[s] > row.most {
			return &Error{"rulings." + s.String(), "no reading " + strconv.Itoa(int(r[s]))}
		}
	}
	return nil
}

// Switches lists every switch in a stable order.
func Switches() []Switch {
	out := make([]Switch, 0, switchCount-1)
	for s := Switch(1); s < switchCount; s++ {
		out = append(out, s)
	}
	return out
}

// About says in one sentence what a switch decides.
func (s Switch) About() string {
	if s == 0 || s >= switchCount {
		return ""
	}
	return abouts[s]
}

// Readings lists the values a switch can take; for a number, its unit.
func (s Switch) Readings() []string {
	if s == 0 || s >= switchCount {
		return nil
	}
	return table[s].readings()
}

// A row is a switch: its name, its readings, and which editions take
// which of them.
type row struct {
	id     string
	values []string // readings; empty for a number
	unit   string   // unit of a number
	most   uint16   // largest number
	spans  []span
}

// A span gives the editions from to to one value with its source.
type span struct {
	from, to Edition
	value    uint16
	rule     string
	mark     Mark
}

func (w *row) text(v uint16) string {
	switch {
	case len(w.values) == 0 && v != 0:
		return strconv.Itoa(int(v))
	case v == 0 || int(v) > len(w.values):
		return "-"
	}
	return w.values[v-1]
}

func (w *row) readings() []string {
	if len(w.values) == 0 {
		return []string{w.unit}
	}
	return append([]string(nil), w.values...)
}

func spanOf(e Edition, s Switch) *span {
	if s == 0 || s >= switchCount {
		return nil
	}
	for i := range table[s].spans {
		if sp := &table[s].spans[i]; e >= sp.from && e <= sp.to {
			return sp
		}
	}
	return nil
}

// String returns the text name of s.
func (s Switch) String() string {
	if s == 0 || s >= switchCount {
		return "?" + strconv.Itoa(int(s))
	}
	return table[s].id
}

// MarshalText implements encoding.TextMarshaler.
func (s Switch) MarshalText() ([]byte, error) {
	if s == 0 || s >= switchCount {
		return nil, &Error{"switch", "value " + strconv.Itoa(int(s)) + " has no name"}
	}
	return []byte(table[s].id), nil
}

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (s *Switch) UnmarshalText(text []byte) error {
	for i := Switch(1); i < switchCount; i++ {
		if table[i].id == string(text) {
			*s = i
			return nil
		}
	}
	return &Error{"switch", "unknown name " + Quote(string(text))}
}

// parseNumber reads a decimal number below 10000 without leading zeros.
func parseNumber(s string) (n uint16, ok bool) {
	if s == "" || len(s) > 4 || len(s) > 1 && s[0] == '0' {
		return 0, false
	}
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = n*10 + uint16(s[i]-'0')
	}
	return n, true
}
