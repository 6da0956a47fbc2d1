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
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

func itoa(n int) string { return strconv.Itoa(n) }

// printer writes findings as they come, so that memory stays flat.
type printer interface {
	finding(f *audit.Finding, key string)
	finish(c counts) error
}

func newPrinter(kind string, l *words.Language, out io.Writer) (printer, error) {
	w := bufio.NewWriter(out)
	switch kind {
	case "text":
		return &textPrinter{l, w}, nil
	case "json":
		return &jsonPrinter{l, json.NewEncoder(w), w}, nil
	case "html":
		p := &htmlPrinter{l: l, out: w}
		var err error
		if p.page, err = pages.Clone(); err != nil {
			return nil, err
		}
		p.page.Funcs(template.FuncMap{"say": func(c words.Code) string { return l.Say(words.New(c)) }})
		return p, p.page.ExecuteTemplate(w, "top", l.Tag())
	}
	return nil, fmt.Errorf("-report: want text, json or html, not %q", kind)
}

// textPrinter writes one line a finding: place, severity, sentence, key.
type textPrinter struct {
	l   *words.Language
	out *bufio.Writer
}

func (p *textPrinter) finding(f *audit.Finding, key string) {
	place := f.Source
	if f.Line != 0 {
		place += ":" + itoa(f.Line)
	}
	line := words.New("check.finding", words.Name("place", place), severity(f.Severity), words.Within("finding", f.Text()), words.Name("key", key))
	if f.Match != "" {
		line.Code, line.Args = "check.finding-of", append(line.Args, words.Name("match", f.Match))
	}
	fmt.Fprintln(p.out, program.Printable(p.l.Say(line)))
}

func (p *textPrinter) finish(c counts) error {
	fmt.Fprintln(p.out, p.l.Say(c.text()))
	if c.Unused > 0 {
		fmt.Fprintln(p.out, p.l.Say(words.New("check.unused", words.Count("waivers", c.Unused))))
	}
	return p.out.Flush()
}

func severity(s audit.Severity) words.Arg {
	return words.Word("severity", words.Code("severity."+s.String()))
}

// text is the summary.
func (c *counts) text() words.Text {
	return words.New("check.counts", words.Count("rows", c.Rows), words.Count("matches", c.Matches), words.Count("logs", c.Logs),
		words.Count("errors", c.Errors), words.Count("warnings", c.Warnings), words.Count("notes", c.Notes), words.Count("waived", c.Waived))
}

// rule is the rule that a finding rests on, with where it stands in the edition
// of its match.
func rule(f *audit.Finding) words.Text {
	if source, ok := f.Cited(); ok && f.Edition != 0 {
		return words.New("check.rule-of", words.Within("rule", words.For(f.Clause)), words.Within("clause", referee.Cite(f.Clause, source)))
	}
	return words.New("check.rule", words.Within("rule", words.For(f.Clause)))
}

// jsonPrinter writes one object a finding and a last one with the counts.
type jsonPrinter struct {
	l   *words.Language
	enc *json.Encoder
	out *bufio.Writer
}

func (p *jsonPrinter) finding(f *audit.Finding, key string) {
	_ = p.enc.Encode(struct {
		Key string `json:"key"`
		*audit.Finding
		Sentence string `json:"sentence"`
	}{key, f, p.l.Say(f.Text())}) // the writer keeps its error for Flush
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

var pages = template.Must(template.New("page").Funcs(template.FuncMap{"say": func(c words.Code) string { return string(c) }}).Parse(pageText))

// htmlPrinter writes a page that needs nothing else.
type htmlPrinter struct {
	l    *words.Language
	page *template.Template
	out  *bufio.Writer
	err  error
}

func (p *htmlPrinter) finding(f *audit.Finding, key string) {
	if p.err == nil {
		of := ""
		if f.Match != "" {
			of = p.l.Say(words.New("check.match", words.Name("match", f.Match)))
		}
		p.err = p.page.ExecuteTemplate(p.out, "row", struct {
			*audit.Finding
			Key, Of, Says, Sentence, Meaning, Rule string
		}{f, key, of, p.l.Say(words.New(words.Code("severity." + f.Severity.String()))), p.l.Say(f.Text()), p.l.Say(f.Code.Meaning()), p.l.Say(rule(f))})
	}
}

func (p *htmlPrinter) finish(c counts) error {
	if p.err == nil {
		p.err = p.page.ExecuteTemplate(p.out, "foot", p.l.Say(c.text()))
	}
	if p.err != nil {
		return p.err
	}
	return p.out.Flush()
}
