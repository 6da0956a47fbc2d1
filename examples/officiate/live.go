package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/examples/texts/problems"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/words"
)

// live is a match taken from the keyboard. Every answer is plain text in lines,
// without colours or moving of the cursor, so that it can be listened to.
type live struct {
	page
	file  string
	saved *record.Writer
	lost  error // why nothing is saved any more; nil while it is
	clock func() time.Duration
	since int64 // elapsed milliseconds when the program began
	at    int64 // elapsed milliseconds when the clock was last looked at
	bell  bool
	sure  string     // an entry that is made only if it is typed again
	serve int64      // elapsed milliseconds until which the serve may be struck; 0 while nobody counts
	asks  *dialogue  // questions that are being answered; nil for none
	no    words.Text // the rule by which the last line was refused, for who asks why
}

// takeLive takes a match from the keyboard and saves every entry as it comes.
func (o *options) takeLive(in io.Reader, out io.Writer, clock func() time.Duration) error {
	v := &live{clock: clock, bell: o.bell}
	v.out = out
	var err error
	if o.resume != "" {
		err = v.resume(o)
	} else {
		err = v.begin(o)
	}
	if err != nil {
		return err
	}
	defer func() { _ = v.saved.Close() }()
	if text := v.next(v.log.State()); text != "" {
		v.put("", text)
	}
	v.at = v.since
	v.remind()
	if err := v.listen(in); err != nil {
		// Whatever became of the file, the match is not lost.
		if text, e := record.Notation(v.log); e == nil {
			v.print("officiate.so-far", words.Name("match", text))
		}
		return err
	}
	return nil
}

// rules are those of the format that is asked for.
func (o *options) rules() (*rally.Rules, error) {
	f, err := format.Parse(o.format)
	if err != nil {
		return nil, o.noFormat(err)
	}
	return rally.Compile(f)
}

// noFormat says why what was asked for is no format, and what there is.
func (o *options) noFormat(err error) error {
	var wrong *format.Error
	errors.As(err, &wrong) // every error of a format is one
	typed := program.Typed(o.format)
	shape, _, _ := strings.Cut(o.format, "@")
	var editions []string
	for _, e := range format.EditionsOf(shape) {
		editions = append(editions, e.String())
	}
	switch {
	case wrong.Field == "shape":
		return texts.Wrong("officiate.bad-shape", typed, words.Name("shapes", strings.Join(format.Shapes(), ", ")))
	case wrong.Field == "edition" && len(editions) > 0:
		return texts.Wrong("officiate.bad-edition", typed, words.Name("shape", shape), words.Name("editions", strings.Join(editions, ", ")))
	}
	return texts.Wrong("officiate.bad-format", typed, words.Name("reason", wrong.Field+": "+wrong.Reason))
}

func (v *live) begin(o *options) error {
	rules, err := o.rules()
	if err != nil {
		return err
	}
	f := rules.Format()
	var u rally.Setup
	if u.Left, err = readSide("left", o.left); err != nil {
		return err
	}
	if o.first != "" {
		first, err := readSide("first", o.first)
		if err != nil {
			return err
		}
		u.First = &first
	}
	if err := readNames(&u, o.names, f.Game.Sides == format.Doubles); err != nil {
		return err
	}
	v.file = o.save
	if v.file == "" {
		v.file = "match-" + time.Now().Format("20060102-150405") + ".jsonl"
	}
	u.Match, u.Court, u.Referee = o.match, o.court, o.referee
	u.Began = wallClock().Format(time.RFC3339)
	if _, err := os.Lstat(v.resultFile()); err == nil {
		return texts.Wrong("officiate.bad-result-there", words.Name("file", v.resultFile()))
	}
	log := rally.NewLog(rules, rules.Begin(u))
	if o.from != "" {
		if log, err = record.ParseNotation(o.from); err != nil {
			return texts.Wrong("officiate.bad-from", words.Within("reason", problems.Of(err)))
		}
		f = log.Rules().Format()
	}
	v.desk = newDesk(log, u, o.language)
	v.terse = o.terse
	if v.saved, err = record.Create(v.file, u, v.log); err != nil {
		if errors.Is(err, os.ErrExist) {
			return texts.Wrong("officiate.bad-there", words.Name("file", v.file))
		}
		return err
	}
	v.print("officiate.opened", words.Within("format", words.Format(f)), words.Name("edition", f.Edition.String()), v.side("a", rally.A), v.side("b", rally.B))
	v.print("officiate.saved-in", words.Name("file", v.file))
	v.hint()
	return nil
}

