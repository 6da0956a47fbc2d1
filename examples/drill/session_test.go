package main

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/words"
)

// drilled runs the program.
func init() { today = func() time.Time { return time.Date(2026, 11, 27, 12, 0, 0, 0, time.UTC) } }

func drilled(t testing.TB, input string, args ...string) (out, complaints string, code int) {
	var o, c bytes.Buffer
	if !slices.Contains(args, "-seed") && !slices.Contains(args, "-progress") {
		args = append([]string{"-fresh"}, args...) // nothing of the person who tests
	}
	code = run(args, strings.NewReader(input), &o, &c)
	return o.String(), c.String(), code
}

const caution = "It confers no qualification"

func TestSameSeedSameDrill(t *testing.T) {
	for _, l := range levels {
		one, _, _ := drilled(t, "1\n2\n3\n", "-level", l.name, "-seed", "9")
		two, _, _ := drilled(t, "1\n2\n3\n", "-level", l.name, "-seed", "9")
		other, _, _ := drilled(t, "1\n2\n3\n", "-level", l.name, "-seed", "10")
		if one != two {
			t.Errorf("%s: the same seed gave another drill", l.name)
		}
		if one == other {
			t.Errorf("%s: another seed gave the same drill", l.name)
		}
	}
}

// Every right answer is taken as right, whether by number, in words, or as a
// call in any spelling.
func TestRightAnswersAreRight(t *testing.T) {
	for _, l := range levels {
		o, exercises := made(t, "-level", l.name, "-n", "60", "-seed", "3")
		var input strings.Builder
		for i, x := range exercises {
			n := slices.Index(strings.Split("123456789", ""), x.key)
			switch {
			case x.topic == markSheet:
				fmt.Fprintln(&input, x.key)
			case len(x.options) == 0 && i%3 == 0:
				fmt.Fprintln(&input, strings.ReplaceAll(x.key, "-", ", "))
			case len(x.options) == 0 && i%3 == 1:
				var words []string
				for _, d := range split(x.key) {
					var k int
					fmt.Sscan(d, &k)
					words = append(words, o.language.Spell(k))
				}
				fmt.Fprintln(&input, strings.Join(words, " "))
			case len(x.options) > 0 && i%2 == 0:
				fmt.Fprintln(&input, strings.ToUpper(o.language.Say(x.options[n])))
			default:
				fmt.Fprintln(&input, x.key)
			}
		}
		out, _, code := drilled(t, input.String(), "-level", l.name, "-n", "60", "-seed", "3")
		if code != 0 || !strings.Contains(out, "All together: 60 of 60 right.") {
			t.Errorf("%s: exit %d\n%s", l.name, code, out[max(0, len(out)-1500):])
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

func TestBadRequests(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"-language", "xx"}, `unknown language "xx"; there are de, en, x-codes`},
		{[]string{"-edition", "2012"}, `unknown edition "2012"; there are 1999, 2013,`},
		{[]string{"-edition", "badminton-2006"}, "unknown edition"},
		{[]string{"-level", "grandmaster"}, `unknown level "grandmaster"; there are first-clinic, practice-court,`},
		{[]string{"-n", "0"}, "-n must be 1 to 500"},
		{[]string{"-n", "501"}, "-n must be 1 to 500"},
		{[]string{"-n", "many"}, "invalid value"},
		{[]string{"-seed", "-1"}, "invalid value"},
		{[]string{"-level", "retraining", "-since", "2026"}, "is no edition before 2026; there are 1999,"},
		{[]string{"-since", "2020"}, "-since goes with -level retraining only"},
		{[]string{"-level", "retraining", "-edition", "1999"}, "no edition before 1999 is known"},
		{[]string{"now"}, `unknown argument "now"`},
		{[]string{"-x\ny"}, "flag provided but not defined"},
	} {
		out, complaint, code := drilled(t, "", c.args...)
		if code != 2 || out != "" || strings.Count(complaint, "\n") != 1 || !strings.Contains(complaint, c.want) {
			t.Errorf("%q: exit %d, %q, want %q", c.args, code, complaint, c.want)
		}
	}
	if out, _, code := drilled(t, "", "-h"); code != 0 || !strings.Contains(out, "-level") {
		t.Errorf("-h: exit %d", code)
	}
}

