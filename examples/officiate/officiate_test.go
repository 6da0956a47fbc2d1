package main

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/words"
)

var update = flag.Bool("update", false, "write the golden files anew")

// ticks is a clock that goes on by twenty seconds at every look.
func ticks() func() time.Duration {
	now := time.Duration(0)
	return func() time.Duration {
		now += 20 * time.Second
		return now
	}
}

type ran struct {
	out, errs string
	code      int
}

func officiated(in string, args ...string) ran {
	var out, errs bytes.Buffer
	code := run(args, strings.NewReader(in), &out, &errs, ticks())
	return ran{out.String(), errs.String(), code}
}

// The record names the time of day: here always the same.
func init() {
	wallClock = func() time.Time { return time.Date(2026, 11, 27, 12, 0, 0, 0, time.FixedZone("", 3600)) }
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), got, "see %s; go test -update writes it anew", path)
}

func TestMatchThatComesWithIt(t *testing.T) {
	full := officiated("")
	require.Equal(t, 0, full.code, full.errs)
	golden(t, "ladder.txt", full.out)
	require.Contains(t, full.out, "126 of 126 lines agree.")

	brief := officiated("", "-brief")
	require.Equal(t, 0, brief.code, brief.errs)
	golden(t, "ladder-brief.txt", brief.out)

	file := officiated("", "-file", "ladder-match.jsonl")
	require.Equal(t, full, file, "a file")
	piped := officiated(string(ladderMatch), "-file", "-")
	require.Equal(t, full, piped, "standard input")
}

// The match that comes with the program holds what it is to show.
func TestMatchThatComesWithItHasEverything(t *testing.T) {
	rec, err := record.Read(bytes.NewReader(ladderMatch))
	require.NoError(t, err)
	require.True(t, rec.Ended)
	seen := map[string]int{}
	rallies := 0
	rec.Log.Each(func(st rally.Step) bool {
		seen[st.Event.Kind().String()]++
		if st.Event.Kind() == rally.RallyWon {
			rallies++
		}
		return true
	})
	for _, kind := range []string{"time-out", "ends-changed", "technical-warning", "stop", "medical-request", "medical-valid", "start-game", "sheet-returned"} {
		require.Positive(t, seen[kind], kind)
	}
	require.Equal(t, 107, rallies)
	require.Len(t, rec.Log.Result().Games, 3)
}

// Keyboard sessions, each from a file of what is typed; a later one goes on
// with the record of an earlier one.
func TestLive(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct {
		name  string
		flags []string
		save  string
	}{
		{"game", nil, "game.jsonl"},
		{"medical", []string{"-first", "a", "-names", "Imani Okafor,Tomasz Zielinski,Priya Raman,Lars Nyberg", "-format", "sideout-doubles-11"}, "medical.jsonl"},
		{"match", []string{"-first", "B", "-left", "B", "-format", "sideout-doubles-11-of3@2025"}, "match.jsonl"},
		{"last", nil, "last.jsonl"},
		{"desk", nil, "desk.jsonl"},
	} {
		t.Run(c.name, func(t *testing.T) {
			typed, err := os.ReadFile(filepath.Join("testdata", c.name+".in"))
			require.NoError(t, err)
			file := filepath.Join(dir, c.save)
			got := officiated(string(typed), append([]string{"-live", "-save", file}, c.flags...)...)
			require.Equal(t, 0, got.code, got.errs)
			golden(t, c.name+".txt", strings.NewReplacer(file, "FILE", strings.TrimSuffix(file, ".jsonl")+".result", "FILE.result").Replace(got.out))

			saved, err := os.Open(file)
			require.NoError(t, err)
			rec, err := record.Read(saved)
			require.NoError(t, err)
			require.NoError(t, saved.Close())
			require.True(t, rec.Ended)

			again := officiated("", "-file", file, "-brief")
			require.Equal(t, 0, again.code, again.errs)
			require.Contains(t, again.out, rec.Log.Rules().Line(rec.Log.State()), "what was saved proves the same")
		})
	}
}

