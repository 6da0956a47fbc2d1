package exercise

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/words"
)

// english says what exercises say.
var english = func() *words.Language {
	l, err := texts.Language("en")
	if err != nil {
		panic(err)
	}
	return l
}()

// For every pair of editions each retraining exercise is ruled differently by
// the two, both rulings are shown, and both rest on texts.
func TestRetrainingShowsBothRulings(t *testing.T) {
	editions := taught()
	pairs, changed := 0, 0
	for i, since := range editions {
		for _, now := range editions[i+1:] {
			if testing.Short() && (int(since)+int(now))%4 != 0 {
				continue
			}
			pairs++
			exercises := made(6, Course{Level: levelOf(t, Retraining), Since: since, Edition: now, Seed: 5})
			if len(exercises) == 0 {
				continue
			}
			changed++
			for _, x := range exercises {
				require.Equal(t, keyOf(t, now, x), x.Key, "%s to %s: %s", since, now, x.Subject)
				reasons := strings.Join(english.SayAll(x.Reason), "\n")
				require.Contains(t, reasons, "Edition "+since.String()+": ", x.Subject)
				require.Contains(t, reasons, "Edition "+now.String()+": ", x.Subject)
				if x.Topic != situation {
					continue
				}
				before, after := x.about.verdicts[0], x.about.verdicts[1]
				shown := words.English().Say(x.Reason[0].Args[1].Value.(words.Text)) + words.English().Say(x.Reason[1].Args[1].Value.(words.Text))
				if before == after || !strings.Contains(shown, since.String()) || !strings.Contains(shown, now.String()) || strings.Contains(shown, "no text settles") {
					t.Fatalf("%s to %s: %v, %v, %s", since, now, before, after, shown)
				}
			}
		}
	}
	if exercises := made(1, Course{Level: levelOf(t, Retraining), Since: format.E2023, Edition: format.E2023Aug}); len(exercises) == 0 {
		t.Error("the mid-2023 revision changed rulings")
	}
	if exercises := made(1, Course{Level: levelOf(t, Retraining), Since: format.E2025, Edition: format.E2026}); len(exercises) == 0 {
		t.Error("clauses changed from 2025 to 2026")
	}
	t.Logf("%d pairs of editions, %d with changed rulings", pairs, changed)
}

// No trainee is asked whether a condition is valid or who may go on, at any
// level; where a player may need care the key is always to call help.
func TestNobodyJudgesAConditionOrAReturn(t *testing.T) {
	care := 0
	for seed := range 30 {
		exercises := made(100, Course{Level: levelOf(t, "whole-job"), Edition: format.E2026, Seed: uint64(seed)})
		for _, x := range exercises {
			asked := strings.ToLower(strings.Join(append(english.SayAll(x.Prompt), english.SayAll(x.Options)...), "\n"))
			question := strings.ToLower(english.Say(x.Prompt[len(x.Prompt)-1]))
			for _, bad := range []string{"condition", "go on", "return to play", "fit to", "valid", "injur"} {
				if strings.Contains(question, bad) {
					t.Fatalf("asks %q", question)
				}
			}
			if strings.Contains(asked, "asks for medical time") || strings.Contains(asked, "play for blood") {
				care++
				if got := english.Say(x.Solution()); !strings.Contains(strings.ToLower(got), "call qualified help") {
					t.Fatalf("the first duty is %q", got)
				}
			}
		}
	}
	if care == 0 {
		t.Error("no exercise about care came up")
	}
}

func TestEverySituationIsAnEvent(t *testing.T) {
	p := New(Course{Edition: format.E2026}).midGame(newRand(1, 1), "sideout-doubles-11")
	for _, s := range situations {
		if e := p.happened(s); len(p.describe(e)) < 3 && !strings.HasPrefix(s, "stop?~") {
			t.Errorf("%s is told in too few words", s)
		}
	}
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
		exercises := made(500, Course{Level: levelOf(t, Retraining), Since: since, Edition: now, Topics: []Topic{inBook}, Seed: 1})
		asked := map[string]bool{}
		for _, x := range exercises {
			asked[x.Subject] = true
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
	}
}

