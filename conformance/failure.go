package conformance

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// Failure is a run that did not pass, of a case in a format: the first place at
// which the engine parts from it, or why it gave no answers.
type Failure struct {
	Feature  string  `json:"feature,omitempty"` // known when run by [Check]
	ID       string  `json:"case"`              // with the derivation, if it is a derived one
	Title    string  `json:"title"`
	Format   string  `json:"format"`
	Outcome  Outcome `json:"outcome"`
	Rules    []Rule  `json:"rules"` // what the case rests on in this format
	Because  string  `json:"because,omitempty"`
	Step     int     `json:"step"`                 // from 1; 0 for the start
	Name     string  `json:"checkpoint,omitempty"` // name of the checkpoint, if it has one
	Event    int     `json:"event"`                // number of the event in the case, from 1; 0 for the start
	Entry    string  `json:"entry,omitempty"`      // the event; empty for the start
	What     string  `json:"what,omitempty"`       // what differs: line, call, effects or refused
	Expected string  `json:"expected,omitempty"`
	Got      string  `json:"got,omitempty"` // or the reason why there was no answer
	URL      string  `json:"url,omitempty"`
	Foreseen bool    `json:"foreseen,omitempty"` // the manifest of expected failures has it
}

// Field is one field in which two lines differ.
type Field struct {
	Name     string `json:"field"`
	Expected string `json:"expected"`
	Got      string `json:"got"`
}

func failure(c *Case, formatID string, o Outcome) *Failure {
	return &Failure{ID: c.ID, Title: c.Title, Format: formatID, Because: c.Because, Outcome: o}
}

// MarshalJSON implements [json.Marshaler]: the fields that differ are listed too.
func (f Failure) MarshalJSON() ([]byte, error) {
	type plain Failure
	return json.Marshal(struct {
		plain
		Fields []Field `json:"fields,omitempty"`
	}{plain(f), f.Fields()})
}

// Fields lists every field in which the expected line and the one that came
// differ, in the order of the line; none if something else differs.
func (f *Failure) Fields() []Field {
	if f.What != "line" {
		return nil
	}
	return differences(f.Expected, f.Got)
}

// Differs names what differs first: a field of the line, or call, effects or
// refused; empty where there was no answer.
func (f *Failure) Differs() string {
	if fields := f.Fields(); len(fields) > 0 {
		return fields[0].Name
	}
	return f.What
}

// String says on a few lines what was expected and what came, and which fields
// differ.
func (f *Failure) String() string { return f.text("") }

// text is String with a remark after the name of the format.
func (f *Failure) text(remark string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n  format %s%s, ", f.ID, f.Title, f.Format, remark)
	switch {
	case f.Outcome != Wrong:
		fmt.Fprintf(&b, "%s: %s\n", f.Outcome, orNone(f.Got))
	case f.Event == 0:
		b.WriteString("at the start")
	default:
		fmt.Fprintf(&b, "event %d %q (step %d", f.Event, f.Entry, f.Step)
		if f.Name != "" {
			fmt.Fprintf(&b, ", %s", f.Name)
		}
		b.WriteString(")")
	}
	if f.Outcome == Wrong {
		fmt.Fprintf(&b, ": %s\n  expected %s\n  got      %s\n", f.What, orNone(f.Expected), orNone(f.Got))
	}
	if fields := f.Fields(); len(fields) > 0 {
		fmt.Fprintf(&b, "           %s^ %s\n", strings.Repeat(" ", offset(f.Expected, f.Got)), fields[0])
		for _, more := range fields[1:] {
			fmt.Fprintf(&b, "  and      %s\n", more)
		}
	}
	for i := range f.Rules {
		fmt.Fprintf(&b, "  clause %s\n", f.Rules[i].String())
	}
	if f.Because != "" {
		fmt.Fprintf(&b, "  because %s\n", f.Because)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// String says what was expected of a field and what came.
func (d Field) String() string {
	return fmt.Sprintf("%s: expected %q, got %q", d.Name, d.Expected, d.Got)
}

// orNone keeps an empty answer visible.
func orNone(s string) string {
	if s == "" {
		return "(nothing)"
	}
	return s
}

// base is the id of a case without its derivation.
func base(id string) string {
	id, _, _ = strings.Cut(id, "/")
	return id
}

// group is what failed of one case: the first run, and the others.
type group struct {
	first *Failure
	more  []*Failure
}

// groups gathers failures by case, in the order in which the cases failed.
func groups(failures []*Failure) []group {
	var out []group
	at := map[string]int{}
	for _, f := range failures {
		i, seen := at[base(f.ID)]
		if !seen {
			i = len(out)
			at[base(f.ID)] = i
			out = append(out, group{first: f})
			continue
		}
		out[i].more = append(out[i].more, f)
	}
	return out
}

// String is the first failure, and in which other formats and derivations the
// case failed.
func (g group) String() string {
	if len(g.more) == 0 {
		return g.first.String()
	}
	count := map[string]int{}
	var editions, derivations []string
	for _, f := range g.more {
		if _, derivation, ok := strings.Cut(f.ID, "/"); ok {
			if count[derivation]++; count[derivation] == 1 {
				derivations = append(derivations, derivation)
			}
			continue
		}
		count[""]++
		_, edition, _ := strings.Cut(f.Format, "@")
		if !slices.Contains(editions, edition) {
			editions = append(editions, edition)
		}
	}
	var parts []string
	if n := count[""]; n > 0 {
		parts = append(parts, fmt.Sprintf("%d more (%s)", n, strings.Join(editions, " ")))
	}
	for _, d := range derivations {
		parts = append(parts, fmt.Sprintf("%s in %d", d, count[d]))
	}
	return g.first.text(" and " + strings.Join(parts, ", "))
}
