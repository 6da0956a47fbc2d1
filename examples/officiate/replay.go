package main

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/examples/texts/problems"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/words"
)

//go:embed ladder-match.jsonl
var ladderMatch []byte

// officiate goes through a record, entry by entry, and proves its result.
func (o *options) officiate(in io.Reader, out io.Writer) error {
	rec, err := o.open(in)
	if err != nil {
		return err
	}
	rules, start := rec.Log.Initial()
	d := newDesk(rally.NewLog(rules, start), rec.Setup, o.language)
	p := &page{d, out}
	p.title()
	holds := newDesk(rec.Log, rec.Setup, nil).holding()
	for n := 1; n <= rec.Log.Len(); n++ {
		e, err := d.enter(rec.Log.Entry(n))
		if err != nil {
			return err
		}
		if ms, ok := rec.Log.Time(n); ok {
			d.log.Stamp(ms)
		}
		if o.counts && (!holds[n] || rec.Log.Entry(n).Corrects()) {
			continue // it no longer counts, or only says what does
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
		name, src = o.language.Say(words.New("officiate.own-match")), bytes.NewReader(ladderMatch)
	case "-":
		name = o.language.Say(words.New("officiate.standard-input"))
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
	if errors.As(err, &wrong) && wrong.Code == "torn" && o.file != "" && o.file != "-" {
		return nil, texts.Wrong("officiate.bad-torn", words.Name("file", name), words.Within("reason", problems.Of(err)))
	}
	return nil, ofFile(name, err)
}

// ofFile says which file an error is about, unless it names one.
func ofFile(name string, err error) error {
	reason := problems.Of(err)
	if reason.Args.Of("file") != nil {
		return &texts.Problem{Text: reason}
	}
	return texts.Wrong("wrong.in-file", words.Name("file", name), words.Within("reason", reason))
}

// page prints a match.
type page struct {
	*desk
	out io.Writer
}

// put prints one line, whatever the names in it would do to a terminal.
func (p *page) put(indent, line string) { fmt.Fprintln(p.out, program.Printable(indent+line)) }

// print prints a text in a line of its own.
func (p *page) print(c words.Code, args ...words.Arg) { p.put("", p.tell(c, args...)) }

func (p *page) title() {
	if p.setup.Match != "" {
		p.put("", p.setup.Match)
	}
	p.print("officiate.side-a", p.side("side", rally.A))
	p.print("officiate.side-b", p.side("side", rally.B))
	if p.setup.Referee != "" || p.setup.Court != "" {
		p.print("officiate.where", words.Name("referee", dash(p.setup.Referee)), words.Name("court", dash(p.setup.Court)))
	}
	f := p.log.Rules().Format()
	if id := f.ID(); id != "" {
		p.print("officiate.format", words.Name("format", id), p.side("left", p.setup.Left))
	} else {
		p.print("officiate.own-format", p.side("left", p.setup.Left))
	}
	p.print("officiate.convention")
	p.print("officiate.caution")
	p.put("", "")
}

func dash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// within is how far what belongs to an entry is indented under its number.
const within = "     "

// numbered is the number of an entry, with its time if it has one.
func (d *desk) numbered(n int) string {
	if at := d.when(n); at != "" {
		return fmt.Sprintf("%3d  %s  ", n, at)
	}
	return fmt.Sprintf("%3d  ", n)
}

// line prints an entry in one line; help first where it may be needed.
func (p *page) line(e entered) {
	if needsHelp(e) {
		p.put(within, p.help())
	}
	p.put(p.numbered(e.n), p.desk.line(e))
}

// block prints an entry in full: what happened, the news, the next call, the
// court, and at every break in play the duties in their order.
func (p *page) block(e entered) {
	if needsHelp(e) {
		p.put(within, p.help())
	}
	s := e.after
	word := p.word(e)
	if result := p.guide.ResultWord(e.did); result.Code != "result.none" {
		switch e.event.Kind() {
		case rally.RallyWon, rally.Replay, rally.Stop:
			word = p.tell("officiate.spoken", words.Within("word", result))
		}
	}
	if s.Phase() == rally.Playing {
		word += "  " + p.tell("officiate.now", words.Count("game", s.Game()), words.Count("a", s.Score(rally.A)), words.Count("b", s.Score(rally.B)))
	}
	p.put(p.numbered(e.n), word)
	if why := p.why(e); why != "" {
		p.put(within, why)
	}
	for _, text := range p.news(e) {
		p.put(within, text)
	}
	for _, text := range p.duties(e) {
		p.put(within+"- ", text)
	}
	if next := p.next(s); next != "" {
		p.put(within, next)
	}
	for _, row := range p.court(s) {
		p.put(within+"  ", row)
	}
	p.put("", "")
}

// result prints the result of the match.
func (p *page) result() {
	p.finals()
	p.put("", "")
}

// finals prints the result of the match for people.
func (p *page) finals() {
	r := p.log.Result()
	p.print("officiate.result")
	for _, g := range r.Games {
		winner := words.Name("winner", p.tell("officiate.nobody-yet"))
		if g.Winner != nil {
			winner = p.side("winner", *g.Winner)
		}
		code := words.Code("officiate.final")
		args := []words.Arg{words.Count("game", g.Number), words.Name("a", fmt.Sprintf("%2d", g.Score[rally.A])), words.Name("b", fmt.Sprintf("%2d", g.Score[rally.B])), winner}
		if g.How != rally.PlayedGame {
			code, args = "officiate.final-how", append(args, words.Word("how", words.Code("how."+g.How.String())))
		}
		p.put("  ", p.tell(code, args...))
	}
	text := p.outcome(p.log.State())
	if text == "" {
		text = p.tell("officiate.not-over")
	}
	p.put("  ", text)
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
			err = texts.Wrong("officiate.lines-differ", words.Count("entry", n+1))
			break
		}
	}
	if err == nil && len(again) != len(p.lines) {
		err = texts.Wrong("officiate.entries-lost", words.Count("read", len(again)), words.Count("written", len(p.lines)))
	}
	if err != nil {
		p.print("officiate.disproved", words.Within("reason", problems.Of(err)))
		return program.ErrFound
	}
	p.print("officiate.proved", words.Count("entries", len(p.lines)), words.Count("bytes", size),
		words.Count("agree", len(again)), words.Count("lines", len(p.lines)))
	p.put("", p.log.Rules().Line(p.log.State()))
	return nil
}

// replayed reads a record and plays it, and returns the line after every entry.
func replayed(in io.Reader) ([]string, error) {
	rec, err := record.Read(in)
	if err != nil {
		return nil, err
	}
	rules, start := rec.Log.Initial()
	d := newDesk(rally.NewLog(rules, start), rec.Setup, nil) // it says nothing
	for n := 1; n <= rec.Log.Len(); n++ {
		if _, err := d.enter(rec.Log.Entry(n)); err != nil {
			return d.lines, texts.Wrong("officiate.at-entry", words.Count("entry", n), words.Within("reason", problems.Of(err)))
		}
	}
	return d.lines, nil
}
