package main

import (
	_ "embed"
	"html/template"
	"io"
)

//go:embed page.html
var pageText string

var pageTemplate = template.Must(template.New("page").Parse(pageText))

// pagePart is a part of a document with its charts drawn.
type pagePart struct {
	part
	Drawings []drawing
}

type drawing struct {
	Heading string
	SVG     template.HTML
}

// writePage writes a document as one page that needs nothing else.
func writePage(w io.Writer, d *document) error {
	page := struct {
		Language, Footer string
		Title            string
		Lead             []string
		Parts            []pagePart
	}{language.Tag(), tell("lab.footer"), d.Title, d.Lead, nil}
	n := 0
	for _, p := range d.Parts {
		out := pagePart{part: p}
		for _, c := range p.Charts {
			n++
			svg, err := c.svg(n)
			if err != nil {
				return err
			}
			// Our own drawing: its texts are escaped where it is made.
			out.Drawings = append(out.Drawings, drawing{c.heading(), template.HTML(svg)})
		}
		page.Parts = append(page.Parts, out)
	}
	return pageTemplate.Execute(w, page)
}
