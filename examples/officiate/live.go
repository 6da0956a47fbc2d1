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
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/referee"
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
}

// takeLive takes a match from the keyboard and saves every entry as it comes.
func (o *options) takeLive(in io.Reader, out io.Writer, clock func() time.Duration) error {
	v := &live{clock: clock}
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
	if err := v.listen(in); err != nil {
		// Whatever became of the file, the match is not lost.
		if text, e := record.Notation(v.log); e == nil {
			v.print("officiate.so-far", words.Name("match", text))
		}
		return err
	}
	return nil
}

func (v *live) begin(o *options) error {
	f, err := format.Parse(o.format)
	if err != nil {
		return err
	}
	rules, err := rally.Compile(f)
	if err != nil {
		return err
	}
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
	v.desk = newDesk(rally.NewLog(rules, rules.Begin(u)), u, o.language)
	if v.saved, err = record.Create(v.file, u, v.log); err != nil {
		if errors.Is(err, os.ErrExist) {
			return fmt.Errorf("%s is there already: -resume %s goes on with it", v.file, v.file)
		}
		return err
	}
	v.print("officiate.opened", words.Name("format", f.ID()), v.side("a", rally.A), v.side("b", rally.B))
	v.print("officiate.saved-in", words.Name("file", v.file))
	v.hint()
	return nil
}

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
		return fmt.Errorf("-names wants %d names divided by commas, not %d", len(people), len(names))
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
		return fmt.Errorf("%s: %w", file, err)
	}
	v.file, v.saved, v.desk = file, w, newDesk(rec.Log, rec.Setup, o.language)
	for n := rec.Log.Len(); n >= 1 && v.since == 0; n-- {
		v.since, _ = rec.Log.Time(n)
	}
	if rec.Torn != "" {
		v.print("officiate.torn", words.Name("line", format.Quote(rec.Torn)))
	}
	v.print("officiate.goes-on", words.Name("file", file), words.Count("entries", rec.Log.Len()), v.side("a", rally.A), v.side("b", rally.B))
	v.score()
	v.hint()
	return nil
}

