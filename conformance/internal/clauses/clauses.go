// Package clauses says which clauses of which edition the corpus covers.
//
// The list of clauses in scope is clauses.json: what a clause says, the
// numbers it has in which editions, and whether an engine can decide it. A
// case covers a clause in an edition if it cites one of its numbers and is
// played in a format of that edition.
package clauses

import (
	"bytes"
	_ "embed" // the list of clauses
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
)

//go:embed clauses.json
var list []byte

// Clause is one rule in scope, under all the numbers it has had.
type Clause struct {
	Clause string   `json:"clause"` // stable name
	About  string   `json:"about"`
	Rules  []Number `json:"rules"`
	Status string   `json:"status"` // engine, referee or open
	Why    string   `json:"why,omitempty"`
}

// Number is where a clause stands in a span of editions.
type Number struct {
	Editions string `json:"editions"` // FROM..TO
	Rule     string `json:"rule"`
}

// The states of a clause.
const (
	Engine  = "engine"  // an engine decides it: cases must cover it
	Referee = "referee" // somebody's eye, clock or office decides it
	Open    = "open"    // no text read settles it
)

// List returns the clauses in scope.
func List() ([]Clause, error) {
	var out []Clause
	d := json.NewDecoder(bytes.NewReader(list))
	d.DisallowUnknownFields()
	if err := d.Decode(&out); err != nil {
		return nil, fmt.Errorf("clauses: clauses.json: %w", err)
	}
	seen := map[string]bool{}
	for _, c := range out {
		switch {
		case c.Clause == "" || c.About == "" || len(c.Rules) == 0 || seen[c.Clause]:
			return nil, fmt.Errorf("clauses: clause %q is incomplete or stands twice", c.Clause)
		case c.Status != Engine && c.Status != Referee && c.Status != Open:
			return nil, fmt.Errorf("clauses: clause %s: status %q", c.Clause, c.Status)
		case (c.Status != Engine) != (c.Why != ""):
			return nil, fmt.Errorf("clauses: clause %s: why no engine decides it", c.Clause)
		}
		seen[c.Clause] = true
		for _, n := range c.Rules {
			if _, err := n.span(); err != nil {
				return nil, fmt.Errorf("clauses: clause %s: %w", c.Clause, err)
			}
		}
	}
	return out, nil
}

func (n Number) span() ([]format.Edition, error) {
	first, last, _ := strings.Cut(n.Editions, "..")
	var from, to format.Edition
	if err := from.UnmarshalText([]byte(first)); err != nil {
		return nil, err
	}
	if err := to.UnmarshalText([]byte(last)); err != nil {
		return nil, err
	}
	if from > to {
		return nil, fmt.Errorf("editions %s run backwards", n.Editions)
	}
	var out []format.Edition
	for e := from; e <= to; e++ {
		out = append(out, e)
	}
	return out, nil
}

// Row is a clause with the cases that cover it in each edition that has it.
type Row struct {
	Clause
	In    []format.Edition
	Cases map[format.Edition][]string
}

// State says how the clause stands in an edition: "" where it does not exist,
// else covered, referee, open or missing.
func (r *Row) State(e format.Edition) string {
	switch {
	case !slices.Contains(r.In, e):
		return ""
	case r.Status == Open:
		return Open
	case len(r.Cases[e]) > 0:
		return "covered"
	case r.Status != Engine:
		return r.Status
	}
	return "missing"
}

// Matrix joins the clauses with the cases.
func Matrix(files []conformance.File) ([]Row, error) {
	all, err := List()
	if err != nil {
		return nil, err
	}
	var rows []Row
	for _, c := range all {
		r := Row{Clause: c, Cases: map[format.Edition][]string{}}
		cited := map[string]bool{} // rule and edition
		for _, n := range c.Rules {
			span, err := n.span()
			if err != nil {
				return nil, err
			}
			for _, e := range span {
				cited[n.Rule+" "+e.String()] = true
				if !slices.Contains(r.In, e) {
					r.In = append(r.In, e)
				}
			}
		}
		slices.Sort(r.In)
		for i := range files {
			for _, k := range files[i].Cases {
				if k.Clause.Document != "pickleball" || !cited[k.Clause.Rule+" "+k.Clause.Edition] {
					continue
				}
				editions, err := editionsOf(&k)
				if err != nil {
					return nil, err
				}
				for _, e := range editions {
					r.Cases[e] = append(r.Cases[e], k.ID)
				}
			}
		}
		rows = append(rows, r)
	}
	return rows, nil
}

