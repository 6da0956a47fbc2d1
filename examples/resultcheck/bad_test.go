package main

import (
	"bytes"
	"compress/gzip"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
)

func pack(t *testing.T, text string) string {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	_, err := w.Write([]byte(text))
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return b.String()
}

// otherFormat is what is said of a format that nobody knows.
const otherFormat = "; not checked. Write an id such as sideout-doubles-11-of3, or pass the column over and name the format yourself"

// What the program says to a file on standard input: exit status, findings and
// the line on standard error.
func TestBadFiles(t *testing.T) {
	const key = "match,a1,b1,games,format\n"
	good := "m1,p5,p6,11-8,sideout-singles-11\n"
	long := strings.Repeat("x", 1<<20+1)
	const summary = " waived"
	tests := []struct {
		name   string
		file   string
		status int
		want   []string // findings, on standard output
		stderr string
	}{
		{"nothing", "", program.Failed, nil, "resultcheck: -: is empty"},
		{"blanks", " \n\n", program.Failed, nil, "resultcheck: -: row 1: no row has names of columns that are known"},
		{"a header alone", key, program.Nothing, nil, ""},
		{"one good row", key + good, program.Nothing, nil, ""},
		{"no line end at the end", strings.TrimSpace(key + good), program.Nothing, nil, ""},
		{"line ends of another system", strings.ReplaceAll(key+good, "\n", "\r\n"), program.Nothing, nil, ""},
		{"a table without a header", good, program.Failed, nil, "resultcheck: -: row 1: no row has names of columns that are known"},
		{"a column twice", "match,games,games\n", program.Failed, nil, `resultcheck: -: row 1: columns that mean what another one means: "games" (games?); a mapping of columns settles it: rename one of them first`},
		{"a row with a field too few", key + "m1,p5,p6\n" + good, program.Found, []string{"-:2: error: this row cannot be read: want 5 fields, have 3 [row-unreadable/2]"}, ""},
		{"a row with a field too many", key + "m1,p5,p6,11-8,sideout-singles-11,,\n" + good, program.Found, []string{"-:2: error: this row cannot be read: want 5 fields, have 7 [row-unreadable/2]"}, ""},
		{"a quote that nobody closes", key + "m1,\"p5,p6,11-8,\n" + good, program.Found, []string{"-:2: error: this row cannot be read: a quote is opened and not closed [row-unreadable/2]"}, ""},
		{"a quote in the middle of a cell", key + "m1,p\"5\",p6,11-8,sideout-singles-11\n" + good, program.Found, []string{`-:2: error: this row cannot be read: bare " in non-quoted-field [row-unreadable/bare " in non-quoted-field~2]`}, ""},
		{"two quotes that nobody closes, far apart", key + "m1,\"p5\n" + manyRows(57) + "y,\"p6\n" + strings.Replace(good, "m1", "z", 1), program.Found, []string{
			"-:2: error: this row cannot be read: a quote is opened and not closed [row-unreadable/2]",
			"-:60: error: this row cannot be read: a quote is opened and not closed [row-unreadable/60]"}, ""},
		{"a quote closed in the middle of a cell over two lines", key + "\";9-Nov\n\"x\n" + good, program.Found, []string{`-:2: error: this row cannot be read: extraneous or missing " in quoted-field [row-unreadable/extraneous or missing " in quoted-field~2]`}, ""},
		{"a quoted cell over two lines is one row", key + "\"m\n1\",p5,p6,11-8,sideout-singles-11\n", program.Nothing, nil, ""},
		{"a line past a million bytes", key + long + "\n" + good, program.Found, []string{"-:2: error: this row cannot be read: longer than 1048576 bytes [row-unreadable/2]"}, ""},
		{"a header past a million bytes", long, program.Failed, nil, "resultcheck: -: is empty"},
		{"no score", key + "m1,p5,p6,won,\n", program.Found, append([]string{`-:2: error: match m1: column games: "won" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}, noPartners("m1")...), ""},
		{"a score made a date", key + "m1,p5,p6,9-Nov,\n", program.Found, append([]string{`-:2: error: match m1: column games: "9-Nov" looks like a score that a spreadsheet turned into a date: 11-9 or 9-11`}, noPartners("m1")...), ""},
		{"an unknown format", key + "m1,p5,p6,11-8,triples-11\n", program.Found, []string{"-:2: error: match m1: column format: no such format: triples-11" + otherFormat + " [format-unknown/m1/format]"}, ""},
		{"a format of another edition", key + "m1,p5,p6,11-8,rally-singles-11@1999\n", program.Found, []string{"-:2: error: match m1: column format: no such format: rally-singles-11@1999" + otherFormat + " [format-unknown/m1/format]"}, ""},
		{"a row may not name a file", key + "m1,p5,p6,11-8,/etc/scoring.json\n", program.Found, []string{"-:2: error: match m1: column format: no such format: /etc/scoring.json" + otherFormat + " [format-unknown/m1/format]"}, ""},
		{"an id that would move the cursor", key + "\"m\x1b[2J\n1\",p5,p6,11-9x,\n", program.Found, append([]string{"-:2: error: match m\ufffd[2J\ufffd1: column games: \"11-9x\" cannot be read here: want scores such as 11-8; only what could be read of the row was checked"}, noPartners("m\ufffd[2J\ufffd1")...), ""},
		{"bytes that are no UTF-8", key + "m\xff,p5,p6,11-9x,\n", program.Found, append([]string{"-:2: error: match m\u00ff: column games: \"11-9x\" cannot be read here: want scores such as 11-8; only what could be read of the row was checked"}, noPartners("m\u00ff")...), ""},
		{"notes alone are no reason to fail", "match,games,winner,date,format\nm1,11-8,A,-,sideout-singles-11\nm2,11-8,n/a,-,sideout-singles-11\n", program.Nothing, []string{
			"-: note: missing values are spelt in 2 ways: -, n/a [missing-spelled/-, n/a~0]"}, ""},
		{"JSON: torn in the middle", "{\"match\":\"m1\",\"games\":[[11", program.Found, []string{"-:1: error: this row cannot be read: no JSON: unexpected end [row-unreadable/no JSON: unexpected end~1]"}, ""},
		{"JSON: one bad line among good ones", "{\"match\":\"m1\",\"status\":\"not-played\"}\nnull\n\n{\"match\":\"m2\",\"status\":\"not-played\"}\n", program.Found, []string{"-:2: error: this row cannot be read: want an object [row-unreadable/want an object~2]"}, ""},
		{"JSON: an unknown field", "{\"match\":\"m1\",\"court\":3}\n", program.Found, []string{`-:1: error: this row cannot be read: unknown field "court" [row-unreadable/unknown field "court"~1]`}, ""},
		{"JSON: half a score", "{\"match\":\"m1\",\"games\":[[11]]}\n", program.Found, []string{"-:1: error: field games.0: this row cannot be read: want two numbers up to 999 [row-unreadable/want two numbers up to 999~1/games.0]"}, ""},
		{"JSON: a line past a million bytes", "{\"match\":\"" + long + "\"}\n{\"match\":\"m2\",\"status\":\"not-played\"}\n", program.Found, []string{"-:1: error: this row cannot be read: longer than 1048576 bytes [row-unreadable/1]"}, ""},
		{"JSON: a log that cannot be", `{"match":"m1","format":"sideout-doubles-11","first":"A","starters":"A1B1","rows":[{"winner":"A","server":"A2"},{"winner":"A","server":"A1"}]}`, program.Found, []string{
			"-:1: error: match m1: row 1 is the first that does not follow from those before it; 1 of 2 rows disagree, and the last ones agree again [log-diverges/m1/r1]",
			"-:1: error: match m1: row 1 names A2 as server, A1 was due: by the fewest changes; others come near [log-server-wrong/m1/g1/r1]"}, ""},
		{"JSON: no such server", `{"match":"m1","format":"sideout-doubles-11","rows":[{"server":"A9"}]}`, program.Found, []string{
			"-:1: error: field rows.0.server: this row cannot be read: want A1, A2, B1, B2, A or B [row-unreadable/want A1, A2, B1, B2, A or B~1/rows.0.server]"}, ""},
		{"a record that is none", `{"record":"evencourt/9"}` + "\n", program.Failed, nil, ""},
		{"a record torn in its header", `{"record":`, program.Failed, nil, ""},
		{"gzip: nothing inside", pack(t, ""), program.Failed, nil, "resultcheck: -: is empty"},
		{"gzip: a good file", pack(t, key+good), program.Nothing, nil, ""},
		{"gzip: a header that is cut", "\x1f\x8b\x08", program.Failed, nil, "resultcheck: -: unexpected EOF"},
		{"gzip: no gzip after two bytes", "\x1f\x8bmatch,games\n", program.Failed, nil, "resultcheck: -: gzip: invalid header"},
		{"gzip: a small file that is cut", pack(t, key+good)[:40], program.Failed, nil, "resultcheck: -: unexpected EOF"},
		{"gzip: cut far inside", half(pack(t, key+manyRows(6000))), program.Failed, nil, "resultcheck: -: unexpected EOF"},
		{"gzip: a wrong sum at the end", spoil(pack(t, key+good)), program.Failed, nil, "resultcheck: -: gzip: invalid checksum"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			status, stdout, stderr := check(test.file, "-")
			if stdout != "" || test.status != program.Failed {
				require.Contains(t, strings.Split(stdout, "\n")[0], summary)
			}
			var got []string
			for _, line := range findingsOf(stdout) {
				// A file that is cut may have rows before the cut.
				if test.status != program.Failed || test.want != nil {
					got = append(got, line)
				}
			}
			var want []string
			for _, line := range test.want {
				want = append(want, withoutKey(line))
			}
			require.Empty(t, cmp.Diff(want, got))
			require.Equal(t, test.status, status, stderr)
			if test.stderr != "" || test.status != program.Failed {
				require.Equal(t, test.stderr, strings.TrimSpace(stderr))
			}
			require.LessOrEqual(t, strings.Count(stderr, "\n"), 1)
			require.Less(t, len(stdout)+len(stderr), 3000)
		})
	}
}

// noPartners are the findings about a row of singles in a file of doubles.
func noPartners(match string) []string {
	var out []string
	for _, side := range []string{"A", "B"} {
		out = append(out, "-:2: error: match "+match+": side "+side+" has not the number of players of doubles")
	}
	return out
}

// findingsOf are the lines of findings in a report, without their keys.
func findingsOf(stdout string) []string {
	var out []string
	for line := range strings.Lines(stdout) {
		if strings.Contains(line, ": error: ") || strings.Contains(line, ": warning: ") || strings.Contains(line, ": note: ") {
			out = append(out, withoutKey(strings.TrimSuffix(line, "\n")))
		}
	}
	return out
}

func withoutKey(line string) string {
	if i := strings.LastIndex(line, " ["); i > 0 && strings.HasSuffix(line, "]") {
		return line[:i]
	}
	return line
}

func manyRows(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString("m" + strconv.Itoa(i) + ",p" + strconv.Itoa(7919*i%100003) + ",q" + strconv.Itoa(104729*i%99991) + ",11-" + strconv.Itoa(i*i%10) + ",sideout-singles-11\n")
	}
	return b.String()
}

func half(s string) string { return s[:len(s)/2] }

func spoil(s string) string { return s[:len(s)-8] + "\x00\x00\x00\x00" + s[len(s)-4:] }

// What -out names keeps what it held until all of the new table is there, and
// what is read is never written to, standard input included.
func TestOutTouchesNothingBeforeItIsWhole(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	const table = "match,games,format\nm,11-8,sideout-singles-11\n"
	good := file("good.csv", table)
	for _, test := range []struct{ name, input string }{
		{"no such input", filepath.Join(dir, "missing.csv")},
		{"no table", file("lines.jsonl", "{\"match\":\"m\"}\n")},
		{"an input that breaks off", file("cut.csv.gz", pack(t, table)[:40])},
		{"an unknown column", file("odd.csv", "match,games,gmae2\n")},
	} {
		t.Run(test.name, func(t *testing.T) {
			out := file("precious.csv", "precious\n")
			status, _, _ := check("", "-out", out, test.input)
			require.Equal(t, program.Failed, status)
			text, err := os.ReadFile(out)
			require.NoError(t, err)
			require.Equal(t, "precious\n", string(text))
			status, _, errs := check("", "-out", out, good)
			require.Equal(t, program.Nothing, status, errs)
			text, err = os.ReadFile(out)
			require.NoError(t, err)
			require.Equal(t, "match,games,format,proposed\nm,11-8,sideout-singles-11,\n", string(text))
		})
	}
	t.Run("standard input", func(t *testing.T) {
		in, err := os.Open(good)
		require.NoError(t, err)
		defer in.Close()
		var out, errs bytes.Buffer
		require.Equal(t, program.Failed, run([]string{"-out", good, "-"}, in, &out, &errs))
		require.Equal(t, "resultcheck: -out: "+good+" is standard input; want another file\n", errs.String())
		text, err := os.ReadFile(good)
		require.NoError(t, err)
		require.Equal(t, table, string(text))
	})
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, left, 5, "nothing is left lying about")
}

// The command line: exit status 2 and one line that says why.
func TestBadCommandLines(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	table := file("table.csv", "match,games\nm,11-8\n")
	lines := file("lines.jsonl", "{\"match\":\"m\"}\n")
	proposed := file("proposed.csv", "match,games,proposed\nm,11-8,\n")
	linked := filepath.Join(dir, "linked.csv")
	require.NoError(t, os.Symlink(table, linked))
	waivers := file("waivers", "match-undecided/m\tplayed on\n")
	tests := []struct {
		name string
		args []string
		want string // the line after "resultcheck: "
	}{
		{"missing file", []string{"no-such-file.csv"}, "no-such-file.csv: no such file or directory"},
		{"a folder", []string{dir}, dir + ": is a folder"},
		{"an unknown format", []string{"-format", "triples", table}, `format: shape: unknown id "triples"`},
		{"a format of another edition", []string{"-format", "rally-doubles-11@1999", table}, "format: edition: shape rally-doubles-11 does not exist in edition 1999"},
		{"a missing scoring", []string{"-format", "no-such.json", table}, "open no-such.json: no such file or directory"},
		{"a scoring that is none", []string{"-format", file("bad.json", `{"target":0}`), table}, "audit: target: must be 1 to 250"},
		{"a scoring that is no JSON", []string{"-format", file("worse.json", `target=11`), table}, "audit: no JSON: unexpected 'a' at byte 2"},
		{"an unknown report", []string{"-report", "paper", table}, `-report: want text, json or html, not "paper"`},
		{"an unknown code", []string{"-explain", "no-such-code"}, `no such code: "no-such-code"; CODES.md of rally/audit lists them`},
		{"an empty code", []string{"-explain", "?"}, `no such code: "?"; CODES.md of rally/audit lists them`},
		{"missing waivers", []string{"-accept", "no-such-file", table}, "open no-such-file: no such file or directory"},
		{"a waiver without a reason", []string{"-accept", file("bare", "# why\n\nmatch-undecided/m\n"), table}, filepath.Join(dir, "bare") + ": line 3: want a key, a tab or two blanks, and the reason"},
		{"a waiver with a blank reason", []string{"-accept", file("blank", "match-undecided/m \t \n"), table}, filepath.Join(dir, "blank") + ": line 1: want a key, a tab or two blanks, and the reason"},
		{"a waiver past any line", []string{"-accept", file("long", strings.Repeat("x", 1<<17)), table}, filepath.Join(dir, "long") + ": line 1: longer than 65535 bytes"},
		{"output over the input", []string{"-out", table, table}, "-out: " + table + " is read; want another file"},
		{"output over the input by another path", []string{"-out", filepath.Join(dir, "..", filepath.Base(dir), "table.csv"), table}, "-out: " + table + " is read; want another file"},
		{"output over the input by a link", []string{"-out", linked, table}, "-out: " + table + " is read; want another file"},
		{"output over the waivers", []string{"-accept", waivers, "-out", waivers, table}, "-out: " + waivers + " is read; want another file"},
		{"output of two files", []string{"-out", filepath.Join(dir, "out.csv"), table, lines}, "-out wants one input"},
		{"output of no table", []string{"-out", filepath.Join(dir, "out.csv"), lines}, lines + ": -out wants a table in text"},
		{"output where there is no folder", []string{"-out", filepath.Join(dir, "no", "out.csv"), table}, "-out: open " + filepath.Join(dir, "no", "out.csv") + ": no such file or directory"},
		{"a column of proposals already", []string{"-out", filepath.Join(dir, "out.csv"), proposed}, proposed + ": has a column proposed already"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			status, _, stderr := check("", test.args...)
			require.Equal(t, "resultcheck: "+test.want+"\n", stderr)
			require.Equal(t, program.Failed, status)
			after, err := os.ReadFile(table)
			require.NoError(t, err)
			require.Equal(t, "match,games\nm,11-8\n", string(after), "the input is never edited")
		})
	}
	t.Run("no file", func(t *testing.T) {
		status, _, stderr := check("")
		require.Equal(t, program.Failed, status)
		require.Equal(t, "resultcheck: want at least one FILE; -h shows how\n", stderr)
	})
	t.Run("an unknown flag", func(t *testing.T) {
		status, _, stderr := check("", "-fix", table)
		require.Equal(t, program.Failed, status)
		require.Contains(t, stderr, "flag provided but not defined: -fix")
	})
	t.Run("help is no failure", func(t *testing.T) {
		status, stdout, _ := check("", "-h")
		require.Equal(t, program.Nothing, status)
		require.Contains(t, stdout, "--accept")
	})
	t.Run("a good file after a bad one is read all the same", func(t *testing.T) {
		status, stdout, _ := check("", "no-such-file.csv", table)
		require.Equal(t, program.Failed, status)
		require.Contains(t, stdout, "1 row, 1 match")
	})
}