// wallClock tells the time of day and its zone.
var wallClock = time.Now

func (v *live) hint() {
	v.print("officiate.hint")
}

// readNames reads the names of the players, in the order of entry.
func readNames(u *rally.Setup, text string, doubles bool) error {
	if text == "" {
		return nil
	}
	people := []rally.Person{rally.A1, rally.B1}
	if doubles {
		people = []rally.Person{rally.A1, rally.A2, rally.B1, rally.B2}
	}
	names := strings.Split(text, ",")
	if len(names) != len(people) {
		return texts.Wrong("program.bad-names", words.Count("want", len(people)), words.Count("given", len(names)))
	}
	for i, p := range people {
		u.Sides[p.Side()].Players[p.Player()-1].Name = strings.TrimSpace(names[i])
	}
	return nil
}

func (v *live) resume(o *options) error {
	file := o.resume
	rec, w, err := record.Resume(file)
	if err != nil {
		return ofFile(file, err)
	}
	v.file, v.saved, v.desk = file, w, newDesk(rec.Log, rec.Setup, o.language)
	v.terse = o.terse
	for n := rec.Log.Len(); n >= 1 && v.since == 0; n-- {
		v.since, _ = rec.Log.Time(n)
	}
	if began, err := time.Parse(time.RFC3339, rec.Setup.Began); err == nil { // real time went on meanwhile
		v.since = max(v.since, wallClock().Sub(began).Milliseconds())
	}
	if rec.Torn != "" {
		v.print("officiate.torn", words.Name("line", format.Quote(rec.Torn)))
	}
	v.print("officiate.goes-on", words.Name("file", file), words.Count("entries", rec.Log.Len()), v.side("a", rally.A), v.side("b", rally.B))
	v.score()
	v.hint()
	return nil
}

// A typed line, or why there is none.
type typed struct {
	line string
	long bool
	err  error
}

// read sends line after line until the input ends.
func read(in io.Reader) <-chan typed {
	out := make(chan typed)
	go func() {
		src := bufio.NewReaderSize(in, 4096)
		for {
			line, more, err := src.ReadLine()
			t := typed{strings.TrimSpace(strings.ToValidUTF8(string(line), "?")), more, err}
			for more && err == nil {
				_, more, err = src.ReadLine()
			}
			out <- t
			if err != nil {
				return
			}
		}
	}()
	return out
}

// listen answers line after line until the input ends, and gives notice when a
// clock asks for it.
func (v *live) listen(in io.Reader) error {
	lines := read(in)
	for {
		select {
		case t := <-lines:
			switch v.look(); {
			case errors.Is(t.err, io.EOF):
				return v.end()
			case t.err != nil:
				return t.err
			case t.long:
				v.print("officiate.too-long")
			default:
				if v.answer(t.line) {
					return v.end()
				}
				v.unsaved()
			}
		case <-v.alarm():
			v.look()
			v.notice()
			v.ring()
		}
	}
}

// look reads the clock.
func (v *live) look() { v.at = v.since + v.clock().Milliseconds() }

// counts begins the time that a server has, from the call of the score; whatever
// is entered ends it.
func (v *live) counts() {
	s, f := v.log.State(), v.log.Rules().Format()
	seconds := f.Rulings.Number(clause.TenSeconds)
	switch b, _ := s.Break(); {
	case seconds == 0:
		v.print("officiate.ten-none", words.Name("edition", f.Edition.String()))
	case s.Phase() != rally.Playing || b != rally.NoBreak:
		v.print("officiate.nothing-to-call")
	default:
		v.serve = v.at + int64(seconds)*1000
		v.print("officiate.ten", words.Count("seconds", seconds))
	}
}

