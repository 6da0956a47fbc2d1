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
		err = v.resume(o.resume)
	} else {
		err = v.begin(o)
	}
	if err != nil {
		return err
	}
	defer func() { _ = v.saved.Close() }()
	if text := v.next(v.log.State()); text != "" {
		v.print("%s", text)
	}
	if err := v.listen(in); err != nil {
		// Whatever became of the file, the match is not lost.
		if text, e := record.Notation(v.log); e == nil {
			v.print("The match so far: %s", text)
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
	v.desk = newDesk(rally.NewLog(rules, rules.Begin(u)), u)
	if v.saved, err = record.Create(v.file, u, v.log); err != nil {
		if errors.Is(err, os.ErrExist) {
			return fmt.Errorf("%s is there already: -resume %s goes on with it", v.file, v.file)
		}
		return err
	}
	v.print("%s. A: %s. B: %s.", f.ID(), v.side(rally.A), v.side(rally.B))
	v.print("Every entry is saved in %s.", v.file)
	v.hint()
	return nil
}

func (v *live) hint() {
	v.print("Type A or B for the side that won the rally, u to take back, ? for what is allowed now, help for more. Ctrl-D ends.")
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

func (v *live) resume(file string) error {
	rec, w, err := record.Resume(file)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	v.file, v.saved, v.desk = file, w, newDesk(rec.Log, rec.Setup)
	for n := rec.Log.Len(); n >= 1 && v.since == 0; n-- {
		v.since, _ = rec.Log.Time(n)
	}
	if rec.Torn != "" {
		v.print("The last line was broken off and is left out. It read: %s", format.Quote(rec.Torn))
	}
	v.print("%s goes on after %d entries. A: %s. B: %s.", file, rec.Log.Len(), v.side(rally.A), v.side(rally.B))
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
			v.print("That line is too long; nothing was entered.")
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
		v.print("NOT SAVED, the match is in memory only: %s. Type save and a file in another place.", program.OneLine(v.lost.Error()))
	}
}

// saveAs writes everything to another file, and goes on there.
func (v *live) saveAs(file string) {
	if file == "" {
		v.print("Nothing was saved: type save and a file.")
		return
	}
	w, err := record.Create(file, v.setup, v.log)
	if err != nil {
		v.print("Nothing was saved: %s.", program.OneLine(err.Error()))
		return
	}
	_ = v.saved.Close() // what it holds is in the new file too
	v.file, v.saved, v.lost = file, w, nil
	v.print("Saved: %d entries in %s, and every later one.", v.log.Len(), file)
}

func (v *live) end() error {
	v.keep(v.saved.End)
	if v.lost != nil {
		return v.lost
	}
	v.print("Saved: %d entries in %s.", v.log.Len(), v.file)
	if phase := v.log.State().Phase(); phase == rally.Over || phase == rally.Closed {
		if err := v.saveResult(); err != nil {
			return err
		}
	}
	if v.log.State().Phase() != rally.Closed {
		v.print("To go on: officiate -live -resume %s", v.file)
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
	v.print("Result saved in %s.", file)
	return nil
}

// question says what the edition lets the referee answer to a player: the
// asking side, the question, and whether the players are right in it.
func (v *live) question(text string) {
	words := strings.Fields(text)
	var names []string
	for _, q := range referee.Questions() {
		names = append(names, q.String())
		if len(words) == 3 && (words[0] == "A" || words[0] == "B") && words[1] == q.String() && (words[2] == "right" || words[2] == "wrong") {
			a := v.guide.Answer(v.log.State(), rally.Side(words[0][0]-'A'), q, words[2] == "right")
			v.print("%s %s Say: %s By the edition, %s (%s).", v.say(q.Text()), v.say(a.Done.Text()), v.say(a.Said), v.say(a.Why), v.say(referee.Cite(a.Clause, a.Source)))
			return
		}
	}
	v.print("Nothing was answered: want ask, A or B, one of %s, and right or wrong, as in: ask A server right", strings.Join(names, ", "))
}

// answer takes one line of the keyboard, and says whether the match is to be
// left.
func (v *live) answer(text string) (done bool) {
	word, rest, _ := strings.Cut(text, " ")
	switch word {
	case "":
		v.print("%s", orElse(v.next(v.log.State()), "There is nothing to call now."))
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
			v.print("%s", row)
		}
	case "score":
		v.score()
	case "why":
		v.print("%s", v.say(v.guide.WhyServer(v.log.State())))
	case "now":
		for _, duty := range v.guide.Now(v.log.State()) {
			v.print("%s", v.say(duty.Text))
		}
	case "ask":
		v.question(rest)
	case "over":
		for _, line := range v.guide.HandOver(v.log).Lines {
			v.print("%s", v.say(line))
		}
	case "log":
		text, err := record.Notation(v.log)
		if err != nil {
			text = program.OneLine(err.Error())
		}
		v.print("%s", text)
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
		v.print("Nothing was entered: %s is no word here. A or B is the side that won the rally, ? shows what is allowed now.", format.Quote(typed))
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
		v.print("%s", v.desk.help())
	}
	v.print("%s", v.desk.line(e)+v.reminder(e))
	if needsHelp(e) {
		for _, duty := range v.duties(e) {
			v.print("%s", duty)
		}
	}
}

// reminder says which word comes when something is done that is due now.
func (v *live) reminder(e entered) string {
	s := e.after
	b, _ := s.Break()
	switch {
	case s.EndChangeDue() && !e.before.EndChangeDue():
		return " Type ends when they have."
	case b >= rally.BloodBreak && e.did.Has(rally.BreakBegan):
		return " Type dealt when its cause has been dealt with."
	case s.Phase() == rally.Over && e.before.Phase() != rally.Over:
		return " Type sheet when the sheet is returned; until then it can be corrected."
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
			v.print("%s", v.desk.help())
		}
		for i, line := range lines[:max(1, len(lines)-1)] {
			if care || i == 0 {
				v.print("%s", v.say(line))
			}
		}
		if e, due := v.log.Rules().AbsentFault(v.log.State()); due && v.log.Rules().Why(v.log.State(), event).Refusal == rally.AbsentDue {
			v.print("Enter %s for it.", e)
		}
		return
	}
	reason := program.OneLine(err.Error())
	var entry *rally.EntryError
	if errors.As(err, &entry) {
		reason = entry.Reason
		if reason == "" {
			reason = v.say(words.Text{Code: "refusal." + words.Code(entry.Refusal.String())})
		}
		if entry.N > 0 && entry.Refusal != rally.NotNow && entry.Refusal != rally.LogOnly {
			reason = fmt.Sprintf("entry %d would then be refused: %s", entry.N, reason)
		}
	}
	v.print("Refused, %s: %s.", format.Quote(text), reason)
}

