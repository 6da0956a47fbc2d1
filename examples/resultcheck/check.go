package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/words"
)

// checker audits files one after another; matches of all of them are compared
// with each other.
type checker struct {
	formats   *formats
	options   intake.Options // of tables
	headers   []string       // of all tables, where columns were mapped
	propose   bool           // print what columns are taken for, and nothing else
	stdout    io.Writer
	waived    accepted
	printer   printer
	proposals *proposals
	repaired  *repaired
	stderr    io.Writer
	season    audit.Season
	effort    *audit.Effort
	count     counts
	buffer    []audit.Finding
	bar       program.Bar
	keep      func(m *audit.ReportedMatch, at audit.Place, faulty bool) // is given every match that is read whole
}

// counts is what the summary says.
type counts struct {
	Rows      int `json:"rows"`
	Matches   int `json:"matches"`
	InPart    int `json:"in_part"`   // of them, those of which something could not be read
	Unchecked int `json:"unchecked"` // of them, those of a format that nobody knows
	Undated   int `json:"undated"`   // of them, those without a date, which are compared by their ids only
	Logs      int `json:"logs"`
	Notes     int `json:"notes"`
	Warnings  int `json:"warnings"`
	Errors    int `json:"errors"`
	Waived    int `json:"waived"`
	Unused    int `json:"unused_waivers"`
}

func (c *counts) serious() int { return c.Warnings + c.Errors }

// formats are the audits by format id.
type formats struct {
	byDefault string
	known     map[string]*audit.Finals
	lastID    string
	last      *audit.Finals
}

func newFormats(id string) *formats {
	return &formats{byDefault: id, known: map[string]*audit.Finals{}}
}

// mostFormats bounds what the ids of a file can make us hold.
const mostFormats = 500

func (f *formats) get(id string) (*audit.Finals, error) {
	if id == f.lastID && f.last != nil {
		return f.last, nil
	}
	key := id
	if key == "" {
		key = f.byDefault
	}
	finals, ok := f.known[key]
	if !ok {
		var err error
		if finals, err = load(key, id == ""); err != nil {
			return nil, err
		}
		if len(f.known) < mostFormats {
			f.known[strings.Clone(key)] = finals
		}
	}
	f.lastID, f.last = strings.Clone(id), finals
	return finals, nil
}

// load makes the audit of a format. Only the flag may name a file.
func load(id string, byFlag bool) (*audit.Finals, error) {
	if byFlag && strings.HasSuffix(id, ".json") {
		text, err := os.ReadFile(id)
		if err != nil {
			return nil, err
		}
		s, err := audit.ReadScoring(text)
		if err != nil {
			return nil, err
		}
		return audit.NewFinalsOf(s)
	}
	f, err := format.Parse(id)
	if err != nil {
		return nil, err
	}
	return audit.NewFinals(f)
}

// unreadable is the finding about a row that is none.
func unreadable(at audit.Place, reason words.Text) audit.Finding {
	return audit.NewFinding("row-unreadable", at, words.Within("reason", reason))
}

// said is what a decoder says of what it could not read.
func said(reason string) words.Text { return words.New("reason.said", words.Name("reason", reason)) }

func (c *checker) file(name string, stdin io.Reader) error {
	src, err := open(name, stdin)
	if err != nil {
		return err
	}
	defer src.close()
	c.bar = program.NewBar(c.stderr)
	defer c.bar.Clear()
	if c.proposals != nil && src.kind != table {
		return errors.New("-out wants a table in text")
	}
	switch src.kind {
	case jsonLines:
		return c.lines(src)
	case jsonList:
		return errors.New("is one list in JSON, not JSON Lines: want an object a line, without the brackets and the commas between")
	case oneRecord:
		return c.record(src)
	}
	if src.kind == workbook {
		return c.workbook(src)
	}
	return c.table(src)
}

// lines audits JSON Lines.
func (c *checker) lines(src *source) error {
	at := audit.Place{Source: src.name}
	var buf []byte
	for {
		line, long, err := intake.NextLine(src.read, buf[:0])
		buf = line
		at.Line++
		text := bytes.TrimSpace(line)
		switch {
		case long:
			c.emit(unreadable(at, words.New("reason.long", words.Count("most", intake.LongestLine))), "")
		case len(text) > 0:
			if err := c.line(text, at, src); err != nil {
				return err
			}
		}
		if err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
	}
}

