package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally/audit"
)

// proposals writes the rows of a table as they were read, with one new column
// that says what is proposed. A nil *proposals writes nothing.
type proposals struct {
	file *program.File
	out  *csv.Writer
	last []string
}

func newProposals(file *program.File) *proposals {
	return &proposals{file: file, out: csv.NewWriter(file)}
}

const proposedColumn = "proposed"

func (p *proposals) header(header []string, comma rune) error {
	if p == nil {
		return nil
	}
	if slices.Contains(header, proposedColumn) {
		return errors.New("has a column " + proposedColumn + " already")
	}
	p.out.Comma = comma
	return p.write(header, proposedColumn)
}

// row writes a row with what its findings propose.
func (p *proposals) row(row []string, found []audit.Finding) error {
	if p == nil {
		return nil
	}
	var out []string
	for i := range found {
		if s := proposal(&found[i]); s != "" {
			out = append(out, s)
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
	p.out.Flush()
	if err := p.out.Error(); err != nil {
		return fmt.Errorf("proposals: %w", err)
	}
	return p.file.Commit()
}

// proposal is what a finding proposes for its row, "" for nothing.
func proposal(f *audit.Finding) string {
	switch f.Code {
	case audit.ScoreAsDate:
		return f.Field + ": " + f.Other
	case audit.RetirementConvention, audit.ForfeitConvention, audit.RetirementBeforePlay:
		return "games: " + f.Other
	case audit.RetirementUnmarked:
		return "status: retired, by: " + f.Text + ", games: " + f.Other
	case audit.TargetOther:
		return "target: " + itoa(f.M)
	case audit.WinnerDisagrees:
		if f.Other != "" {
			return "winner: " + f.Other + ", or the scores exchanged"
		}
	}
	return ""
}
