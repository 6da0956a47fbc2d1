package digests

import (
	_ "embed" // the text above the table
	"fmt"
	"strings"
)

//go:embed page.md
var head string

// Page writes DIGESTS.md: what is hashed, and the published rows.
func Page(rows []Row) string {
	var b strings.Builder
	b.WriteString(head)
	for _, alphabet := range []string{"A B", "A B tA tB"} {
		fmt.Fprintf(&b, "\n## Events `%s`\n", alphabet)
		fmt.Fprintf(&b, "\n| formats | WALK | FNV-1a-64 | TABLE | rows | TREE | N, TA, TB, U at WALK's depth | N at TREE's depth | computed by | confirmed by |\n|---|---|---|---|---|---|---|---|---|---|\n")
		for i := range rows {
			r := &rows[i]
			if strings.Join(r.Alphabet, " ") != alphabet {
				continue
			}
			confirmed := strings.Join(r.Confirmed, ", ")
			if confirmed == "" {
				confirmed = "regression value"
			}
			f := r.AtWalk
			fmt.Fprintf(&b, "| %s | %d: `%.16s` | `%s` | %d: `%.16s` | %d | %d: `%.16s` | %s, %s, %s, %d | %s | %s | %s |\n", shortFormats(r.Formats),
				r.WalkDepth, r.Walk.SHA256, r.Walk.FNV, r.Bound, r.Table.SHA256, r.Table.Lines, r.TreeDepth, r.Tree, f.N, f.TA, f.TB, f.U,
				r.AtTree.N, strings.Join(r.Computed, ", "), confirmed)
		}
	}
	return b.String()
}

// shortFormats writes one edition as one.
func shortFormats(formats string) string {
	shape, span, _ := strings.Cut(formats, "@")
	from, to, _ := strings.Cut(span, "..")
	if from == to {
		return shape + "@" + from
	}
	return shape + "@" + from + " to " + to
}
