package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
	"github.com/evencourt/evencourt/rally/words"
)

// proposals writes the rows of a table as they were read, with one new column
// that says what is proposed. A nil *proposals writes nothing.
type proposals struct {
	l    *words.Language
	file *program.File
	out  *csv.Writer
	last []string
}

func newProposals(file *program.File, l *words.Language) *proposals {
	return &proposals{l: l, file: file}
}

const proposedColumn = "proposed"

// header writes what stands above the rows, in the encoding and with the line
// ends that the table has.
func (p *proposals) header(t *intake.Reader) error {
	if p == nil {
		return nil
	}
	if t.Comma == 0 {
		return errNoText
	}
	if slices.Contains(t.Names(), proposedColumn) {
		return errors.New("has a column " + proposedColumn + " already")
	}
	p.out = csv.NewWriter(intake.NewWriter(p.file, t.Encoding))
	p.out.Comma, p.out.UseCRLF = t.Comma, t.CRLF
	t.Passed = func(raw []string) { _ = p.write(raw, "") } // the writer keeps its error
	for _, row := range t.Above {
		if err := p.write(row, ""); err != nil {
			return err
		}
	}
	return p.write(t.Names(), proposedColumn)
}

// row writes a row with what its findings propose.
func (p *proposals) row(row []string, found []audit.Finding) error {
	if p == nil {
		return nil
	}
	var out []string
	for i := range found {
		if t, ok := proposal(&found[i]); ok {
			out = append(out, p.l.Say(t))
		}
	}
	return p.write(row, strings.Join(out, "; "))
}

func (p *proposals) write(row []string, more string) error {
	p.last = append(append(p.last[:0], row...), more)
	return p.out.Write(p.last)
}

// finish puts the table in its place.
func (p *proposals) finish() error {
	if p == nil {
		return nil
	}
	if p.out == nil {
		return errors.New("-out: there is nothing to write")
	}
	p.out.Flush()
	if err := p.out.Error(); err != nil {
		return fmt.Errorf("proposals: %w", err)
	}
	return p.file.Commit()
}

// proposal is what a finding proposes for its row; false for nothing.
func proposal(f *audit.Finding) (words.Text, bool) {
	games := words.Name("games", f.Args.Plain("games"))
	switch f.Code {
	case "score-as-date":
		scores, _ := f.Args.Of("proposed").(words.List)
		return words.New("propose.field", words.Name("field", f.Field), words.Each("scores", scores...)), true
	case "retirement-convention", "forfeit-convention", "retirement-before-play":
		return words.New("propose.games", games), true
	case "retirement-unmarked":
		return words.New("propose.retired", words.Name("side", f.Args.Plain("side")), games), true
	case "target-other":
		return words.New("propose.target", words.Count("target", f.Args.Number("fits"))), true
	case "winner-disagrees":
		if leads := f.Args.Plain("leads"); leads != "" {
			return words.New("propose.winner", words.Name("side", leads)), true
		}
	}
	return words.Text{}, false
}
