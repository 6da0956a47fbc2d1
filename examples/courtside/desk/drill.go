//go:build wasm

package main

import (
	"strconv"
	"strings"
	"time"

	"github.com/evencourt/evencourt/examples/drill/exercise"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/words"
)

// The drill under way: its exercises, which come up one after the other, and
// what the trainee has shown to know.
var (
	exercises []exercise.Exercise
	progress  exercise.Progress
	drilled   *words.Language
)

const mostExercises = 100

// drill takes a language, a level, a seed, how many exercises, the day as
// 2026-11-27 and what was kept of progress, in lines. It answers how many
// exercises there are, and the first.
func drill(args []string) []string {
	language, err := texts.Language(args[0])
	if err != nil {
		return wrong(err.Error())
	}
	level, ok := exercise.LevelNamed(args[1])
	if !ok {
		return wrong("no such level")
	}
	seed, _ := strconv.ParseUint(args[2], 10, 64)
	n, _ := strconv.Atoi(args[3])
	day, _ := time.Parse(time.DateOnly, args[4])
	if progress, err = exercise.ParseProgress(strings.Join(args[5:], "\n")); err != nil {
		progress = exercise.Progress{} // begun anew
	}
	c := exercise.Course{Seed: seed, Level: level, Edition: format.Default}
	if level.Name == exercise.Retraining {
		c.Since = c.LastChange()
	}
	again := progress.Due(c.Edition, c.Asked(), day)
	n = min(max(n, 0), mostExercises)
	exercises, drilled = exercise.New(c).Exercises(n, again[:min(len(again), n)]...), language
	return []string{row("exercises", strconv.Itoa(len(exercises)), strconv.Itoa(len(progress)))}
}

// put puts exercise i, from 0: its topic, what is shown, and the answers to
// choose from; none where a call or marks are wanted.
func put(args []string) []string {
	x, ok := numbered(args[0])
	if !ok {
		return wrong("no such exercise")
	}
	out := []string{row("topic", drilled.Say(x.Topic.Text())), row("wanted", drilled.Say(x.Wanted()))}
	for _, p := range x.Prompt {
		out = append(out, row("prompt", drilled.Say(p)))
	}
	for i, option := range x.Options {
		out = append(out, row("option", strconv.Itoa(i+1), drilled.Say(option)))
	}
	return out
}

// mark marks an answer to exercise i: whether it is right, the solution, the
// reasons, and progress as it is then. An answer of "" skips.
func mark(args []string) []string {
	x, ok := numbered(args[0])
	day, err := time.Parse(time.DateOnly, args[2])
	if !ok || err != nil {
		return wrong("no such exercise")
	}
	answer, readable := x.Read(drilled, args[1])
	if !readable && args[1] != "" {
		return []string{row("again", drilled.Say(x.Wanted()))}
	}
	verdict, quality := "wrong", exercise.Missed
	said := words.New("drill.wrong", words.Within("key", x.Solution()))
	if readable && answer == x.Key {
		verdict, quality, said = "right", exercise.Known, words.New("drill.right")
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

func numbered(text string) (*exercise.Exercise, bool) {
	i, err := strconv.Atoi(text)
	if err != nil || i < 0 || i >= len(exercises) {
		return nil, false
	}
	return &exercises[i], true
}

// levels lists the levels, each with its topics in words.
func levels(args []string) []string {
	language, err := texts.Language(args[0])
	if err != nil {
		return wrong(err.Error())
	}
	var out []string
	for _, l := range exercise.Levels() {
		var topics []string
		for _, t := range l.Topics {
			topics = append(topics, language.Say(t.Text()))
		}
		out = append(out, row(l.Name, strings.Join(topics, ", ")))
	}
	return append(out, row("", language.Say(words.New("drill.no-qualification"))))
}