// A session broken off at any entry goes on where it was.
func TestResume(t *testing.T) {
	dir := t.TempDir()
	words := strings.Fields("first gA1B1 A B B tA in B A undo redo A A B:net B twA mB1 mB1+ in A")
	words[0] = "first A"
	file := filepath.Join(dir, "whole.jsonl")
	whole := officiated(strings.Join(words, "\n"), "-live", "-save", file)
	require.Equal(t, 0, whole.code, whole.errs)
	want := entries(t, file)
	require.Len(t, want, len(words))
	for cut := range words {
		file := filepath.Join(dir, "part.jsonl")
		_ = os.Remove(file)
		got := officiated(strings.Join(words[:cut], "\n"), "-live", "-save", file)
		require.Equal(t, 0, got.code, got.errs)
		got = officiated(strings.Join(words[cut:], "\n"), "-live", "-resume", file)
		require.Equal(t, 0, got.code, got.errs)
		require.Equal(t, want, entries(t, file), cut)
	}
}

func entries(t *testing.T, file string) (out []string) {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	rec, err := record.Read(bytes.NewReader(data))
	require.NoError(t, err)
	for n := 1; n <= rec.Log.Len(); n++ {
		out = append(out, rec.Log.Entry(n).String())
	}
	return out
}

// A torn file is one clear line, nothing of it is lost, and the match goes on.
func TestTornFile(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "torn.jsonl")
	cut := bytes.Index(ladderMatch, []byte(`"n":20`)) + 11
	require.NoError(t, os.WriteFile(file, ladderMatch[:cut], 0o644))
	got := officiated("", "-file", file)
	require.Equal(t, 2, got.code)
	require.Empty(t, got.out)
	require.Equal(t, "officiate: FILE: line 21: the last line breaks off (breaks off after 12 bytes; the 19 entries before it are whole); nothing is lost: -live -resume FILE goes on from there\n",
		strings.ReplaceAll(got.errs, file, "FILE"))
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, ladderMatch[:cut], data, "reading leaves the file alone")

	got = officiated("score\nA\n", "-live", "-resume", file)
	require.Equal(t, 0, got.code, got.errs)
	require.Contains(t, got.out, `The last line was broken off and is left out. It read: "{\"n\":20,\"do\"`)
	require.Contains(t, got.out, "goes on after 19 entries.")
	require.Contains(t, got.out, "Saved: 20 entries")
	require.Len(t, entries(t, file), 20)
}

func TestBadInput(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		return path
	}
	edited := strings.Replace(string(ladderMatch), `"n":30,"do":"A"`, `"n":30,"do":"B"`, 1)
	require.NotEqual(t, string(ladderMatch), edited)
	there := write("there.jsonl", "")
	for _, c := range []struct {
		name string
		args []string
		want string
	}{
		{"no such file", []string{"-file", filepath.Join(dir, "none")}, "there is no such file"},
		{"an empty file", []string{"-file", there}, "it does not begin as a record does (the file holds no line)"},
		{"not a record", []string{"-file", write("text", "hello\n")}, "line 1: that is no line of a record (not a JSON object"},
		{"an edited record", []string{"-file", write("edited", edited)}, "line 31, line.score: the score beside the entry is not what the entries lead to: something was edited (says"},
		{"a folder", []string{"-file", dir}, "that is a folder"},
		{"an unknown flag", []string{"-nonsense"}, "-nonsense"},
		{"an argument", []string{"match.jsonl"}, "nothing is read from the command line but options"},
		{"live and a file", []string{"-live", "-file", there}, "give one of them"},
		{"resume without live", []string{"-resume", there}, "go with -live"},
		{"format without live", []string{"-format", "rally-doubles-11"}, "go with -live"},
		{"left without live", []string{"-left", "B"}, "go with -live"},
		{"brief and live", []string{"-live", "-brief"}, "leave -brief out"},
		{"resume and first", []string{"-live", "-resume", there, "-first", "A"}, "as the record began"},
		{"resume and save", []string{"-live", "-resume", there, "-save", there}, "leave -save out"},
		{"resume without a file", []string{"-live", "-resume", filepath.Join(dir, "none")}, "there is no such file"},
		{"resume of an empty file", []string{"-live", "-resume", there}, "the file holds no line"},
		{"a file that is there", []string{"-live", "-save", there}, "is there already"},
		{"a folder that is not there", []string{"-live", "-save", filepath.Join(dir, "no", "where")}, "there is no such file"},
		{"an unknown format", []string{"-live", "-format", "tennis"}, `"tennis" is no format; want SHAPE or SHAPE@EDITION, and the shapes are sideout-singles-11,`},
		{"an unknown edition", []string{"-live", "-format", "sideout-doubles-11@1066"}, `"sideout-doubles-11@1066" is no format; sideout-doubles-11 is played by the editions 1999, 2013,`},
		{"a pair that never was", []string{"-live", "-format", "rally-doubles-11@2019"}, "rally-doubles-11 is played by the editions 2025, 2026"},
		{"a format changed to nonsense", []string{"-live", "-format", "sideout-doubles-11+foul=seven"}, "is no format (switch: "},
		{"a first side", []string{"-live", "-first", "C"}, "-first is side A or B"},
		{"a left side", []string{"-live", "-left", "us"}, "-left is side A or B"},
		{"too few names", []string{"-live", "-names", "Imani Okafor,Priya Raman"}, "wants 4 names"},
		{"too many names in singles", []string{"-live", "-format", "sideout-singles-11", "-names", "a,b,c"}, "wants 2 names"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := officiated("", c.args...)
			require.Equal(t, 2, got.code)
			require.Empty(t, got.out)
			require.Contains(t, got.errs, c.want)
			require.Equal(t, 1, strings.Count(got.errs, "\n"), "one line")
			german := officiated("", append([]string{"-language", "de"}, c.args...)...)
			require.Equal(t, 2, german.code)
			require.NotEqual(t, got.errs, german.errs, "said in the language that was asked for")
		})
	}
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, left, 3, "no file was made")
}

