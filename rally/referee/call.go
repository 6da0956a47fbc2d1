package referee

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Call is the score call before the next serve, in words: "four, two, one".
// Where the event says so, a game opens with "start" in place of the server
// number. Outside play it says that there is none.
func (g *Guide) Call(s rally.State) words.Text {
	c, ok := g.rules.Call(s)
	serving, receiving := count("serving", c.Serving), count("receiving", c.Receiving)
	switch {
	case !ok:
		return say("call.none")
	case c.Opening && g.takes(clause.OpeningStart):
		return say("call.start", serving, receiving)
	case c.Number == 0:
		return say("call.two", serving, receiving)
	}
	return say("call.three", serving, receiving, count("number", c.Number))
}

// ResultWord is the word said after a rally that did this: "point", "second
// server", "side out"; "point, side out" where the receivers scored too; after a
// replay, "replay". Side out is a word of pickleball: badminton says "service over",
// squash "hand-out", and of the other sports only the point is said.
func (g *Guide) ResultWord(did rally.Effects) words.Text {
	point, passes := did.Has(rally.Point), did.Result() > rally.CallPoint
	code := words.Code("result." + did.Result().String())
	switch document := g.format.Edition.Document(); {
	case did.Has(rally.PlayedAgain):
		return say("result.replay")
	case did.Result() == rally.NoCall:
		return say("result.none")
	case document == format.Pickleball && passes && point:
		return say("result.with-point", word("result", code))
	case document == format.Pickleball:
		return say(code)
	case passes && document == format.Badminton:
		return say("result.service-over")
	case passes && document == format.SquashDoubles:
		return say("result.hand-out")
	}
	return say("result.point")
}
