package publish

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/format"
)

const casesSchema = "schema/cases.json"

// Schema is the schema of the case files with the names of today: shapes,
// editions and clauses. The rest of it is written by hand.
func Schema(folder string) ([]byte, error) {
	text, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(casesSchema)))
	if err != nil {
		return nil, err
	}
	var editions, clauses []string
	for _, shape := range format.Shapes() {
		for _, e := range format.EditionsOf(shape) {
			if name := e.String(); !slices.Contains(editions, name) {
				editions = append(editions, name)
			}
		}
	}
	for _, c := range format.Clauses() {
		clauses = append(clauses, c.String())
	}
	either := func(names []string) string { return "(" + strings.Join(names, "|") + ")" }
	edition := either(editions)
	lines := strings.Split(string(text), "\n")
	for name, def := range map[string]map[string]any{
		"formats": {"type": "string", "pattern": fmt.Sprintf(`^%s@%s(\.\.%[2]s?)?(\+[a-z0-9-]+=[a-z0-9-]+)*$`, either(format.Shapes()), edition)},
		"clause":  {"enum": clauses},
	} {
		made, err := json.Marshal(def)
		if err != nil {
			return nil, err
		}
		found := false
		for i, line := range lines {
			start := fmt.Sprintf("    %q: {", name)
			if _, comma := strings.CutSuffix(line, ","); strings.HasPrefix(line, start) && len(line) > len(start) {
				lines[i], found = fmt.Sprintf("    %q: %s", name, made), true
				if comma {
					lines[i] += ","
				}
			}
		}
		if !found {
			return nil, fmt.Errorf("%s: no line for %s", casesSchema, name)
		}
	}
	return []byte(strings.Join(lines, "\n")), nil
}
