package conformance

import (
	"fmt"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// Rule is a clause of a case as it stands in one format.
type Rule struct {
	Clause format.Clause `json:"clause"`
	// Set says that the edition does not have it, and a setting of the format
	// brings it.
	Set bool `json:"set,omitempty"`
	// Source is what is known of it in the edition; nil if it is set.
	Source *format.Source `json:"known,omitempty"`
}

// Mark says how well the rule is known; what an event sets is open.
func (r *Rule) Mark() format.Mark {
	if r.Set {
		return format.Open
	}
	return r.Source.Mark
}

// String names clause, document, edition, number and mark.
func (r *Rule) String() string {
	if r.Set {
		return r.Clause.String() + ": a setting of the format (open)"
	}
	s := r.Source
	words := []string{s.Document.String()}
	if s.Edition != 0 {
		words = append(words, s.Edition.String())
	}
	if s.Rule != "" {
		words = append(words, s.Rule)
	}
	return fmt.Sprintf("%s: %s (%s)", r.Clause, strings.Join(words, " "), s.Mark)
}

// Rules returns those clauses of a case that stand in a format, in their order.
func (c *Case) Rules(f *format.Format) []Rule {
	var out []Rule
	for _, named := range c.Clauses {
		if known, ok := named.Source(f.Edition); ok {
			out = append(out, Rule{Clause: named, Source: &known})
		} else if sets(f, named) {
			out = append(out, Rule{Clause: named, Set: true})
		}
	}
	return out
}

// Mark says how well it is known that a case is right in a format: that of the
// weakest of its clauses that stand there.
func (c *Case) Mark(f *format.Format) format.Mark {
	weakest := format.Mark(0)
	for _, r := range c.Rules(f) {
		weakest = max(weakest, r.Mark())
	}
	return weakest
}

// sets reports whether a format goes by a clause as the reading of a switch.
func sets(f *format.Format, c format.Clause) bool {
	for _, s := range format.Switches() {
		if f.Rulings[s] != 0 && f.Rulings.Clause(s) == c {
			return true
		}
	}
	return false
}
