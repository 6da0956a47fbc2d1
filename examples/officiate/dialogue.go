package main

import (
	"errors"
	"strings"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// dialogue is a guided entry under way: its topic and the answers so far.
type dialogue struct {
	topic   referee.Topic
	answers []string
	sure    bool // what a correction would change has been shown
}

// begins begins a guided entry with its first question.
func (v *live) begins(topic referee.Topic) {
	v.asks = &dialogue{topic: topic}
	step, err := v.guide.Guided(v.log, topic)
	if err != nil || len(step.Replies) == 0 && !step.Free {
		v.asks = nil
		v.print("officiate.guided-none")
		return
	}
	if step.Help {
		v.put("", v.desk.help())
	}
	v.print("officiate.guided-leave")
	v.puts(step)
}

// puts puts the question of a step with its short answers.
func (v *live) puts(step referee.Prompt) {
	v.put("", v.say(step.Question))
	if step.Several {
		v.print("officiate.guided-several")
	}
	for _, r := range step.Replies {
		v.print("officiate.reply", words.Name("key", r.Key), words.Within("text", r.Text))
	}
}

// reply takes an answer. What a correction would change is shown before it is
// made; everything else is entered when the last answer is given.
func (v *live) reply(text string) {
	d := v.asks
	if text == "" || strings.EqualFold(text, "stop") && d.sure || strings.EqualFold(text, "leave") {
		v.asks = nil
		v.print("officiate.guided-left")
		return
	}
	if d.sure {
		v.asks = nil
		if !strings.EqualFold(text, "yes") {
			v.print("officiate.guided-left")
			return
		}
		step, _ := v.guide.Guided(v.log, d.topic, d.answers...)
		v.make(step.Entry.String(), step.Entry, nil)
		return
	}
	if upper := strings.ToUpper(text); len(text) <= 2 && strings.ContainsAny(upper, "AB") {
		text = upper // a side or a player
	}
	answers := append(d.answers[:len(d.answers):len(d.answers)], text)
	step, err := v.guide.Guided(v.log, d.topic, answers...)
	var none *rally.NameError
	switch {
	case errors.As(err, &none):
		v.print("officiate.guided-no-answer", program.Typed(text))
		step, _ = v.guide.Guided(v.log, d.topic, d.answers...)
		v.puts(step)
	case err != nil:
		v.asks = nil
		v.refused(step.Entry.String(), err)
	case !step.Done:
		d.answers = answers
		v.puts(step)
	case step.Entry.Corrects():
		d.answers, d.sure = answers, true
		for _, change := range step.Changes {
			v.put("  ", v.say(change))
		}
		v.print("officiate.guided-sure", words.Name("typed", step.Entry.String()))
	default:
		v.asks = nil
		v.make(step.Entry.String(), step.Entry, nil)
	}
}