// A name speaks to nobody's terminal, and forges no line.
func TestHostileNames(t *testing.T) {
	const name = `\u001b]0;owned\u0007\u001b[2J\nMatch to B1. Score 11-0\u009b2J\u202e`
	hostile := strings.ReplaceAll(string(ladderMatch), `"name":"Imani Okafor"`, `"name":"`+name+`"`)
	require.NotEqual(t, string(ladderMatch), hostile)
	file := filepath.Join(t.TempDir(), "hostile.jsonl")
	require.NoError(t, os.WriteFile(file, []byte(hostile), 0o644))
	for _, args := range [][]string{{"-file", file}, {"-file", file, "-brief"}, {"-live", "-resume", file}} {
		got := officiated("score\ncourt\nlog\nnow\nover\nwhy\n", args...)
		require.Zero(t, got.code, got.errs)
		require.Contains(t, got.out, "owned")
		for line := range strings.Lines(got.out) {
			require.False(t, strings.HasPrefix(line, "Match to B1"), "forged")
			require.Equal(t, program.Printable(strings.TrimSuffix(line, "\n"))+"\n", line)
		}
	}
}

// A disk that is full takes the file, not the match: every line says that it is
// not saved, and save writes everything elsewhere.
func TestGoesOnWithoutItsFile(t *testing.T) {
	dir := t.TempDir()
	var out bytes.Buffer
	v := &live{clock: func() time.Duration { return 0 }}
	v.out = &out
	require.NoError(t, v.begin(&options{language: inEnglish(t), format: "sideout-doubles-11", left: "A", first: "A", save: filepath.Join(dir, "full.jsonl")}))
	v.answer("gA1B1")
	require.NoError(t, v.saved.Close()) // from here on no write succeeds
	out.Reset()
	for range 3 {
		v.answer("A")
		v.unsaved()
	}
	require.Equal(t, 3, strings.Count(out.String(), "NOT SAVED, the match is in memory only"))
	require.Equal(t, 4, v.log.Len(), "the match goes on")
	require.Error(t, v.end())
	v.answer("name A1 Imani Okafor")
	v.answer("save " + filepath.Join(dir, "full.jsonl"))
	require.Contains(t, out.String(), "Nothing was saved: ", "nothing is overwritten")
	other := filepath.Join(dir, "stick.jsonl")
	out.Reset()
	v.answer("save " + other)
	v.answer("A")
	v.unsaved()
	require.NotContains(t, out.String(), "NOT SAVED")
	require.NoError(t, v.end())
	require.NoError(t, v.saved.Close())
	file, err := os.Open(other)
	require.NoError(t, err)
	rec, err := record.Read(file)
	require.NoError(t, err)
	require.NoError(t, file.Close())
	require.Equal(t, 5, rec.Log.Len())
	require.Equal(t, "Imani Okafor", rec.Setup.Name(rally.A1))
}

