package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

var ruleCommand = command{
	name: "rule", takes: "[EDITION] [WORD…]",
	about:  "the clauses that a word matches, in their id, sentence or reading: where they stand, how well that is known, what uses them",
	parts:  []string{"rules"},
	answer: rulesThatMatch,
}

// knownClause is a clause with what is known of it and what rests on it.
type knownClause struct {
	Clause   format.Clause       `json:"clause"`
	Status   format.Keeper       `json:"status"`
	Sentence string              `json:"sentence"`
	Stands   []standing          `json:"stands"`             // edition by edition, neighbours alike joined; none: only a setting brings it
	Readings []string            `json:"readings,omitempty"` // SWITCH=VALUE that it is
	Findings []audit.FindingCode `json:"findings,omitempty"` // of an audit, that rest on it
	Cases    []string            `json:"cases,omitempty"`    // of the corpus, that name it
}

// standing is what is known of a clause in editions that follow one another.
type standing struct {
	From format.Edition `json:"from,omitzero"` // 0: in every edition
	To   format.Edition `json:"to,omitzero"`
	format.Source
}

// rulesThatMatch lists the clauses that hold every word, of those that stand in
// the edition if the first argument is one.
func rulesThatMatch(q *question) (*answer, error) {
	search, edition := q.args, format.Edition(0)
	if len(search) > 0 && edition.UnmarshalText([]byte(search[0])) == nil {
		search = search[1:]
	}
	uses, err := usesOfClauses()
	if err != nil {
		return nil, err
	}
	var found []knownClause
	for _, c := range format.Clauses() {
		k := knownClause{Clause: c, Status: c.Status(), Sentence: tell(words.Code("rule." + c.String())),
			Readings: uses.readings[c], Findings: uses.findings[c], Cases: uses.cases[c]}
		if edition != 0 && !c.In(edition) || !k.holds(search) {
			continue
		}
		k.Stands = standings(c, edition)
		found = append(found, k)
	}
	if len(found) == 0 {
		return nil, fmt.Errorf("no clause holds: %s", program.Shorten(strings.Join(q.args, " ")))
	}
	d := document{Title: tell("lab.rules-that-match", words.Count("n", len(found))), Lead: []string{tell("lab.rules-lead")}}
	for _, k := range found {
		d.Parts = append(d.Parts, k.part())
	}
	return &answer{document: d, figures: found}, nil
}

// holds reports whether every word stands in the id, the sentence or a reading.
func (k *knownClause) holds(search []string) bool {
	text := strings.ToLower(k.Clause.String() + " " + k.Sentence + " " + strings.Join(k.Readings, " "))
	return !slices.ContainsFunc(search, func(word string) bool { return !strings.Contains(text, strings.ToLower(word)) })
}

// standings lists where a clause stands, oldest first; of one edition, if it is
// given, only that.
func standings(c format.Clause, only format.Edition) []standing {
	var out []standing
	for _, document := range format.Documents() {
		joins := false // the edition before this one knows the same
		for _, e := range format.Editions(document) {
			s, ok := c.Source(e)
			if !ok || only != 0 && e != only {
				joins = false
				continue
			}
			if s.Edition == 0 { // of clubs, or our own: not of any edition
				return []standing{{Source: s}}
			}
			if last := len(out) - 1; joins && out[last].sameAs(s) {
				out[last].To = e
				continue
			}
			out, joins = append(out, standing{From: e, To: e, Source: s}), true
		}
	}
	return out
}

// sameAs reports whether another edition's source says the same.
func (s *standing) sameAs(other format.Source) bool {
	other.Edition = s.Edition
	return s.Source == other
}

// part shows a clause to people.
func (k *knownClause) part() part {
	t := &table{Head: []string{tell("lab.rule-editions"), tell("lab.rule-number"), tell("lab.rule-mark"), tell("lab.rule-read-in")}, Left: 4}
	for _, s := range k.Stands {
		editions := tell("lab.rule-every-edition")
		switch {
		case s.From != s.To:
			editions = tell("lab.rule-span", words.Name("from", s.From.String()), words.Name("to", s.To.String()))
		case s.From != 0:
			editions = s.From.String()
		}
		t.add(editions, s.Rule, tell(words.Code("mark."+s.Mark.String())), s.Text)
	}
	out := part{Name: "rules", Title: k.Clause.String(), Notes: []string{k.Sentence}, Table: t}
	if len(k.Stands) == 0 {
		out.Table, out.Then = nil, append(out.Then, tell("lab.rule-only-set"))
	}
	for _, use := range []struct {
		code  words.Code
		names []string
	}{{"lab.rule-readings", k.Readings}, {"lab.rule-findings", textsOf(k.Findings)}, {"lab.rule-cases", k.Cases}} {
		if len(use.names) > 0 {
			out.Then = append(out.Then, tell(use.code, words.Name("names", strings.Join(use.names, ", "))))
		}
	}
	return out
}

func textsOf(codes []audit.FindingCode) []string {
	var out []string
	for _, c := range codes {
		out = append(out, string(c))
	}
	return out
}

// uses says what rests on each clause, of what can be listed.
type uses struct {
	readings map[format.Clause][]string
	findings map[format.Clause][]audit.FindingCode
	cases    map[format.Clause][]string
}

func usesOfClauses() (uses, error) {
	u := uses{map[format.Clause][]string{}, map[format.Clause][]audit.FindingCode{}, map[format.Clause][]string{}}
	for _, s := range format.Switches() {
		for _, value := range s.Readings() {
			var r format.Rulings
			if r.SetText(s, value) == nil {
				u.readings[r.Clause(s)] = append(u.readings[r.Clause(s)], s.String()+"="+value)
			}
		}
		// A number is a reading of its edition.
		for _, document := range format.Documents() {
			for _, e := range format.Editions(document) {
				r := format.RulingsOf(e)
				if name := s.String() + "=" + r.Text(s); r[s] != 0 && !slices.Contains(u.readings[r.Clause(s)], name) {
					u.readings[r.Clause(s)] = append(u.readings[r.Clause(s)], name)
				}
			}
		}
	}
	for _, code := range audit.FindingCodes() {
		for _, c := range code.Clauses() {
			u.findings[c] = append(u.findings[c], code)
		}
	}
	files, err := conformance.Load()
	if err != nil {
		return u, err
	}
	for _, f := range files {
		for _, k := range f.Cases {
			for _, c := range k.Clauses {
				u.cases[c] = append(u.cases[c], k.ID)
			}
		}
	}
	return u, nil
}
