// Package audit checks what comes from elsewhere: final scores, logs rally by
// rally, sheets with marks, and the standings made of them.
//
// It answers three questions. Is this possible? If not, where is it wrong and
// what is the likeliest truth? And what follows for the table? Every answer is
// a [Finding]: a stable code with arguments, a severity and a place. Words are
// apart, one table a language ([English]); CODES.md lists every code with the
// rule behind it, CORRUPTIONS.md what is made of known errors, and what nobody
// can see.
//
//   - [Finals] checks one game or match from its final scores ([Match]), and
//     finds a shortest sequence of rallies that reaches them.
//   - [Log.Audit] checks a log with whatever columns its source has, and
//     [Log.Repair] finds the cheapest explanation of it.
//   - [Sheet.Read] rebuilds the state from the marks on a referee's sheet.
//   - [Season] checks matches against each other, [TeamRule] a match of teams,
//     [Table] ranks sides and explains every line, [Ladder] moves places.
//   - [Columns] and [ReadRow] read rows of a table, scores that a spreadsheet
//     turned into dates included.
//
// People are ids. Names are opaque: near-duplicates are pointed out, never
// merged. Nothing here decides what a director has to decide.
package audit

import "strconv"

// Severity says how much a finding matters.
type Severity uint8

// The severities.
const (
	Note    Severity = iota + 1 // worth knowing; nothing is wrong
	Warning                     // possible, but somebody should look
	Error                       // cannot be so
)

var severityNames = []string{"", "note", "warning", "error"}

// String returns "note", "warning" or "error".
func (s Severity) String() string { return nameOf(severityNames, s) }

// MarshalText implements encoding.TextMarshaler.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (s *Severity) UnmarshalText(text []byte) error {
	return unmarshal(severityNames, "severity", text, s)
}

// Place says where a finding is. Zero fields are unknown or do not apply.
type Place struct {
	Source string `json:"source,omitempty"` // file or stream
	Line   int    `json:"line,omitempty"`   // line of the source, from 1
	Match  string `json:"match,omitempty"`  // id of the match
	Game   int    `json:"game,omitempty"`   // number of the game, from 1
	Rally  int    `json:"rally,omitempty"`  // row of the log, from 1
	Field  string `json:"field,omitempty"`  // column or field
}

// Finding is one thing that was noticed.
type Finding struct {
	Code     Code     `json:"code"`
	Severity Severity `json:"severity"`
	Place
	Args
}

// Args are what a finding's sentence is about. A code uses the fields that its
// sentence names; the others are zero.
type Args struct {
	Score [2]int `json:"score,omitzero"`    // as recorded, A and B
	Want  [2]int `json:"want,omitzero"`     // as it should be, or is proposed to be
	N     int    `json:"n,omitempty"`       // a number: how many there are
	M     int    `json:"m,omitempty"`       // a number: how many there should be, or another place
	Text  string `json:"text,omitempty"`    // what was read, an id, a name
	Other string `json:"other,omitempty"`   // what it disagrees with, or is proposed
	More  bool   `json:"certain,omitempty"` // of a repair: every cheapest explanation shares it
}

// Key identifies a finding from one run to the next, so that it can be waived
// with a reason: its code and what it is about, never where it stands in a
// file that may be sorted anew.
func (f *Finding) Key() string {
	key := f.Code.String() + "/" + f.Match
	if f.Match == "" {
		key += f.Text + "~" + f.Other + "~" + strconv.Itoa(f.Line)
	}
	if f.Game != 0 {
		key += "/g" + strconv.Itoa(f.Game)
	}
	if f.Rally != 0 {
		key += "/r" + strconv.Itoa(f.Rally)
	}
	if f.Field != "" {
		key += "/" + f.Field
	}
	return key
}

// Worst returns the highest severity among findings, 0 if there are none.
func Worst(findings []Finding) Severity {
	worst := Severity(0)
	for i := range findings {
		worst = max(worst, findings[i].Severity)
	}
	return worst
}

// Has reports whether a finding with this code is among them.
func Has(findings []Finding, c Code) bool {
	for i := range findings {
		if findings[i].Code == c {
			return true
		}
	}
	return false
}

// An InputError reports a value that cannot be read or that nobody can audit:
// the field at fault and why.
type InputError struct {
	Line   int    // line of the source, from 1; 0 where there is none
	Field  string // column, or dotted path of the field
	Reason string
}

// Error implements error.
func (e *InputError) Error() string {
	at := "audit: "
	if e.Line != 0 {
		at += "line " + strconv.Itoa(e.Line) + ": "
	}
	if e.Field != "" {
		at += e.Field + ": "
	}
	return at + e.Reason
}

func nameOf[E ~uint8](names []string, v E) string {
	if int(v) < len(names) {
		return names[v]
	}
	return "?"
}

func unmarshal[E ~uint8](names []string, kind string, text []byte, v *E) error {
	for i, name := range names {
		if name != "" && name == string(text) {
			*v = E(i)
			return nil
		}
	}
	return &InputError{Field: kind, Reason: "unknown value " + quote(text)}
}

// quote keeps a message short and printable whatever was read.
func quote[T ~string | ~[]byte](text T) string {
	const most = 40
	if len(text) > most {
		return strconv.Quote(string(text[:most])) + "…"
	}
	return strconv.Quote(string(text))
}

func itoa(n int) string { return strconv.Itoa(n) }