// listen answers line after line until the input ends.
func (v *live) listen(in io.Reader) error {
	src := bufio.NewReaderSize(in, 4096)
	for {
		line, more, err := src.ReadLine()
		long := more
		for more && err == nil {
			_, more, err = src.ReadLine()
		}
		switch {
		case long:
			v.print("officiate.too-long")
		case err == nil:
			if v.answer(strings.TrimSpace(strings.ToValidUTF8(string(line), "?"))) {
				return v.end()
			}
			v.unsaved()
		}
		if errors.Is(err, io.EOF) {
			return v.end()
		}
		if err != nil {
			return err
		}
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
		v.print("officiate.not-saved", words.Name("reason", program.OneLine(v.lost.Error())))
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
		v.print("officiate.save-failed", words.Name("reason", program.OneLine(err.Error())))
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

// saveResult prints the result of a decided match and saves it beside the
// record, as the desk reports it.
func (v *live) saveResult() error {
	v.result()
	text, err := json.MarshalIndent(v.log.Result(), "", "  ")
	if err != nil {
		return err
	}
	file := strings.TrimSuffix(v.file, ".jsonl") + ".result.json"
	if err := program.WriteFile(file, append(text, '\n')); err != nil {
		return err
	}
	v.print("officiate.result-saved", words.Name("file", file))
	return nil
}

// question says what the edition lets the referee answer to a player: the
// asking side, the question, and whether the players are right in it.
func (v *live) question(text string) {
	typed := strings.Fields(text)
	var names []string
	for _, q := range referee.Questions() {
		names = append(names, q.String())
		if len(typed) == 3 && (typed[0] == "A" || typed[0] == "B") && typed[1] == q.String() && (typed[2] == "right" || typed[2] == "wrong") {
			a := v.guide.Answer(v.log.State(), rally.Side(typed[0][0]-'A'), q, typed[2] == "right")
			v.print("officiate.answer", words.Within("question", q.Text()), words.Within("done", a.Done.Text()), words.Within("said", a.Said),
				words.Within("why", a.Why), words.Within("clause", referee.Cite(a.Clause, a.Source)))
			return
		}
	}
	v.print("officiate.want-question", words.Name("questions", strings.Join(names, ", ")))
}

// answer takes one line of the keyboard, and says whether the match is to be
// left.
func (v *live) answer(text string) (done bool) {
	word, rest, _ := strings.Cut(text, " ")
	switch word {
	case "":
		v.put("", orElse(v.next(v.log.State()), v.tell("officiate.nothing-to-call")))
	case "?":
		v.allowed()
	case "help":
		v.help()
	case "q", "quit":
		return true
	case "save":
		v.saveAs(strings.TrimSpace(rest))
	case "court":
		for _, row := range v.court(v.log.State()) {
			v.put("", row)
		}
	case "score":
		v.score()
	case "why":
		v.put("", v.say(v.guide.WhyServer(v.log.State())))
	case "now":
		for _, duty := range v.guide.Now(v.log.State()) {
			v.put("", v.say(duty.Text))
		}
	case "ask":
		v.question(rest)
	case "over":
		for _, line := range v.guide.HandOver(v.log).Lines {
			v.put("", v.say(line))
		}
	case "log":
		text, err := record.Notation(v.log)
		if err != nil {
			text = program.OneLine(err.Error())
		}
		v.put("", text)
	case "name", "mark":
		v.rename(word, rest)
	default:
		v.entry(text)
	}
	return false
}

func orElse(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

// entry enters an event or a correction and says what follows.
func (v *live) entry(typed string) {
	text, ok := meant(typed)
	if !ok {
		v.print("officiate.no-word", words.Name("typed", format.Quote(typed)))
		return
	}
	what, err := rally.ParseEntry(text)
	var e entered
	if err == nil {
		e, err = v.enter(what)
	}
	if err != nil {
		v.refused(text, err)
		return
	}
	v.log.Stamp(v.since + v.clock().Milliseconds())
	v.keep(v.saved.Append)
	if needsHelp(e) {
		v.put("", v.desk.help())
	}
	v.put("", v.desk.line(e)+v.reminder(e))
	if needsHelp(e) {
		for _, duty := range v.duties(e) {
			v.put("", duty)
		}
	}
}

// reminder says which word comes when something is done that is due now.
func (v *live) reminder(e entered) string {
	s := e.after
	b, _ := s.Break()
	switch {
	case s.EndChangeDue() && !e.before.EndChangeDue():
		return " " + v.tell("officiate.type-ends")
	case b >= rally.BloodBreak && e.did.Has(rally.BreakBegan):
		return " " + v.tell("officiate.type-dealt")
	case s.Phase() == rally.Over && e.before.Phase() != rally.Over:
		return " " + v.tell("officiate.type-sheet")
	}
	return ""
}

// refused says in one line why nothing was entered; where somebody may need
// care, help comes before it and what may be done instead after it.
func (v *live) refused(text string, err error) {
	event, notEvent := rally.ParseEvent(text)
	if notEvent == nil {
		lines := v.guide.Refusal(v.log.State(), event)
		care := v.log.Rules().Why(v.log.State(), event).Help
		if k := event.Kind(); !care && (k == rally.MedicalRequest || k == rally.PlayOnAlone || k == rally.Concussion) {
			v.put("", v.desk.help())
		}
		for i, line := range lines[:max(1, len(lines)-1)] {
			if care || i == 0 {
				v.put("", v.say(line))
			}
		}
		if e, due := v.log.Rules().AbsentFault(v.log.State()); due && v.log.Rules().Why(v.log.State(), event).Refusal == rally.AbsentDue {
			v.print("officiate.enter-fault", words.Name("event", e.String()))
		}
		return
	}
	reason := words.New("officiate.reason", words.Name("reason", program.OneLine(err.Error())))
	var entry *rally.EntryError
	if errors.As(err, &entry) {
		reason = words.For(entry.Refusal)
		if entry.Reason != "" {
			reason = words.New("officiate.reason", words.Name("reason", entry.Reason))
		}
		if entry.N > 0 && entry.Refusal != rally.NotNow && entry.Refusal != rally.LogOnly {
			reason = words.New("officiate.then-refused", words.Count("entry", entry.N), words.Within("reason", reason))
		}
	}
	v.print("officiate.refused", words.Name("typed", format.Quote(text)), words.Within("reason", reason))
}

// rename supplies or changes a name or a mark.
func (v *live) rename(word, rest string) {
	id, name, _ := strings.Cut(rest, " ")
	var p rally.Person
	name = strings.TrimSpace(name)
	err := p.UnmarshalText([]byte(strings.ToUpper(id)))
	if err != nil || name == "" || !v.doubles() && p.Player() == 2 {
		v.print("officiate.want-name", words.Name("word", word))
		return
	}
	u := v.setup
	if player := &u.Sides[p.Side()].Players[p.Player()-1]; word == "name" {
		player.Name = name
	} else {
		player.Mark = name
	}
	v.keep(func() error { return v.saved.Setup(u) })
	v.setup = u
	v.guide = referee.New(v.log.Rules(), u)
	v.print("officiate.is-called", words.Name("player", p.String()), words.Arg{Name: "name", Value: v.guide.Person(p)})
}

func (v *live) score() {
	s := v.log.State()
	if s.Phase() == rally.Before {
		v.print("officiate.not-begun")
		return
	}
	text := v.tell("officiate.score", words.Count("game", s.Game()), words.Count("a", s.Score(rally.A)), words.Count("b", s.Score(rally.B)),
		words.Count("won-a", s.Won(rally.A)), words.Count("won-b", s.Won(rally.B)))
	v.put("", strings.TrimSpace(text+" "+orElse(v.outcome(s), v.next(s))))
}

func (v *live) help() {
	for _, about := range []words.Code{"rally", "breaks", "medical", "penalties", "corrections", "views", "ask", "names"} {
		v.print("officiate.help-" + about)
	}
}
