package main

import (
	"strings"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// language is that of the answer: the command line sets it before anything is
// said.
var language *words.Language

// tell says a text.
func tell(c words.Code, args ...words.Arg) string { return language.Say(words.New(c, args...)) }

// inWords says an event in plain words. Codes stay beside them: they are what
// the engine, its logs and its corpus say.
func inWords(e rally.Event) string { return language.Say(words.Event(e, nil)) }

// eventWords writes a sequence of events in the codes of a log.
func eventWords(events []rally.Event) string {
	if len(events) == 0 {
		return tell("lab.no-event")
	}
	codes := make([]string, len(events))
	for i, e := range events {
		codes[i] = e.String()
	}
	return strings.Join(codes, " ")
}

// saidInWords says the events that are more than rallies; "" if there are none.
func saidInWords(events []rally.Event) string {
	if len(events) == 1 && events[0] != rally.RallyTo(events[0].Side()) {
		return inWords(events[0])
	}
	var said []string
	for _, e := range events {
		if e != rally.RallyTo(e.Side()) {
			said = append(said, e.String()+": "+inWords(e))
		}
	}
	return strings.Join(said, "; ")
}
