// Command reportpage makes one static page, and a badge an engine, of reports
// that checkengine wrote with -json: which engine plays what of the corpus, by
// feature and edition.
//
//	go run ./conformance/cmd/reportpage -out FOLDER REPORT.json...
package main

import (
	_ "embed" // the page
	"encoding/json"
	"flag"
	"fmt"
	"html/template"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
)

//go:embed page.html
var pageText string

//go:embed badge.svg
var badgeText string

func main() {
	out := flag.String("out", ".", "`folder` to write to")
	flag.Parse()
	if err := run(*out, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "reportpage:", err)
		os.Exit(2)
	}
}

func run(out string, files []string) error {
	if len(files) == 0 {
		return fmt.Errorf("name reports that checkengine wrote with -json")
	}
	var reports []conformance.Report
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		var r conformance.Report
		if err := json.Unmarshal(text, &r); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if r.Verdict == "" {
			return fmt.Errorf("%s: is no report of checkengine", name)
		}
		reports = append(reports, r)
	}
	if err := os.MkdirAll(out, 0o777); err != nil {
		return err
	}
	if err := write(filepath.Join(out, "index.html"), pageText, newPage(reports)); err != nil {
		return err
	}
	for i, r := range reports {
		if err := write(filepath.Join(out, fmt.Sprintf("badge-%d.svg", i+1)), badgeText, newBadge(&r)); err != nil {
			return err
		}
	}
	return nil
}

func write(path, text string, data any) error {
	page, err := template.New("").Parse(text)
	if err != nil {
		return err
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := page.Execute(f, data); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

type badge struct {
	Label, Verdict string
	Good           bool
}

// newBadge says how much was conformant; a selection never is.
func newBadge(r *conformance.Report) badge {
	b := badge{Label: "corpus " + r.Corpus, Verdict: string(r.Verdict)}
	switch {
	case r.Selected != "":
		b.Verdict = "a selection alone"
	case r.Verdict == conformance.Conformant:
		n := 0
		for _, p := range r.Profiles {
			if p.Claimed {
				n++
			}
		}
		b.Good, b.Verdict = true, fmt.Sprintf("conformant, profiles: %d", n)
	}
	return b
}

// page holds a table of all editions and one of each: a row a feature, a column
// an engine.
type page struct {
	Reports []conformance.Report
	Engines []string // no two alike
	Tables  []table
}

type table struct {
	Of   string // an edition, or all
	Rows []row
}

type row struct {
	Feature string
	Cells   []cell // of each engine
}

type cell struct {
	Passed, Runs int
}

// State says how much of a feature an engine passed.
func (c cell) State() string {
	switch {
	case c.Runs == 0:
		return "none"
	case c.Passed == c.Runs:
		return "all"
	}
	return "some"
}

func newPage(reports []conformance.Report) page {
	p := page{Reports: reports, Engines: engines(reports)}
	p.add("all editions", func(format.Edition) bool { return true })
	for _, d := range format.Documents() {
		for _, e := range format.Editions(d) {
			p.add(e.String(), func(of format.Edition) bool { return of == e })
		}
	}
	return p
}

// engines are the names of the engines, with their languages, versions or places
// where the names alone are alike.
func engines(reports []conformance.Report) []string {
	out := make([]string, len(reports))
	for _, add := range []func(conformance.Identity, int) string{
		func(e conformance.Identity, _ int) string { return e.Name },
		func(e conformance.Identity, _ int) string { return ", " + e.Language },
		func(e conformance.Identity, _ int) string { return ", " + e.Version },
		func(_ conformance.Identity, i int) string { return fmt.Sprintf(", report %d", i+1) },
	} {
		times := map[string]int{}
		for _, name := range out {
			times[name]++
		}
		for i, r := range reports {
			if times[out[i]] > 1 || out[i] == "" {
				out[i] += add(r.Engine, i)
			}
		}
	}
	return out
}

// add adds the table of some editions, if anybody plays anything of them.
func (p *page) add(name string, of func(format.Edition) bool) {
	cells := map[string][]cell{}
	for i, r := range p.Reports {
		for _, c := range r.Cells {
			if !of(c.Edition) {
				continue
			}
			if cells[c.Feature] == nil {
				cells[c.Feature] = make([]cell, len(p.Reports))
			}
			cells[c.Feature][i].Passed += c.Passed
			cells[c.Feature][i].Runs += c.Runs
		}
	}
	if len(cells) == 0 {
		return
	}
	t := table{Of: name}
	for _, feature := range slices.Sorted(maps.Keys(cells)) {
		t.Rows = append(t.Rows, row{feature, cells[feature]})
	}
	p.Tables = append(p.Tables, t)
}
