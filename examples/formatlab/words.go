package main

import (
	"fmt"
	"strings"

	"github.com/evencourt/evencourt/rally"
)

// The events of a sequence in plain words. Codes stay beside them: they are
// what the engine, its logs and its corpus say.

// sideWords are events of a side, personWords of a person, otherWords the rest.
var (
	sideWords = map[rally.Kind]string{
		rally.Exchange: "the partners of side %s exchange places", rally.TimeOut: "side %s takes a time-out",
		rally.VerbalWarning: "a verbal warning for side %s", rally.TechnicalWarning: "a technical warning for side %s",
		rally.TechnicalFoul: "a technical foul by side %s", rally.GameForfeit: "side %s forfeits the game",
		rally.MatchForfeit: "side %s forfeits the match", rally.ChallengeLost: "side %s loses a challenge of a ruling",
		rally.ChallengeWithdrawn: "side %s withdraws a challenge of a ruling", rally.Retirement: "side %s retires",
	}
	personWords = map[rally.Kind]string{
		rally.EquipmentTimeOut: "an equipment time-out for %s", rally.MedicalRequest: "%s asks for a medical time-out",
		rally.MedicalValid: "the medical time-out of %s is found valid", rally.MedicalInvalid: "the medical request of %s is found invalid",
		rally.MedicalWithdrawn: "%s withdraws the medical request", rally.CarryWarning: "%s brings a technical warning from the match before",
		rally.CarryFoul: "%s brings a technical foul from the match before",
	}
	otherWords = map[rally.Kind]string{
		rally.Replay: "the rally is replayed", rally.EndsChanged: "ends are changed", rally.TimeIn: "play goes on after a break",
		rally.RefereeTimeOut: "the referee takes a time-out", rally.BloodTimeOut: "a time-out for blood", rally.Dealt: "what the time-out was for is dealt with",
		rally.DoubleForfeit: "both sides forfeit", rally.Abandon: "the match is broken off", rally.SheetReturned: "the score sheet is returned",
	}
	mistakeWords = map[rally.Mistake]string{
		rally.WrongSideServed: "the wrong side served", rally.WrongServer: "the wrong player served", rally.WrongCourt: "the serve came from the wrong court",
		rally.WrongReceived: "the wrong player received", rally.WrongReceiverCourt: "the receiver stood in the wrong court",
		rally.WrongCall: "the score was called wrong", rally.UnannouncedServer: "the serving side had changed its starting server without notice",
		rally.UnannouncedReceiver: "the receiving side had changed its starting server without notice",
	}
	reachWords = map[rally.Reach]string{
		rally.ToItsEnd: "at its end", rally.NotCalled: "before the call", rally.Called: "after the call, before the serve", rally.Struck: "after the serve is struck",
		rally.Returned: "after the return", rally.ThirdShot: "after the third shot",
	}
	sinceWords = map[rally.Since]string{
		rally.StillLive: "in the rally", rally.RallyOver: "after the rally", rally.NextServed: "once the next serve is struck",
		rally.Overtaken: "after a further point, or once the opponents have served", rally.GameOver: "after the game", rally.AfterSheet: "after the sheet is returned",
	}
	stopperWords = map[rally.Stopper]string{
		rally.Nobody: "somebody", rally.BySideA: "side A", rally.BySideB: "side B", rally.ByReferee: "the referee",
	}
	choiceWords = map[rally.Choice]string{
		rally.ChooseServe: "to serve", rally.ChooseReceive: "to receive", rally.ChooseEnd: "an end", rally.ChooseDefer: "to let the other side choose",
	}
)

// inWords says an event in plain words; one that has none keeps its code.
func inWords(e rally.Event) string {
	k := e.Kind()
	switch {
	case k == rally.RallyWon:
		text := "a rally won by side " + e.Side().String()
		if i, rides := e.Incident(); rides {
			text += "; " + sinceWords[i.Since] + ", " + stopperWords[i.Stopper] + incidentWords(i)
		}
		return text
	case k == rally.Stop:
		i, _ := e.Incident()
		return stopperWords[i.Stopper] + " stops the rally " + reachWords[i.Reach] + " and" + incidentWords(i)
	case k == rally.FirstChoice:
		return "side " + e.Side().String() + " has the first choice and chooses " + choiceWords[e.Choice()]
	case k == rally.LateArrival:
		return fmt.Sprintf("side %s arrives %d seconds late", e.Side(), e.Seconds())
	case sideWords[k] != "":
		return fmt.Sprintf(sideWords[k], e.Side())
	case personWords[k] != "":
		return fmt.Sprintf(personWords[k], e.Person())
	case otherWords[k] != "":
		return otherWords[k]
	}
	return e.String()
}

func incidentWords(i rally.Incident) string {
	var wrong []string
	for m := rally.WrongSideServed; m <= rally.UnannouncedReceiver; m++ {
		if i.Mistakes.Has(m) {
			wrong = append(wrong, mistakeWords[m])
		}
	}
	text := " says that " + strings.Join(wrong, " and ")
	if len(wrong) == 0 {
		text = " says, mistakenly, that " + mistakeWords[i.Claim]
	}
	if i.Misled {
		text += ", which misled the player who stopped"
	}
	if i.Asked {
		text += ", though the referee had been asked and had confirmed"
	}
	return text
}

// eventWords writes a sequence of events in the codes of a log.
func eventWords(events []rally.Event) string {
	if len(events) == 0 {
		return "no event"
	}
	words := make([]string, len(events))
	for i, e := range events {
		words[i] = e.String()
	}
	return strings.Join(words, " ")
}

// saidInWords says the events that are more than rallies; "" if there are none.
func saidInWords(events []rally.Event) string {
	if len(events) == 1 && events[0] != rally.RallyTo(events[0].Side()) {
		return inWords(events[0])
	}
	var words []string
	for _, e := range events {
		if e != rally.RallyTo(e.Side()) {
			words = append(words, e.String()+": "+inWords(e))
		}
	}
	return strings.Join(words, "; ")
}
