package referee

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/internal/names"
	"github.com/evencourt/evencourt/rally/words"
)

// Question is something a player may ask the referee before the serve.
type Question uint8

// The questions.
const (
	AskScore          Question = iota + 1 // what is the score?
	AskServer                             // are we, or they, serving with the correct server?
	AskServerCourt                        // is the server in the correct court?
	AskReceiver                           // is the correct player receiving?
	AskOwnPlaces                          // do we stand in the correct courts?
	AskOpponentPlaces                     // do they stand in the correct courts?
)

var questionNames = []string{"", "score", "server", "server-court", "receiver", "own-places", "opponent-places"}

// Questions lists every question.
func Questions() []Question {
	return []Question{AskScore, AskServer, AskServerCourt, AskReceiver, AskOwnPlaces, AskOpponentPlaces}
}

// String returns the text name of q.
func (q Question) String() string { return names.Of(questionNames, q) }

// MarshalText implements encoding.TextMarshaler.
func (q Question) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (q *Question) UnmarshalText(text []byte) error {
	return unmarshal(questionNames, "question", text, q)
}

// Text puts the question.
func (q Question) Text() words.Text { return say(words.Code("question." + q.String())) }

// Response is what a referee does about a question.
type Response uint8

// The responses.
const (
	Refuse     Response = iota + 1 // it is not answered
	ScoreOnly                      // the score is said and nothing else
	Confirm                        // yes or no, and nothing else
	PutInOrder                     // the referee puts all players in order
	Unruled                        // the edition says nothing; the event's officials decide
)

var responseNames = []string{"", "refuse", "score-only", "confirm", "put-in-order", "unruled"}

// String returns the text name of r.
func (r Response) String() string { return names.Of(responseNames, r) }

// MarshalText implements encoding.TextMarshaler.
func (r Response) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (r *Response) UnmarshalText(text []byte) error {
	return unmarshal(responseNames, "response", text, r)
}

// Text says what is done.
func (r Response) Text() words.Text { return say(words.Code("response." + r.String())) }

// Answer is what is said and done about a question.
type Answer struct {
	Question Question      `json:"question"`
	Side     rally.Side    `json:"side"` // who asked
	Done     Response      `json:"done"`
	Said     words.Text    `json:"said"`
	Why      words.Text    `json:"why"` // the rule in a sentence
	Clause   format.Clause `json:"clause"`
	Source   format.Source `json:"source"`
}

// Answer says how a question of a side before the serve is met under the
// match's edition. Right says whether things are as the question hopes; it
// matters only where the answer is yes or no.
func (g *Guide) Answer(s rally.State, asker rally.Side, q Question, right bool) Answer {
	a := Answer{Question: q, Side: asker, Done: g.response(s, asker, q, right), Why: say("response.unruled")}
	if c := g.mayAsk(s, q); c != clause.None {
		a.Clause, a.Source = g.standing(c)
		a.Why = words.For(c)
	} else {
		a.Source = format.Source{Document: g.format.Edition.Document(), Edition: g.format.Edition, Mark: format.Derived}
	}
	switch a.Done {
	case ScoreOnly:
		a.Said = g.scoreAnswer(s, asker, q)
	case Confirm:
		a.Said = say("answer.no")
		if right {
			a.Said = say("answer.yes")
		}
	case PutInOrder:
		p := g.rules.Places(s)
		a.Said = say("answer.order", g.person("server", p.Server), court("court", p.Court), g.person("receiver", p.Receiver))
	case Unruled:
		a.Said = say("answer.unruled")
	default:
		a.Said = say("answer.refuse")
	}
	return a
}

func (g *Guide) scoreAnswer(s rally.State, asker rally.Side, q Question) words.Text {
	switch _, playing := s.Serving(); {
	case !playing:
		return say("answer.no-score")
	case q == AskScore:
		return say("answer.score", within("call", g.Call(s)))
	}
	return say("answer.own-score", count("score", s.Score(asker)))
}

// response reads the edition's rule. The score may be asked in every edition.
// From mid-2023 the referee puts everybody right before the call, so that a
// question about places is met by doing so where they are wrong, and by a yes
// where they are not.
func (g *Guide) response(s rally.State, asker rally.Side, q Question, right bool) Response {
	serving, playing := s.Serving()
	switch {
	case q == AskScore:
		return ScoreOnly
	case q == 0 || int(q) >= len(questionNames) || !playing:
		return Refuse
	case g.takes(clause.RefereeCorrects) && right:
		return Confirm
	case g.takes(clause.RefereeCorrects):
		return PutInOrder
	}
	switch g.format.Rulings.Of(clause.AskAnything) {
	case clause.AskAnything, clause.AskOpponents:
		return Confirm
	case clause.AskServer:
		if q == AskServer && asker == serving {
			return Confirm
		}
		return Refuse
	case clause.AskScore:
		return Refuse
	case clause.AskOwnScore:
		return ScoreOnly
	}
	return Unruled
}

// mayAsk is the clause that a response rests on: that the referee puts places
// right, or what the edition lets players ask.
func (g *Guide) mayAsk(s rally.State, q Question) format.Clause {
	if _, playing := s.Serving(); playing && q > AskScore && int(q) < len(questionNames) && g.takes(clause.RefereeCorrects) {
		return clause.RefereeCorrects
	}
	return g.format.Rulings.Of(clause.AskAnything)
}

// Unsaid lists what the referee must not volunteer before the serve, with the
// rule behind it: until mid-2023 everything about server, receiver and places;
// in every edition a line call at a player's own end that nobody appealed.
func (g *Guide) Unsaid() []Duty {
	var out []Duty
	if g.takes(clause.NoVolunteering) {
		for _, c := range []words.Code{"unsaid.server", "unsaid.court", "unsaid.receiver", "unsaid.places"} {
			out = append(out, g.duty(say(c), clause.NoVolunteering))
		}
	}
	return append(out, g.duty(say("unsaid.line"), clause.LineCallUnasked))
}
