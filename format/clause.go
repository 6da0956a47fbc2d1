package format

import (
	"strconv"

	"github.com/evencourt/evencourt/format/clause"
)

// A Clause names one rule: a row of the table that says where it stands and
// what is known of it there. Its names are the constants of package clause, and
// its sentence is a text of the language tables. The zero value names none.
type Clause uint16

// Keeper says who goes by a clause: "engine", "referee", "record" for what a log
// or a result holds, or "own" for a rule of this library.
type Keeper uint8

// The kinds of clauses.
const (
	byEngine  Keeper = iota + 1 // code decides it
	byReferee                   // for the eye, the clock or the office of the referee
	onRecord                    // what a log or a result holds
	ownRule                     // a rule of this library
)

var statusNames = []string{"", "engine", "referee", "record", "own"}

// latest ends a period that is open: it runs to the newest edition.
const latest Edition = 255

// A period that begins with one of these belongs to no edition of a rulebook:
// what clubs play goes with every edition of pickleball, the library's own rules
// go with all.
const (
	clubs = latest - 1
	ours  = latest - 2
)

type clauseRow struct {
	id     string
	status Keeper
	stands stands
}

// stands are the periods in which a clause stands; one that comes back after a
// gap, or stands in two documents, has several.
type stands [4]period

type period struct{ from, to Edition }

// A fact is what is known of a clause in a period.
type fact struct {
	from, to Edition
	number   string // rule number, or "" if none is known
	mark     Mark
	source   string // what it was read in, or ""
}

// Clauses lists every clause in the order of the table.
func Clauses() []Clause {
	out := make([]Clause, 0, len(clauses)-1)
	for c := 1; c < len(clauses); c++ {
		out = append(out, Clause(c))
	}
	return out
}

// ClauseNamed returns the clause with an id such as "order-replay"; an unknown
// one is an [*Error].
func ClauseNamed(id string) (Clause, error) {
	var c Clause
	err := c.UnmarshalText([]byte(id))
	return c, err
}

// In reports whether c stands in an edition. What only the rules of an event
// bring stands in none.
func (c Clause) In(e Edition) bool {
	if !c.exists() {
		return false
	}
	for _, p := range clauses[c].stands {
		if p.holds(e) {
			return true
		}
	}
	return false
}

// Source returns what is known of c in an edition in which it stands: document,
// rule number, mark, and what it was read in. It is false where c does not stand.
func (c Clause) Source(e Edition) (Source, bool) {
	if !c.In(e) {
		return Source{}, false
	}
	s := Source{Document: e.Document(), Edition: e, Mark: Derived}
	switch clauses[c].stands[0].from {
	case clubs:
		s.Document, s.Edition = Club, 0
	case ours:
		s.Document, s.Edition = Own, 0
	}
	if int(c) >= len(known) {
		return s, true
	}
	for _, f := range known[c] {
		if (period{f.from, f.to}).holds(e) {
			s.Rule, s.Mark, s.Text = f.number, f.mark, f.source
			break
		}
	}
	return s, true
}

// Status says who goes by c; 0 for no clause.
func (c Clause) Status() Keeper {
	if !c.exists() {
		return 0
	}
	return clauses[c].status
}

func (c Clause) exists() bool { return c > clause.None && int(c) < len(clauses) }

func (p period) holds(e Edition) bool {
	switch p.from {
	case 0:
		return false
	case clubs:
		return e.Document() == Pickleball
	case ours:
		return e.Document() != 0
	}
	return e.Document() == p.from.Document() && !e.Before(p.from) && (p.to == latest || !p.to.Before(e))
}

// String returns the id of c.
func (c Clause) String() string {
	if !c.exists() {
		return "?" + strconv.Itoa(int(c))
	}
	return clauses[c].id
}

// AppendText implements encoding.TextAppender.
func (c Clause) AppendText(b []byte) ([]byte, error) {
	if !c.exists() {
		return b, &Error{"clause", "value " + strconv.Itoa(int(c)) + " has no name"}
	}
	return append(b, clauses[c].id...), nil
}

// MarshalText implements encoding.TextMarshaler.
func (c Clause) MarshalText() ([]byte, error) { return c.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown ids.
func (c *Clause) UnmarshalText(text []byte) error {
	for i := 1; i < len(clauses); i++ {
		if clauses[i].id == string(text) {
			*c = Clause(i)
			return nil
		}
	}
	return &Error{"clause", "unknown id " + Quote(string(text))}
}
