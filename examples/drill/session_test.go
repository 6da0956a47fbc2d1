package main

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/drill/exercise"
	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/words"
)

func init() { today = func() time.Time { return time.Date(2026, 11, 27, 12, 0, 0, 0, time.UTC) } }

// drilled runs the program.
func drilled(t testing.TB, input string, args ...string) (out, complaints string, code int) {
	var o, c bytes.Buffer
	if !slices.Contains(args, "-seed") && !slices.Contains(args, "-progress") {
		args = append([]string{"-fresh"}, args...) // nothing of the person who tests
	}
	code = run(args, strings.NewReader(input), &o, &c)
	return o.String(), c.String(), code
}

// made are exercises as the flags would make them.
func made(t testing.TB, args ...string) (options, []exercise.Exercise) {
	var asked options
	var errs bytes.Buffer
	if program.Run(command(func(o options) error { asked = o; return nil }), args, nil, &errs, &errs) != program.Nothing {
		t.Fatal(errs.String())
	}
	return asked, exercise.New(asked.Course).Exercises(asked.n)
}

const caution = "It confers no qualification"

func TestSameSeedSameDrill(t *testing.T) {
	for _, l := range exercise.Levels() {
		one, _, _ := drilled(t, "1\n2\n3\n", "-level", l.Name, "-seed", "9")
		two, _, _ := drilled(t, "1\n2\n3\n", "-level", l.Name, "-seed", "9")
		other, _, _ := drilled(t, "1\n2\n3\n", "-level", l.Name, "-seed", "10")
		if one != two {
			t.Errorf("%s: the same seed gave another drill", l.Name)
		}
		if one == other {
			t.Errorf("%s: another seed gave the same drill", l.Name)
		}
	}
}

// Every right answer is taken as right, whether by number, in words, or as a
// call in any spelling.
func TestRightAnswersAreRight(t *testing.T) {
	for _, l := range exercise.Levels() {
		o, exercises := made(t, "-level", l.Name, "-n", "60", "-seed", "3")
		var input strings.Builder
		for i, x := range exercises {
			n := slices.Index(strings.Split("123456789", ""), x.Key)
			switch {
			case x.Topic == "marking":
				fmt.Fprintln(&input, x.Key)
			case len(x.Options) == 0 && i%3 == 0:
				fmt.Fprintln(&input, strings.ReplaceAll(x.Key, "-", ", "))
			case len(x.Options) == 0 && i%3 == 1:
				var words []string
				for _, d := range strings.Split(x.Key, "-") {
					var k int
					fmt.Sscan(d, &k)
					words = append(words, o.language.Spell(k))
				}
				fmt.Fprintln(&input, strings.Join(words, " "))
			case len(x.Options) > 0 && i%2 == 0:
				fmt.Fprintln(&input, strings.ToUpper(o.language.Say(x.Options[n])))
			default:
				fmt.Fprintln(&input, x.Key)
			}
		}
		out, _, code := drilled(t, input.String(), "-level", l.Name, "-n", "60", "-seed", "3")
		if code != 0 || !strings.Contains(out, "All together: 60 of 60 right.") {
			t.Errorf("%s: exit %d\n%s", l.Name, code, out[max(0, len(out)-1500):])
		}
	}
}

func TestWrongAnswersAreMarkedWithTheKey(t *testing.T) {
	out, _, code := drilled(t, strings.Repeat("7-7-7\n3\nrubbish\n\n1\n", 40), "-level", "whole-job", "-n", "20")
	if code != 0 {
		t.Fatal(code)
	}
	for _, want := range []string{"Not right. The answer is: ", "Clause: ", "Practise ", "Answer with a number from 1 to "} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q", want)
		}
	}
}

// The end of the input ends with the results, at once or in the middle, with
// or without a last line break, and with a line that is far too long.
func TestEndOfInputEndsWithResults(t *testing.T) {
	for name, input := range map[string]string{"at once": "", "in the middle": "1\n2\n", "no line break": "1\n2", "too long": strings.Repeat("9", 1<<20) + "\n1\n"} {
		out, _, code := drilled(t, input, "-level", "practice-court")
		if code != 0 || !strings.Contains(out, "Results by topic.") || strings.Count(out, caution) != 2 {
			t.Errorf("%s: exit %d\n%s", name, code, out)
		}
	}
}

