//go:build wasm

package main

import (
	"errors"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/examples/paper"
	"github.com/evencourt/evencourt/examples/program/setup"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/examples/web/exchange"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// The match that is spoken about. A build holds one.
var (
	log   *rally.Log
	known rally.Setup
	guide *referee.Guide
	say   *words.Language
)

// asked are the language and the rules that the first two arguments name.
func asked(args []string) (*words.Language, *rally.Rules, error) {
	language, err := texts.Language(args[0])
	if err != nil {
		return nil, nil, err
	}
	f, err := format.Parse(args[1])
	if err != nil {
		return nil, nil, err
	}
	rules, err := rally.Compile(f)
	return language, rules, err
}

// begin takes a language, a format, and a set-up in lines of NAME TAB VALUE.
func begin(args []string) []string {
	language, rules, err := asked(args)
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	u, start := rally.Setup{}, ""
	for _, line := range args[2:] {
		name, value, _ := strings.Cut(line, "\t")
		if name == "start" {
			start = value
		} else {
			setup.Set(&u, name, value)
		}
	}
	state := rules.Begin(u)
	if start != "" {
		if state, err = rules.ParseLine(start); err != nil {
			return exchange.Wrong(err.Error())
		}
	}
	log, known, guide, say = rally.NewLog(rules, state), u, referee.New(rules, u), language
	return nil
}

// do adds an entry with its elapsed milliseconds and says what it did.
func do(args []string) []string {
	e, err := rally.ParseEntry(args[0])
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	before := log.State()
	did, err := log.Do(e)
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	if ms, err := strconv.ParseInt(args[1], 10, 64); err == nil {
		log.Stamp(ms)
	}
	guide = referee.New(log.Rules(), known)
	out := []string{row("line", log.Rules().Line(log.State()))}
	if e.Kind >= rally.Undo {
		for _, t := range guide.Changed(log, before) {
			out = append(out, row("did", say.Say(t)))
		}
		return out
	}
	switch e.Event.Kind() {
	case rally.RallyWon, rally.Replay, rally.Stop:
		if result := guide.ResultWord(did); result.Code != "result.none" {
			out = append(out, row("result", say.Say(result)))
		}
	}
	if _, rides := e.Event.Incident(); rides {
		ruling := guide.Ruling(before, e.Event)
		out = append(out, row("did", say.Say(ruling.Text)))
	}
	const news = rally.Warned | rally.Fouled | rally.WarnedVerbally | rally.PlayerOut | rally.GameForfeited
	if did&news != 0 {
		duties, _ := guide.After(before, e.Event)
		for _, d := range duties {
			out = append(out, row("did", say.Say(d.Text)))
		}
	}
	return out
}

// now says what stands at an elapsed time: the call, why this player serves,
// whether help is to be called, what is open with the entries that settle it, what to do, the clock.
func now(args []string) []string {
	ms, err := strconv.ParseInt(args[0], 10, 64)
	if err != nil {
		ms = -1
	}
	s := log.State()
	var out []string
	if s.Phase() == rally.Playing {
		out = append(out, row("call", say.Say(guide.Call(s))), row("server", say.Say(guide.WhyServer(s))))
	}
	for _, r := range guide.Reminders(log, ms) {
		fields := []string{"reminder", say.Say(r.Text)}
		for _, e := range r.Settles {
			fields = append(fields, e.String(), say.Say(guide.Event(e.Event)))
		}
		out = append(out, row(fields...))
	}
	for _, d := range guide.Now(s) {
		name := "duty"
		if d.Text.Code == "duty.help" {
			name = "help" // before everything else
		}
		out = append(out, row(name, say.Say(d.Text)))
	}
	if n, ok := log.Undoable(); ok {
		out = append(out, row("undo", entered(log.Entry(n))))
	}
	if n, ok := log.Redoable(); ok {
		out = append(out, row("redo", entered(log.Entry(n))))
	}
	if c, ok := rally.ClockAt(log, max(ms, 0)); ok {
		out = append(out, row("clock", c.Interval.String(), say.Say(words.New("interval."+words.Code(c.Interval.String()))),
			number(c.Limit), number(c.Remaining), number(c.NoticeAt)))
	}
	if how, over := paper.Outcome(guide, s); over {
		out = append(out, row("outcome", say.Say(how)))
	}
	return out
}

func number(n int64) string { return strconv.FormatInt(n, 10) }

// entered is an entry in words.
func entered(e rally.Entry) string {
	if !e.Corrects() {
		return say.Say(guide.Event(e.Event))
	}
	what := words.New(words.Code("courtside.entry-" + e.Kind.String()))
	if e.Target > 0 {
		what.Args = []words.Arg{words.Count("entry", e.Target)}
	}
	return say.Say(what)
}

// refusal says why an event would be refused, help first; nothing if it would not.
func refusal(args []string) []string {
	e, err := rally.ParseEntry(args[0])
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	if e.Corrects() {
		var no *rally.EntryError
		if _, _, err := log.Would(e); errors.As(err, &no) {
			return []string{row("did", say.Say(words.Correction(no)))}
		}
		return nil
	}
	if _, _, refused := log.Rules().Apply(log.State(), e.Event); refused == rally.NotRefused {
		return nil
	}
	var out []string
	for _, t := range guide.Refusal(log.State(), e.Event) {
		out = append(out, row("did", say.Say(t)))
	}
	return out
}

// guided takes a topic and the answers so far: "ask" with the question and the
// short answers, or "done" with the entry and what it would change.
func guided(args []string) []string {
	var topic referee.Topic
	if err := topic.UnmarshalText([]byte(args[0])); err != nil {
		return exchange.Wrong(err.Error())
	}
	step, err := guide.Guided(log, topic, args[1:]...)
	if err != nil {
		return append(exchange.Wrong(err.Error()), refusal([]string{step.Entry.String()})...)
	}
	var out []string
	if step.Help {
		out = append(out, row("help", say.Say(words.New("duty.help"))))
	}
	if step.Done {
		out = append(out, row("done", step.Entry.String(), entered(step.Entry)))
		for _, t := range step.Changes {
			out = append(out, row("change", say.Say(t)))
		}
		return out
	}
	question := "ask"
	if step.Free {
		question = "free"
	}
	if len(args) == 2 && topic == referee.WrongEntry {
		inWords(&step.Question, args[1])
	}
	out = append(out, row(question, say.Say(step.Question)))
	for _, r := range step.Replies {
		out = append(out, row("reply", r.Key, say.Say(r.Text)))
	}
	return out
}

// inWords lets a question about an entry name it by its words, not by its code.
func inWords(question *words.Text, number string) {
	n, err := strconv.Atoi(number)
	for i, arg := range question.Args {
		if err == nil && arg.Name == "was" {
			question.Args[i] = words.Name("was", entered(log.Entry(n)))
		}
	}
}

// asks takes nothing, and lists what a player may ask; or the asking side and a
// question, and says what is done about it, what is said if things are right and
// if they are not, and why.
func asks(args []string) []string {
	var out []string
	for _, q := range referee.Questions() {
		if len(args) < 2 {
			out = append(out, row("question", q.String(), say.Say(q.Text())))
		} else if q.String() == args[1] {
			side := rally.A
			if args[0] == "B" {
				side = rally.B
			}
			for i, right := range []bool{true, false} {
				a := guide.Answer(log.State(), side, q, right)
				out = append(out, row([]string{"right", "wrong"}[i], say.Say(a.Said), say.Say(a.Done.Text())), row("why", say.Say(a.Why)))
			}
		}
	}
	return out
}

// entries lists the log: number, elapsed time, whether it holds, and words.
func entries([]string) []string {
	holds := map[int]bool{}
	log.Each(func(st rally.Step) bool {
		holds[st.N] = st.Holds
		return true
	})
	var out []string
	for n := 1; n <= log.Len(); n++ {
		ms, timed := log.Time(n)
		if !timed {
			ms = -1
		}
		out = append(out, row(strconv.Itoa(n), number(ms), strconv.FormatBool(holds[n]), log.Entry(n).String(), entered(log.Entry(n))))
	}
	return out
}

func handOver([]string) []string { return say.SayAll(guide.HandOver(log).Lines) }

// sheet is the match on paper.
func sheet([]string) []string { return laid(paper.Of(log, known, say)) }

// blank takes a language and a format and is a sheet to be filled in by hand.
func blank(args []string) []string {
	language, rules, err := asked(args)
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	return laid(paper.Blank(rally.NewLog(rules, rally.State{}), rally.Setup{}, language))
}

// laid is a sheet in rows, in the order in which it is read.
func laid(s paper.Sheet) []string {
	out := []string{row("title", s.Title), row("about", s.About)}
	for _, f := range s.Fields {
		out = append(out, row("fact", f.Name, f.Value))
	}
	out = append(out, row("key", s.Labels["key"]))
	for _, g := range s.Games {
		out = append(out, row("game", g.Title))
		for _, f := range g.Fields {
			out = append(out, row("fact", f.Name, f.Value))
		}
		for _, side := range g.Sides {
			out = append(out, row("side", side.Name))
			for _, c := range side.Cells {
				end := ""
				if c.End {
					end = "/"
				}
				out = append(out, row("cell", c.Score, c.Mark+end))
			}
		}
		if len(g.Turns) > 0 {
			turns := s.Labels["turns"]
			for _, t := range g.Turns {
				turns += "\u2002" + t.Server + t.Points
				if t.Out {
					turns += "\u00a0/"
				}
			}
			out = append(out, row("turns", turns))
		}
		if g.Lines > 0 || len(g.Notes) > 0 {
			out = append(out, row("notes", s.Labels["notes"], number(int64(g.Lines))))
		}
		for _, n := range g.Notes {
			out = append(out, row("note", n))
		}
	}
	return append(out, row("sign", s.Labels["sign-winner"], s.Labels["sign-referee"]), row("caution", s.Caution))
}
