package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// printer prints what was found. Text and page begin with the summary, so they
// are printed at the end; JSON comes as it is found.
type printer interface {
	table(source string, t *intake.Reader)
	finding(f *audit.Finding, key, row string)
	finish(c counts) error
}

func newPrinter(kind string, l *words.Language, out io.Writer) (printer, error) {
	w := bufio.NewWriter(out)
	switch kind {
	case "text":
		return &textPrinter{gathered: gathered{l: l}, out: w}, nil
	case "json":
		return &jsonPrinter{l, json.NewEncoder(w), w, map[string]headers{}}, nil
	case "html":
		return newPagePrinter(l, w)
	}
	return nil, fmt.Errorf("-report: want text, json or html, not %q", kind)
}

// textPrinter writes the summary, then file by file what was found of what kind,
// what columns are taken for, and match by match a line a finding: place,
// severity, sentence, key, and below them the row.
type textPrinter struct {
	gathered
	out *bufio.Writer
}

func (p *textPrinter) finish(c counts) error {
	say := func(indent string, t words.Text) { fmt.Fprintln(p.out, indent+program.Printable(p.l.Say(t))) }
	for _, t := range p.summary(c) {
		say("", t)
	}
	for _, s := range p.files {
		matches := s.settle(p.l)
		if len(matches) > 0 || len(p.files) > 1 {
			say("", s.text())
		}
		if len(s.Taken) > 0 {
			say("", words.New("check.taken", words.Name("file", s.Name), words.Count("row", s.Header), words.Name("encoding", s.Encoding)))
			for _, t := range s.Taken {
				say("  ", t)
			}
		}
		for _, m := range matches {
			for i := range m.Found {
				e := &m.Found[i]
				line := words.New("check.finding", words.Name("place", e.Place), severity(e.Severity), words.Name("said", e.Sentence), words.Name("key", e.Key))
				if e.Match != "" {
					line.Code, line.Args = "check.finding-of", append(line.Args, words.Name("match", e.Match))
				}
				say("", line)
				if e.Row != "" {
					fmt.Fprintln(p.out, "    "+program.Printable(e.Row))
				}
				if e.More != "" {
					fmt.Fprintln(p.out, program.Printable(e.More))
				}
			}
			if m.Row != "" { // once, below all that is said of it
				fmt.Fprintln(p.out, "    "+program.Printable(m.Row))
			}
		}
	}
	return p.out.Flush()
}

// summary is what a report begins with.
func (p *gathered) summary(c counts) []words.Text {
	out := []words.Text{c.text()}
	if t, ok := c.checked(); ok {
		out = append(out, t)
	}
	if c.Unused > 0 {
		out = append(out, words.New("check.unused", words.Count("waivers", c.Unused)))
	}
	if p.left > 0 {
		out = append(out, words.New("check.left", words.Count("findings", p.left)))
	}
	return out
}

func severity(s audit.Severity) words.Arg {
	return words.Word("severity", words.Code("severity."+s.String()))
}

// text is the summary.
func (c *counts) text() words.Text {
	return words.New("check.counts", words.Count("rows", c.Rows), words.Count("matches", c.Matches), words.Count("logs", c.Logs),
		words.Count("errors", c.Errors), words.Count("warnings", c.Warnings), words.Count("notes", c.Notes), words.Count("waived", c.Waived))
}

// checked says of how many matches not everything was checked; false if of all.
func (c *counts) checked() (words.Text, bool) {
	return words.New("check.checked", words.Count("whole", c.Matches-c.InPart-c.Unchecked), words.Count("part", c.InPart),
		words.Count("unchecked", c.Unchecked), words.Count("undated", c.Undated)), c.InPart+c.Unchecked > 0
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
	l       *words.Language
	enc     *json.Encoder
	out     *bufio.Writer
	columns map[string]headers // by source
}

func (p *jsonPrinter) table(source string, t *intake.Reader) {
	p.columns[source] = headersOf(t)
	_ = p.enc.Encode(struct {
		Table    string         `json:"table"`
		Encoding string         `json:"encoding"`
		Header   int            `json:"header"`
		Columns  []intake.Taken `json:"columns"`
	}{source, t.Encoding.String(), t.Header, t.Taken()})
}

func (p *jsonPrinter) finding(f *audit.Finding, key, row string) {
	_ = p.enc.Encode(struct {
		Key string `json:"key"`
		*audit.Finding
		Column   string `json:"column,omitempty"`
		Sentence string `json:"sentence"`
		Row      string `json:"row,omitempty"`
	}{key, f, p.columns[f.Source][f.Field], p.l.Say(f.Text()), row}) // the writer keeps its error for Flush
}

func (p *jsonPrinter) finish(c counts) error {
	if err := p.enc.Encode(struct {
		Summary counts `json:"summary"`
	}{c}); err != nil {
		return err
	}
	return p.out.Flush()
}