// rename supplies or changes a name or a mark.
func (v *live) rename(word, rest string) {
	id, name, _ := strings.Cut(rest, " ")
	var p rally.Person
	name = strings.TrimSpace(name)
	err := p.UnmarshalText([]byte(strings.ToUpper(id)))
	if err != nil || name == "" || !v.doubles() && p.Player() == 2 {
		v.print("Nothing was entered: type %s, a player such as A1, and the %s.", word, word)
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
	v.print("%s is %s.", p, v.player(p)+marked(u.Mark(p)))
}

func marked(mark string) string {
	if mark == "" {
		return ""
	}
	return ", " + mark
}

func (v *live) score() {
	s := v.log.State()
	if s.Phase() == rally.Before {
		v.print("The match has not begun.")
		return
	}
	text := fmt.Sprintf("Game %d: A %d, B %d. Games: A %d, B %d.", s.Game(), s.Score(rally.A), s.Score(rally.B), s.Won(rally.A), s.Won(rally.B))
	v.print("%s", strings.TrimSpace(text+" "+orElse(v.outcome(s), v.next(s))))
}

func (v *live) help() {
	v.print("A, B: that side won the rally. A:net, B:out and so on: by that fault of the other side.")
	v.print("p: replay. tA: time-out of A. in: time in. ends: ends have been changed. gA1B1: a game begins, A1 serves to B1's side.")
	v.print("mA1: medical time asked for; then mA1+ valid, mA1- not valid, mA1w withdrawn, as qualified people say. blood, hazard, illness; dealt.")
	v.print("vwA, twA, tfA: verbal and technical warning, technical foul. sheet: the sheet is returned. Small letters will do.")
	v.print("u: take the last entry back. r: bring it back. amend 7 B: entry 7 was B. amend 7 -: it was nothing.")
	v.print("score, court, why, now, over, log: the score, the court, why this player serves, what to do now, what the next referee needs, all entries.")
	v.print("ask A server right: what may be answered to that question of side A, which is right in it; also wrong.")
	v.print("name A1 NAME, mark A1 MARK: who A1 is. save FILE: everything into another file, and on there. q: end and save.")
}
