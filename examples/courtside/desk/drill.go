//go:build wasm

package main

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/evencourt/evencourt/examples/drill/exercise"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/examples/web/exchange"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/words"
)

// The drill under way: its exercises, which come up one after the other, and
// what the trainee has shown to know.
var (
	exercises []exercise.Exercise
	hinted    map[int]bool // the exercises that a hint was given for
	progress  exercise.Progress
	drilled   *words.Language
)

const mostExercises = 100

// drill takes a language, a level, a topic or "" for all of the level, a seed,
// how many exercises, the day as 2026-11-27 and what was kept of progress, in
// lines. It answers how many exercises there are.
func drill(args []string) []string {
	language, err := texts.Language(args[0])
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	level, ok := exercise.LevelNamed(args[1])
	if !ok {
		return exchange.Wrong("no such level")
	}
	seed, _ := strconv.ParseUint(args[3], 10, 64)
	n, _ := strconv.Atoi(args[4])
	day, _ := time.Parse(time.DateOnly, args[5])
	if progress, err = exercise.ParseProgress(strings.Join(args[6:], "\n")); err != nil {
		progress = exercise.Progress{} // begun anew
	}
	c := exercise.Course{Seed: seed, Level: level, Edition: format.Default}
	if args[2] != "" {
		c.Topics = []exercise.Topic{exercise.Topic(args[2])}
		if !slices.Contains(level.Topics, c.Topics[0]) {
			return exchange.Wrong("no such topic of the level")
		}
	}
	if level.Name == exercise.Retraining {
		c.Since = c.LastChange()
	}
	again := progress.Due(c.Edition, c.Asked(), day)
	n = min(max(n, 0), mostExercises)
	hinted = map[int]bool{}
	exercises, drilled = exercise.New(c).Exercises(n, again[:min(len(again), n)]...), language
	return []string{row("exercises", strconv.Itoa(len(exercises)))}
}

// put puts exercise i, from 0: its topic, what is shown, and the answers to
// choose from; where a call or marks are wanted, the signs that those are made of.
func put(args []string) []string {
	x, _, ok := numbered(args[0])
	if !ok {
		return exchange.Wrong("no such exercise")
	}
	out := []string{row("topic", drilled.Say(x.Topic.Text())), row("wanted", drilled.Say(x.Wanted()))}
	for _, p := range x.Prompt {
		out = append(out, row("prompt", drilled.Say(p)))
	}
	if len(x.Options) == 0 {
		signs := "1234567890-"
		if x.Wanted().Code == "drill.want-marks" {
			signs = "12/-"
		}
		out = append(out, row("signs", signs))
	}
	for i, option := range x.Options {
		out = append(out, row("option", strconv.Itoa(i+1), drilled.Say(option)))
	}
	return out
}

// mark marks an answer to exercise i: whether it is right, the solution, the
// reasons, and progress as it is then. An answer of "" skips.
func mark(args []string) []string {
	x, i, ok := numbered(args[0])
	day, err := time.Parse(time.DateOnly, args[2])
	if !ok || err != nil {
		return exchange.Wrong("no such exercise")
	}
	answer, readable := x.Read(drilled, args[1])
	if !readable && args[1] != "" {
		return []string{row("again", drilled.Say(x.Wanted()))}
	}
	verdict, quality := "wrong", exercise.Missed
	said := words.New("drill.wrong", words.Within("key", x.Solution()))
	if readable && answer == x.Key {
		verdict, quality, said = "right", exercise.Known, words.New("drill.right")
		if hinted[i] {
			quality = exercise.Hinted
		}
	}
	progress.Note(x, quality, day)
	out := []string{row(verdict, drilled.Say(said))}
	for _, reason := range x.Reason {
		out = append(out, row("reason", drilled.Say(reason)))
	}
	for line := range strings.Lines(progress.String()) {
		out = append(out, "progress\t"+strings.TrimSuffix(line, "\n"))
	}
	return out
}

// hint takes the number of an exercise and gives its hint; a right answer counts
// less from then on.
func hint(args []string) []string {
	x, i, ok := numbered(args[0])
	if !ok {
		return exchange.Wrong("no such exercise")
	}
	hinted[i] = true
	return []string{row("hint", drilled.Say(x.Hint()))}
}

func numbered(text string) (*exercise.Exercise, int, bool) {
	i, err := strconv.Atoi(text)
	if err != nil || i < 0 || i >= len(exercises) {
		return nil, 0, false
	}
	return &exercises[i], i, true
}

// levels lists the levels, each with its name and its topics in words, and the topics of each.
func levels(args []string) []string {
	language, err := texts.Language(args[0])
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	var out []string
	for _, l := range exercise.Levels() {
		var topics []string
		for _, t := range l.Topics {
			topics = append(topics, language.Say(t.Text()))
		}
		out = append(out, row("level", l.Name, language.Say(l.Text()), strings.Join(topics, ", ")))
		for i, t := range l.Topics {
			out = append(out, row("topic", l.Name, string(t), topics[i]))
		}
	}
	return append(out, row("note", language.Say(words.New("drill.no-qualification"))))
}