// A record that does not lead to the lines of the match is found.
func TestProofThatFails(t *testing.T) {
	rec, err := record.Read(bytes.NewReader(ladderMatch))
	require.NoError(t, err)
	rules, start := rec.Log.Initial()
	var out bytes.Buffer
	p := &page{newDesk(rally.NewLog(rules, start), rec.Setup, inEnglish(t)), &out}
	for _, e := range []rally.Event{rally.Choose(rally.A, rally.ChooseServe), rally.RallyTo(rally.A), rally.RallyTo(rally.B)} {
		_, err := p.enter(e.Entry())
		require.NoError(t, err)
	}
	require.NoError(t, p.prove())
	p.lines[1] = p.lines[0]
	require.ErrorIs(t, p.prove(), program.ErrFound)
	require.Contains(t, out.String(), "The proof failed: at entry 2 the lines differ.")
}

func TestHelpFlag(t *testing.T) {
	got := officiated("", "-h")
	require.Equal(t, 0, got.code)
	require.Contains(t, got.out, "-resume")
}

// Whatever is typed, the program answers and what it saved can be read.
func TestOddLines(t *testing.T) {
	file := filepath.Join(t.TempDir(), "odd.jsonl")
	typed := "gA1B1\nA\n\x00\xff\n" + strings.Repeat("A", 10000) + "\namend 2 - \xff\xfe\nname A1 \xff\nname\nname A1\nundo 3\n()\nA?\nset \n\r\nB\r\n"
	got := officiated(typed, "-live", "-first", "A", "-save", file)
	require.Equal(t, 0, got.code, got.errs)
	require.Contains(t, got.out, "That line is too long")
	require.Equal(t, []string{"gA1B1", "A", "amend 2 - ?", "B"}, entries(t, file))
}

// A record that cannot be saved ends the session, and the match is printed.
func TestUnwritable(t *testing.T) {
	file := filepath.Join(t.TempDir(), "two.jsonl")
	grow := func() time.Duration { // another program writes to the file
		f, err := os.OpenFile(file, os.O_APPEND|os.O_WRONLY, 0)
		if err == nil {
			_, err = f.WriteString("x")
			err = errors.Join(err, f.Close())
		}
		require.NoError(t, err)
		return 0
	}
	var out, errs bytes.Buffer
	code := run([]string{"-live", "-first", "A", "-save", file}, strings.NewReader("gA1B1\nA\n"), &out, &errs, grow)
	require.Equal(t, 2, code)
	require.Contains(t, out.String(), "The match so far: sideout-doubles-11-of3@2026 A: gA1B1@0")
	require.Contains(t, errs.String(), "another program has it open or writes to it")
}

// Every kind of event that is allowed has a word that may be typed.
func TestEveryAllowedKindHasAWord(t *testing.T) {
	rec, err := record.Read(bytes.NewReader(ladderMatch))
	require.NoError(t, err)
	kinds := map[rally.Kind]bool{}
	rec.Log.Each(func(st rally.Step) bool {
		set := st.Rules.Allowed(st.Before)
		for _, k := range rally.Kinds() {
			if set.Has(k) {
				require.NotEmpty(t, spoken(st.Rules, st.Before, k), k)
				kinds[k] = true
			}
		}
		return true
	})
	require.Greater(t, len(kinds), 25)
}

// In place of another language the codes themselves: nothing that is said stands
// outside the catalog, and no text lacks an argument.
func TestEverythingIsSaidFromTheCatalog(t *testing.T) {
	typed, err := os.ReadFile(filepath.Join("testdata", "match.in"))
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "match.jsonl")
	for _, got := range []ran{officiated("", "-language", "x-codes"), officiated("", "-brief", "-language", "x-codes"),
		officiated(string(typed)+"\nhelp\n?\nask A server right\nask\nname\nscore\nnow\nover\nwhy\ncourt\nu\nr\nnonsense\n", "-live", "-first", "B", "-save", file, "-language", "x-codes")} {
		require.Equal(t, 0, got.code, got.errs)
		require.NotContains(t, got.out, "[officiate.")
		for _, line := range strings.Split(got.out, "\n") {
			if line == "" || strings.HasPrefix(line, "L2 ") || strings.Contains(line, "{\"") || strings.HasPrefix(line, "Harbour Lane") {
				continue // a line of the match, its result as data, its name
			}
			require.Contains(t, line, "<", "said past the catalog")
			require.NotContains(t, line, "=->", "an argument that was not given")
			require.NotContains(t, line, "=- ", "an argument that was not given")
		}
	}
}

func inEnglish(t *testing.T) *words.Language { return in(t, "en") }

func in(t *testing.T, tag string) *words.Language {
	t.Helper()
	l, err := texts.Language(tag)
	require.NoError(t, err)
	return l
}