func editionsOf(c *conformance.Case) ([]format.Edition, error) {
	var out []format.Edition
	for _, entry := range c.Formats {
		ids, err := conformance.Expand(entry)
		if err != nil {
			return nil, err
		}
		for _, id := range ids {
			_, rest, _ := strings.Cut(id, "@")
			text, _, _ := strings.Cut(rest, "+")
			var e format.Edition
			if err := e.UnmarshalText([]byte(text)); err != nil {
				return nil, err
			}
			if !slices.Contains(out, e) {
				out = append(out, e)
			}
		}
	}
	return out, nil
}

// Uncited lists the rules that cases cite and no clause has, as EDITION RULE.
func Uncited(files []conformance.File) ([]string, error) {
	all, err := List()
	if err != nil {
		return nil, err
	}
	known := map[string]bool{}
	for _, c := range all {
		for _, n := range c.Rules {
			span, err := n.span()
			if err != nil {
				return nil, err
			}
			for _, e := range span {
				known[e.String()+" "+n.Rule] = true
			}
		}
	}
	var out []string
	for i := range files {
		for _, k := range files[i].Cases {
			at := k.Clause.Edition + " " + k.Clause.Rule
			numbered := k.Clause.Rule != "" && k.Clause.Rule[0] >= '0' && k.Clause.Rule[0] <= '9'
			if k.Clause.Document == "pickleball" && numbered && !known[at] {
				known[at] = true
				out = append(out, at)
			}
		}
	}
	slices.Sort(out)
	return out, nil
}

// Page writes CLAUSES.md.
func Page(rows []Row) string {
	editions := format.Editions(format.Pickleball)
	var b strings.Builder
	counts := map[string]int{}
	for i := range rows {
		for _, e := range editions {
			counts[rows[i].State(e)]++
		}
	}
	fmt.Fprintf(&b, `# Clauses by edition

Generated by %[1]sgo run ./conformance/cmd/clauses%[1]s from the cases and from [clauses.json](internal/clauses/clauses.json), which lists
the clauses in scope; do not edit. Test: %[1]sgo test ./conformance/internal/clauses%[1]s.

A number is how many cases cite the clause (under any of its numbers) and are played in that edition; *eye* stands where no engine
decides it, *open* where no text that was read settles it (with the cases of the default), **missing** where a case is wanted, nothing where the edition
has no such clause as far as is known. No complete chapter of an edition was read, so the list itself may lack clauses.

%[2]d clauses; by clause and edition: %[3]d covered, %[4]d by eye, %[5]d open, %[6]d missing.

`, "`", len(rows), counts["covered"], counts[Referee], counts[Open], counts["missing"])
	b.WriteString("| clause | what it says |")
	for _, e := range editions {
		b.WriteString(" " + e.String() + " |")
	}
	b.WriteString("\n|---|---|" + strings.Repeat("---|", len(editions)) + "\n")
	for i := range rows {
		r := &rows[i]
		fmt.Fprintf(&b, "| %s | %s |", r.Clause.Clause, r.About)
		for _, e := range editions {
			switch r.State(e) {
			case "covered":
				fmt.Fprintf(&b, " %d |", len(r.Cases[e]))
			case "missing":
				b.WriteString(" **missing** |")
			case Referee:
				b.WriteString(" *eye* |")
			case Open:
				fmt.Fprintf(&b, " *open* %d |", len(r.Cases[e]))
			default:
				b.WriteString(" |")
			}
		}
		b.WriteString("\n")
	}
	b.WriteString("\n## Cases\n\nThe numbers of each clause, and the cases that cite it, in any edition.\n\n| clause | numbers | cases | remark |\n|---|---|---|---|\n")
	for i := range rows {
		r := &rows[i]
		var numbers, ids []string
		for _, n := range r.Rules {
			numbers = append(numbers, n.Rule+" ("+n.Editions+")")
		}
		for _, e := range editions {
			for _, id := range r.Cases[e] {
				if !slices.Contains(ids, id) {
					ids = append(ids, id)
				}
			}
		}
		slices.Sort(ids)
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", r.Clause.Clause, strings.Join(numbers, ", "), ranges(ids), r.Why)
	}
	return b.String()
}

// ranges writes runs of ids as FIRST-LAST.
func ranges(ids []string) string {
	var out []string
	for i := 0; i < len(ids); {
		j := i
		for j+1 < len(ids) && follows(ids[j], ids[j+1]) {
			j++
		}
		switch j - i {
		case 0:
			out = append(out, ids[i])
		case 1:
			out = append(out, ids[i], ids[j])
		default:
			out = append(out, ids[i]+"-"+ids[j])
		}
		i = j + 1
	}
	return strings.Join(out, " ")
}

func follows(a, b string) bool {
	var m, n int
	if _, err := fmt.Sscanf(a+" "+b, "c%d c%d", &m, &n); err != nil {
		return false
	}
	return n == m+1
}
