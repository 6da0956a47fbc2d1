package referee

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// WhyServer says in one sentence why this player serves next, from which court
// and to whom, from what the state shows.
func (g *Guide) WhyServer(s rally.State) words.Text {
	if s.Phase() != rally.Playing {
		return say("server.none")
	}
	p := g.rules.Places(s)
	return say("server.why", within("who", g.who(s, p)), within("where", g.where(s, p)), within("whom", g.whom(s, p)))
}

func (g *Guide) who(s rally.State, p rally.Places) words.Text {
	side := p.Server.Side()
	score := s.Score(side)
	server, of := g.person("server", p.Server), g.side("side", side)
	first, _ := s.First()
	isStarter := starter(s, p.Server)
	// The turn's first server is the starting server exactly if the score at
	// the side-out was even.
	began, role := 0, word("role", "role.starter")
	if !isStarter {
		began, role = 1, word("role", "role.partner")
	}
	c, _ := g.rules.Call(s)
	switch order := g.game(s).Order; {
	case !g.doubles && side == first && (score == 0 || s.TechnicalFouls(rally.A)+s.TechnicalFouls(rally.B) > 0):
		return say("who.singles-first", server) // perhaps no rally has been won
	case !g.doubles:
		return say("who.singles", server)
	case order == format.FixedCourts:
		if (p.Court == rally.Right) != (score%2 == 0) {
			return say("who.fixed-penalty", server)
		}
		return say("who.fixed", server, of, parity("parity", score), count("score", score), court("court", p.Court))
	case c.Opening:
		return say("who.opening", server, of)
	case order == format.SwapOnServe && p.Number < 2:
		return say("who.swap", server, of)
	case p.Number == 2 && isStarter && side == first && g.game(s).FirstTurn == 1:
		return say("who.second-open", server)
	case p.Number == 2:
		return say("who.second", server, g.person("partner", p.Server.Partner()))
	case p.Number == 1 && (side != first || g.game(s).FirstTurn == 1):
		return say("who.first", server, of, parity("parity", began), role)
	case isStarter:
		return say("who.turn.starter", server, of)
	}
	return say("who.turn.partner", server, of)
}

func (g *Guide) where(s rally.State, p rally.Places) words.Text {
	side := p.Server.Side()
	score := s.Score(side)
	from := court("court", p.Court)
	switch order := g.game(s).Order; {
	case !g.doubles:
		return say("where.singles", count("score", score), parity("parity", score), from)
	case order == format.FixedCourts:
		return say("where.fixed", from)
	case order == format.SwapOnServe:
		return say("where.swap", from)
	}
	st, _ := s.Starters()
	starts := rally.Right
	if p.At[side][rally.Left] == st[side] {
		starts = rally.Left
	}
	return say("where.parity", g.side("side", side), count("score", score), parity("parity", score),
		g.person("starter", st[side]), court("starts", starts), from)
}

func (g *Guide) whom(s rally.State, p rally.Places) words.Text {
	receiver := g.person("receiver", p.Receiver)
	switch {
	case g.game(s).Order == format.HalfCourt:
		score := s.Score(p.Receiver.Side())
		return say("whom.half", receiver, court("court", p.Receives), count("score", score), parity("parity", score))
	case !g.doubles:
		return say("whom.singles", receiver)
	}
	return say("whom.diagonal", receiver)
}
