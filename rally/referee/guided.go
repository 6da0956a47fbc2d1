package referee

import (
	"slices"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/internal/names"
	"github.com/evencourt/evencourt/rally/words"
)

// Topic is a matter that is entered by questions and short answers, because it
// is too rare for its words to be known.
type Topic uint8

// The topics.
const (
	SomethingWrong Topic = iota + 1 // a wrong side, server, court, receiver or score call, or a stop of play
	MedicalNeed                     // a request, what became of it, a player who cannot go on
	PenaltyGiven                    // warnings, fouls, forfeits, challenges
	WrongEntry                      // an earlier entry that says what did not happen
)

var topicNames = []string{"", "wrong", "medical", "penalty", "correct"}

// Topics lists every topic.
func Topics() []Topic { return []Topic{SomethingWrong, MedicalNeed, PenaltyGiven, WrongEntry} }

// String returns the text name of t.
func (t Topic) String() string { return names.Of(topicNames, t) }

// MarshalText implements encoding.TextMarshaler.
func (t Topic) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (t *Topic) UnmarshalText(text []byte) error { return unmarshal(topicNames, "topic", text, t) }

// Reply is a short answer to a question of a guided entry.
type Reply struct {
	Key  string     `json:"key"` // what is typed, or what a button sends
	Text words.Text `json:"text"`
}

// Prompt is where a guided entry stands: a question with its short answers, or
// the entry that the answers come to.
type Prompt struct {
	Help     bool       `json:"help,omitempty"` // call qualified help first
	Question words.Text `json:"question"`
	Replies  []Reply    `json:"replies,omitempty"`
	Free     bool       `json:"free,omitempty"`    // other answers are taken too: a number, an event, a reason
	Several  bool       `json:"several,omitempty"` // keys may be joined to one answer by commas: server,court

	Done    bool         `json:"done"` // the dialogue is over: Entry may be made
	Entry   rally.Entry  `json:"entry,omitzero"`
	Changes []words.Text `json:"changes,omitempty"` // what Entry would change of the match as it stands
}

// Guided returns the next step of a guided entry after some answers: a caller
// keeps the answers and asks again with one more. The error is a [*rally.NameError]
// for a topic or an answer that there is not, and what the log says to the
// entry, where it would be refused.
func (g *Guide) Guided(l *rally.Log, topic Topic, answers ...string) (Prompt, error) {
	d := &dialogue{g: g, log: l, given: answers}
	switch topic {
	case SomethingWrong:
		d.wrong()
	case MedicalNeed:
		d.step.Help = true
		d.medical()
	case PenaltyGiven:
		d.penalty()
	case WrongEntry:
		d.correct()
	default:
		return Prompt{}, &rally.NameError{Kind: "topic", Text: topic.String()}
	}
	return d.step, d.err
}

// dialogue walks through the questions. Once one is open, or an answer is none,
// the later ones are not put and nothing is entered.
type dialogue struct {
	g     *Guide
	log   *rally.Log
	given []string
	step  Prompt
	err   error
}

func (d *dialogue) open() bool { return d.step.Question.Code != "" || d.err != nil }

// ask puts a question and returns the answer to it; "" if it is still open.
func (d *dialogue) ask(question words.Text, replies ...Reply) string {
	if d.open() {
		return ""
	}
	if len(d.given) > 0 {
		given := d.given[0]
		for _, r := range replies {
			if strings.EqualFold(r.Key, given) {
				d.given = d.given[1:]
				return r.Key
			}
		}
		d.err = &rally.NameError{Kind: "answer", Text: given}
	}
	d.step.Question, d.step.Replies = question, replies
	return ""
}

// several puts a question to which more than one reply may hold, joined by a
// plus, a comma or a blank.
func (d *dialogue) several(question words.Text, replies ...Reply) []string {
	if d.open() {
		return nil
	}
	d.step.Several = len(d.given) == 0
	if d.step.Several {
		d.ask(question, replies...)
		return nil
	}
	parts := strings.FieldsFunc(d.given[0], func(r rune) bool { return strings.ContainsRune("+, ", r) })
	rest := d.given[1:]
	var out []string
	for _, part := range parts {
		d.given = []string{part}
		if key := d.ask(question, replies...); !slices.Contains(out, key) {
			out = append(out, key)
		}
		if d.open() {
			d.step.Several = true
			return nil
		}
	}
	if d.given = rest; len(out) == 0 {
		d.err = &rally.NameError{Kind: "answer", Text: ""}
		d.step.Question, d.step.Replies, d.step.Several = question, replies, true
	}
	return out
}

// free puts a question that takes other answers too.
func (d *dialogue) free(question words.Text, replies ...Reply) string {
	if d.open() {
		return ""
	}
	if len(d.given) > 0 {
		given := d.given[0]
		d.given = d.given[1:]
		return given
	}
	d.step.Question, d.step.Replies, d.step.Free = question, replies, true
	return ""
}

