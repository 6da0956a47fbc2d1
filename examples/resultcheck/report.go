package main

import (
	"bufio"
	_ "embed"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"strconv"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally/audit"
)

func itoa(n int) string { return strconv.Itoa(n) }

// printer writes findings as they come, so that memory stays flat.
type printer interface {
	finding(f *audit.Finding, key string)
	finish(c counts) error
}

func newPrinter(kind string, out io.Writer) (printer, error) {
	w := bufio.NewWriter(out)
	switch kind {
	case "text":
		return &textPrinter{w}, nil
	case "json":
		return &jsonPrinter{json.NewEncoder(w), w}, nil
	case "html":
		p := &htmlPrinter{out: w}
		return p, pageTop.Execute(w, nil)
	}
	return nil, fmt.Errorf("-report: want text, json or html, not %q", kind)
}

// textPrinter writes one line a finding: place, severity, sentence, key.
type textPrinter struct{ out *bufio.Writer }

func (p *textPrinter) finding(f *audit.Finding, key string) {
	place := f.Source
	if f.Line != 0 {
		place += ":" + itoa(f.Line)
	}
	match := ""
	if f.Match != "" {
		match = " match " + f.Match + ":"
	}
	fmt.Fprintf(p.out, "%s [%s]\n", program.Printable(fmt.Sprintf("%s: %s:%s %s", place, f.Severity, match, audit.English.Say(f))), key)
}

func (p *textPrinter) finish(c counts) error {
	fmt.Fprintf(p.out, "%d rows, %d matches, %d logs: %d errors, %d warnings, %d notes, %d waived\n",
		c.Rows, c.Matches, c.Logs, c.Errors, c.Warnings, c.Notes, c.Waived)
	if c.Unused > 0 {
		fmt.Fprintf(p.out, "%d waivers waive nothing\n", c.Unused)
	}
	return p.out.Flush()
}

// jsonPrinter writes one object a finding and a last one with the counts.
type jsonPrinter struct {
	enc *json.Encoder
	out *bufio.Writer
}

func (p *jsonPrinter) finding(f *audit.Finding, key string) {
	_ = p.enc.Encode(struct {
		Key string `json:"key"`
		*audit.Finding
		Sentence string `json:"sentence"`
	}{key, f, audit.English.Say(f)}) // the writer keeps its error for Flush
}

func (p *jsonPrinter) finish(c counts) error {
	if err := p.enc.Encode(struct {
		Summary counts `json:"summary"`
	}{c}); err != nil {
		return err
	}
	return p.out.Flush()
}

//go:embed page.html
var pageText string

var (
	pages    = template.Must(template.New("page").Parse(pageText))
	pageTop  = pages.Lookup("top")
	pageRow  = pages.Lookup("row")
	pageFoot = pages.Lookup("foot")
)

// htmlPrinter writes a page that needs nothing else.
type htmlPrinter struct {
	out *bufio.Writer
	err error
}

func (p *htmlPrinter) finding(f *audit.Finding, key string) {
	if p.err == nil {
		p.err = pageRow.Execute(p.out, struct {
			*audit.Finding
			Key, Sentence, Meaning, Rule string
		}{f, key, audit.English.Say(f), audit.English.Explain(f.Code), f.Code.Rule()})
	}
}

func (p *htmlPrinter) finish(c counts) error {
	if p.err == nil {
		p.err = pageFoot.Execute(p.out, c)
	}
	if p.err != nil {
		return p.err
	}
	return p.out.Flush()
}
