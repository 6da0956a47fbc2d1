package referee

import (
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Call is the score call before the next serve, in words: "four, two, one".
// Outside play it says that there is none.
func (g *Guide) Call(s rally.State) words.Text {
	c, ok := g.rules.Call(s)
	switch {
	case !ok:
		return say("call.none")
	case c.Number == 0:
		return say("call.two", count("serving", c.Serving), count("receiving", c.Receiving))
	}
	return say("call.three", count("serving", c.Serving), count("receiving", c.Receiving), count("number", c.Number))
}

// StartCall is the score call as [Guide.Call], but for those who open a game
// with "start" in place of the server number ("zero, zero, start").
func (g *Guide) StartCall(s rally.State) words.Text {
	if c, ok := g.rules.Call(s); ok && c.Opening {
		return say("call.start", count("serving", c.Serving), count("receiving", c.Receiving))
	}
	return g.Call(s)
}

// Result is the word said after a rally that did this: "point", "second
// server", "side out"; after a replay, "replay".
func Result(did rally.Effects) words.Text {
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
