package main

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strconv"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

//go:embed sheet.html
var sheetSource string

var sheetTemplate = template.Must(template.New("sheet").Parse(sheetSource))

// paper is what a printed match sheet shows, already in words. Its layout is
// this program's own: a row of marks a side and game, the turns under it in
// their order, then what was noted.
type paper struct {
	Language, Title, About, Caution string
	Labels                          map[string]string
	Fields                          []field
	Games                           []paperGame
	Signatures                      []string
	Blank                           bool
}

type field struct{ Name, Value string }

type paperGame struct {
	Title  string
	Fields []field
	Sides  [2]paperSide
	Turns  []paperTurn
	Notes  []string
	Lines  int // empty lines for notes, on a blank sheet
}

type paperSide struct {
	Name  string
	Cells []cell
	Total string
}

// cell is one own score: the number of the server who scored it, and whether a
// turn of the side ended there. The first one is that of no point yet.
type cell struct {
	Score, Mark string
	End         bool
}

type paperTurn struct {
	Server, Points string
	Out            bool
}

// saveSheet writes the match sheet of a record, or a blank one.
func (o *options) saveSheet(in io.Reader, out io.Writer) error {
	var d *desk
	if o.file == "" {
		rules, err := o.rules()
		if err != nil {
			return err
		}
		d = newDesk(rally.NewLog(rules, rally.State{}), rally.Setup{Match: o.match, Court: o.court, Referee: o.referee}, o.language)
	} else {
		rec, err := o.open(in)
		if err != nil {
			return err
		}
		d = newDesk(rec.Log, rec.Setup, o.language)
	}
	file, err := program.Create(o.sheet)
	if err != nil {
		return err
	}
	if err := sheetTemplate.Execute(file, d.paper(o.file == "")); err != nil {
		file.Discard()
		return err
	}
	if err := file.Commit(); err != nil {
		return err
	}
	p := &page{d, out}
	p.print("officiate.sheet-saved", words.Name("file", o.sheet))
	return nil
}

// paper puts a match on paper; a blank sheet has room for all its games.
func (d *desk) paper(blank bool) paper {
	rules := d.log.Rules()
	f := rules.Format()
	p := paper{Language: d.language.Tag(), Title: d.tell("sheet.title"), Caution: d.tell("officiate.caution"), Blank: blank, Labels: map[string]string{}}
	for _, label := range []string{"notes", "sign-winner", "sign-referee", "turns", "key"} {
		p.Labels[label] = d.tell(words.Code("sheet." + label))
	}
	p.About = d.tell("sheet.about", words.Within("format", words.Format(f)), words.Name("edition", f.Edition.String()))
	add := func(c words.Code, value string) { p.Fields = append(p.Fields, field{d.tell(c), value}) }
	u := d.setup
	add("sheet.match", u.Match)
	add("sheet.court", u.Court)
	add("sheet.referee", u.Referee)
	add("sheet.began", u.Began)
	for side := rally.A; side <= rally.B; side++ {
		name := ""
		if !blank {
			name = d.say(words.New("sheet.plays", words.Name("letter", side.String()), d.side("side", side)))
		} else {
			name = side.String()
		}
		add("sheet.side", name)
	}
	if blank {
		for n := 1; n <= int(f.Match.Games); n++ {
			p.Games = append(p.Games, d.blankGame(f, n))
		}
		add("sheet.result", "")
		return p
	}
	for _, g := range marksOf(d.log) {
		p.Games = append(p.Games, d.paperGame(g))
	}
	result := d.outcome(d.log.State())
	if result == "" {
		result = d.tell("officiate.not-over")
	}
	add("sheet.result", result)
	return p
}

// blankGame has boxes for six points more than the target.
func (d *desk) blankGame(f format.Format, n int) paperGame {
	g := paperGame{Title: d.tell("sheet.game", words.Count("game", n)), Lines: 2}
	for _, c := range []words.Code{"sheet.first", "sheet.starters", "sheet.ends", "sheet.final"} {
		g.Fields = append(g.Fields, field{d.tell(c), ""})
	}
	for side := rally.A; side <= rally.B; side++ {
		g.Sides[side].Name = side.String()
		for own := range int(f.Of(n).Target) + 7 {
			g.Sides[side].Cells = append(g.Sides[side].Cells, cell{Score: strconv.Itoa(own)})
		}
	}
	return g
}

func (d *desk) paperGame(g *gameMarks) paperGame {
	out := paperGame{Title: d.tell("sheet.game", words.Count("game", g.number))}
	add := func(c words.Code, value string) { out.Fields = append(out.Fields, field{d.tell(c), value}) }
	add("sheet.first", d.say(words.New("name.of", words.Arg{Name: "player", Value: d.guide.Side(g.first)})))
	if d.doubles() {
		add("sheet.starters", d.setup.Name(g.starters[rally.A])+", "+d.setup.Name(g.starters[rally.B]))
	}
	left := d.setup.Left
	if g.before.EndChanges() == 1 {
		left = left.Other()
	}
	add("sheet.ends", d.say(words.New("name.of", words.Arg{Name: "player", Value: d.guide.Side(left)})))
	how := fmt.Sprintf("%d-%d", g.last.Score(rally.A), g.last.Score(rally.B))
	if g.last.Phase() == rally.Playing {
		call := d.say(d.guide.Call(g.last))
		add("sheet.stands", d.tell("sheet.score-call", words.Points("score", g.last.Score(rally.A), g.last.Score(rally.B)), words.Name("call", call)))
	} else {
		add("sheet.final", how)
	}
	for side := range g.sides {
		m := &g.sides[side]
		p := paperSide{Name: d.say(words.New("name.of", words.Arg{Name: "player", Value: d.guide.Side(rally.Side(side))})), Total: strconv.Itoa(len(m.servers))}
		for own := 0; own <= len(m.servers); own++ {
			c := cell{Score: strconv.Itoa(own)}
			if own > 0 {
				c.Mark = string(".123456789"[m.servers[own-1]])
			}
			for _, end := range m.ends {
				c.End = c.End || end == own
			}
			p.Cells = append(p.Cells, c)
		}
		out.Sides[side] = p
	}
	for _, t := range g.turns {
		server := t.side.String()
		if t.number > 0 {
			server += strconv.Itoa(t.number)
		}
		points := ""
		for _, own := range t.points {
			points += " " + strconv.Itoa(own)
		}
		out.Turns = append(out.Turns, paperTurn{server, points, t.out})
	}
	for _, n := range g.notes {
		out.Notes = append(out.Notes, d.noted(n))
	}
	return out
}

// noted is a note with its entry, its time and the call at that moment.
func (d *desk) noted(n note) string {
	event := words.Within("event", d.guide.Event(n.event))
	at := words.Name("time", dash(d.when(n.entry)))
	if n.call == "" {
		return d.tell("sheet.note-between", words.Count("entry", n.entry), at, event)
	}
	return d.tell("sheet.note", words.Count("entry", n.entry), at, event, words.Name("call", n.call))
}
