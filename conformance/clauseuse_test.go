package conformance_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
)

// A clause that no code, reading or case names is either missing somewhere or
// no rule of this library.
func TestEveryClauseIsUsed(t *testing.T) {
	used := map[string]bool{}
	files, err := conformance.Load()
	require.NoError(t, err)
	for _, f := range files {
		for _, c := range f.Cases {
			for _, clause := range c.Clauses {
				used[clause.String()] = true
			}
		}
	}
	for id := range namedInCode(t) {
		used[id] = true
	}
	for _, c := range format.Clauses() {
		require.True(t, used[c.String()], "nothing names %s", c)
	}
}

// namedInCode are the clauses that code names outside the table and tests.
func namedInCode(t *testing.T) map[string]bool {
	used := map[string]bool{}
	constant := map[string]string{} // of an id: its name in package clause
	rows, err := os.ReadFile("../format/clauses.go")
	require.NoError(t, err)
	for _, row := range regexp.MustCompile(`clause\.(\w+): +\{"([a-z0-9-]+)", `).FindAllStringSubmatch(string(rows), -1) {
		constant[row[1]] = row[2]
	}
	require.Len(t, constant, len(format.Clauses()))
	named, read := regexp.MustCompile(`\bclause\.([A-Z]\w*)`), 0
	require.NoError(t, filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() && strings.HasPrefix(d.Name(), ".") && d.Name() != ".." {
			return fs.SkipDir
		}
		if filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") || strings.HasSuffix(filepath.ToSlash(path), "format/clauses.go") {
			return nil
		}
		text, err := os.ReadFile(path)
		read++
		for _, m := range named.FindAllStringSubmatch(string(text), -1) {
			used[constant[m[1]]] = true
		}
		return err
	}))
	require.Greater(t, read, 100)
	return used
}
