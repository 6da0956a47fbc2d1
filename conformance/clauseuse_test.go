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

// unused are clauses that nothing names yet, each with why it stands in the
// table all the same.
var unused = map[string]string{
	"side-out-right":       "who serves after a side-out says the court with it",
	"stacking":             "where partners stand who do not serve or receive is no event",
	"net-serve":            "for the eye; what came of it is entered as a replay or as a rally",
	"not-ready":            "for the eye",
	"true-number":          "what was called is no event",
	"rally-targets":        "the targets of the named shapes",
	"rally-margin":         "the margin of the named shapes",
	"decider-match":        "a match of its own for this library",
	"fault-in-live-play":   "when the referee may enforce a fault",
	"foul-direct":          "which conduct is a foul at once is for the referee",
	"medical-from-finding": "no clock says it yet",
	"carried-from-pair":    "no decision returns it yet",
	"sheet-reopened":       "no correction says it yet",
}

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
		switch why := unused[c.String()]; {
		case !used[c.String()]:
			require.NotEmpty(t, why, "nothing names %s", c)
		case why != "":
			t.Errorf("%s is named now: strike it from the list", c)
		}
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