// SM-2 as published: right answers in a row are 1, 6 and then ever more days
// apart, a wrong one begins anew and never makes the ease less than 1.3.
func TestIntervals(t *testing.T) {
	c, day := Card{}, time.Date(2026, 11, 27, 12, 0, 0, 0, time.UTC)
	for i, want := range []int{1, 6, 15, 38} {
		if c = c.answered(Known, day); c.Interval != want || c.Right != i+1 {
			t.Errorf("%d: %+v, want %d days", i, c, want)
		}
	}
	for range 20 {
		c = c.answered(Missed, day)
	}
	if c.Interval != 1 || c.Ease != 1.3 {
		t.Errorf("%+v", c)
	}
}

// A trainer's names and a recorded match are material.
func TestOwnMaterial(t *testing.T) {
	course := Course{Level: levelOf(t, "first-clinic"), Edition: format.E2026, Seed: 3, Names: []string{"Noor", "Mei-Lin", "Rafael", "Priya"}, Topics: []Topic{scoreCall}}
	exercises := made(20, course)
	if said := strings.Join(english.SayAll(exercises[0].Prompt), " "); !strings.Contains(said, "Rafael") && !strings.Contains(said, "Noor") {
		t.Error(said)
	}
	file, err := os.Open("../../officiate/ladder-match.jsonl")
	require.NoError(t, err)
	defer file.Close()
	match, err := record.Read(file)
	require.NoError(t, err)
	exercises = made(40, Course{Level: levelOf(t, "practice-court"), Edition: format.E2026, Seed: 3, Material: &Material{match.Log, match.Setup}})
	own := 0
	for _, x := range exercises {
		if len(x.Prompt) > 0 && x.from.id == "sideout-doubles-11-of3@2026" {
			own++
			if x.Topic == scoreCall {
				if want := keyOf(t, x.Edition, x); want != x.Key {
					t.Errorf("key %s, want %s", x.Key, want)
				}
			}
		}
	}
	if own < 10 {
		t.Errorf("%d of %d are of the match", own, len(exercises))
	}
}

// Progress reads back as it was written, whatever exercises it is about.
func TestProgressReadsBack(t *testing.T) {
	p, day := Progress{}, time.Date(2026, 11, 27, 12, 0, 0, 0, time.UTC)
	for _, l := range Levels() {
		for i, x := range made(100, Course{Level: l, Edition: format.E2026, Since: format.E2022}) {
			p.Note(&x, []Quality{Missed, Hinted, Known}[i%3], day)
		}
	}
	require.Greater(t, len(p), 60)
	again, err := ParseProgress(p.String())
	require.NoError(t, err)
	require.Equal(t, p, again)
	for name, text := range map[string]string{"another file": "no", "a torn line": p.String()[:len(p.String())-30], "a foul card": heading + "\n2026-11-27 0 1 NaN 2026/score/point\n"} {
		_, err := ParseProgress(text)
		require.Error(t, err, name)
	}
}

// A page that asks one exercise after the other asks what a sheet asks.
func TestOneByOne(t *testing.T) {
	m := New(Course{Level: levelOf(t, "club-night"), Edition: format.E2026, Seed: 4})
	for i, want := range m.Exercises(20) {
		x, ok := m.Exercise(i)
		require.True(t, ok)
		require.Equal(t, want.Prompt, x.Prompt)
	}
}

// The package is built into pages for browsers, so that it carries neither files
// nor terminals.
func TestImportsSuitABrowser(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		require.NoError(t, err)
		for _, imported := range f.Imports {
			require.NotContains(t, []string{`"os"`, `"fmt"`, `"encoding/json"`, `"reflect"`, `"bufio"`}, imported.Path.Value, file)
		}
	}
}
