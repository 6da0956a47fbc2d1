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
	"unicode"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally/words"
)

// tally counts the answers of a topic.
type tally struct{ right, asked int }

// runSession asks the exercises one after the other, marks each answer, and ends
// with the results; the end of the input ends it early.
func runSession(o options, exercises []exercise, in io.Reader, out io.Writer) error {
	w := bufio.NewWriter(out)
	defer w.Flush()
	line := func(t words.Text) { fmt.Fprintln(w, program.Printable(o.language.Say(t))) }
	lines := bufio.NewReaderSize(in, 4096)

	line(say("drill.welcome", plain("level", o.level.name), plain("edition", o.edition.String()), number("n", len(exercises)), plain("seed", strconv.FormatUint(o.seed, 10))))
	line(say("drill.no-qualification"))
	line(say("drill.how"))
	if o.level.name == retraining {
		line(say("drill.since", plain("since", o.since.String())))
	}
	if o.progress != nil {
		line(say("drill.progress", plain("file", o.progress.file), number("cards", len(o.progress.Cards))))
	}
	if len(exercises) == 0 {
		line(say("drill.nothing-changed", plain("since", o.since.String()), plain("edition", o.edition.String())))
	}
	counts := map[topic]*tally{}
	for i, x := range exercises {
		fmt.Fprintln(w)
		line(say("drill.exercise", number("i", i+1), number("n", len(exercises)), text("topic", x.topic.text())))
		for _, p := range x.prompt {
			line(p)
		}
		for n, option := range x.options {
			line(say("drill.option", number("i", n+1), text("option", option)))
		}
		answer, hinted, err := x.answered(o.language, lines, line, w)
		if err != nil {
			fmt.Fprintln(w)
			if errors.Is(err, errQuit) {
				line(say("drill.quit"))
			} else {
				line(say("drill.stopped"))
			}
			break
		}
		count := counts[x.topic]
		if count == nil {
			count = &tally{}
			counts[x.topic] = count
		}
		count.asked++
		quality := 1
		switch {
		case answer == x.key:
			count.right++
			line(say("drill.right"))
			if quality = 4; hinted {
				quality = 3
			}
		case answer == skipped:
			line(say("drill.skipped", text("key", x.solution())))
		default:
			line(say("drill.wrong", text("key", x.solution())))
		}
		if o.progress != nil {
			name := o.card(&x)
			o.progress.Cards[name] = o.progress.Cards[name].answered(quality, today())
		}
		for _, r := range x.reason {
			line(r)
		}
	}
	fmt.Fprintln(w)
	report(counts, line)
	line(say("drill.no-qualification"))
	if err := o.table(counts); err != nil {
		return err
	}
	if o.progress != nil {
		return o.progress.save()
	}
	return nil
}

// table adds the results to the table of a class, one row a topic.
func (o *options) table(counts map[topic]*tally) error {
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
	for _, t := range topics {
		if c := counts[t]; c != nil {
			_ = w.Write([]string{today().Format(time.DateOnly), o.trainee, o.level.name, o.edition.String(), strconv.FormatUint(o.seed, 10), string(t),
				strconv.Itoa(c.right), strconv.Itoa(c.asked)})
		}
	}
	w.Flush()
	return errors.Join(w.Error(), file.Close())
}

// report gives the results by topic and what to practise: every topic in which
// fewer than nine of ten answers were right.
func report(counts map[topic]*tally, line func(words.Text)) {
	line(say("drill.results"))
	total := tally{}
	for _, t := range topics {
		if c := counts[t]; c != nil {
			line(say("drill.result", text("topic", t.text()), number("right", c.right), number("asked", c.asked)))
			total.right, total.asked = total.right+c.right, total.asked+c.asked
		}
	}
	line(say("drill.total", number("right", total.right), number("asked", total.asked)))
	weak := false
	for _, t := range topics {
		if c := counts[t]; c != nil && 10*c.right < 9*c.asked {
			weak = true
			line(say("drill.practise", text("topic", t.text()), text("how", say(words.Code("drill.how-"+string(t))))))
		}
	}
	if !weak && total.asked >= 10 {
		line(say("drill.practise-nothing"))
	}
}

func (t topic) text() words.Text { return say(words.Code("drill.topic-" + string(t))) }