// Plain lines: no colours, no cursor tricks, nothing but ASCII words.
func TestPlainLines(t *testing.T) {
	out, _, _ := drilled(t, strings.Repeat("1\n", 200), "-level", "whole-job", "-n", "100")
	for _, r := range out {
		if r != '\n' && (r < ' ' || r > '~') {
			t.Fatalf("%q in the output", r)
		}
	}
}

// badRequests make no drill, each for a reason of its own.
var badRequests = []struct {
	args []string
	want string
}{
	{[]string{"-language", "xx"}, `unknown language "xx"; there are de, en, x-codes`},
	{[]string{"-edition", "2012"}, `unknown edition "2012"; there are 1999, 2013,`},
	{[]string{"-edition", "badminton-2006"}, "unknown edition"},
	{[]string{"-level", "grandmaster"}, `unknown level "grandmaster"; there are first-clinic, practice-court,`},
	{[]string{"-n", "0"}, "-n must be 1 to 500"},
	{[]string{"-n", "501"}, "-n must be 1 to 500"},
	{[]string{"-n", "many"}, `-n cannot be "many"`},
	{[]string{"-seed", "-1"}, `-seed cannot be "-1"`},
	{[]string{"-level", "retraining", "-since", "2026"}, "is no edition before 2026; there are 1999,"},
	{[]string{"-since", "2020"}, "-since goes with -level retraining only"},
	{[]string{"-level", "retraining", "-edition", "1999"}, "no edition before 1999 is known"},
	{[]string{"-answers"}, "-answers goes with -sheet"},
	{[]string{"-sheet", "-key", "-seed", "1", "-answers"}, "leave it out"},
	{[]string{"-group", "Tuesday"}, "-group goes with -sheet"},
	{[]string{"now"}, `found "now"`},
	{[]string{"-x\ny"}, "there is no option -x"},
	{[]string{"-topics", "ruling"}, `level first-clinic has no topic "ruling"; there are result, score`},
	{[]string{"-names", "Imani Okafor"}, "-names wants 4 names divided by commas, not 1"},
	{[]string{"-key"}, "-key goes with -sheet and the -seed of the page"},
	{[]string{"-file", "testdata/badminton.jsonl"}, "the drill asks about matches of pickleball"},
}

func TestBadRequests(t *testing.T) {
	for _, c := range badRequests {
		out, complaint, code := drilled(t, "", c.args...)
		if code != 2 || out != "" || strings.Count(complaint, "\n") != 1 || !strings.Contains(complaint, c.want) {
			t.Errorf("%q: exit %d, %q, want %q", c.args, code, complaint, c.want)
		}
		if _, german, _ := drilled(t, "", append([]string{"-language=de"}, c.args...)...); german == complaint && c.args[0] != "-language" {
			t.Errorf("%q is said in English where German is asked for", complaint)
		}
	}
	if out, _, code := drilled(t, "", "-h"); code != 0 || !strings.Contains(out, "-level") {
		t.Errorf("-h: exit %d", code)
	}
}

