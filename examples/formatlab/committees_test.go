package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally/explore"
)

var update = flag.Bool("update", false, "write the tables of COMMITTEES.md anew")

const (
	committees = "../../rally/explore/COMMITTEES.md"
	// Go runs a cached test again when a file of its own module has changed, and
	// the page stands in another: this link makes go look at it.
	committeesLink = "testdata/COMMITTEES.md"
)

var (
	console = regexp.MustCompile("(?ms)^```console\n\\$ go run \\./examples/formatlab ([^\n]*)\n(.*?)^```$")
	// Every number of a sentence is a figure, and so are scores and chances
	// such as 1 in 9158; what stands in code or in the target of a link is none.
	figure  = regexp.MustCompile(`\d+-\d+|1 in \d+|[-+]?\d+(\.\d+)?( %| min)?`)
	notSaid = regexp.MustCompile("`[^`]*`|\\]\\([^)]*\\)|^\\d+\\.")
)

// TestCommitteesPageIsCurrent runs every command of the page and compares what
// it prints with what stands there, and sees that each figure in a sentence is
// in a table of its section.
func TestCommitteesPageIsCurrent(t *testing.T) {
	_, _ = os.Stat(committeesLink)
	text, err := os.ReadFile(committees)
	require.NoError(t, err)
	commands := 0
	current := console.ReplaceAllStringFunc(string(text), func(block string) string {
		commands++
		line := console.FindStringSubmatch(block)[1]
		var out, errs bytes.Buffer
		require.NotEqual(t, program.Failed, run(strings.Fields(line), nil, &out, &errs), errs.String())
		answer := out.String()
		if shown, left := strings.CutSuffix(console.FindStringSubmatch(block)[2], "…\n"); left {
			answer = excerpt(shown, answer)
		}
		return "```console\n$ go run ./examples/formatlab " + line + "\n" + answer + "```"
	})
	require.GreaterOrEqual(t, commands, 6)
	if *update {
		require.NoError(t, os.WriteFile(committees, []byte(current), 0o644))
	} else {
		require.Equal(t, current, string(text), "go test ./examples/formatlab -run Committees -update writes the tables anew")
	}
	stated := 0
	for _, section := range strings.Split(current, "\n## ")[1:] {
		tables := strings.Join(console.FindAllString(section, -1), "\n")
		if tables == "" {
			continue
		}
		prose := strings.Join(strings.Fields(notSaid.ReplaceAllString(console.ReplaceAllString(section, ""), "")), " ")
		for _, f := range figure.FindAllString(prose, -1) {
			stated++
			stands := regexp.MustCompile(`(^|[^\d.])` + regexp.QuoteMeta(f) + `($|[^\d.]|\.\D)`)
			require.Regexp(t, stands, tables, "%q, in the section %.40q, stands in no table there", f, section)
		}
	}
	require.GreaterOrEqual(t, stated, 60)
}

// labelOf is what stands before the figures of a row, and all of a line that has none.
var labelOf = regexp.MustCompile(`^(.*?\S)\s{2,}([-+<[]|about|\d)`)

// excerpt is an answer as the page shows it: what the answer says now of the lines
// that stand there, found by their labels in their order, and … for all that is left out.
func excerpt(shown, answer string) string {
	label := func(line string) string {
		if m := labelOf.FindStringSubmatch(line); m != nil {
			line = m[1]
		}
		return strings.Join(strings.Fields(line), " ")
	}
	var out strings.Builder
	left := strings.Split(answer, "\n")
	for line := range strings.SplitSeq(strings.TrimSuffix(shown, "\n"), "\n") {
		at := slices.IndexFunc(left, func(l string) bool { return label(l) == label(line) })
		if at < 0 {
			fmt.Fprintf(&out, "no longer there: %s\n", line)
			continue
		}
		out.WriteString(left[at] + "\n")
		left = left[at+1:]
	}
	return out.String() + "…\n"
}

// The answers of the page that carry most, by the independent second method.
func TestCommitteesAnswersAgreeWithDenseLU(t *testing.T) {
	o := usual(t)
	even := explore.Equal(o.strength.share())
	// What the one-server first turn is worth.
	for id, want := range map[string]float64{"sideout-doubles-11+first-turn=2": 9.75, "sideout-doubles-15+first-turn=2": 8.26, "sideout-doubles-11": 0} {
		win, _, _ := enumerate(t, id, even).solve(true)
		require.InDelta(t, want, 100*(2*win-1), 0.005, id)
	}
	// How long games are, over who serves first.
	for id, want := range map[string]float64{"sideout-doubles-11": 41.6, "rally-doubles-21": 37.8, "rally-doubles-21+target=23": 41.5,
		"rally-doubles-11@2025": 20.9, "rally-doubles-11@2026": 19.4} {
		r := o.strength.rates()
		_, first, _ := enumerate(t, id, r).solve(false)
		_, second, _ := enumerate(t, id, explore.Rates{Serve: [2]float64{r.Serve[1], r.Serve[0]}}).solve(false)
		require.InDelta(t, want, (first+second)/2, 0.05, id)
	}
}