// For every pair of editions each retraining exercise is ruled differently by
// the two, both rulings are shown, and both rest on texts.
func TestRetrainingShowsBothRulings(t *testing.T) {
	editions := format.Editions(format.Pickleball)
	pairs, changed := 0, 0
	for i, since := range editions {
		for _, now := range editions[i+1:] {
			if testing.Short() && (int(since)+int(now))%4 != 0 {
				continue
			}
			pairs++
			_, exercises := made(t, "-level", "retraining", "-since", since.String(), "-edition", now.String(), "-n", "6")
			if len(exercises) == 0 {
				continue
			}
			changed++
			for _, x := range exercises {
				if x.topic != situation {
					continue
				}
				before, after := x.about.verdicts[0], x.about.verdicts[1]
				shown := words.English().Say(x.reason[0].Args[1].Value.(words.Text)) + words.English().Say(x.reason[1].Args[1].Value.(words.Text))
				if before == after || !strings.Contains(shown, since.String()) || !strings.Contains(shown, now.String()) || strings.Contains(shown, "no text settles") {
					t.Fatalf("%s to %s: %v, %v, %s", since, now, before, after, shown)
				}
			}
		}
	}
	if _, exercises := made(t, "-level", "retraining", "-since", "2023", "-edition", "2023-08"); len(exercises) == 0 {
		t.Error("the mid-2023 revision changed rulings")
	}
	if _, exercises := made(t, "-level", "retraining", "-since", "2025", "-edition", "2026"); len(exercises) == 0 {
		t.Error("clauses changed from 2025 to 2026")
	}
	t.Logf("%d pairs of editions, %d with changed rulings", pairs, changed)
}

// No trainee is asked whether a condition is valid or who may go on, at any
// level; where a player may need care the key is always to call help.
func TestNobodyJudgesAConditionOrAReturn(t *testing.T) {
	care := 0
	for seed := range 30 {
		o, exercises := made(t, "-level", "whole-job", "-n", "100", "-seed", fmt.Sprint(seed))
		for _, x := range exercises {
			asked := strings.ToLower(strings.Join(append(o.language.SayAll(x.prompt), o.language.SayAll(x.options)...), "\n"))
			question := strings.ToLower(o.language.Say(x.prompt[len(x.prompt)-1]))
			for _, bad := range []string{"condition", "go on", "return to play", "fit to", "valid", "injur"} {
				if strings.Contains(question, bad) {
					t.Fatalf("asks %q", question)
				}
			}
			if strings.Contains(asked, "asks for medical time") || strings.Contains(asked, "play for blood") {
				care++
				if got := o.language.Say(x.solution()); !strings.Contains(strings.ToLower(got), "call qualified help") {
					t.Fatalf("the first duty is %q", got)
				}
			}
		}
	}
	if care == 0 {
		t.Error("no exercise about care came up")
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
	seeds := 9 // together they say everything
	if testing.Short() {
		seeds = 1
	}
	for seed := range seeds {
		for _, l := range levels {
			for _, e := range []string{"2017", "2019", "2026"} {
				o, exercises := made(t, "-level", l.name, "-edition", e, "-n", "60", "-seed", fmt.Sprint(seed))
				o.language = toy
				for _, x := range exercises {
					for _, line := range slices.Concat(x.prompt, x.options, x.reason) {
						if err := toy.Check(line); err != nil {
							t.Fatal(err)
						}
						visit(line)
					}
				}
				var page, session bytes.Buffer
				if err := writePage(&page, o, exercises); err != nil {
					t.Fatal(err)
				}
				o.key = true
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
					for code := range own {
						if strings.Contains(out, "<"+string(code)+" ") || strings.Contains(out, "<"+string(code)+">") || strings.Contains(out, "&lt;"+string(code)) {
							used[code] = true
						}
					}
				}
			}
		}
	}
	frame := []words.Code{"drill.page-foot", "drill.progress", "drill.quit", "drill.stopped", "drill.start", "drill.nothing-changed", "drill.practise-nothing", "drill.right"}
	for code := range own {
		if !testing.Short() && !used[code] && !slices.Contains(frame, code) && !strings.HasPrefix(string(code), "drill.matter-") { // of which there are too many
			t.Errorf("%s is never said", code)
		}
	}
}

