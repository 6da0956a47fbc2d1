package rally_test

import (
	"bytes"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const module = "github.com/evencourt/evencourt/"

// rank orders the packages: imports go from a higher rank to a lower one only.
var rank = map[string]int{"format/clause": -1, "format/internal": 3, "format": 0, "serviceorder": 1, "rally/internal": 1, "rally": 2, "rally/record": 3, "rally/walk": 3, "rally/words": 3,
	"rally/audit/internal": 3, "rally/referee": 4, "rally/audit": 4, "rally/audit/intake": 5, "rally/explore": 4, "conformance": 4, "examples/texts": 5, "examples/texts/problems": 6, "examples/paper": 6, "examples/program": 7, "examples/program/setup": 5, "examples/web/exchange": 6, "examples/drill/exercise": 6, "examples": 8}

// rankOf finds the rank of the nearest named folder at or above a package.
func rankOf(t *testing.T, pkg string) int {
	for at := pkg; at != "."; at = filepath.Dir(at) {
		if r, ok := rank[at]; ok {
			return r
		}
	}
	t.Fatalf("package %s has no place in the house: see DEVELOPERS.md", pkg)
	return 0
}

// TestImportsRunOneWay holds the code to the house that DEVELOPERS.md draws:
// direction of imports, what the core may use, and what stays apart.
func TestImportsRunOneWay(t *testing.T) {
	root, err := filepath.Abs("..")
	require.NoError(t, err)
	files := 0
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (slices.Contains([]string{"testdata", "node_modules", "dist", "cjs"}, d.Name()) || strings.HasPrefix(d.Name(), ".")) {
			return filepath.SkipDir
		}
		if filepath.Ext(path) != ".go" {
			return nil
		}
		rel, err := filepath.Rel(root, filepath.Dir(path))
		require.NoError(t, err)
		checkImports(t, filepath.ToSlash(rel), path)
		files++
		return nil
	})
	require.NoError(t, err)
	require.Greater(t, files, 40)
}

// linked are packages that the browser builds of the package for JavaScript link
// besides the core, and heavy what those are kept free of, by what they would carry
// of the standard library: reflection, files, clocks, cryptography.
var (
	linked = []string{"rally/internal/jsontext", "rally/internal/names", "rally/words", "rally/referee", "rally/audit", "rally/audit/internal/letters", "rally/audit/internal/moment"}
	heavy  = []string{"bufio", "crypto/sha256", "embed", "encoding/hex", "encoding/json", "fmt", "io/fs", "os", "reflect", "regexp", "text/template", "time"}
)

func checkImports(t *testing.T, pkg, path string) {
	test := strings.HasSuffix(path, "_test.go")
	f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
	require.NoError(t, err)
	own := rankOf(t, pkg)
	for _, spec := range f.Imports {
		imported, err := strconv.Unquote(spec.Path.Value)
		require.NoError(t, err)
		ours, isOurs := strings.CutPrefix(imported, module)
		core := own <= 2
		switch {
		case isOurs && strings.HasPrefix(pkg, "conformance/reference"):
			require.False(t, ours == "rally" || ours == "serviceorder", "%s: the slow model stands apart from the engine", path)
		case isOurs && !test:
			require.True(t, rankOf(t, ours) < own || strings.HasPrefix(ours, "conformance") && strings.HasPrefix(pkg, "conformance") || strings.HasPrefix(ours, pkg+"/") && own == 7,
				"%s imports %s: imports run one way", path, ours)
		case !isOurs && !test && !strings.HasPrefix(pkg, "examples"):
			require.NotContains(t, imported, ".", "%s: only the standard library outside tests", path)
			forbidden := imported == "fmt" || imported == "encoding/json" || imported == "reflect" || imported == "strings" || imported == "unicode"
			forbidden = forbidden && core || slices.Contains(linked, pkg) && slices.Contains(heavy, imported)
			require.False(t, forbidden, "%s imports %s, which a browser build would carry", path, imported)
		}
	}
}

// apart are rule numbers outside the table: sources typed a second time, which is
// what makes a check of them.
var apart = []string{"conformance/reference/", "examples/peer-js/", "format/book.txt"}

// A rule number stands in the table of clauses, and in what is made from it: code
// and programs name the clause. Tests name the source that they check against.
func TestRuleNumbersStandInTheTable(t *testing.T) {
	number, made := regexp.MustCompile(`\b[0-9]{1,2}\.[A-Z](\.[0-9]+)?(\.[a-z])?\b`), regexp.MustCompile(`(?i)generated (by|from)`)
	root, read := "..", 0
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		name := filepath.ToSlash(strings.TrimPrefix(path, root+string(filepath.Separator)))
		switch {
		case err != nil:
			return err
		case d.IsDir() && (slices.Contains([]string{"testdata", "node_modules", "dist", "cjs"}, d.Name()) || strings.HasPrefix(d.Name(), ".") && path != root):
			return filepath.SkipDir
		case d.IsDir() || strings.HasSuffix(name, "_test.go") || !slices.Contains([]string{".go", ".js", ".html", ".css", ".py", ".txt"}, filepath.Ext(name)) ||
			slices.ContainsFunc(apart, func(at string) bool { return strings.HasPrefix(name, at) }):
			return nil
		}
		text, err := os.ReadFile(path)
		first, _, _ := bytes.Cut(text, []byte("\n"))
		if !made.Match(first) {
			read++
			require.Empty(t, number.FindString(string(text)), "%s: name the clause", name)
		}
		return err
	}))
	require.Greater(t, read, 300)
}

// TestTopLevel holds the checkout to the agreed top level.
func TestTopLevel(t *testing.T) {
	entries, err := os.ReadDir("..")
	require.NoError(t, err)
	agreed := " rally format serviceorder conformance examples README.md DEVELOPERS.md go.mod go.sum go.work go.work.sum LICENSE "
	for _, e := range entries {
		require.True(t, strings.Contains(agreed, " "+e.Name()+" ") || strings.HasPrefix(e.Name(), "."), e.Name())
	}
}

// The lines of Go in README.md are those of Examples, which the tests compile and run.
func TestReadmeShowsExamples(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	shown := strings.Split(string(readme), "```go\n")[1:]
	examples := []struct{ file, name string }{{"example_test.go", "Example_readme"}, {"record/example_test.go", "ExampleMatch"}}
	require.Len(t, shown, len(examples))
	for i, of := range examples {
		text, err := os.ReadFile(of.file)
		require.NoError(t, err)
		_, rest, ok := strings.Cut(string(text), "func "+of.name+"() {")
		require.True(t, ok, "%s has no %s", of.file, of.name)
		rest, _, _ = strings.Cut(rest, "// Output:")
		if _, lines, set := strings.Cut(rest, "// From here as in README.md.\n"); set {
			rest = lines
		}
		lines, _, _ := strings.Cut(shown[i], "```")
		require.Equal(t, strings.Fields(rest), strings.Fields(lines))
	}
}
