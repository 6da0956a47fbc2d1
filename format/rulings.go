package format

import (
	"strconv"

	"github.com/evencourt/evencourt/format/clause"
)

// Switch is one matter on which editions or readings differ. [Switches] lists
// them, [Clause.Switch] is the one that a clause is a reading of;
// [Switch.About] says what each decides, [Switch.Readings] what values it
// takes. EDITIONS.md shows them by edition.
type Switch uint8

// Rulings are an edition's answers to everything that is not scoring: one
// value a [Switch]. A value is an index into the switch's readings, or a plain
// number where the switch holds one; 0 means that the edition has no such rule.
// [Rulings.Takes] asks for a reading by its clause.
type Rulings [switchCount]uint16

// RulingsOf returns the rulings of an edition: of each switch the reading whose
// clause stands there, and so every open point at its default.
func RulingsOf(e Edition) Rulings {
	if e.Document() == 0 {
		return Rulings{}
	}
	return rulingsByEdition.get()[e]
}

// rulingsByEdition are the rulings of all editions.
var rulingsByEdition = once[[]Rulings]{make: rulingsOfAll}

func rulingsOfAll() []Rulings {
	out := make([]Rulings, len(editions))
	for e := range out {
		out[e] = rulingsOf(Edition(e))
	}
	return out
}

func rulingsOf(e Edition) Rulings {
	var r Rulings
	for s := Switch(1); s < switchCount; s++ {
		row := &table[s]
		for i := range row.readings {
			if row.readings[i].clause.In(e) {
				r[s] = uint16(i + 1)
			}
		}
		for _, n := range row.numbers {
			if n.clause.In(e) {
				r[s] = n.value
			}
		}
		if !r.asks(s) {
			r[s] = 0
		}
	}
	return r
}

// asks reports whether these rulings ever come to the question that a switch
// answers. What it needs stands before it in the order of the switches.
func (r *Rulings) asks(s Switch) bool {
	needs := table[s].needs
	for _, needed := range needs {
		if r.Takes(needed) {
			return true
		}
	}
	return len(needs) == 0
}

// idle names the first setting of an event's own that nothing ever asks for,
// with the reason; 0 for none.
func (f *Format) idle() (s Switch, reason string) {
	edition := RulingsOf(f.Edition)
	for s := Switch(1); s < switchCount; s++ {
		if f.Rulings[s] == edition[s] {
			continue
		}
		switch {
		case !f.Rulings.asks(s):
			reason = "is asked only under " + list(table[s].neededNames())
		case s == fixedCourtFoul && f.Game.Order != FixedCourts && f.Last.Order != FixedCourts:
			reason = "is asked on fixed courts only"
		case s == swapFoul && f.Game.Order != SwapOnServe && f.Last.Order != SwapOnServe:
			reason = "is asked only where partners change places on own serve"
		case s == openingWord && f.Game.Servers != 2 && f.Last.Servers != 2:
			reason = "is asked only where a turn has two servers, who are numbered"
		case s >= timeOuts7 && s <= timeOuts21 && s != TimeOutSwitch(f.Game.Target) && s != TimeOutSwitch(f.Last.Target):
			reason = "no game has that target"
		default:
			continue
		}
		return s, reason
	}
	return 0, ""
}

// neededNames lists what a switch needs as readings, SWITCH=VALUE.
func (w *switchRow) neededNames() []string {
	var names []string
	for s := Switch(1); s < switchCount; s++ {
		for _, of := range table[s].readings {
			for _, needed := range w.needs {
				if of.clause == needed {
					names = append(names, s.String()+"="+of.name)
				}
			}
		}
	}
	return names
}

// Clause returns the clause that a switch goes by: that of its reading, whether
// the edition takes it or the rules of an event set it; 0 where there is no such
// rule. A number of one's own goes by the clause of the edition's number.
func (r *Rulings) Clause(s Switch) Clause {
	if s == 0 || s >= switchCount {
		return clause.None
	}
	return table[s].clauseOf(r[s])
}

// Takes reports whether c is the clause that its switch goes by, as [Rulings.Clause]
// says; never for a clause that is no reading of a switch.
func (r *Rulings) Takes(c Clause) bool {
	s := c.Switch()
	return s != 0 && r.Clause(s) == c
}

