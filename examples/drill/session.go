package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally/words"
)

// tally counts the answers of a topic.
type tally struct{ right, asked int }

// runSession asks the exercises one after the other, marks each answer, and ends
// with the results; the end of the input ends it early.
func runSession(o options, exercises []exercise, in io.Reader, out io.Writer) {
	w := bufio.NewWriter(out)
	defer w.Flush()
	line := func(t words.Text) { fmt.Fprintln(w, program.Printable(o.language.Say(t))) }
	lines := bufio.NewReaderSize(in, 4096)

	line(say("drill.welcome", plain("level", o.level.name), plain("edition", o.edition.String()), number("n", len(exercises)), plain("seed", strconv.FormatUint(o.seed, 10))))
	line(say("drill.no-qualification"))
	line(say("drill.how"))
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
		answer, err := x.answered(o.language, lines, func() { line(x.again()) }, w)
		if err != nil {
			fmt.Fprintln(w)
			line(say("drill.stopped"))
			break
		}
		count := counts[x.topic]
		if count == nil {
			count = &tally{}
			counts[x.topic] = count
		}
		count.asked++
		if answer == x.key {
			count.right++
			line(say("drill.right"))
		} else {
			line(say("drill.wrong", text("key", x.solution())))
		}
		for _, r := range x.reason {
			line(r)
		}
	}
	fmt.Fprintln(w)
	report(counts, line)
	line(say("drill.no-qualification"))
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
	if !weak && total.asked > 0 {
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
	if len(x.options) == 0 {
		return say("drill.want-call")
	}
	return say("drill.want-number", number("n", len(x.options)))
}

// tries is how many lines an exercise waits for one that is an answer.
const tries = 3

// answered reads lines until one is an answer; "" if none of several is.
func (x *exercise) answered(l *words.Language, in *bufio.Reader, again func(), w *bufio.Writer) (string, error) {
	for n := 1; ; n++ {
		if err := w.Flush(); err != nil {
			return "", err
		}
		given, err := readLine(in)
		if err != nil {
			return "", err
		}
		if answer, ok := x.read(l, given); ok {
			return answer, nil
		}
		if n == tries {
			return "", nil
		}
		again()
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

// read turns what was typed into an answer: the number of an option or its
// words, or a score call in digits or words. It is false for anything else.
func (x *exercise) read(l *words.Language, given string) (string, bool) {
	given = strings.ToLower(strings.TrimSpace(given))
	if given == "" {
		return "", false
	}
	if len(x.options) == 0 {
		return readScore(l, given)
	}
	if n, err := strconv.Atoi(given); err == nil {
		return strconv.Itoa(n), n >= 1 && n <= len(x.options)
	}
	for i, option := range x.options {
		if strings.ToLower(l.Say(option)) == given {
			return strconv.Itoa(i + 1), true
		}
	}
	return "", false
}

func split(call string) []string {
	return strings.FieldsFunc(call, func(r rune) bool { return r == '-' || r == ' ' || r == ',' || r == '.' })
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