func TestEverySituationIsAnEvent(t *testing.T) {
	o, _ := made(t)
	d := newMaker(o)
	p := d.midGame(newRand(1, 1), "sideout-doubles-11")
	for _, s := range situations {
		if e := p.happened(s); len(p.describe(e)) < 3 && !strings.HasPrefix(s, "stop?~") {
			t.Errorf("%s is told in too few words", s)
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

// Every clause that is settled by texts and stands in one of two editions only
// is asked about in the retraining between them: by its matter, or by itself.
func TestRetrainingCoversEveryChange(t *testing.T) {
	editions := format.Editions(format.Pickleball)
	for i, since := range editions[:len(editions)-1] {
		now := editions[len(editions)-1]
		if i%2 == 0 && i+1 < len(editions) {
			now = editions[i+1]
		}
		o, exercises := made(t, "-level", "retraining", "-since", since.String(), "-edition", now.String(), "-n", "500", "-topics", "book", "-seed", "1")
		asked := map[string]bool{}
		for _, x := range exercises {
			asked[x.subject] = true
		}
		for _, c := range format.Clauses() {
			newest, ok := c.Source(now)
			if !ok {
				newest, ok = c.Source(since)
			}
			if !ok || c.In(now) == c.In(since) || newest.Document != format.Pickleball || newest.Mark == format.Open {
				continue
			}
			if !asked[c.String()] && !asked[c.Switch().String()] {
				t.Errorf("%s to %s: %s is not asked about", since, now, c)
			}
		}
		_ = o
	}
}

// The words that are no answers, and what was wrong comes again when it is due.
func TestProgress(t *testing.T) {
	dir := t.TempDir()
	file, table := filepath.Join(dir, "deep", "practice.json"), filepath.Join(dir, "class.csv")
	args := []string{"-progress", file, "-n", "6", "-csv", table, "-trainee", "Imani Okafor", "-topics", "score"}
	out, complaint, code := drilled(t, "hint\n?\nskip\n0-9-9\n0-9-9\n0-9-9\nquit\n", args...)
	if code != 0 || !strings.Contains(out, "It begins with ") || !strings.Contains(out, "The drill ends here.") || strings.Count(out, "The answer is: ") != 4 {
		t.Fatalf("exit %d, %s\n%s", code, complaint, out)
	}
	p, err := openProgress(file)
	if err != nil || len(p.Cards) == 0 {
		t.Fatal(err, p)
	}
	for name, c := range p.Cards {
		if c.Due != "2026-11-28" || c.Right != 0 {
			t.Errorf("%s: %+v, wrong is due tomorrow", name, c)
		}
	}
	if got := p.due("2026", topics, today()); len(got) != 0 {
		t.Error("due today:", got)
	}
	due := p.due("2026", topics, today().AddDate(0, 0, 1))
	if len(due) != len(p.Cards) {
		t.Error("due tomorrow:", due)
	}
	o, _ := made(t, "-seed", "5", "-topics", "score")
	m := newMaker(o)
	m.again = due
	for i, x := range m.exercises(len(due)) {
		if o.card(&x) != due[i] {
			t.Errorf("%s comes as %s", due[i], o.card(&x))
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

// SM-2 as published: right answers in a row are 1, 6 and then ever more days
// apart, a wrong one begins anew and never makes the ease less than 1.3.
func TestIntervals(t *testing.T) {
	c, day := card{}, today()
	for i, want := range []int{1, 6, 15, 38} {
		if c = c.answered(4, day); c.Interval != want || c.Right != i+1 {
			t.Errorf("%d: %+v, want %d days", i, c, want)
		}
	}
	for range 20 {
		c = c.answered(1, day)
	}
	if c.Interval != 1 || c.Ease != 1.3 {
		t.Errorf("%+v", c)
	}
}

// A trainer's names and a recorded match are material.
func TestOwnMaterial(t *testing.T) {
	o, exercises := made(t, "-seed", "3", "-n", "20", "-names", "Noor,Mei-Lin,Rafael,Priya", "-topics", "score")
	if said := strings.Join(o.language.SayAll(exercises[0].prompt), " "); !strings.Contains(said, "Rafael") && !strings.Contains(said, "Noor") {
		t.Error(said)
	}
	o, exercises = made(t, "-seed", "3", "-n", "40", "-level", "practice-court", "-file", "../officiate/ladder-match.jsonl")
	own := 0
	for _, x := range exercises {
		if len(x.prompt) > 0 && x.from.id == "sideout-doubles-11-of3@2026" {
			own++
			if x.topic == scoreCall {
				if want := keyOf(t, o.edition, x); want != x.key {
					t.Errorf("key %s, want %s", x.key, want)
				}
			}
		}
	}
	if own < 10 {
		t.Errorf("%d of %d are of the match", own, len(exercises))
	}
}