func (c *checker) line(text []byte, at audit.Place, src *source) error {
	c.count.Rows++
	c.step(src)
	c.effort.Read(len(text))
	m, l, err := audit.ReadLine(text, at.Line)
	if err != nil {
		var input *audit.InputError
		p, reason := at, err.Error()
		if errors.As(err, &input) {
			p.Field, reason = input.Field, input.Reason
		}
		c.emit(unreadable(p, said(reason)), "")
		return nil
	}
	if l == nil || len(m.Games) > 0 {
		for _, f := range c.match(m, at, nil) {
			f.Line = at.Line
			c.emit(f, content(m))
		}
	}
	if l == nil {
		return nil
	}
	return c.log(l, m, at)
}

// step counts a row of a file and draws how much of the file is read, where
// its size is known.
func (c *checker) step(src *source) {
	if src.rows++; src.rows%1024 == 0 {
		c.bar.Step(int(src.taken.n), int(src.size), strconv.Itoa(src.rows)+" rows")
	}
}

// record audits a record of one match: what cannot be read of it, and the
// result that it proves.
func (c *checker) record(src *source) error {
	at := audit.Place{Source: src.name}
	rec, problems, err := record.Recover(src.read)
	for _, p := range problems {
		at.Line, at.Field = p.Line, p.Field
		c.emit(unreadable(at, said(string(p.Code)+": "+p.Reason)), "")
	}
	if err != nil {
		return err
	}
	c.count.Logs++
	m, err := matchOf(rec)
	if err != nil {
		return err
	}
	at = audit.Place{Source: src.name, Match: m.ID}
	finals, err := audit.NewFinals(rec.Log.Rules().Format())
	if err != nil {
		return err
	}
	c.count.Matches++
	found := finals.Check(m, at, nil)
	c.kept(m, at, found)
	for _, f := range c.season.Add(m, at, found) {
		if f.Code != "game-penalty-only" { // the record has the foul, and proves the final
			c.emit(f, content(m))
		}
	}
	return nil
}

// matchOf turns the result of a record into a match as it would be reported.
func matchOf(rec *record.Record) (*audit.ReportedMatch, error) {
	result := rec.Log.Result()
	m := &audit.ReportedMatch{ID: rec.Setup.Match}
	for s := range m.Sides {
		for i, p := range rec.Setup.Sides[s].Players {
			m.Sides[s].Players[i], m.Sides[s].Names[i] = p.ID, p.Name
		}
	}
	for _, g := range result.Games {
		m.Games = append(m.Games, audit.Score(g.Score))
	}
	if result.Winner != nil {
		m.Winner = audit.KnownSide(*result.Winner)
	}
	switch result.Cause {
	case rally.ByRetirement:
		m.Status = audit.Retired
	case rally.ByWithdrawal:
		m.Status = audit.Withdrawn
	case rally.ByForfeit:
		m.Status = audit.Forfeited
	case rally.ByDoubleForfeit:
		m.Status = audit.DoubleForfeit
	case rally.NotEnded, rally.ByAbandonment:
		m.Status = audit.Abandoned
	}
	m.By = m.Winner.Other()
	return m, nil
}

// kept hands a match on to whoever makes something of it.
func (c *checker) kept(m *audit.ReportedMatch, at audit.Place, found []audit.Finding) {
	if c.keep != nil {
		c.keep(m, at, audit.Worst(found) == audit.Error && !audit.Has(found, "match-empty"))
	}
}

// emit counts and prints a finding unless it is waived.
func (c *checker) emit(f audit.Finding, row string) {
	key := program.Printable(f.Key())
	if c.waived.waives(key) {
		c.count.Waived++
		return
	}
	switch f.Severity {
	case audit.Note:
		c.count.Notes++
	case audit.Warning:
		c.count.Warnings++
	default:
		c.count.Errors++
	}
	c.bar.Clear()
	c.printer.finding(&f, key, row)
}

func (c *checker) finish() error {
	for _, f := range c.season.Finish(nil) {
		c.emit(f, "")
	}
	c.count.Unused = c.waived.unused()
	return c.printer.finish(c.count)
}