// A second language renders every exercise; every code of the program is used
// by one of them or by the frame of a session.
func TestToyLanguageSaysEverything(t *testing.T) {
	toy, err := texts.Language("x-codes")
	if err != nil {
		t.Fatal(err)
	}
	own := map[words.Code]bool{}
	for _, e := range texts.Codes() {
		if strings.HasPrefix(string(e.Code), "drill.") {
			own[e.Code] = true
		}
	}
	used := map[words.Code]bool{}
	var visit func(x words.Text)
	visit = func(x words.Text) {
		used[x.Code] = true
		for _, a := range x.Args {
			if inner, ok := a.Value.(words.Text); ok {
				visit(inner)
			}
		}
	}
	said := regexp.MustCompile(`(?:<|&lt;)(drill\.[-.\w]+)`)
	mark := func(out string) {
		for _, code := range said.FindAllStringSubmatch(out, -1) {
			used[words.Code(code[1])] = true
		}
	}
	seeds := 9 // together they say everything
	if testing.Short() {
		seeds = 1
	}
	for seed := range seeds {
		for _, l := range exercise.Levels() {
			for _, e := range []string{"2017", "2019", "2026"} {
				o, exercises := made(t, "-level", l.Name, "-edition", e, "-n", "60", "-seed", fmt.Sprint(seed))
				o.language = toy
				for _, x := range exercises {
					for _, line := range slices.Concat(x.Prompt, x.Options, x.Reason) {
						if err := toy.Check(line); err != nil {
							t.Fatal(err)
						}
						visit(line)
					}
				}
				var page, session bytes.Buffer
				o.answers, o.group = true, "Tuesday class"
				if err := writePage(&page, o, exercises); err != nil {
					t.Fatal(err)
				}
				o.key, o.answers, o.group = true, false, ""
				if err := writePage(&page, o, exercises); err != nil {
					t.Fatal(err)
				}
				if err := runSession(o, exercises, strings.NewReader(strings.Repeat("x\n1\n?\nhint\nskip\n", 100)), &session); err != nil {
					t.Fatal(err)
				}
				for _, out := range []string{page.String(), session.String()} {
					if strings.Contains(out, "[drill.") || strings.Contains(out, "[duty.") || strings.Contains(out, "=-") {
						t.Fatal("a code has no text")
					}
					mark(out)
				}
			}
		}
	}
	help, _, _ := drilled(t, "", "-language", "x-codes", "-h")
	mark(help)
	for _, c := range badRequests {
		_, complaint, _ := drilled(t, "", append([]string{"-language", "x-codes"}, c.args...)...)
		mark(complaint)
	}
	frame := []words.Code{"drill.bad-progress", "drill.match-own", "drill.match-unnamed", "drill.page-foot", "drill.progress", "drill.quit", "drill.stopped", "drill.start", "drill.nothing-changed", "drill.practise-nothing", "drill.right"}
	for code := range own {
		if !testing.Short() && !used[code] && !slices.Contains(frame, code) && !strings.HasPrefix(string(code), "drill.matter-") { // of which there are too many
			t.Errorf("%s is never said", code)
		}
	}
}

// The page is one well-formed document with every exercise, its answer line
// and its key.
func TestPage(t *testing.T) {
	out, _, code := drilled(t, "", "-level", "whole-job", "-n", "20", "-seed", "7", "-sheet")
	if code != 0 {
		t.Fatal(code)
	}
	decoder := xml.NewDecoder(strings.NewReader(out))
	decoder.Strict, decoder.AutoClose, decoder.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		if _, err := decoder.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if n := strings.Count(out, "<section class=\"exercise\""); n != 20 {
		t.Errorf("%d exercises", n)
	}
	if strings.Count(out, caution) != 2 || !strings.Contains(out, `<html lang="en">`) {
		t.Error("caution or language is missing")
	}
	key, _, _ := drilled(t, "", "-level", "whole-job", "-n", "20", "-seed", "7", "-sheet", "-key")
	if strings.Contains(out, "class=\"solution\"") || strings.Contains(key, "class=\"exercise\"") {
		t.Error("the key is on the page of the exercises, or they on its")
	}
	if n := strings.Count(key, "class=\"solution\""); n != 20 {
		t.Errorf("%d solutions", n)
	}
	if again, _, _ := drilled(t, "", "-level", "whole-job", "-n", "20", "-seed", "7", "-sheet"); again != out {
		t.Error("the same seed gave another page")
	}
}

// On the screen each exercise can be answered, and with -answers each answer be
// shown; neither is printed. The group stands at the head, escaped.
func TestPageOnTheScreen(t *testing.T) {
	args := []string{"-level", "whole-job", "-n", "30", "-seed", "7", "-sheet", "-group", "Tuesday <b>class</b>"}
	plain, _, code := drilled(t, "", args...)
	require.Zero(t, code)
	require.Contains(t, plain, `<p class="group">Tuesday &lt;b&gt;class&lt;/b&gt;</p>`)
	require.Contains(t, plain, `<input type="radio" name="e`)
	require.Contains(t, plain, `<input size="12" aria-labelledby="e`)
	require.Contains(t, plain, "@media print { input, details { display: none; } }")
	require.NotContains(t, plain, "<details")
	shown, _, code := drilled(t, "", append(args, "-answers", "-language", "de")...)
	require.Zero(t, code)
	require.Equal(t, 30, strings.Count(shown, "<details><summary>Antwort zeigen</summary>"))
	require.Equal(t, 30, strings.Count(shown, `class="solution"`))
	require.Contains(t, shown, "die ganze Aufgabe")
	require.NotContains(t, shown, "whole-job")
}

