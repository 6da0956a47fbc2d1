//go:build wasm

// Command words is the library in a browser, for what the pack leaves out: what
// to say and do, why, and entry by questions.
package main

import (
	"strings"

	"github.com/evencourt/evencourt/examples/web/exchange"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

var (
	log   *rally.Log
	guide *referee.Guide
	say   = words.English()
)

func main() { exchange.Serve(answer) }

// operations are what can be asked of a match that has begun.
var operations = map[string]func(args []string) []string{
	"do":     do,
	"call":   func([]string) []string { return []string{say.Say(guide.Call(log.State()))} },
	"server": func([]string) []string { return []string{say.Say(guide.WhyServer(log.State()))} },
	"line":   func([]string) []string { return []string{log.Rules().Line(log.State())} },
	"duties": func([]string) (out []string) {
		for _, d := range guide.Now(log.State()) {
			out = append(out, say.Say(d.Text))
		}
		return out
	},
	"event":   event,
	"refusal": refusal,
	"guided":  guided,
}

func answer(operation string, args []string) []string {
	if operation == "begin" && len(args) == 2 {
		return begin(args[0], args[1])
	}
	run := operations[operation]
	switch {
	case run == nil:
		return exchange.Wrong("no such operation")
	case len(args) == 0 && (operation == "guided" || operation == "do"):
		return exchange.Wrong("wants an argument")
	case log == nil:
		return exchange.Wrong("no match has begun")
	}
	return run(args)
}

func begin(id, first string) []string {
	f, err := format.Parse(id)
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	r, err := rally.Compile(f)
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	s := rally.State{}
	if first == "A" || first == "B" {
		s = r.New(rally.Side(first[0] - 'A'))
	}
	log, guide = rally.NewLog(r, s), referee.New(r, rally.Setup{})
	return nil
}

func do(args []string) []string {
	did, err := log.Enter(strings.Join(args, "\n"))
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	guide = referee.New(log.Rules(), rally.Setup{})
	return say.SayAll(words.Effects(did))
}

func event(args []string) []string {
	e, err := rally.ParseEvent(strings.Join(args, "\n"))
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	return []string{say.Say(guide.Event(e))}
}

// refusal says why an event would be refused; nothing if it would not.
func refusal(args []string) []string {
	e, err := rally.ParseEvent(strings.Join(args, "\n"))
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	if _, _, refused := log.Rules().Apply(log.State(), e); refused == rally.NotRefused {
		return nil
	}
	return say.SayAll(guide.Refusal(log.State(), e))
}

// guided takes a topic and the answers so far: it returns "done"
// and the entry, or "ask", the question, and a line "ANSWER TAB TEXT" for each
// short answer.
func guided(args []string) []string {
	var topic referee.Topic
	if err := topic.UnmarshalText([]byte(args[0])); err != nil {
		return exchange.Wrong(err.Error())
	}
	step, err := guide.Guided(log, topic, args[1:]...)
	switch {
	case err != nil:
		return exchange.Wrong(err.Error())
	case step.Done:
		return append([]string{"done", step.Entry.String()}, say.SayAll(step.Changes)...)
	}
	out := []string{"ask", say.Say(step.Question)}
	for _, r := range step.Replies {
		out = append(out, r.Key+"\t"+say.Say(r.Text))
	}
	return out
}
