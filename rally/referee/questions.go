package referee

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
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
func (q Question) String() string {
	if int(q) < len(questionNames) && q != 0 {
		return questionNames[q]
	}
	return "?"
}

// MarshalText implements encoding.TextMarshaler.
func (q Question) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// Text puts the question.
func (q Question) Text() Text { return say(Code("question." + q.String())) }

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

// Responses lists every response.
func Responses() []Response { return []Response{Refuse, ScoreOnly, Confirm, PutInOrder, Unruled} }

// String returns the text name of r.
func (r Response) String() string {
	if int(r) < len(responseNames) && r != 0 {
		return responseNames[r]
	}
	return "?"
}

// MarshalText implements encoding.TextMarshaler.
func (r Response) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// Text says what is done.
func (r Response) Text() Text { return say(Code("response." + r.String())) }

// Answer is what is said and done about a question.
type Answer struct {
	Question Question      `json:"question"`
	Asker    rally.Side    `json:"asker"`
	Done     Response      `json:"done"`
	Said     Text          `json:"said"`
	Why      Text          `json:"why"` // the edition's rule in a sentence
	Source   format.Source `json:"source"`
}

var questionTexts = func() []Entry {
	out := []Entry{
		{"answer.refuse", nil},
		{"answer.score", []string{"call"}},
		{"answer.own-score", []string{"score"}},
		{"answer.no-score", nil},
		{"answer.yes", nil}, {"answer.no", nil},
		{"answer.order", []string{"server", "court", "receiver"}},
		{"answer.unruled", nil},
		{"unsaid.server", nil}, {"unsaid.court", nil}, {"unsaid.receiver", nil}, {"unsaid.places", nil},
		{"unsaid.line", nil},
	}
	for _, q := range Questions() {
		out = append(out, Entry{q.Text().Code, nil})
	}
	for _, r := range Responses() {
		out = append(out, Entry{r.Text().Code, nil})
	}
	for _, reading := range format.Questions.Readings() {
		out = append(out, Entry{Code("reading.place-questions." + reading), nil})
	}
	return append(out, Entry{"reading.place-questions.-", nil})
}()

// Answer says how a question of a side before the serve is met under the
// match's edition. Right says whether things are as the question hopes; it
// matters only where the answer is yes or no.
func (g *Guide) Answer(s rally.State, asker rally.Side, q Question, right bool) Answer {
	a := Answer{Question: q, Asker: asker, Done: g.response(s, asker, q),
		Why:    say(Code("reading.place-questions." + g.format.Rulings.Text(format.Questions))),
		Source: g.source(format.Questions, "", format.Open)}
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

func (g *Guide) scoreAnswer(s rally.State, asker rally.Side, q Question) Text {
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
// question about places is met by doing so.
func (g *Guide) response(s rally.State, asker rally.Side, q Question) Response {
	serving, playing := s.Serving()
	switch {
	case q == AskScore:
		return ScoreOnly
	case q == 0 || int(q) >= len(questionNames) || !playing:
		return Refuse
	case g.reads(format.Corrects, format.Yes):
		return PutInOrder
	}
	switch g.format.Rulings[format.Questions] {
	case format.QuestionsAny, format.QuestionsOpponentsToo:
		return Confirm
	case format.QuestionsServerByServers:
		if q == AskServer && asker == serving {
			return Confirm
		}
		return Refuse
	case format.QuestionsScoreOnly:
		return Refuse
	case format.QuestionsOwnScore:
		return ScoreOnly
	}
	return Unruled
}

// Unsaid lists what the referee must not volunteer before the serve, with the
// rule behind it: until mid-2023 everything about server, receiver and places;
// in every edition a line call at a player's own end that nobody appealed.
func (g *Guide) Unsaid() []Duty {
	var out []Duty
	if g.reads(format.Corrects, format.No) {
		source := g.source(format.Corrects, "", format.Open)
		for _, c := range []Code{"unsaid.server", "unsaid.court", "unsaid.receiver", "unsaid.places"} {
			out = append(out, Duty{Text: say(c), Source: source})
		}
	}
	return append(out, Duty{say("unsaid.line"), g.source(0, "", format.Read), true})
}