func (d *dialogue) yes(question words.Text) bool {
	return d.ask(question, Reply{"yes", say("reply.yes")}, Reply{"no", say("reply.no")}) == "yes"
}

// end ends the dialogue with an entry, and says what it would change.
func (d *dialogue) end(e rally.Entry) {
	if d.open() {
		return
	}
	if len(d.given) > 0 {
		d.err = &rally.NameError{Kind: "answer", Text: d.given[0]}
		return
	}
	d.step.Done, d.step.Entry = true, e
	d.step.Changes, d.err = d.g.WouldChange(d.log, e)
}

// sideReplies are the sides as answers.
func (d *dialogue) sideReplies() []Reply {
	var out []Reply
	for _, side := range sides {
		out = append(out, Reply{side.String(), say("reply.side", d.g.side("side", side))})
	}
	return out
}

var mistakes = []rally.Mistake{rally.WrongServer, rally.WrongCourt, rally.WrongReceived, rally.WrongReceiverCourt, rally.WrongSideServed,
	rally.WrongCall, rally.UnannouncedServer, rally.UnannouncedReceiver}

var reaches = []rally.Reach{rally.NotCalled, rally.Called, rally.Struck, rally.Returned, rally.ThirdShot}

var sinces = []rally.Since{rally.RallyOver, rally.NextServed, rally.Overtaken}

// wrong: what was wrong, how the rally ended, who raised it, and whether it was
// so; what the edition has no use for is not asked.
func (d *dialogue) wrong() {
	var replies []Reply
	for _, m := range mistakes {
		if d.g.doubles || m == rally.WrongCourt || m == rally.WrongSideServed || m == rally.WrongCall || m == rally.WrongReceiverCourt {
			replies = append(replies, Reply{m.String(), words.For(m)})
		}
	}
	about := d.mistakes(d.several(say("guided.what"), append(replies, Reply{"none", say("reply.none")})...))
	ended := []Reply{{"stopped", say("reply.stopped")}}
	for _, side := range sides {
		ended = append(ended, Reply{side.String(), say("reply.won", d.g.side("side", side))})
	}
	last, was := d.lastRally()
	if last > 0 && about != nil {
		ended = append(ended, Reply{"last", say("reply.last", count("entry", last))})
	}
	how := d.ask(say("guided.how"), ended...)
	i := rally.Incident{Stopper: d.stopper(how)}
	if how == "stopped" {
		i.Reach = d.reach()
	}
	if how == "last" {
		i.Since = d.since()
	} else if how != "stopped" {
		i.Since = rally.RallyOver
	}
	if about != nil && !d.open() {
		d.claim(&i, about)
	}
	switch {
	case how == "stopped":
		d.end(rally.EventOf(rally.Stop).WithIncident(i).Entry())
	case how == "last":
		d.end(rally.Entry{Kind: rally.RuleOn, Target: last, Event: was.WithIncident(i)})
	case about == nil:
		d.end(rally.RallyTo(sideNamed(how)).Entry())
	default:
		d.end(rally.RallyTo(sideNamed(how)).WithIncident(i).Entry())
	}
}

func sideNamed(text string) rally.Side {
	if text == "B" {
		return rally.B
	}
	return rally.A
}

// mistakes are those that replies name, in their order; none goes with no other.
func (d *dialogue) mistakes(keys []string) (out []rally.Mistake) {
	for _, m := range mistakes {
		if slices.Contains(keys, m.String()) {
			out = append(out, m)
		}
	}
	if len(out) > 0 && slices.Contains(keys, "none") && d.err == nil {
		d.err = &rally.NameError{Kind: "answer", Text: "none"}
	}
	return out
}

// claim fills in what a claim was about, and whether it was so. A claim of which
// nothing was so is about the first that it named.
func (d *dialogue) claim(i *rally.Incident, about []rally.Mistake) {
	byPlayer := i.Stopper != rally.ByReferee
	for _, m := range about {
		so := !byPlayer
		switch {
		case byPlayer && len(about) == 1:
			so = d.yes(say("guided.was-so"))
		case byPlayer:
			so = d.yes(say("guided.was-it-so", words.Within("mistake", words.For(m))))
		}
		if so {
			i.Mistakes = i.Mistakes.With(m)
		}
	}
	if i.Mistakes == 0 {
		i.Claim, i.Claimed = about[0], true
		return
	}
	if i.Mistakes.Has(rally.WrongCall) {
		i.Misled = byPlayer && d.g.takes(clause.Misled) && d.yes(say("guided.misled"))
	}
	if i.Mistakes == rally.Mistakes(0).With(rally.WrongCall) || i.Mistakes.Has(rally.WrongSideServed) {
		return // about which nobody asks
	}
	if asks := d.g.format.Rulings.Of(clause.AskAnything); asks == clause.AskAnything || asks == clause.AskServer {
		i.Asked = d.yes(say("guided.asked"))
	}
}

