package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/evencourt/evencourt/examples/program"
)

const homeAndAway = `Date,Home 1,Home 2,Away 1,Away 2,Score,Winner,Court
12/09/2026,ann,bea,cid,dot,11-8 11-9,Home,1
13/09/2026,cid,dot,eve,fay,11-10 11-9,Home,2
`

// What columns are taken for stands first, a line a column; the finding has the
// row of the spreadsheet, and the row below it.
func TestWhatIsTakenForWhat(t *testing.T) {
	status, out, stderr := check(homeAndAway, "-")
	require.Equal(t, program.Found, status, stderr)
	require.Contains(t, out, "-: header in row 1, UTF-8\n  Date: date (day before month: 12/09/2026 is 2026-09-12)\n  Home 1: a1\n")
	require.Contains(t, out, "  Court: - (passed over)\n")
	require.Contains(t, out, "-:3: error: game 1: 11-10 lacks the margin of 2")
	require.Contains(t, out, "\n    2026-09-13 cid / dot - eve / fay 11-10 11-9\n")
	// What is proposed as a mapping can be given back, changed.
	status, mapping, _ := check(homeAndAway, "-propose-columns", "-")
	require.Equal(t, program.Nothing, status)
	name := filepath.Join(t.TempDir(), "columns")
	require.NoError(t, os.WriteFile(name, []byte(strings.Replace(mapping, "Winner = winner", "Winner =", 1)), 0o600))
	status, out, _ = check(homeAndAway, "-columns", name, "-")
	require.Equal(t, program.Found, status)
	require.Contains(t, out, "  Winner: - (passed over)\n")
	status, _, stderr = check(homeAndAway, "-columns", "Home 1=a9", "-")
	require.Equal(t, program.Failed, status)
	require.Contains(t, stderr, `"a9" is nothing that a column can hold`)
	status, _, stderr = check(homeAndAway, "-columns", "Heim 1=a1", "-")
	require.Equal(t, program.Failed, status)
	require.Contains(t, stderr, `no table has a column "heim 1"`)
}

// A table that is refused for its columns has a mapping proposed for it, with
// which it is read.
func TestColumnsThatNobodyKnows(t *testing.T) {
	const text = "Datum,Links,Rechts,Wert,Platz\n2026-09-12,Imani Okafor / Tomasz Zielinski,Priya Raman / Lars Nyberg,11-8 11-9,3\n2026-09-13,Mei-Lin Castellanos / Ana Ruiz,Rafael Oyelaran / Bo Lind,11-10 11-9,2\n"
	status, _, stderr := check(text, "-")
	require.Equal(t, program.Failed, status)
	require.Contains(t, stderr, `-columns "Wert=games" says what one holds`)
	_, _, stderr = check(strings.Replace(text, "Wert", "Gmae 1", 1), "-")
	require.Contains(t, stderr, `-columns "Gmae 1=game1" says what one holds`)
	status, mapping, stderr := check(text, "-propose-columns", "-")
	require.Equal(t, program.Nothing, status, stderr)
	require.Contains(t, mapping, "Datum = date\nLinks = -\nRechts = -\n# not settled; the next column holds \"11-8 11-9\":\nWert = games\nPlatz = -\n")
	name := filepath.Join(t.TempDir(), "columns")
	require.NoError(t, os.WriteFile(name, []byte(strings.NewReplacer("Links = -", "Links = home", "Rechts = -", "Rechts = side_b").Replace(mapping)), 0o600))
	status, out, _ := check(text, "-columns", name, "-")
	require.Equal(t, program.Found, status)
	require.Contains(t, out, "  Links: side_a (a pair in one cell)\n")
	require.Contains(t, out, "[game-margin/2026-09-13,Ana Ruiz+Mei-Lin Castellanos,Bo Lind+Rafael Oyelaran/g1]")
	// Without sides a match is known by its games: no waiver is of a row.
	status, out, _ = check(text, "-columns", "Wert=games", "-")
	require.Equal(t, program.Found, status)
	require.Contains(t, out, "[game-margin/2026-09-13,11-10 11-9/g1]")
	// Columns that hold the score of a game each are games in their order.
	_, mapping, _ = check("Datum,Eins,Zwei\n2026-09-12,11-8,11-9\n", "-propose-columns", "-")
	require.Contains(t, mapping, "Eins = game1\n# not settled; the next column holds \"11-9\":\nZwei = game2\n")
}

// The same spelling that cannot be read in many rows is one finding.
func TestManyCellsAlikeAreOneFinding(t *testing.T) {
	text := "a1,b1,games,winner,format\n"
	for i := range 300 {
		text += fmt.Sprintf("p%d,q%d,11-8,beaten,sideout-singles-11\n", i, i)
	}
	status, out, _ := check(text, "-")
	require.Equal(t, program.Found, status)
	require.Contains(t, out, "300 rows, 300 matches, 0 logs: 300 errors")
	require.Len(t, findingsOf(out), 3)
	require.Contains(t, out, "297 more like this: rows 5, 6, 7, 8, 9, 10, 11, 12, …")
}

