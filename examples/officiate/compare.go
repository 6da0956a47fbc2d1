package main

import (
	"io"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/examples/paper"
	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
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
	games := paper.Games(p.log)
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
		sheet := sheetOf(g)
		sheet.Serving, sheet.Number = audit.Nobody, 0
		for side, text := range sides {
			m, ok := paper.ReadMarks(text)
			if !ok {
				return false, texts.Wrong("officiate.bad-mark", program.Typed(text))
			}
			sheet.Sides[side] = audit.SideMarks{Servers: m.Servers, Ends: m.Ends}
			if !p.sameMarks(g, rally.Side(side), text) {
				agree = false
			}
		}
		if g.Last.Phase() != rally.Playing {
			for _, f := range sheet.Read(audit.Place{}).Findings {
				p.put("  ", p.say(f.Text()))
			}
		}
	}
	return agree, nil
}

// sameMarks says where the marks of one side part from the record.
func (p *page) sameMarks(g *paper.Game, side rally.Side, text string) bool {
	m := &g.Sides[side]
	is := m.Text()
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
	if own < len(m.Entries) {
		entry = m.Entries[own]
	} else if own > 0 && len(m.Entries) > 0 {
		entry = m.Entries[len(m.Entries)-1]
	}
	p.print("officiate.marks-part", words.Count("game", g.Number), p.side("side", side), words.Count("points", own), mark("sheet", text), mark("record", is), words.Count("entry", entry))
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
			return false, texts.Wrong("officiate.bad-claim", program.Typed(given[n]))
		}
		if games[n].Score != [2]int{scoreA, scoreB} {
			p.print("officiate.claim-parts", words.Count("game", n+1), words.Points("claimed", scoreA, scoreB), words.Points("record", games[n].Score[0], games[n].Score[1]))
			agree = false
		}
	}
	return agree, nil
}

// sheetOf is a game for [audit.Sheet.Read].
func sheetOf(g *paper.Game) audit.Sheet {
	s := audit.Sheet{Rules: g.Rules, Game: g.Number, First: whose(g.First), Starters: &g.Starters}
	for side, m := range g.Sides {
		s.Sides[side] = audit.SideMarks{Servers: m.Servers, Ends: append([]int{}, m.Ends...)}
	}
	if serving, playing := g.Last.Serving(); playing {
		call, _ := g.Rules.Call(g.Last)
		s.Serving, s.Number = whose(serving), int(call.Number)
	}
	return s
}

func whose(s rally.Side) audit.MaybeSide {
	if s == rally.A {
		return audit.SideA
	}
	return audit.SideB
}