func (d *dialogue) stopper(how string) rally.Stopper {
	question := words.Code("guided.who-raised")
	if how == "stopped" {
		question = "guided.who-stopped"
	}
	switch d.ask(say(question), append(d.sideReplies(), Reply{"ref", say("reply.referee")})...) {
	case "A":
		return rally.BySideA
	case "B":
		return rally.BySideB
	}
	return rally.ByReferee
}

func (d *dialogue) reach() rally.Reach {
	var replies []Reply
	for _, r := range reaches {
		replies = append(replies, Reply{r.String(), say(words.Code("reach." + r.String()))})
	}
	given := d.ask(say("guided.how-far"), replies...)
	return reaches[max(0, slices.IndexFunc(reaches, func(r rally.Reach) bool { return r.String() == given }))]
}

// since says what has come since a rally that is over; that its game is, the
// state says itself.
func (d *dialogue) since() rally.Since {
	switch d.log.State().Phase() {
	case rally.Between, rally.Over:
		return rally.GameOver
	case rally.Closed:
		return rally.AfterSheet
	}
	var replies []Reply
	for _, s := range sinces {
		replies = append(replies, Reply{s.String(), say(words.Code("since." + s.String()))})
	}
	given := d.ask(say("guided.since"), replies...)
	return sinces[max(0, slices.IndexFunc(sinces, func(s rally.Since) bool { return s.String() == given }))]
}

// lastRally returns the last rally that was won, and its entry; 0 for none.
func (d *dialogue) lastRally() (n int, e rally.Event) {
	d.log.Each(func(st rally.Step) bool {
		if st.Holds && st.Event.Kind() == rally.RallyWon {
			n, e = st.N, st.Event
		}
		return true
	})
	return n, e
}

// ofKinds asks for one of some kinds of events, as far as they may come now,
// and returns it; rally.NoKind if the question is open.
func (d *dialogue) ofKinds(question words.Code, kinds ...rally.Kind) rally.Kind {
	allowed := d.log.Rules().Allowed(d.log.State())
	var replies []Reply
	for _, k := range kinds {
		if allowed.Has(k) {
			replies = append(replies, Reply{k.String(), words.For(k)})
		}
	}
	given := d.ask(say(question), replies...)
	for _, k := range kinds {
		if k.String() == given {
			return k
		}
	}
	return rally.NoKind
}

func (d *dialogue) medical() {
	k := d.ofKinds("guided.medical", rally.MedicalRequest, rally.HelpArrived, rally.MedicalValid, rally.MedicalInvalid, rally.MedicalWithdrawn,
		rally.PlayOnAlone, rally.Concussion)
	var replies []Reply
	for _, p := range persons {
		if _, _, refusal := d.log.Rules().Apply(d.log.State(), rally.OfPerson(k, p)); refusal == rally.NotRefused {
			replies = append(replies, Reply{p.String(), say("reply.player", d.g.person("player", p))})
		}
	}
	given := d.ask(say("guided.player"), replies...)
	for _, p := range persons {
		if p.String() == given {
			d.end(rally.OfPerson(k, p).Entry())
		}
	}
}

func (d *dialogue) penalty() {
	k := d.ofKinds("guided.penalty", rally.VerbalWarning, rally.TechnicalWarning, rally.TechnicalFoul, rally.GameForfeit, rally.MatchForfeit,
		rally.ChallengeLost, rally.ChallengeWithdrawn)
	d.end(rally.OfSide(k, sideNamed(d.ask(say("guided.side"), d.sideReplies()...))).Entry())
}

// correct: which entry, what happened instead, and where one is wanted a reason.
func (d *dialogue) correct() {
	e := rally.Entry{Kind: rally.Amend}
	number := d.free(say("guided.which-entry"))
	if n, ok := format.Natural(strings.TrimLeft(number, "0"), d.log.Len()); !d.open() {
		if !ok || d.log.Entry(n).Kind == rally.NoKind {
			d.err = &rally.NameError{Kind: "entry", Text: number}
		}
		e.Target = n
	}
	question := say("guided.instead", count("entry", e.Target), plain("was", d.log.Entry(e.Target).String()))
	instead := d.free(question, append(d.sideReplies(), Reply{"replay", words.For(rally.Replay)}, Reply{"-", say("reply.nothing")})...)
	if instead != "" && instead != "-" {
		var err error
		if e.Event, err = rally.ParseEvent(instead); err != nil && d.err == nil {
			d.err = err
		}
	}
	held, _ := d.log.Holds(e.Target)
	if d.log.State().Phase() == rally.Closed || held.Kind() == rally.Concussion || d.log.Entry(e.Target).Kind == rally.SheetReturned {
		e.Note = d.free(say("guided.reason"))
	}
	d.end(e)
}
