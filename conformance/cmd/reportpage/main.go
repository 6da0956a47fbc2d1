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
		reports = append(reports, r)
	}
	if err := os.MkdirAll(out, 0o777); err != nil {
		return err
	}
	if err := write(filepath.Join(out, "index.html"), pageText, newPage(reports)); err != nil {
		return err
	}
	for i, r := range reports {
		badge := badge{Label: "corpus " + r.Corpus, Verdict: string(r.Verdict), Good: r.Verdict == conformance.Conformant}
		if err := write(filepath.Join(out, fmt.Sprintf("badge-%d.svg", i+1)), badgeText, badge); err != nil {
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

// page is the table: a row a feature and engine that plays it, a column an
// edition.
type page struct {
	Reports  []conformance.Report
	Editions []format.Edition
	Rows     []row
}

type row struct {
	Feature string // once, before its first engine
	Span    int
	Engine  string
	Cells   []cell
}

type cell struct {
	Passed, Runs int
	State        string // all, some or none
}

func newPage(reports []conformance.Report) page {
	p := page{Reports: reports}
	for _, d := range format.Documents() {
		p.Editions = append(p.Editions, format.Editions(d)...)
	}
	var features []string
	for _, r := range reports {
		for _, c := range r.Cells {
			if !slices.Contains(features, c.Feature) {
				features = append(features, c.Feature)
			}
		}
	}
	slices.Sort(features)
	for _, feature := range features {
		first := len(p.Rows)
		for _, r := range reports {
			one := row{Engine: r.Engine.Name, Cells: make([]cell, len(p.Editions))}
			plays := false
			for _, c := range r.Cells {
				at := slices.Index(p.Editions, c.Edition)
				if c.Feature != feature || at < 0 {
					continue
				}
				state := "some"
				if c.Passed == c.Runs {
					state = "all"
				}
				one.Cells[at], plays = cell{c.Passed, c.Runs, state}, true
			}
			if plays {
				p.Rows = append(p.Rows, one)
			}
		}
		if first < len(p.Rows) {
			p.Rows[first].Feature, p.Rows[first].Span = feature, len(p.Rows)-first
		}
	}
	return p
}
