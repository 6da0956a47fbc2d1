package main

import (
	_ "embed"
	"html/template"
	"io"
	"strconv"

	"github.com/evencourt/evencourt/rally"
)

//go:embed page.html
var pageSource string

var pageTemplate = template.Must(template.New("page").Funcs(template.FuncMap{"add": func(a, b int) int { return a + b }}).Parse(pageSource))

// page is what the printed sheet shows, already in words.
type page struct {
	Language, Title, About, Caution, Foot string
	KeyTitle, AnswerWord                  string
	Name, Date, Score                     string // of the trainee's line
	Key                                   bool   // the key in place of the exercises
	Items                                 []item
}

type item struct {
	N              int
	Title          string
	Prompt         []string
	Options        []string
	Solution       string
	Reasons        []string
	AnswerByNumber bool
	Court          *court // of a question about the court, drawn beside it
}

// court is the court as the referee sees it: the net runs up from him, and
// players face it, so that the near court is the right one on his left hand and
// the left one on his right.
type court struct{ Left, Right string }

// courtOf draws the court for questions about who stands where.
func (o *options) courtOf(x *exercise) *court {
	if x.topic != fromPost && x.topic != nextServer && x.topic != allFour {
		return nil
	}
	v := x.from.rules.View(x.from.state, x.from.setup.Left)
	c := court{"A", "B"}
	if v.Hands[rally.B] == rally.LeftHand {
		c = court{"B", "A"}
	}
	return &c
}

// writePage writes the exercises and their key as one HTML page for printing.
// Its layout is this program's own.
func writePage(w io.Writer, o options, exercises []exercise) error {
	l := o.language
	p := page{
		Language: l.Tag(), Title: l.Say(say("drill.page-title")), KeyTitle: l.Say(say("drill.page-key")),
		AnswerWord: l.Say(say("drill.page-answer")), Caution: l.Say(say("drill.no-qualification")),
		About: l.Say(say("drill.page-about", plain("level", o.level.name), plain("edition", o.edition.String()),
			plain("seed", strconv.FormatUint(o.seed, 10)))),
	}
	p.Key = o.key
	p.Name, p.Date, p.Score = l.Say(say("drill.page-name")), l.Say(say("drill.page-date")), l.Say(say("drill.page-score"))
	p.Foot = l.Say(say("drill.page-foot", plain("level", o.level.name), plain("edition", o.edition.String()), plain("seed", strconv.FormatUint(o.seed, 10))))
	if len(exercises) == 0 {
		p.About = l.Say(say("drill.nothing-changed", plain("since", o.since.String()), plain("edition", o.edition.String())))
	}
	for i, x := range exercises {
		p.Items = append(p.Items, item{
			N: i + 1, Title: l.Say(say("drill.page-item", number("i", i+1), text("topic", x.topic.text()))),
			Prompt: l.SayAll(x.prompt), Options: l.SayAll(x.options), AnswerByNumber: len(x.options) > 0, Court: o.courtOf(&x),
			Solution: l.Say(x.solution()), Reasons: l.SayAll(x.reason),
		})
	}
	return pageTemplate.Execute(w, p)
}
