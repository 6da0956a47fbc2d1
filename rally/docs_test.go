package rally_test

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/serviceorder"
)

// library are the packages that a user reads the pages of.
var library = []string{"../format", "../format/clause", "../serviceorder", ".", "record", "walk", "words", "referee", "audit", "audit/intake", "explore"}

// page is a package as its page shows it, and all its comments.
func page(t *testing.T, dir string) (own *doc.Package, comments []string) {
	t.Helper()
	fset := token.NewFileSet()
	paths, err := filepath.Glob(filepath.Join(dir, "*.go"))
	require.NoError(t, err)
	var files []*ast.File
	for _, p := range paths {
		if strings.HasSuffix(p, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(fset, p, nil, parser.ParseComments)
		require.NoError(t, err)
		if len(files) == 0 || f.Name.Name == files[0].Name.Name {
			files = append(files, f)
			for _, c := range f.Comments {
				comments = append(comments, c.Text())
			}
		}
	}
	require.NotEmpty(t, files, dir)
	own, err = doc.NewFromFiles(fset, files, module+path.Clean(path.Join("rally", filepath.ToSlash(dir))))
	require.NoError(t, err)
	return own, comments
}

// exported are the names of a package: X, and X.Y of methods and fields.
func exported(t *testing.T, dir string) map[string]bool {
	t.Helper()
	own, _ := page(t, dir)
	in := map[string]bool{}
	values := func(list []*doc.Value) {
		for _, v := range list {
			for _, n := range v.Names {
				in[n] = true
			}
		}
	}
	functions := func(list []*doc.Func) {
		for _, f := range list {
			in[f.Name] = true
		}
	}
	values(own.Consts)
	values(own.Vars)
	functions(own.Funcs)
	for _, typ := range own.Types {
		in[typ.Name] = true
		values(typ.Consts)
		values(typ.Vars)
		functions(typ.Funcs)
		for _, m := range typ.Methods {
			in[typ.Name+"."+m.Name] = true
		}
		ast.Inspect(typ.Decl, func(n ast.Node) bool {
			if s, ok := n.(*ast.TypeSpec); ok && s.Name.Name == typ.Name {
				if fields, ok := s.Type.(*ast.StructType); ok {
					for _, f := range fields.Fields.List {
						for _, name := range f.Names {
							in[typ.Name+"."+name.Name] = true
						}
					}
				}
			}
			return true
		})
	}
	return in
}

// link is what looks like a link of a doc comment.
var link = regexp.MustCompile(`\[\*?((?:[a-z]+\.)?[A-Z]\w+(?:\.[A-Z]\w*)?)\]`)

// TestDocLinksAreAlive follows every link of every doc comment: a dead one is shown as
// plain text in brackets.
func TestDocLinksAreAlive(t *testing.T) {
	names := map[string]map[string]bool{} // by package: X and X.Y
	for _, dir := range library {
		own, _ := page(t, dir)
		names[own.Name] = exported(t, dir)
	}
	links := 0
	for _, dir := range library {
		own, comments := page(t, dir)
		for _, c := range comments {
			for _, found := range link.FindAllStringSubmatch(c, -1) {
				to, pkg := found[1], own.Name
				if first, rest, _ := strings.Cut(to, "."); names[first] != nil {
					pkg, to = first, rest
				} else if first[0] >= 'a' && first[0] <= 'z' {
					continue // of the standard library
				}
				links++
				if !names[pkg][to] {
					t.Errorf("%s: [%s] leads nowhere", dir, found[1])
				}
			}
		}
	}
	require.Greater(t, links, 200)
}

// TestChangesNameWhatIsThere holds the names that the list of changes gives to the
// code: what a name has become is there, and what it was is not.
func TestChangesNameWhatIsThere(t *testing.T) {
	text, err := os.ReadFile("record/CHANGES.md")
	require.NoError(t, err)
	names := regexp.MustCompile("`([A-Za-z/.]+)`")
	renamed := 0
	for _, row := range regexp.MustCompile("(?m)^\\| `([a-z/]+)` \\| (.*) \\| (.*) \\|$").FindAllStringSubmatch(string(text), -1) {
		dir := row[1]
		if dir == "rally" {
			dir = "."
		} else if dir == "format" || dir == "serviceorder" {
			dir = "../" + dir
		}
		has := exported(t, dir)
		was, is := names.FindAllStringSubmatch(row[2], -1), names.FindAllStringSubmatch(row[3], -1)
		require.Equal(t, len(was), len(is), row[0])
		for i := range is {
			renamed++
			require.Contains(t, has, is[i][1], row[1])
			require.NotContains(t, has, was[i][1], row[1])
		}
	}
	require.Greater(t, renamed, 50)
}

// TestNoVariableIsExported: what anybody could change would change for everybody.
func TestNoVariableIsExported(t *testing.T) {
	for _, dir := range library {
		own, _ := page(t, dir)
		for _, typ := range own.Types {
			own.Vars = append(own.Vars, typ.Vars...)
		}
		for _, v := range own.Vars {
			for _, name := range v.Names {
				require.False(t, ast.IsExported(name), "%s.%s", dir, name)
			}
		}
	}
}

// TestAliasesNameTheirMethods: go doc shows an alias without them.
func TestAliasesNameTheirMethods(t *testing.T) {
	text, err := os.ReadFile("state.go")
	require.NoError(t, err)
	for name, typ := range map[string]reflect.Type{"Side": reflect.TypeFor[serviceorder.Side](), "Person": reflect.TypeFor[serviceorder.Person](),
		"Court": reflect.TypeFor[serviceorder.Court](), "Places": reflect.TypeFor[serviceorder.Places]()} {
		comment := regexp.MustCompile(`((?:\t// .*\n)+)\t` + name + ` = `).FindString(string(text))
		require.NotEmpty(t, comment, name)
		for i := range typ.NumMethod() {
			if m := typ.Method(i).Name; m != "String" && m != "MarshalText" {
				require.Contains(t, comment, m, name)
			}
		}
		for i := 0; typ.Kind() == reflect.Struct && i < typ.NumField(); i++ {
			require.Contains(t, comment, typ.Field(i).Name, name)
		}
	}
}