// notice says that the time for the serve is over, or else what is still open.
func (v *live) notice() {
	if v.serve == 0 || v.at < v.serve {
		v.remind()
		return
	}
	v.serve = 0
	serving, _ := v.log.State().Serving()
	v.print("officiate.ten-over", words.Name("typed", rally.FaultTo(serving.Other(), rally.TenSeconds).String()))
}

// alarm comes at the next notice of the clock that is running, then at its end;
// it never does where none is. Where the time for the serve is counted, it comes
// at its end.
func (v *live) alarm() <-chan time.Time {
	c, ok := rally.ClockAt(v.log, v.at)
	switch {
	case v.serve > 0:
		return time.After(time.Duration(v.serve-v.at) * time.Millisecond)
	case !ok || c.Limit == 0 || c.Remaining <= 0:
		return nil
	case c.NoticeAt > v.at:
		return time.After(time.Duration(c.NoticeAt-v.at) * time.Millisecond)
	}
	return time.After(time.Duration(c.Remaining) * time.Millisecond)
}

// ring sounds the terminal's bell, where that was asked for.
func (v *live) ring() {
	if v.bell {
		fmt.Fprint(v.out, "\a")
	}
}

// keep writes to the record and makes it safe. The match goes on whatever
// becomes of the file.
func (v *live) keep(write func() error) {
	if v.lost != nil {
		return
	}
	if v.lost = write(); v.lost == nil {
		v.lost = v.saved.Sync()
	}
}

// unsaved says on every line that the match is only in memory.
func (v *live) unsaved() {
	if v.lost != nil {
		v.print("officiate.not-saved", words.Within("reason", problems.Of(v.lost)))
	}
}

// saveAs writes everything to another file, and goes on there.
func (v *live) saveAs(file string) {
	if file == "" {
		v.print("officiate.want-file")
		return
	}
	w, err := record.Create(file, v.setup, v.log)
	if err != nil {
		v.print("officiate.save-failed", words.Within("reason", problems.Of(err)))
		return
	}
	_ = v.saved.Close() // what it holds is in the new file too
	v.file, v.saved, v.lost = file, w, nil
	v.print("officiate.saved-as", words.Count("entries", v.log.Len()), words.Name("file", file))
}

func (v *live) end() error {
	v.keep(v.saved.End)
	if v.lost != nil {
		return v.lost
	}
	v.print("officiate.saved", words.Count("entries", v.log.Len()), words.Name("file", v.file))
	if phase := v.log.State().Phase(); phase == rally.Over || phase == rally.Closed {
		if err := v.saveResult(); err != nil {
			return err
		}
	}
	if v.log.State().Phase() != rally.Closed {
		v.print("officiate.resume", words.Name("file", v.file))
	}
	return nil
}

// resultFile is where the result is saved, beside the record.
func (v *live) resultFile() string { return strings.TrimSuffix(v.file, ".jsonl") + ".result.json" }

// isElse reports whether a file is there that holds no result.
func (v *live) isElse(file string) bool {
	text, err := os.ReadFile(file)
	if err != nil {
		return false
	}
	var is struct{ Cause, Games json.RawMessage }
	return json.Unmarshal(text, &is) != nil || is.Cause == nil || is.Games == nil
}

// saveResult prints the result of a decided match and saves it beside the
// record, as the desk reports it.
func (v *live) saveResult() error {
	v.finals()
	text, err := json.MarshalIndent(v.log.Result(), "", "  ")
	if err != nil {
		return err
	}
	file := v.resultFile()
	if v.isElse(file) {
		v.print("officiate.result-kept", words.Name("file", file))
		return nil
	}
	if err := program.WriteFile(file, append(text, '\n')); err != nil {
		return err
	}
	v.print("officiate.result-saved", words.Name("file", file))
	return nil
}
