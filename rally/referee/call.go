package referee

import (
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
// server", "side out"; after a replay, "replay".
func ResultWord(did rally.Effects) words.Text {
	switch did.Result() {
	case rally.CallPoint:
		return say("result.point")
	case rally.CallSecondServer:
		return say("result.second-server")
	case rally.CallSideOut:
		return say("result.side-out")
	}
	if did.Has(rally.PlayedAgain) {
		return say("result.replay")
	}
	return say("result.none")
}
