package main

import (
	_ "embed"
	"html/template"
	"io"

	"github.com/evencourt/evencourt/examples/paper"
	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

//go:embed sheet.html
var sheetSource string

var sheetTemplate = template.Must(template.New("sheet").Parse(sheetSource))

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
	put := paper.Of
	if o.file == "" {
		put = paper.Blank
	}
	if err := sheetTemplate.Execute(file, put(d.log, d.setup, d.language)); err != nil {
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
