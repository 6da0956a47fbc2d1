package mutants

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
)

// Reach adds to a coverage profile what the profile leaves out and every test
// reaches all the same: the conditions of the cases of a switch that is
// reached, and declarations outside functions. A tool that mutates only what
// a profile covers would else pass over most rules. Dir is the root of the
// module of that name.
func Reach(profile []byte, dir, module string) ([]byte, error) {
	blocks := map[string][]block{}
	for line := range strings.Lines(string(profile)) {
		name, place, ok := strings.Cut(strings.TrimSpace(line), ".go:")
		if !ok {
			continue // the mode
		}
		var b block
		var statements int
		if _, err := fmt.Sscanf(place, "%d.%d,%d.%d %d %d", &b.from.line, &b.from.column, &b.to.line, &b.to.column, &statements, &b.count); err != nil {
			return nil, fmt.Errorf("mutants: coverage line %q: %w", strings.TrimSpace(line), err)
		}
		blocks[name+".go"] = append(blocks[name+".go"], b)
	}
	out := bytes.NewBuffer(profile)
	for name, covered := range blocks {
		path := filepath.Join(dir, filepath.FromSlash(strings.TrimPrefix(name, module+"/")))
		source, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		more, err := reached(source, covered)
		if err != nil {
			return nil, err
		}
		for _, b := range more {
			fmt.Fprintf(out, "%s:%d.%d,%d.%d 1 1\n", name, b.from.line, b.from.column, b.to.line, b.to.column)
		}
	}
	return out.Bytes(), nil
}

// A block is a stretch of a source file and how often it was run.
type block struct {
	from, to place
	count    int
}

type place struct{ line, column int }

func (p place) before(q place) bool {
	return p.line < q.line || p.line == q.line && p.column < q.column
}

// reached lists the stretches of a file that are reached beside its blocks.
func reached(source []byte, covered []block) ([]block, error) {
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, "", source, 0)
	if err != nil {
		return nil, err
	}
	at := func(p token.Pos) place {
		position := files.Position(p)
		return place{position.Line, position.Column}
	}
	runs := func(p place) bool {
		for _, b := range covered {
			if b.count > 0 && !p.before(b.from) && !b.to.before(p) {
				return true
			}
		}
		return false
	}
	var out []block
	for _, d := range file.Decls {
		if g, ok := d.(*ast.GenDecl); ok && g.Tok != token.IMPORT {
			out = append(out, block{at(g.Pos()), at(g.End()), 1})
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		s, ok := n.(*ast.SwitchStmt)
		if !ok || !runs(at(s.Switch)) {
			return true
		}
		for _, c := range s.Body.List {
			if clause := c.(*ast.CaseClause); len(clause.List) > 0 {
				out = append(out, block{at(clause.Case), at(clause.Colon), 1})
			}
		}
		return true
	})
	return out, nil
}
