package main

import (
	"io"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// compare holds a record to the marks of a sheet of paper or to the scores that
// somebody claims, and says where they part.
func (o *options) compare(in io.Reader, out io.Writer) error {
	rec, err := o.open(in)
	if err != nil {
		return err
	}
	p := &page{newDesk(rec.Log, rec.Setup, o.language), out}
	agree := true
	if o.marks != "" {
		agree, err = p.marks(o.marks)
	}
	if err == nil && o.claim != "" {
		var same bool
		same, err = p.claim(o.claim)
		agree = agree && same
	}
	switch {
	case err != nil:
		return err
	case !agree:
		return program.ErrFound
	}
	p.print("officiate.agrees")
	return nil
}

// marks compares the marks of each game, side by side, with those of the record.
func (p *page) marks(text string) (agree bool, err error) {
	games := marksOf(p.log)
	given := strings.Split(text, ";")
	agree = true
	if len(given) != len(games) {
		p.print("officiate.marks-games", words.Count("sheet", len(given)), words.Count("record", len(games)))
		agree = false
	}
	for n := range min(len(games), len(given)) {
		sides := strings.Fields(given[n])
		if len(sides) != 2 {
			return false, texts.Wrong("officiate.bad-marks", words.Count("game", n+1), words.Count("given", len(sides)))
		}
		g := games[n]
		sheet := g.sheet()
		sheet.Serving, sheet.Number = audit.Nobody, 0
		for side, text := range sides {
			m, ok := readMarks(text)
			if !ok {
				return false, texts.Wrong("officiate.bad-mark", words.Name("typed", format.Quote(program.Shorten(text))))
			}
			sheet.Sides[side] = audit.SideMarks{Servers: m.servers, Ends: m.ends}
			if !p.sameMarks(g, rally.Side(side), text) {
				agree = false
			}
		}
		if g.last.Phase() != rally.Playing {
			for _, f := range sheet.Read(audit.Place{}).Findings {
				p.put("  ", p.say(f.Text()))
			}
		}
	}
	return agree, nil
}

// sameMarks says where the marks of one side part from the record.
func (p *page) sameMarks(g *gameMarks, side rally.Side, text string) bool {
	m := &g.sides[side]
	is := m.text()
	if is == text {
		return true
	}
	at := 0
	for at < min(len(is), len(text)) && is[at] == text[at] {
		at++
	}
	own := strings.Count(is[:at], "/")
	own = at - own // points before the first difference
	mark := func(name, text string) words.Arg {
		if at < len(text) {
			return words.Name(name, text[at:at+1])
		}
		return words.Name(name, p.tell("officiate.no-mark"))
	}
	entry := 0
	if own < len(m.entries) {
		entry = m.entries[own]
	} else if own > 0 && len(m.entries) > 0 {
		entry = m.entries[len(m.entries)-1]
	}
	p.print("officiate.marks-part", words.Count("game", g.number), p.side("side", side), words.Count("points", own), mark("sheet", text), mark("record", is), words.Count("entry", entry))
	return false
}

// claim compares the scores that somebody claims, A first, with those reported.
func (p *page) claim(text string) (agree bool, err error) {
	games := p.log.Result().Games
	given := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' })
	agree = true
	if len(given) != len(games) {
		p.print("officiate.claim-games", words.Count("claimed", len(given)), words.Count("record", len(games)))
		agree = false
	}
	for n := range min(len(games), len(given)) {
		a, b, ok := strings.Cut(given[n], "-")
		scoreA, errA := strconv.Atoi(a)
		scoreB, errB := strconv.Atoi(b)
		if !ok || errA != nil || errB != nil {
			return false, texts.Wrong("officiate.bad-claim", words.Name("typed", format.Quote(program.Shorten(given[n]))))
		}
		if games[n].Score != [2]int{scoreA, scoreB} {
			p.print("officiate.claim-parts", words.Count("game", n+1), words.Points("claimed", scoreA, scoreB), words.Points("record", games[n].Score[0], games[n].Score[1]))
			agree = false
		}
	}
	return agree, nil
}