func FuzzSession(f *testing.F) {
	f.Add("1\n2-1-1\n", uint64(1), "whole-job")
	f.Add("four, two, one\nside out\n\x00\xff\n", uint64(7), "ladder-match")
	f.Fuzz(func(t *testing.T, input string, seed uint64, level string) {
		out, complaint, code := drilled(t, input, "-seed", fmt.Sprint(seed), "-level", level, "-n", "4")
		if code == 0 && strings.Count(out, caution) != 2 || code != 0 && (code != 2 || strings.Count(complaint, "\n") != 1) {
			t.Fatalf("exit %d: %q, %q", code, out, complaint)
		}
	})
}

// The words that are no answers, and what was wrong comes again when it is due.
func TestProgress(t *testing.T) {
	dir := t.TempDir()
	file, table := filepath.Join(dir, "deep", "practice.txt"), filepath.Join(dir, "class.csv")
	args := []string{"-progress", file, "-n", "6", "-csv", table, "-trainee", "Imani Okafor", "-topics", "score"}
	out, complaint, code := drilled(t, "hint\n?\nskip\n0-9-9\n0-9-9\n0-9-9\nquit\n", args...)
	if code != 0 || !strings.Contains(out, "It begins with ") || !strings.Contains(out, "The drill ends here.") || strings.Count(out, "The answer is: ") != 4 {
		t.Fatalf("exit %d, %s\n%s", code, complaint, out)
	}
	p, err := openProgress(file)
	if err != nil || len(p.cards) == 0 {
		t.Fatal(err, p)
	}
	for name, c := range p.cards {
		if c.Due != "2026-11-28" || c.Right != 0 {
			t.Errorf("%s: %+v, wrong is due tomorrow", name, c)
		}
	}
	if got := p.cards.Due(format.E2026, exercise.Topics(), today()); len(got) != 0 {
		t.Error("due today:", got)
	}
	due := p.cards.Due(format.E2026, exercise.Topics(), today().AddDate(0, 0, 1))
	if len(due) != len(p.cards) {
		t.Error("due tomorrow:", due)
	}
	o, _ := made(t, "-seed", "5", "-topics", "score")
	for i, x := range exercise.New(o.Course).Exercises(len(due), due...) {
		if x.Card() != due[i] {
			t.Errorf("%s comes as %s", due[i], x.Card())
		}
	}
	again, _, _ := drilled(t, "quit\n", args...)
	if again[:200] == out[:200] {
		t.Error("the second drill is the first")
	}
	rows, err := os.ReadFile(table)
	if err != nil || !strings.HasPrefix(string(rows), "date,trainee,level,edition,seed,topic,right,asked\n2026-11-27,Imani Okafor,first-clinic,2026,") {
		t.Errorf("%v\n%s", err, rows)
	}
	if err := os.WriteFile(file, []byte("no"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, complaint, code := drilled(t, "", args...); code != 2 || !strings.Contains(complaint, "is no file of progress") {
		t.Error(code, complaint)
	}
}

// A trainer's own record is asked about under its own name, with its own people.
func TestOwnMaterial(t *testing.T) {
	ladder, err := os.ReadFile("../officiate/ladder-match.jsonl")
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "own.jsonl")
	args := []string{"-file", file, "-n", "6", "-seed", "1", "-topics", "result,score"}
	for name, want := range map[string]string{`"match":"Club night"`: "Club night. Doubles", `"match":""`: "\nDoubles, the serving side scores"} {
		own := strings.Replace(string(ladder), `"match":"Harbour Lane Courts autumn ladder, round 3"`, name, 1)
		require.NotEqual(t, string(ladder), own)
		require.NoError(t, os.WriteFile(file, []byte(own), 0o600))
		out, complaint, code := drilled(t, strings.Repeat("skip\n", 6), args...)
		require.Zero(t, code, complaint)
		require.Contains(t, out, want)
		require.NotContains(t, out, "Harbour Lane Courts autumn ladder.")
	}
}
