package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

//go:embed ladder-match.jsonl
var ladderMatch []byte

// officiate goes through a record, entry by entry, and proves its result.
func (o *options) officiate(in io.Reader, out io.Writer) error {
	rec, err := o.open(in)
	if err != nil {
		return err
	}
	rules, start := rec.Log.Begin()
	d := newDesk(rally.NewLog(rules, start), rec.Setup)
	p := &page{d, out}
	p.title()
	for n := 1; n <= rec.Log.Len(); n++ {
		e, err := d.enter(rec.Log.Entry(n))
		if err != nil {
			return err
		}
		if ms, ok := rec.Log.Time(n); ok {
			d.log.Stamp(ms)
		}
		if o.brief {
			p.line(e)
		} else {
			p.block(e)
		}
	}
	p.result()
	return p.prove()
}

// open reads the record to officiate.
func (o *options) open(in io.Reader) (*record.Record, error) {
	name, src := o.file, in
	switch o.file {
	case "":
		name, src = "the match that comes with the program", bytes.NewReader(ladderMatch)
	case "-":
		name = "standard input"
	default:
		file, err := os.Open(o.file)
		if err != nil {
			return nil, err
		}
		defer file.Close()
		src = file
	}
	rec, err := record.Read(src)
	if err == nil {
		return rec, nil
	}
	var wrong *record.Error
	if errors.As(err, &wrong) && wrong.Code == record.Torn && o.file != "" && o.file != "-" {
		return nil, fmt.Errorf("%s: %w; nothing is lost: -live -resume %s goes on from there", name, err, name)
	}
	return nil, fmt.Errorf("%s: %w", name, err)
}

// page prints a match.
type page struct {
	*desk
	out io.Writer
}

// print prints one line, whatever the names in it would do to a terminal.
func (p *page) print(format string, args ...any) {
	fmt.Fprintln(p.out, program.Printable(fmt.Sprintf(format, args...)))
}

func (p *page) title() {
	f := p.log.Rules().Format()
	id := f.ID()
	if id == "" {
		id = "of its own"
	}
	if p.setup.Match != "" {
		p.print("%s", p.setup.Match)
	}
	p.print("A: %s", p.side(rally.A))
	p.print("B: %s", p.side(rally.B))
	if p.setup.Referee != "" || p.setup.Court != "" {
		p.print("Referee: %s. Court: %s.", dash(p.setup.Referee), dash(p.setup.Court))
	}
	p.print("Format: %s. On the referee's left at the first serve: %s.", id, p.side(p.setup.Left))
	p.print("Scores stand A first; a call is the serving side's score, the receiving side's, the server number.")
	p.print("The officials of the event and the rulebook in force prevail over anything said here.")
	p.print("")
}

func dash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// line prints an entry in one line; help first where it may be needed.
func (p *page) line(e entered) {
	if needsHelp(e) {
		p.print("     %s", p.help())
	}
	p.print("%3d  %s", e.n, p.desk.line(e))
}

// block prints an entry in full: what happened, the news, the next call, the
// court, and at every break in play the duties in their order.
func (p *page) block(e entered) {
	if needsHelp(e) {
		p.print("     %s", p.help())
	}
	s := e.after
	score := ""
	if s.Phase() == rally.Playing {
		score = fmt.Sprintf("  game %d  A %d  B %d", s.Game(), s.Score(rally.A), s.Score(rally.B))
	}
	word := p.word(e)
	if k := e.event.Kind(); k == rally.RallyWon || k == rally.Replay || k == rally.Stop {
		word = `"` + strings.ToLower(word[:1]) + word[1:] + `"`
	}
	p.print("%3d  %s%s", e.n, word, score)
	if why := p.why(e); why != "" {
		p.print("     %s", why)
	}
	for _, text := range p.news(e) {
		p.print("     %s", text)
	}
	for _, text := range p.duties(e) {
		p.print("     - %s", text)
	}
	if next := p.next(s); next != "" {
		p.print("     %s", next)
	}
	for _, row := range p.court(s) {
		p.print("       %s", row)
	}
	p.print("")
}

// result prints the result of the match, for people and for programs.
func (p *page) result() {
	r := p.log.Result()
	p.print("Result")
	for _, g := range r.Games {
		winner := "nobody yet"
		if g.Winner != nil {
			winner = p.side(*g.Winner)
		}
		how := ""
		if g.How != rally.PlayedGame {
			how = " (" + g.How.String() + ")"
		}
		p.print("  game %d   A %2d   B %2d   %s%s", g.Number, g.Score[rally.A], g.Score[rally.B], winner, how)
	}
	if text := p.outcome(p.log.State()); text != "" {
		p.print("  %s", text)
	} else {
		p.print("  The match is not over.")
	}
	if text, err := json.Marshal(r); err == nil {
		p.print("  %s", text)
	}
	p.print("")
}

// prove writes the log as a record, reads it back, plays it again entry by
// entry, and compares every line with the one that stood there when the entry
// was made.
func (p *page) prove() error {
	var b bytes.Buffer
	if err := record.Write(&b, p.setup, p.log); err != nil {
		return err
	}
	size := b.Len()
	again, err := replayed(&b)
	for n := range min(len(p.lines), len(again)) {
		if again[n] != p.lines[n] {
			err = fmt.Errorf("entry %d: the lines differ", n+1)
			break
		}
	}
	if err == nil && len(again) != len(p.lines) {
		err = fmt.Errorf("%d entries of %d were written", len(again), len(p.lines))
	}
	if err != nil {
		p.print("The proof failed: %v.", err)
		return program.ErrFound
	}
	p.print("Proof: %d entries written as a record of %d bytes, read back and played again: %d of %d lines agree.",
		len(p.lines), size, len(again), len(p.lines))
	p.print("%s", p.log.Rules().Line(p.log.State()))
	return nil
}

// replayed reads a record and plays it, and returns the line after every entry.
func replayed(in io.Reader) ([]string, error) {
	rec, err := record.Read(in)
	if err != nil {
		return nil, err
	}
	rules, start := rec.Log.Begin()
	d := newDesk(rally.NewLog(rules, start), rec.Setup)
	for n := 1; n <= rec.Log.Len(); n++ {
		if _, err := d.enter(rec.Log.Entry(n)); err != nil {
			return d.lines, fmt.Errorf("entry %d: %w", n, err)
		}
	}
	return d.lines, nil
}
