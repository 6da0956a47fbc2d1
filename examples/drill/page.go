package main

import (
	_ "embed"
	"html/template"
	"io"
	"strconv"
)

//go:embed page.html
var pageSource string

var pageTemplate = template.Must(template.New("page").Parse(pageSource))

// page is what the printed sheet shows, already in words.
type page struct {
	Language, Title, About, Caution string
	KeyTitle, AnswerWord            string
	Items                           []item
}

type item struct {
	N              int
	Title          string
	Prompt         []string
	Options        []string
	Solution       string
	Reasons        []string
	AnswerByNumber bool
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
	if len(exercises) == 0 {
		p.About = l.Say(say("drill.nothing-changed", plain("since", o.since.String()), plain("edition", o.edition.String())))
	}
	for i, x := range exercises {
		p.Items = append(p.Items, item{
			N: i + 1, Title: l.Say(say("drill.page-item", number("i", i+1), text("topic", x.topic.text()))),
			Prompt: l.SayAll(x.prompt), Options: l.SayAll(x.options), AnswerByNumber: len(x.options) > 0,
			Solution: l.Say(x.solution()), Reasons: l.SayAll(x.reason),
		})
	}
	return pageTemplate.Execute(w, p)
}