// Of returns the clause that is taken of those between which one switch chooses,
// c among them; 0 where there is no such rule.
func (r *Rulings) Of(c Clause) Clause { return r.Clause(c.Switch()) }

// Number returns the number that is in force by c, whether the edition gives it
// or the rules of an event; 0 where there is none.
func (r *Rulings) Number(c Clause) int {
	s := c.Switch()
	if table[s].unit == "" {
		return 0
	}
	return int(r[s])
}

// Take sets the switch that c is a reading of to it, and reports whether there
// is one.
func (r *Rulings) Take(c Clause) bool {
	s := c.Switch()
	for i, of := range table[s].readings {
		if of.clause == c {
			r[s] = uint16(i + 1)
			return true
		}
	}
	for _, of := range table[s].numbers {
		if of.clause == c {
			r[s] = of.value
			return true
		}
	}
	return false
}

// Switch returns the switch that c is a reading of, or the number of; 0 for none.
func (c Clause) Switch() Switch {
	if !c.exists() {
		return 0
	}
	return switchByClause.get()[c]
}

// switchByClause holds of each clause the switch that it is a reading of. No
// clause is a reading of two.
var switchByClause = once[[]Switch]{make: func() []Switch {
	out := make([]Switch, len(clauses))
	for s := range table {
		for _, of := range table[s].readings {
			out[of.clause] = Switch(s)
		}
		for _, of := range table[s].numbers {
			out[of.clause] = Switch(s)
		}
	}
	return out
}}

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
	if row.unit != "" {
		n, ok := Natural(value, int(row.most))
		if !ok {
			return &Error{"rulings." + s.String(), "want a number up to " + strconv.Itoa(int(row.most)) + ", not " + Quote(value)}
		}
		r[s] = uint16(n)
		return nil
	}
	for i := range row.readings {
		if row.readings[i].name == value {
			r[s] = uint16(i + 1)
			return nil
		}
	}
	return &Error{"rulings." + s.String(), "unknown reading " + Quote(value) + ", want " + list(row.names())}
}

func (r *Rulings) validate() error {
	if r[0] != 0 {
		return &Error{"rulings", "entry 0 stands for no switch and must be 0"}
	}
	for s := Switch(1); s < switchCount; s++ {
		row := &table[s]
		if row.unit == "" && int(r[s]) > len(row.readings) || row.unit != "" && r[s] > row.most {
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
	if unit := table[s].unit; unit != "" {
		return []string{unit}
	}
	return table[s].names()
}

// Moves says where another reading of a switch shows: "line", "result", "clock"
// for a length of time that is measured, or "words" for what is only called,
// said or asked.
type Moves uint8

// What a switch can move.
const (
	movesLine   Moves = iota + 1 // the line of a match, or which events it takes
	movesResult                  // a result as it is recorded, or a table of results
	movesClock                   // a length of time that is measured
	movesWords                   // what is called, said or asked only
)

var movesNames = []string{"", "line", "result", "clock", "words"}

// Moves says where another reading of s shows; 0 for no switch.
func (s Switch) Moves() Moves {
	if s == 0 || s >= switchCount {
		return 0
	}
	return table[s].moves
}

// A switchRow is a switch: its name, what it moves, and its readings with the
// clauses that they go by.
type switchRow struct {
	id       string
	moves    Moves
	needs    []Clause  // it is asked only where one of these is the reading in force; none: always
	readings []reading // empty for a number
	unit     string    // unit of a number
	most     uint16    // largest number
	numbers  []number  // numbers that editions give
}

type reading struct {
	name   string
	clause Clause
}

type number struct {
	value  uint16
	clause Clause
}

func (w *switchRow) text(v uint16) string {
	switch {
	case w.unit != "" && v != 0:
		return strconv.Itoa(int(v))
	case v == 0 || int(v) > len(w.readings):
		return "-"
	}
	return w.readings[v-1].name
}

func (w *switchRow) clauseOf(v uint16) Clause {
	switch {
	case w.unit == "" && v > 0 && int(v) <= len(w.readings):
		return w.readings[v-1].clause
	case w.unit == "" || v == 0:
		return clause.None
	}
	for _, n := range w.numbers {
		if n.value == v {
			return n.clause
		}
	}
	return w.numbers[0].clause
}

func (w *switchRow) names() []string {
	names := make([]string, len(w.readings))
	for i := range w.readings {
		names[i] = w.readings[i].name
	}
	return names
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
