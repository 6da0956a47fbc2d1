package exercise

import (
	"math/rand/v2"
	"strconv"

	"github.com/evencourt/evencourt/examples/program/setup"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// told describes the position before a rally and who won it.
func (p *position) told(e rally.Event) []words.Text {
	out := p.shown()
	if e.Side() == p.serving() {
		return append(out, say("drill.servers-win"))
	}
	return append(out, say("drill.receivers-win"))
}

// match says what match it is, and which game.
func (p *position) match() words.Text {
	played, game := text("format", words.Format(p.rules.Format())), number("game", max(1, p.state.Game()))
	switch p.setup.Match {
	case setup.Ladder(p.rules.Format()).Match:
		return say("drill.match", played, game)
	case "":
		return say("drill.match-unnamed", played, game)
	}
	return say("drill.match-own", plain("match", p.setup.Match), played, game)
}

// shown describes the position: format, starting servers, server, score call.
func (p *position) shown() []words.Text {
	out := []words.Text{p.match()}
	if p.doubles() {
		st, _ := p.state.Starters()
		code := words.Code("drill.starters")
		if p.rules.Format().Game.Order == format.FixedCourts {
			code = "drill.rights"
		}
		out = append(out, say(code, p.person("a", st[rally.A]), p.person("b", st[rally.B])))
	}
	at := p.rules.Places(p.state)
	return append(out, say("drill.served", plain("call", p.call(p.state)), p.person("server", at.Server),
		text("court", courtWord(at.Court)), p.person("receiver", at.Receiver)))
}

func (p *position) call(s rally.State) string { return string(p.rules.AppendCall(nil, s)) }

func (p *position) person(name string, who rally.Person) words.Arg {
	return words.Arg{Name: name, Value: p.guide.Person(who)}
}

func courtWord(c rally.Court) words.Text {
	return say(words.OfCourt(c))
}

// cited is where a clause stands in the edition that is played.
func (p *position) cited(c format.Clause) words.Text {
	f := p.rules.Format()
	source, ok := c.Source(f.Edition)
	if !ok {
		source = format.Source{Document: f.Edition.Document(), Edition: f.Edition, Mark: format.Derived}
	}
	return cite(c, source)
}

// orderClause is where the order of service stands.
func (p *position) orderClause() words.Text {
	if p.rules.Format().Game.Order == format.FixedCourts {
		return p.cited(clause.FixedCourts)
	}
	return p.cited(clause.PlacesByScore)
}

var results = []rally.ResultWord{rally.CallPoint, rally.CallSecondServer, rally.CallSideOut}

func (m *Maker) resultCall(rng *rand.Rand) Exercise {
	p := m.position(rng, m.shape(rng))
	for p.game().Scorer != format.ServingSide { // no text says which word is called where both may score
		p = m.position(rng, "sideout-doubles-11")
	}
	e := p.anyRally(rng)
	next, did, _ := p.rules.Apply(p.state, e)
	x := Exercise{Topic: resultCall, from: p, event: e.String(), Subject: did.Result().String(), Prompt: append(p.told(e), say("drill.ask-result"))}
	for i, r := range results {
		x.Options = append(x.Options, say(words.Code("result."+r.String())))
		if r == did.Result() {
			x.Key = strconv.Itoa(i + 1)
		}
	}
	x.Reason = []words.Text{p.whyResult(did), p.orderClause()}
	if next.Phase() == rally.Playing {
		x.Reason = append(x.Reason, say("drill.then", plain("call", p.call(next))))
	}
	return x
}

// whyResult explains the word after a rally: where either side may score, only of
// rallies that end no game, so that receivers who win always take over the serve.
func (p *position) whyResult(did rally.Effects) words.Text {
	g := p.game()
	c, _ := p.rules.Call(p.state)
	switch {
	case did.Has(rally.SideOut) && g.Scorer == format.EitherSide:
		return say("drill.why-side-out-rally")
	case did.Has(rally.SideOut) && c.Opening:
		return say("drill.why-side-out-opening")
	case did.Has(rally.SideOut) && g.Servers == 1:
		return say("drill.why-side-out-one")
	case did.Has(rally.SideOut):
		return say("drill.why-side-out")
	case did.Has(rally.SecondServer):
		return say("drill.why-second")
	}
	return say("drill.why-point")
}

func (m *Maker) scoreCall(rng *rand.Rand) Exercise {
	p := m.midGame(rng, m.shape(rng))
	e := p.anyRally(rng)
	next, did, _ := p.rules.Apply(p.state, e)
	return Exercise{Topic: scoreCall, from: p, event: e.String(), Subject: did.Result().String(), Key: p.call(next),
		Prompt: append(p.told(e), say("drill.ask-score")),
		Reason: []words.Text{p.whyResult(did), say("drill.why-score"), p.orderClause()}}
}

func (m *Maker) nextServer(rng *rand.Rand) Exercise {
	p := m.midGame(rng, m.shape(rng))
	e := p.anyRally(rng)
	next, did, _ := p.rules.Apply(p.state, e)
	at := p.rules.Places(next)
	x := Exercise{Topic: nextServer, from: p, event: e.String(), Subject: did.Result().String(), Prompt: append(p.told(e), say("drill.ask-server"))}
	for who := rally.A1; who <= rally.B2; who++ {
		if !p.doubles() && who.Player() == 2 {
			continue
		}
		for _, c := range []rally.Court{rally.Right, rally.Left} {
			x.Options = append(x.Options, say("drill.serves-from", p.person("player", who), text("court", courtWord(c))))
			if who == at.Server && c == at.Court {
				x.Key = strconv.Itoa(len(x.Options))
			}
		}
	}
	x.Reason = []words.Text{p.whyResult(did), p.guide.WhyServer(next), p.orderClause()}
	return x
}

func (m *Maker) fromPost(rng *rand.Rand) Exercise {
	p := m.midGame(rng, m.shape(rng))
	v := p.rules.View(p.state, p.setup.Left)
	left := rally.A
	if v.Hands[rally.B] == rally.LeftHand {
		left = rally.B
	}
	x := Exercise{Topic: fromPost, from: p, Subject: v.Server.Hand.String() + v.Server.Depth.String(), Prompt: append(p.shown(),
		say("drill.stands-left", p.side("side", left)), say("drill.ask-view"))}
	for h := rally.LeftHand; h <= rally.RightHand; h++ {
		for depth := rally.Near; depth <= rally.Far; depth++ {
			x.Options = append(x.Options, say("drill.hand-depth", text("hand", say(words.Code("hand."+h.String()))),
				text("depth", say(words.Code("depth."+depth.String())))))
			if h == v.Server.Hand && depth == v.Server.Depth {
				x.Key = strconv.Itoa(len(x.Options))
			}
		}
	}
	x.Reason = []words.Text{say("drill.why-view", text("court", courtWord(v.Server.Court)),
		text("hand", say(words.Code("hand."+v.Server.Hand.String()))), text("depth", say(words.Code("depth."+v.Server.Depth.String())))),
		say("drill.why-view-receiver"), p.cited(clause.Parity)}
	return x
}

func (p *position) side(name string, s rally.Side) words.Arg {
	return words.Arg{Name: name, Value: p.guide.Side(s)}
}

// cite is where a clause stands; how well its text is known is not said after
// every answer.
func cite(c format.Clause, s format.Source) words.Text {
	switch {
	case s.Rule != "":
		return say("drill.cite-rule", plain("rule", s.Rule), plain("edition", s.Edition.String()))
	case s.Document == 0 || c >= clause.PracticeBeforeMatch && c <= clause.PracticeEnd || s.Mark == format.CommonPractice || s.Document == format.Own || s.Document == format.Club:
		return say("drill.clause", text("clause", referee.Cite(c, s)))
	}
	return say("drill.cite-edition", plain("edition", s.Edition.String()))
}
