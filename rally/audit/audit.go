// Package audit checks what comes from elsewhere: final scores, logs rally by
// rally, sheets with marks, and the standings made of them.
//
// It answers three questions. Is this possible? If not, where is it wrong and
// what is the likeliest truth? And what follows for the table? Every answer is
// a [Finding]: a stable code with arguments, a severity and a place. Words are
// apart, in package words; CODES.md lists every code with the
// rule behind it, CORRUPTIONS.md what is made of known errors, and what nobody
// can see.
//
//   - [Finals] checks one game or match from its final scores ([ReportedMatch]), and
//     finds a shortest sequence of rallies that reaches them.
//   - [RallyLog.Audit] checks a log with whatever columns its source has, and
//     [RallyLog.Repair] finds the cheapest explanation of it.
//   - [Sheet.Read] rebuilds the state from the marks on a referee's sheet.
//   - [Season] checks matches against each other, [TeamRule] a match of teams,
//     [Standings] ranks sides and explains every line, [Ladder] moves places.
//   - [Columns] and [RowReader] read rows of a table, scores that a spreadsheet
//     turned into dates included.
//
// People are ids. Names are opaque: near-duplicates are pointed out, never
// merged. Nothing here decides what a director has to decide.
package audit

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/internal/names"
	"github.com/evencourt/evencourt/rally/words"
)

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
func (s Severity) String() string { return names.Of(severityNames, s) }

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
	About  string `json:"about,omitempty"`  // what the match is known by from one file to the next: [ReportedMatch.About]
	Game   int    `json:"game,omitempty"`   // number of the game, from 1
	Rally  int    `json:"rally,omitempty"`  // row of the log, from 1
	Field  string `json:"field,omitempty"`  // column or field
	// Edition is the one that the match was played under; 0 where that is not
	// known, or where many matches are looked at together.
	Edition format.Edition `json:"edition,omitzero"`
}

// Finding is one thing that was noticed.
type Finding struct {
	Code     FindingCode   `json:"code"`
	Severity Severity      `json:"severity"`
	Clause   format.Clause `json:"clause"` // the rule that it rests on, in the edition of its match
	Place
	Certain bool       `json:"certain,omitempty"` // of a repair: every cheapest explanation shares it
	Args    words.Args `json:"args,omitempty"`    // what it is about, by the names of its code in the catalog of words
}

// Text is the finding as a sentence, in no language yet.
func (f *Finding) Text() words.Text {
	out := words.New(words.Code("finding."+f.Code), f.Args...)
	e, _ := words.Lookup(out.Code)
	for _, p := range e.Params {
		if out.Args.Of(p.Name) != nil {
			continue
		}
		arg := words.Arg{Name: p.Name}
		switch p.Name {
		case "game":
			arg.Value = words.Number(f.Game)
		case "rally":
			arg.Value = words.Number(f.Rally)
		case "certain":
			arg.Value = words.New("certain.no")
			if f.Certain {
				arg.Value = words.New("certain.yes")
			}
		default:
			continue
		}
		out.Args = append(out.Args[:len(out.Args):len(out.Args)], arg)
	}
	return out
}

// Cited is what is known of the finding's clause in the edition of its match;
// false where no edition is known, or the clause does not stand in it.
func (f *Finding) Cited() (format.Source, bool) { return f.Clause.Source(f.Edition) }

// Key identifies a finding from one run to the next, so that it can be waived
// with a reason: its code and what it is about, never where it stands in a file
// that may be sorted anew or have rows put in. What it is about is the match by
// its content; where none is known, its id; otherwise what the finding says.
func (f *Finding) Key() string {
	key := string(f.Code) + "/"
	switch {
	case f.Code == nameNear || f.Code == nameTwoIDs:
		key += about(f.Args) // names, whoever plays
	case f.About != "":
		key += f.About
	case f.Match != "":
		key += f.Match
	default:
		key += about(f.Args) + strconv.Itoa(f.Line)
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

// about is what stands as it is among arguments.
func about(args words.Args) string {
	out := ""
	for _, a := range args {
		switch v := a.Value.(type) {
		case words.Plain:
			out += string(v) + "~"
		case words.Text:
			out += about(v.Args)
		}
	}
	return out
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
func Has(findings []Finding, c FindingCode) bool {
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

func unmarshal[E ~uint8](list []string, kind string, text []byte, v *E) error {
	found, ok := names.Find[E](list, string(text))
	if !ok || len(text) == 0 {
		return &InputError{Field: kind, Reason: "unknown value " + quote(text)}
	}
	*v = found
	return nil
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