func TestWorkbook(t *testing.T) {
	book := excelize.NewFile()
	for i, row := range [][]any{{"Autumn ladder"}, {"Date", "Home", "Away", "Score"}, {46277, "ann / bea", "cid / dot", "11-8 11-9"}, {46278, "cid / dot", "eve / fay", "11-10 11-9"}} {
		require.NoError(t, book.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &row))
	}
	var packed bytes.Buffer
	require.NoError(t, book.Write(&packed))
	status, out, stderr := check(packed.String(), "-")
	require.Equal(t, program.Found, status, stderr)
	require.Contains(t, out, "- Sheet1:4: error: game 1: 11-10 lacks the margin of 2")
	require.Contains(t, out, "2026-09-13 cid / dot - eve / fay")
	status, _, stderr = check(packed.String()[:200], "-")
	require.Equal(t, program.Failed, status)
	require.Contains(t, stderr, "save it as CSV UTF-8")
}

// A workbook as a league keeps it: a merged title, dates that are numbers with a
// style, one with a time of day, points of which some are worked out by formulas, a
// sheet of notes and one of another round.
func TestWorkbookOfALeague(t *testing.T) {
	book := excelize.NewFile()
	day, err := book.NewStyle(&excelize.Style{NumFmt: 14})
	require.NoError(t, err)
	fill := func(sheet string, serial float64, second int) {
		for cell, value := range map[string]any{
			"A1": "Harbour Lane Courts autumn ladder", "A3": "Date", "B3": "Home", "C3": "Away", "D3": "Game 1 A", "E3": "Game 1 B", "F3": "Game 2 A", "G3": "Game 2 B", "H3": "Winner",
			"A4": serial, "B4": "Imani Okafor / Tomasz Zielinski", "C4": "Priya Raman / Lars Nyberg", "D4": 11, "E4": 8, "F4": 11, "G4": second, "H4": "Home",
			"A5": serial + 0.75, "B5": "Mei-Lin Castellanos / Bo Lind", "C5": "Rafael Oyelaran / Ana Ruiz", "D5": 4, "E5": 11, "F5": 11.0, "G5": 13, "H5": "Away",
		} {
			require.NoError(t, book.SetCellValue(sheet, cell, value))
		}
		require.NoError(t, book.MergeCell(sheet, "A1", "H1"))
		require.NoError(t, book.SetCellStyle(sheet, "A4", "A5", day))
		for cell, formula := range map[string]string{"F4": "MAX(D4,11)", "G5": "F5+2"} {
			require.NoError(t, book.SetCellFormula(sheet, cell, formula)) // what it came to stays in the cell
		}
	}
	require.NoError(t, book.SetSheetName("Sheet1", "Round 1"))
	fill("Round 1", 46277, 9)
	for i, sheet := range []string{"Notes", "Round 2"} {
		_, err := book.NewSheet(sheet)
		require.NoError(t, err)
		require.NoError(t, book.SetCellValue("Notes", fmt.Sprintf("A%d", i+1), "rain on the second evening, courts 1 and 2 only"))
	}
	fill("Round 2", 46284, 10)
	name := filepath.Join(t.TempDir(), "league.xlsx")
	require.NoError(t, book.SaveAs(name))
	status, out, stderr := check("", name)
	require.Equal(t, program.Found, status, stderr)
	require.Empty(t, stderr)
	require.Contains(t, out, "4 rows, 4 matches, 0 logs: 1 error, 0 warnings, 0 notes, 0 waived\n")
	require.Contains(t, out, name+" Round 2:4: error: game 2: 11-10 lacks the margin of 2")
	require.Contains(t, out, "\n    2026-09-19 Imani Okafor / Tomasz Zielinski - Priya Raman / Lars Nyberg 11-8 11-10\n")
	require.Contains(t, out, name+" Round 1: header in row 3, a workbook\n  Date: date\n")
	require.NotContains(t, out, "Notes")
}

// utf16le writes a text as spreadsheets save "Unicode text".
func utf16le(s string) string {
	var b strings.Builder
	for _, u := range utf16.Encode([]rune("\ufeff" + s)) {
		b.WriteByte(byte(u))
		b.WriteByte(byte(u >> 8))
	}
	return b.String()
}

