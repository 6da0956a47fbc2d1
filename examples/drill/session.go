package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/evencourt/evencourt/examples/drill/exercise"
	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally/words"
)

// tally counts the answers of a topic.
type tally struct{ right, asked int }

// runSession asks the exercises one after the other, marks each answer, and ends
// with the results; the end of the input ends it early.
func runSession(o options, exercises []exercise.Exercise, in io.Reader, out io.Writer) error {
	w := bufio.NewWriter(out)
	defer w.Flush()
	line := func(t words.Text) { fmt.Fprintln(w, program.Printable(o.language.Say(t))) }
	lines := bufio.NewReaderSize(in, 4096)

	line(words.New("drill.welcome", words.Within("level", o.Level.Text()), words.Name("edition", o.Edition.String()), words.Count("n", len(exercises)), words.Name("seed", strconv.FormatUint(o.Seed, 10))))
	line(words.New("drill.no-qualification"))
	line(words.New("drill.how"))
	if o.Level.Name == exercise.Retraining {
		line(words.New("drill.since", words.Name("since", o.Since.String())))
	}
	if o.progress != nil {
		line(words.New("drill.progress", words.Name("file", o.progress.file), words.Count("cards", len(o.progress.cards))))
	}
	if len(exercises) == 0 {
		line(words.New("drill.nothing-changed", words.Name("since", o.Since.String()), words.Name("edition", o.Edition.String())))
	}
	counts := map[exercise.Topic]*tally{}
	for i, x := range exercises {
		fmt.Fprintln(w)
		line(words.New("drill.exercise", words.Count("i", i+1), words.Count("n", len(exercises)), words.Within("topic", x.Topic.Text())))
		for _, p := range x.Prompt {
			line(p)
		}
		for n, option := range x.Options {
			line(words.New("drill.option", words.Count("i", n+1), words.Within("option", option)))
		}
		answer, hinted, err := answered(&x, o.language, lines, line, w)
		if err != nil {
			fmt.Fprintln(w)
			if errors.Is(err, errQuit) {
				line(words.New("drill.quit"))
			} else {
				line(words.New("drill.stopped"))
			}
			break
		}
		count := counts[x.Topic]
		if count == nil {
			count = &tally{}
			counts[x.Topic] = count
		}
		count.asked++
		quality := exercise.Missed
		switch {
		case answer == x.Key:
			count.right++
			line(words.New("drill.right"))
			if quality = exercise.Known; hinted {
				quality = exercise.Hinted
			}
		case answer == skipped:
			line(words.New("drill.skipped", words.Within("key", x.Solution())))
		default:
			line(words.New("drill.wrong", words.Within("key", x.Solution())))
		}
		if o.progress != nil {
			o.progress.cards.Note(&x, quality, today())
		}
		for _, r := range x.Reason {
			line(r)
		}
	}
	fmt.Fprintln(w)
	report(counts, line)
	line(words.New("drill.no-qualification"))
	if err := o.table(counts); err != nil {
		return err
	}
	if o.progress != nil {
		return o.progress.save()
	}
	return nil
}

// table adds the results to the table of a class, one row a topic.
func (o *options) table(counts map[exercise.Topic]*tally) error {
	if o.csv == "" {
		return nil
	}
	info, err := os.Stat(o.csv)
	begun := err == nil && info.Size() > 0
	file, err := os.OpenFile(o.csv, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o666)
	if err != nil {
		return err
	}
	w := csv.NewWriter(file)
	if !begun {
		_ = w.Write([]string{"date", "trainee", "level", "edition", "seed", "topic", "right", "asked"})
	}
	for _, t := range exercise.Topics() {
		if c := counts[t]; c != nil {
			_ = w.Write([]string{today().Format(time.DateOnly), o.trainee, o.Level.Name, o.Edition.String(), strconv.FormatUint(o.Seed, 10), string(t),
				strconv.Itoa(c.right), strconv.Itoa(c.asked)})
		}
	}
	w.Flush()
	return errors.Join(w.Error(), file.Close())
}

// report gives the results by topic and what to practise: every topic in which
// fewer than nine of ten answers were right.
func report(counts map[exercise.Topic]*tally, line func(words.Text)) {
	line(words.New("drill.results"))
	total := tally{}
	for _, t := range exercise.Topics() {
		if c := counts[t]; c != nil {
			line(words.New("drill.result", words.Within("topic", t.Text()), words.Count("right", c.right), words.Count("asked", c.asked)))
			total.right, total.asked = total.right+c.right, total.asked+c.asked
		}
	}
	line(words.New("drill.total", words.Count("right", total.right), words.Count("asked", total.asked)))
	weak := false
	for _, t := range exercise.Topics() {
		if c := counts[t]; c != nil && 10*c.right < 9*c.asked {
			weak = true
			line(words.New("drill.practise", words.Within("topic", t.Text()), words.Within("how", t.Advice())))
		}
	}
	if !weak && total.asked >= 10 {
		line(words.New("drill.practise-nothing"))
	}
}

// tries is how many lines an exercise waits for one that is an answer.
const tries = 3

// skipped is what an exercise that was skipped is answered with.
const skipped = "skip"

// errQuit ends a drill that the trainee leaves.
var errQuit = errors.New("quit")

// answered reads lines until one is an answer; "" if none of several is. Words
// that ask for something are no tries.
func answered(x *exercise.Exercise, l *words.Language, in *bufio.Reader, line func(words.Text), w *bufio.Writer) (answer string, hinted bool, err error) {
	for n := 1; ; {
		if err := w.Flush(); err != nil {
			return "", hinted, err
		}
		given, err := readLine(in)
		if err != nil {
			return "", hinted, err
		}
		switch strings.ToLower(strings.TrimSpace(given)) {
		case "q", "quit":
			return "", hinted, errQuit
		case "s", "skip":
			return skipped, hinted, nil
		case "?", "help":
			line(words.New("drill.words"))
			line(x.Wanted())
			continue
		case "h", "hint":
			hinted = true
			line(x.Hint())
			continue
		}
		if answer, ok := x.Read(l, given); ok {
			return answer, hinted, nil
		}
		if n == tries {
			return "", hinted, nil
		}
		n++
		line(x.Wanted())
	}
}

// readLine reads a line; of one that is longer than the buffer the rest is
// dropped.
func readLine(in *bufio.Reader) (string, error) {
	line, more, err := in.ReadLine()
	kept := string(line)
	for more && err == nil {
		_, more, err = in.ReadLine()
	}
	if err != nil && (kept == "" || !errors.Is(err, io.EOF)) {
		return "", err
	}
	return kept, nil
}
