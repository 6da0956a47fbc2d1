package paper

import (
	"strconv"
	"time"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// Sheet is what a printed match sheet shows, already in words: a row of marks a
// side and game, the turns under it in their order, then what was noted.
type Sheet struct {
	Language, Title, About, Caution string
	Labels                          map[string]string // notes, turns, key, sign-winner, sign-referee
	Fields                          []Field
	Games                           []Section
}

// Field is a label with what stands beside it; nothing to be filled in by hand.
type Field struct{ Name, Value string }

// Section is one game, or what was played of it from a stated position on.
type Section struct {
	Title  string
	Fields []Field
	Sides  [2]Row
	Turns  []Turn
	Notes  []string
	Lines  int // empty lines for notes, on a blank sheet
}

// Row are the boxes of one side.
type Row struct {
	Name  string
	Cells []Cell
}

// Cell is one own score: the number of the server who scored it, a dot where
// none has a number or a penalty gave it, and whether a turn of the side ended
// there. The first one is that of no point yet.
type Cell struct {
	Score, Mark string
	End         bool
}

// Turn is one server's turn: who served, the own scores that it reached, and
// whether it ended in a side-out.
type Turn struct {
	Server, Points string
	Out            bool
}

// writer writes a sheet in a language.
type writer struct {
	log      *rally.Log
	setup    rally.Setup
	guide    *referee.Guide
	language *words.Language
	sheet    Sheet
}

// Of puts a match on paper, game by game, as its log reads now.
func Of(l *rally.Log, u rally.Setup, language *words.Language) Sheet {
	w := begin(l, u, language)
	for side := rally.A; side <= rally.B; side++ {
		w.field("sheet.side", w.say(words.New("sheet.plays", words.Name("letter", side.String()), words.Arg{Name: "side", Value: w.guide.Side(side)})))
	}
	for _, g := range Games(l) {
		w.sheet.Games = append(w.sheet.Games, w.game(g))
	}
	result := w.say(words.New("officiate.not-over"))
	if how, over := Outcome(w.guide, l.State()); over {
		result = w.say(how)
	}
	w.field("sheet.result", result)
	return w.sheet
}

// Blank is a sheet to be filled in by hand, with room for every game of the
// format that a log is played in.
func Blank(l *rally.Log, u rally.Setup, language *words.Language) Sheet {
	w := begin(l, u, language)
	for side := rally.A; side <= rally.B; side++ {
		w.field("sheet.side", side.String())
	}
	f := l.Rules().Format()
	for n := 1; n <= int(f.Match.Games); n++ {
		w.sheet.Games = append(w.sheet.Games, w.blankGame(f, n))
	}
	w.field("sheet.result", "")
	return w.sheet
}

func begin(l *rally.Log, u rally.Setup, language *words.Language) *writer {
	w := &writer{log: l, setup: u, guide: referee.New(l.Rules(), u), language: language}
	f := l.Rules().Format()
	w.sheet = Sheet{Language: language.Tag(), Title: w.say(words.New("sheet.title")), Caution: w.say(words.New("officiate.caution")), Labels: map[string]string{},
		About: w.say(words.New("sheet.about", words.Within("format", words.Format(f)), words.Name("edition", f.Edition.String())))}
	for _, label := range []string{"notes", "sign-winner", "sign-referee", "turns", "key"} {
		w.sheet.Labels[label] = w.say(words.New(words.Code("sheet." + label)))
	}
	w.field("sheet.match", u.Match)
	w.field("sheet.court", u.Court)
	w.field("sheet.referee", u.Referee)
	w.field("sheet.began", day(u.Began))
	return w
}

func (w *writer) say(t words.Text) string { return w.language.Say(t) }

func (w *writer) field(c words.Code, value string) {
	w.sheet.Fields = append(w.sheet.Fields, Field{w.say(words.New(c)), value})
}

// blankGame has boxes for six points more than the target.
func (w *writer) blankGame(f format.Format, n int) Section {
	g := Section{Title: w.say(words.New("sheet.game", words.Count("game", n))), Lines: 2}
	for _, c := range []words.Code{"sheet.first", "sheet.starters", "sheet.ends", "sheet.final"} {
		g.Fields = append(g.Fields, Field{w.say(words.New(c)), ""})
	}
	for side := rally.A; side <= rally.B; side++ {
		g.Sides[side].Name = side.String()
		for own := range int(f.Of(n).Target) + 7 {
			g.Sides[side].Cells = append(g.Sides[side].Cells, Cell{Score: strconv.Itoa(own)})
		}
	}
	return g
}

func (w *writer) game(g *Game) Section {
	out := Section{Title: w.say(words.New("sheet.game", words.Count("game", g.Number)))}
	add := func(c words.Code, value string) { out.Fields = append(out.Fields, Field{w.say(words.New(c)), value}) }
	add("sheet.first", g.First.String()) // the letters stand at the head with the names
	if g.Rules.Format().Game.Sides == format.Doubles {
		add("sheet.starters", w.setup.Name(g.Starters[rally.A])+", "+w.setup.Name(g.Starters[rally.B]))
	}
	left := w.setup.Left
	if g.before.EndsSwapped() {
		left = left.Other()
	}
	add("sheet.ends", left.String())
	a, b := g.Last.Score(rally.A), g.Last.Score(rally.B)
	if g.Last.Phase() == rally.Playing {
		call := w.say(w.guide.Call(g.Last))
		add("sheet.stands", w.say(words.New("sheet.score-call", words.Points("score", a, b), words.Name("call", call))))
	} else {
		add("sheet.final", strconv.Itoa(a)+"-"+strconv.Itoa(b))
	}
	for side := range g.Sides {
		out.Sides[side] = Row{w.name(rally.Side(side)), g.Sides[side].Cells()}
	}
	for _, t := range g.turns {
		server, points := t.side.String(), ""
		if t.number > 0 {
			server += strconv.Itoa(t.number)
		}
		for _, own := range t.points {
			points += " " + strconv.Itoa(own)
		}
		out.Turns = append(out.Turns, Turn{server, points, t.out})
	}
	for _, n := range g.notes {
		out.Notes = append(out.Notes, w.noted(n))
	}
	return out
}

// Cells are the boxes of the side, from the score at which the part begins.
func (m *Marks) Cells() []Cell {
	var out []Cell
	for own := 0; own <= len(m.Servers); own++ {
		c := Cell{Score: strconv.Itoa(m.from + own)}
		if own > 0 {
			c.Mark = markOf(m.Servers[own-1])
		}
		for _, end := range m.Ends {
			c.End = c.End || end == own
		}
		out = append(out, c)
	}
	return out
}

func (w *writer) name(s rally.Side) string {
	return w.say(words.New("name.of", words.Arg{Name: "player", Value: w.guide.Side(s)}))
}

// noted is a note with its entry, its time and the call at that moment.
func (w *writer) noted(n note) string {
	at := When(w.log, w.setup, n.entry)
	if at == "" {
		at = "-"
	}
	event, entry, time := words.Within("event", w.guide.Event(n.event)), words.Count("entry", n.entry), words.Name("time", at)
	if n.call == "" {
		return w.say(words.New("sheet.note-between", entry, time, event))
	}
	return w.say(words.New("sheet.note", entry, time, event, words.Name("call", n.call)))
}

// day is the day and the time of the place; what is no moment is as it was written.
func day(began string) string {
	if t, err := time.Parse(time.RFC3339, began); err == nil {
		return t.Format("2006-01-02 15:04")
	}
	return began
}

// When is the time of entry n: of the day where it is known when the match
// began, else minutes and seconds since; "" where the entry has none.
func When(l *rally.Log, u rally.Setup, n int) string {
	ms, stamped := l.Time(n)
	if !stamped {
		return ""
	}
	since := time.Duration(ms) * time.Millisecond
	if began, err := time.Parse(time.RFC3339, u.Began); err == nil {
		return began.Add(since).Format(time.TimeOnly)
	}
	seconds := int(since.Seconds())
	return strconv.Itoa(seconds/60) + ":" + strconv.Itoa(100 + seconds%60)[1:]
}

// Outcome says how a match ended, if it has.
func Outcome(g *referee.Guide, s rally.State) (words.Text, bool) {
	cause, winner, won := s.Outcome()
	code := words.Code("officiate.outcome." + cause.String())
	side := func(name string, s rally.Side) words.Arg { return words.Arg{Name: name, Value: g.Side(s)} }
	switch {
	case cause == rally.NotEnded:
		return words.Text{}, false
	case cause == rally.ByPlay && won:
		return words.New(code, side("side", winner), words.Count("own", s.Won(winner)), words.Count("other", s.Won(winner.Other()))), true
	case won:
		return words.New(code, side("side", winner), side("loser", winner.Other())), true
	}
	return words.New(code), true
}
