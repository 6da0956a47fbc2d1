package main

import (
	"encoding/json"
	"html"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

func readme(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("README.md")
	require.NoError(t, err)
	return string(text)
}

// section returns what is between a heading and the next.
func section(t *testing.T, text, heading string) string {
	t.Helper()
	_, rest, ok := strings.Cut(text, "\n"+heading+"\n")
	require.True(t, ok, heading)
	end := regexp.MustCompile(`(?m)^##`).FindStringIndex(rest)
	if end == nil {
		return rest
	}
	return rest[:end[0]]
}

var code = regexp.MustCompile("`([^`]*)`")

// firstCells returns what stands in code in the first cells of tables.
func firstCells(text string) []string {
	var out []string
	for _, line := range strings.Split(text, "\n") {
		if cells := strings.Split(line, "|"); len(cells) > 2 {
			for _, m := range code.FindAllStringSubmatch(cells[1], -1) {
				out = append(out, m[1])
			}
		}
	}
	return out
}

// The columns of the README are those of the code, those of games one by one.
func TestReadmeHasEveryColumn(t *testing.T) {
	var told []string
	numbered := regexp.MustCompile(`^(\D+)([19])(_[ab])?$`)
	for _, name := range firstCells(section(t, readme(t), "### A table")) {
		m := numbered.FindStringSubmatch(name)
		switch {
		case m == nil || strings.HasPrefix(name, "a1") || strings.HasPrefix(name, "b1"):
			told = append(told, name)
		case m[2] == "1":
			for n := range 9 {
				told = append(told, m[1]+strconv.Itoa(n+1)+m[3])
			}
		}
	}
	want := audit.ColumnNames()
	slices.Sort(told)
	slices.Sort(want)
	require.Empty(t, cmp.Diff(want, told))
}

func TestReadmeHasEveryStatusAndMissingValueAndTrueOptions(t *testing.T) {
	text := readme(t)
	table := section(t, text, "### A table")
	for s := audit.Played; s.String() != "?"; s++ {
		require.Contains(t, table, "`"+s.String()+"`")
	}
	_, usage, _ := check("", "-h")
	var flags []string
	for _, m := range regexp.MustCompile(`(?m)^ +--([\w-]+)`).FindAllStringSubmatch(usage, -1) {
		if m[1] != "help" {
			flags = append(flags, "-"+m[1])
		}
	}
	named := regexp.MustCompile("`(-[a-z-]+)`").FindAllStringSubmatch(section(t, text, "## Options"), -1)
	require.GreaterOrEqual(t, len(named), 5)
	for _, m := range named {
		require.Contains(t, flags, m[1])
	}
	_, missing, _ := strings.Cut(table, "A missing value is an empty cell, ")
	missing, _, _ = strings.Cut(missing, ";")
	columns, err := audit.ReadHeader([]string{"games", "winner"})
	require.NoError(t, err)
	told := code.FindAllStringSubmatch(missing, -1)
	require.Greater(t, len(told), 10)
	for _, m := range told {
		reader := audit.RowReader{Columns: columns}
		_, ok, found := reader.Read([]string{"11-8", m[1]}, audit.Place{}, nil)
		require.True(t, ok && len(found) == 0, m[1])
	}
}

// The lines of JSON in the README are read, use every field that there is, and
// the log among them is explained.
func TestReadmeLines(t *testing.T) {
	text := section(t, readme(t), "### JSON Lines")
	used := map[string]bool{}
	lines := 0
	for _, line := range strings.Split(text, "\n") {
		if line = strings.TrimSpace(line); !strings.HasPrefix(line, "{") {
			continue
		}
		m, l, err := audit.ReadLine([]byte(line), 1)
		require.NoError(t, err, line)
		require.NotNil(t, m)
		require.Equal(t, strings.Contains(line, `"rows"`), l != nil)
		lines++
		var fields map[string]any
		require.NoError(t, json.Unmarshal([]byte(line), &fields))
		for name := range fields {
			used[name] = true
		}
		status, stdout, stderr := check(line+"\n", "-")
		require.Less(t, status, program.Failed, stdout+stderr)
		require.NotContains(t, stdout, "row-unreadable")
	}
	require.Equal(t, 4, lines)
	// Every field of a match is shown or is a column of the same name.
	columns := firstCells(section(t, readme(t), "### A table"))
	fields := reflect.TypeFor[audit.ReportedMatch]()
	for i := range fields.NumField() {
		name, _, _ := strings.Cut(fields.Field(i).Tag.Get("json"), ",")
		require.True(t, used[name] || slices.Contains(columns, name), name)
	}
	for _, name := range firstCells(text) {
		_, _, err := audit.ReadLine([]byte(`{"format":"sideout-doubles-11","rows":[{"`+name+`":null}]}`), 1)
		_, _, asLog := audit.ReadLine([]byte(`{"format":"sideout-doubles-11","rows":[],"`+name+`":null}`), 1)
		require.True(t, err == nil || asLog == nil, name)
	}
}

// What the README says of waivers, on the sample.
func TestReadmeWaivers(t *testing.T) {
	_, rest, _ := strings.Cut(section(t, readme(t), "### -accept"), "    #")
	waivers := "#" + strings.ReplaceAll(rest, "\n    ", "\n")
	name := filepath.Join(t.TempDir(), "waivers")
	require.NoError(t, os.WriteFile(name, []byte(waivers), 0o600))
	_, all, _ := check("", "autumn-ladder.csv")
	_, some, stderr := check("", "-accept", name, "autumn-ladder.csv")
	require.Empty(t, stderr)
	require.Len(t, findingsOf(some), len(findingsOf(all))-2)
	require.Contains(t, some, "2 waived")
	require.NotContains(t, some, "waive nothing")
}

// A waiver that waives nothing is counted, and a file of which everything is
// waived is clean.
func TestWaivers(t *testing.T) {
	name := filepath.Join(t.TempDir(), "waivers")
	table := "match,games,format\nm1,11-10,sideout-singles-11\n"
	require.NoError(t, os.WriteFile(name, []byte("game-margin/m1/g1  a time limit\ngame-margin/m2/g1\tnot there\n"), 0o600))
	status, stdout, _ := check(table, "-accept", name, "-")
	require.Equal(t, "1 row, 1 match, 0 logs: 0 errors, 0 warnings, 0 notes, 1 waived\n1 waiver waives nothing\n", stdout)
	require.Equal(t, program.Nothing, status)
}

// The new column, row by row; the sample is left as it is.
func TestProposals(t *testing.T) {
	out := filepath.Join(t.TempDir(), "proposed.csv")
	before, err := os.ReadFile("autumn-ladder.csv")
	require.NoError(t, err)
	status, _, stderr := check("", "-out", out, "autumn-ladder.csv")
	require.Equal(t, program.Found, status, stderr)
	text, err := os.ReadFile(out)
	require.NoError(t, err)
	given, proposed := strings.Split(strings.TrimSpace(string(before)), "\n"), strings.Split(strings.TrimSpace(string(text)), "\n")
	require.Len(t, proposed, len(given))
	want := []string{"proposed", "", "", "game1: 11-9 or 9-11", "games: 11-9 12-10", "\"winner: A, or the scores exchanged\"", "", "target: 15", ""}
	for i, row := range proposed {
		require.True(t, strings.HasPrefix(row, given[i]+","), row)
		require.Equal(t, want[i], strings.TrimPrefix(row, given[i]+","))
	}
	after, err := os.ReadFile("autumn-ladder.csv")
	require.NoError(t, err)
	require.Equal(t, before, after)
	// Read again, the new column is passed over.
	status, again, _ := check("", out)
	require.Equal(t, program.Found, status)
	_, first, _ := check("", "autumn-ladder.csv")
	require.Equal(t, strings.ReplaceAll(first, "autumn-ladder.csv", "x"), strings.ReplaceAll(again, out, "x"))
}

// The three reports say the same.
func TestReports(t *testing.T) {
	_, text, _ := check("", "autumn-ladder.csv")
	_, lines, _ := check("", "-report", "json", "autumn-ladder.csv")
	_, page, _ := check("", "-report", "html", "autumn-ladder.csv")
	n := 0
	for _, line := range strings.Split(strings.TrimSpace(lines), "\n") {
		var f struct {
			Key, Code, Severity, Sentence string
			Summary                       *counts
			Table                         string
		}
		require.NoError(t, json.Unmarshal([]byte(line), &f))
		if f.Summary != nil {
			require.Equal(t, counts{Rows: 8, Matches: 8, InPart: 1, Errors: 7, Warnings: 2, Notes: 2}, *f.Summary)
			continue
		}
		if f.Table != "" {
			continue
		}
		n++
		require.Contains(t, text, f.Sentence+" ["+f.Key+"]\n")
		require.Contains(t, page, "<code>"+f.Code+"</code>")
		require.Contains(t, html.UnescapeString(page), "<code>"+f.Key+"</code>")
	}
	require.Equal(t, 11, n)
	require.Equal(t, n, strings.Count(page, `<li class="`))
	require.NotContains(t, page, "http", "a page that needs nothing else")

	// What a file says is shown and never obeyed.
	_, page, _ = check("match,games\n<script>alert(1)</script>,x\n", "-report", "html", "-")
	require.NotContains(t, page, "<script>")
	require.Contains(t, page, "&lt;script&gt;")
}

// Every code is explained.
func TestExplain(t *testing.T) {
	for _, c := range audit.FindingCodes() {
		status, stdout, _ := check("", "-explain", string(c))
		require.Equal(t, program.Nothing, status)
		rules := ""
		for _, rule := range c.Clauses() {
			rules += "Rule: " + words.English().Say(words.For(rule)) + "\n"
		}
		require.Equal(t, string(c)+" ("+c.Severity().String()+")\n"+words.English().Say(c.Meaning())+"\n"+rules, stdout)
	}
}

// A scoring in a file audits other games that count alike.
func TestScoringInAFile(t *testing.T) {
	_, rest, _ := strings.Cut(section(t, readme(t), "## Options"), "a FILE.json with a scoring,\n`")
	scoring, _, _ := strings.Cut(rest, "`")
	name := filepath.Join(t.TempDir(), "sets.json")
	require.NoError(t, os.WriteFile(name, []byte(scoring), 0o600))
	status, stdout, _ := check("match,games\nm1,25-20 23-25 27-25 20-25 15-13\nm2,25-20 25-23 25-24\n", "-format", name, "-")
	require.Equal(t, program.Found, status)
	require.Contains(t, stdout, "-:3: error: match m2: game 3: 25-24 lacks the margin of 2")
	require.NotContains(t, stdout, "m1")
}
