package rally_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestNamesMeanOneThing finds names that two packages of the library export. An
// alias is the same thing, and a function of words says what its type is; what else
// may be called alike means the same in both, and is listed.
func TestNamesMeanOneThing(t *testing.T) {
	alike := map[string]string{
		"DoubleForfeit": "both sides forfeit: the event, and how a result came about",
		"Error":         "what is wrong, as an error or in its severity",
		"InputError":    "a value that cannot be used, with its field",
		"New":           "makes what its package is named after",
		"NewWriter":     "makes a writer",
		"Nobody":        "no side and no person",
		"Read":          "the mark of what was read in a text, and the reading of a record",
		"Score":         "the points of both sides, in the order of entry",
		"SizeError":     "what would be too large to visit",
	}
	where := map[string][]string{}
	for _, pkg := range []string{"format", "serviceorder", "rally", "rally/record", "rally/words", "rally/referee", "rally/audit", "rally/audit/intake", "rally/explore", "rally/walk"} {
		files, err := filepath.Glob("../" + pkg + "/*.go")
		require.NoError(t, err)
		require.NotEmpty(t, files)
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
			require.NoError(t, err)
			for _, name := range declared(parsed, pkg) {
				if !slices.Contains(where[name], pkg) {
					where[name] = append(where[name], pkg)
				}
			}
		}
	}
	for name, pkgs := range where {
		_, means := alike[name]
		require.Equal(t, means, len(pkgs) > 1, "%s is a name in %s", name, strings.Join(pkgs, ", "))
	}
}

// declared lists what a file exports, apart from aliases of what stands below, and in
// package words from functions that say a value.
func declared(f *ast.File, pkg string) (out []string) {
	add := func(name *ast.Ident) {
		if name.IsExported() {
			out = append(out, name.Name)
		}
	}
	for _, d := range f.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil && (pkg != "rally/words" || !slices.Contains([]string{"Effects", "Entry", "Event", "Format"}, d.Name.Name)) {
				add(d.Name)
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				switch s := s.(type) {
				case *ast.TypeSpec:
					if !s.Assign.IsValid() {
						add(s.Name)
					}
				case *ast.ValueSpec:
					for i, name := range s.Names {
						if len(s.Values) > i {
							if sel, is := s.Values[i].(*ast.SelectorExpr); is && sel.Sel.Name == name.Name {
								continue
							}
						}
						add(name)
					}
				}
			}
		}
	}
	return out
}