// The table of proposals has the encoding, the mark, the comma and the line ends
// of the table that was read, and the rows above its header.
func TestOutKeepsHowTheTableIsWritten(t *testing.T) {
	text := "Autumn ladder\r\n\r\nHeim;Gast;Sätze\r\nRenée / Bo;Åsa / Jürgen;11-8 9-Nov\r\n"
	want := "Autumn ladder;\r\nHeim;Gast;Sätze;proposed\r\nRenée / Bo;Åsa / Jürgen;11-8 9-Nov;\r\n"
	latin := func(s string) string {
		var b []byte
		for _, r := range s {
			b = append(b, byte(r))
		}
		return string(b)
	}
	for name, as := range map[string]func(string) string{
		"UTF-8": func(s string) string { return s }, "with a mark": func(s string) string { return "\ufeff" + s }, "UTF-16": utf16le, "Windows-1252": latin,
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			in, out := filepath.Join(dir, "in.csv"), filepath.Join(dir, "out.csv")
			require.NoError(t, os.WriteFile(in, []byte(as(text)), 0o600))
			status, _, stderr := check("", "-out", out, in)
			require.Equal(t, program.Found, status, stderr)
			got, err := os.ReadFile(out)
			require.NoError(t, err)
			require.Equal(t, as(want), string(got))
		})
	}
}

// A page of tens of thousands of findings stays small enough to be opened, and
// says how many it leaves out.
func TestPageOfManyFindings(t *testing.T) {
	if testing.Short() {
		t.Skip("writes a page of 16 MB")
	}
	var text strings.Builder
	text.WriteString("match,a1,b1,games,format\n")
	for i := range 30_000 {
		fmt.Fprintf(&text, "m%d,p%d,q%d,11-10,sideout-singles-11\n", i, i, i)
	}
	status, page, _ := check(text.String(), "-report", "html", "-")
	require.Equal(t, program.Found, status)
	require.Contains(t, page, "30000 errors")
	require.Less(t, len(page), 16<<20)
	shown := strings.Count(page, "<article ")
	require.Greater(t, shown, 10_000)
	require.Equal(t, (shown+99)/100, strings.Count(page, "<details"), "a hundred matches at a time, folded")
	require.Contains(t, page, "30000 × error", "those not shown are counted")
	require.Less(t, strings.Index(page, "30000 × error"), strings.Index(page, "<article "), "the summary comes first")
	require.NotContains(t, page, "<details open")
}

// Findings stand by file, match and code: what is said of one match stands
// together though it is found at different times, the worst first, and the kinds
// lead to the first match that has them.
func TestReportsAreGrouped(t *testing.T) {
	dir := t.TempDir()
	var names []string
	for _, club := range []string{"harbour", "lane"} {
		name := filepath.Join(dir, club+".csv")
		names = append(names, name)
		text := "match,round,date,a1,a1_name,b1,games,winner\n"
		for i := range 24 {
			date, score := "2026-09-12", "11-8 11-9"
			if i == 5 {
				date, score = "2025-09-12", "11-10 11-3" // one is seen at once, the other at the end of all files
			}
			text += fmt.Sprintf("%d,1,%s,%s%d,,x%s%d,%s,A\n", i, date, club, i, club, i, score)
		}
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	}
	args := append([]string{"-format", "sideout-singles-11-of3"}, names...)
	status, text, _ := check("", args...)
	require.Equal(t, program.Found, status)
	lines := strings.Split(text, "\n")
	require.Equal(t, "48 rows, 48 matches, 0 logs: 2 errors, 2 warnings, 0 notes, 0 waived", lines[0])
	for i, name := range names {
		from := 1 + 4*i
		require.Equal(t, name+": 1 error, 1 warning, 0 notes: game-margin 1, date-outside 1", lines[from])
		require.Contains(t, lines[from+1], name+":7: error: match 5: game 1: 11-10")
		require.Contains(t, lines[from+2], name+":7: warning: match 5: ")
		require.Contains(t, lines[from+3], "    2025-09-12 ")
	}
	_, page, _ := check("", append([]string{"-report", "html"}, args...)...)
	require.Equal(t, 2, strings.Count(page, "<article "), "two findings, one match, in each of two files")
	for _, link := range regexp.MustCompile(`href="#(\w+)"`).FindAllStringSubmatch(page, -1) {
		require.Equal(t, 1, strings.Count(page, ` id="`+link[1]+`"`), link[1])
	}
	require.Equal(t, 2+4, strings.Count(page, `href="#`), "two files, and two kinds in each of them")
}

// A format that nobody knows in every row is said once, with a count, and how many
// matches it kept from being checked.
func TestOneFormatThatNobodyKnows(t *testing.T) {
	text := "date,a1,b1,games,format\n"
	for i := range 30 {
		text += fmt.Sprintf("2026-09-%02d,p%d,q%d,11-8 11-9,Grand Slam\n", i%28+1, i, i)
	}
	status, out, _ := check(text, "-")
	require.Equal(t, program.Found, status)
	require.Contains(t, out, "30 not checked since their format is unknown")
	require.Equal(t, 3, strings.Count(out, "no such format: Grand Slam"))
	require.Contains(t, out, "27 more like this: rows 5, 6")
}