// solution is the right answer as text.
func (x *exercise) solution() words.Text {
	if len(x.options) == 0 {
		return say("drill.call", plain("call", x.key))
	}
	n, _ := strconv.Atoi(x.key)
	return say("drill.key-option", number("i", n), text("option", x.options[n-1]))
}

// again says what an answer looks like.
func (x *exercise) again() words.Text {
	switch {
	case x.topic == markSheet:
		return say("drill.want-marks")
	case len(x.options) == 0:
		return say("drill.want-call")
	}
	return say("drill.want-number", number("n", len(x.options)))
}

// tries is how many lines an exercise waits for one that is an answer.
const tries = 3

// skipped is what an exercise that was skipped is answered with.
const skipped = "skip"

// errQuit ends a drill that the trainee leaves.
var errQuit = errors.New("the drill is left")

// answered reads lines until one is an answer; "" if none of several is. Words
// that ask for something are no tries.
func (x *exercise) answered(l *words.Language, in *bufio.Reader, line func(words.Text), w *bufio.Writer) (answer string, hinted bool, err error) {
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
			line(say("drill.words"))
			line(x.again())
			continue
		case "h", "hint":
			hinted = true
			line(x.hint())
			continue
		}
		if answer, ok := x.read(l, given); ok {
			return answer, hinted, nil
		}
		if n == tries {
			return "", hinted, nil
		}
		n++
		line(x.again())
	}
}

// hint takes one wrong option away; of a call it tells the first number.
func (x *exercise) hint() words.Text {
	key, _ := strconv.Atoi(x.key)
	for n := range x.options {
		if n+1 != key {
			return say("drill.hint-not", number("i", n+1))
		}
	}
	return say("drill.hint-call", plain("first", x.key[:1]))
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

// read turns what was typed into an answer: the number of an option or its
// words, or a score call in digits or words. It is false for anything else.
func (x *exercise) read(l *words.Language, given string) (string, bool) {
	given = strings.ToLower(strings.TrimSpace(given))
	if given == "" {
		return "", false
	}
	if x.topic == markSheet {
		return readMarks(given)
	}
	if len(x.options) == 0 {
		return readScore(l, given)
	}
	if n, err := strconv.Atoi(given); err == nil {
		return strconv.Itoa(n), n >= 1 && n <= len(x.options)
	}
	for i, option := range x.options {
		if plainly(l.Say(option)) == plainly(given) {
			return strconv.Itoa(i + 1), true
		}
	}
	return "", false
}

// plainly is a text without capitals, blanks and signs.
func plainly(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, text)
}

// readMarks reads marks: the number of the server for each point, a stroke where
// a turn ended, a dash for none.
func readMarks(given string) (string, bool) {
	given = strings.ReplaceAll(strings.ReplaceAll(given, " ", ""), ",", "")
	return given, strings.Trim(given, "12/-") == ""
}

func split(call string) []string {
	return strings.FieldsFunc(call, func(r rune) bool { return strings.ContainsRune("- ,./:", r) })
}

// readScore reads "4-2-1", "4 2 1", "four, two, one", and "start" for the last
// number of an opening call.
func readScore(l *words.Language, given string) (string, bool) {
	spelled := map[string]string{strings.ToLower(l.Say(say("drill.start"))): "2"}
	for n := range 30 {
		spelled[strconv.Itoa(n)] = strconv.Itoa(n)
		spelled[strings.ReplaceAll(strings.ToLower(l.Spell(n)), "-", "")] = strconv.Itoa(n)
	}
	// "twenty-one" is one word; a dash between digits parts them.
	for n := 21; n < 30; n++ {
		word := strings.ToLower(l.Spell(n))
		given = strings.ReplaceAll(given, word, strings.ReplaceAll(word, "-", ""))
	}
	if len(given) == 3 && strings.Trim(given, "0123456789") == "" { // 421
		given = given[:1] + "-" + given[1:2] + "-" + given[2:]
	}
	parts := split(given)
	if len(parts) < 2 || len(parts) > 3 {
		return "", false
	}
	for i, part := range parts {
		n, ok := spelled[part]
		if !ok {
			return "", false
		}
		parts[i] = n
	}
	return strings.Join(parts, "-"), true
}
