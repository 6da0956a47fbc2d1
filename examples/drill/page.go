package main

import (
	_ "embed"
	"html/template"
	"io"
	"strconv"

	"github.com/evencourt/evencourt/examples/drill/exercise"
	"github.com/evencourt/evencourt/rally/words"
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
	Show                                  string // what shows an answer on the screen; "" where none can be shown
	Group                                 string
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

// court is the court as the referee sees it: who stands on which hand.
type court struct{ Left, Right string }

// courtOf draws the court for questions about who stands where.
func courtOf(x *exercise.Exercise) *court {
	left, ok := x.Court()
	if !ok {
		return nil
	}
	return &court{left.String(), left.Other().String()}
}

// writePage writes the exercises and their key as one HTML page for printing.
// Its layout is this program's own.
func writePage(w io.Writer, o options, exercises []exercise.Exercise) error {
	l := o.language
	p := page{
		Language: l.Tag(), Title: l.Say(words.New("drill.page-title")), KeyTitle: l.Say(words.New("drill.page-key")),
		AnswerWord: l.Say(words.New("drill.page-answer")), Caution: l.Say(words.New("drill.no-qualification")),
		About: l.Say(words.New("drill.page-about", words.Within("level", o.Level.Text()), words.Name("edition", o.Edition.String()),
			words.Name("seed", strconv.FormatUint(o.Seed, 10)))),
	}
	p.Key, p.Group = o.key, o.group
	if o.answers {
		p.Show = l.Say(words.New("drill.page-show"))
	}
	p.Name, p.Date, p.Score = l.Say(words.New("drill.page-name")), l.Say(words.New("drill.page-date")), l.Say(words.New("drill.page-score"))
	p.Foot = l.Say(words.New("drill.page-foot", words.Within("level", o.Level.Text()), words.Name("edition", o.Edition.String()), words.Name("seed", strconv.FormatUint(o.Seed, 10))))
	if len(exercises) == 0 {
		p.About = l.Say(words.New("drill.nothing-changed", words.Name("since", o.Since.String()), words.Name("edition", o.Edition.String())))
	}
	for i, x := range exercises {
		p.Items = append(p.Items, item{
			N: i + 1, Title: l.Say(words.New("drill.page-item", words.Count("i", i+1), words.Within("topic", x.Topic.Text()))),
			Prompt: l.SayAll(x.Prompt), Options: l.SayAll(x.Options), AnswerByNumber: len(x.Options) > 0, Court: courtOf(&x),
			Solution: l.Say(x.Solution()), Reasons: l.SayAll(x.Reason),
		})
	}
	return pageTemplate.Execute(w, p)
}
