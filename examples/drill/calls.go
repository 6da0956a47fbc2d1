package main

import (
	"math/rand/v2"
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
)

// told describes the position before a rally and who won it.
func (p *position) told(e rally.Event) []referee.Text {
	out := p.shown()
	if e.Side() == p.serving() {
		return append(out, say("drill.servers-win"))
	}
	return append(out, say("drill.receivers-win"))
}

// shown describes the position: format, starting servers, server, score call.
func (p *position) shown() []referee.Text {
	out := []referee.Text{say("drill.match", plain("format", p.id), number("game", p.state.Game()))}
	if p.doubles() {
		st, _ := p.state.Starters()
		code := referee.Code("drill.starters")
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

func (p *position) person(name string, who rally.Person) referee.Arg {
	return plain(name, p.setup.Name(who))
}

func courtWord(c rally.Court) referee.Text {
	if c == rally.Right {
		return say("court.right")
	}
	return say("court.left")
}

// orderClause is where the order of service is written: 4.B to 2025, 5.B in
// 2026, read in paraphrases; before 2018 under other numbers.
func (p *position) orderClause() referee.Text {
	f := p.rules.Format()
	source := format.Source{Document: format.Pickleball, Edition: f.Edition, Rule: "4.B", Mark: format.Paraphrase}
	switch {
	case f.Game.Order == format.FixedCourts:
		source.Rule = ""
	case f.Edition == format.E2026:
		source.Rule, source.Mark = "5.B", format.ParaphraseLow
	case f.Edition < format.E2018:
		source.Rule, source.Mark = "", format.Derived
	}
	return say("drill.clause", text("clause", referee.Clause(source)))
}

var results = []rally.Result{rally.CallPoint, rally.CallSecondServer, rally.CallSideOut}

func (d *deck) resultCall(rng *rand.Rand) exercise {
	p := d.position(rng, d.shape(rng))
	e := p.anyRally(rng)
	next, did, _ := p.rules.Apply(p.state, e)
	x := exercise{topic: resultCall, from: p, event: e.String(), prompt: append(p.told(e), say("drill.ask-result"))}
	for i, r := range results {
		x.options = append(x.options, say(referee.Code("result."+r.String())))
		if r == did.Result() {
			x.key = strconv.Itoa(i + 1)
		}
	}
	x.reason = []referee.Text{p.whyResult(did), p.orderClause()}
	if next.Phase() == rally.Playing {
		x.reason = append(x.reason, say("drill.then", plain("call", p.call(next))))
	}
	return x
}

// whyResult explains the word after a rally.
func (p *position) whyResult(did rally.Effects) referee.Text {
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

func (d *deck) scoreCall(rng *rand.Rand) exercise {
	p := d.midGame(rng, d.shape(rng))
	e := p.anyRally(rng)
	next, did, _ := p.rules.Apply(p.state, e)
	return exercise{topic: scoreCall, from: p, event: e.String(), key: p.call(next),
		prompt: append(p.told(e), say("drill.ask-score")),
		reason: []referee.Text{p.whyResult(did), say("drill.why-score"), p.orderClause()}}
}

func (d *deck) nextServer(rng *rand.Rand) exercise {
	p := d.midGame(rng, d.shape(rng))
	e := p.anyRally(rng)
	next, did, _ := p.rules.Apply(p.state, e)
	at := p.rules.Places(next)
	x := exercise{topic: nextServer, from: p, event: e.String(), prompt: append(p.told(e), say("drill.ask-server"))}
	for who := rally.A1; who <= rally.B2; who++ {
		if !p.doubles() && who.Player() == 2 {
			continue
		}
		for _, c := range []rally.Court{rally.Right, rally.Left} {
			x.options = append(x.options, say("drill.serves-from", p.person("player", who), text("court", courtWord(c))))
			if who == at.Server && c == at.Court {
				x.key = strconv.Itoa(len(x.options))
			}
		}
	}
	x.reason = []referee.Text{p.whyResult(did), p.guide.WhyServer(next), p.orderClause()}
	return x
}

func (d *deck) fromPost(rng *rand.Rand) exercise {
	p := d.midGame(rng, d.shape(rng))
	v := p.rules.View(p.state, p.setup.Left)
	left := rally.A
	if v.Hands[rally.B] == rally.LeftHand {
		left = rally.B
	}
	x := exercise{topic: fromPost, from: p, prompt: append(p.shown(),
		say("drill.stands-left", p.side("side", left)), say("drill.ask-view"))}
	for h := rally.LeftHand; h <= rally.RightHand; h++ {
		for depth := rally.Near; depth <= rally.Far; depth++ {
			x.options = append(x.options, say("drill.hand-depth", text("hand", say(referee.Code("hand."+h.String()))),
				text("depth", say(referee.Code("depth."+depth.String())))))
			if h == v.Server.Hand && depth == v.Server.Depth {
				x.key = strconv.Itoa(len(x.options))
			}
		}
	}
	x.reason = []referee.Text{say("drill.why-view", text("court", courtWord(v.Server.Court)),
		text("hand", say(referee.Code("hand."+v.Server.Hand.String()))), text("depth", say(referee.Code("depth."+v.Server.Depth.String())))),
		say("drill.why-view-receiver"), practice()}
	return x
}

func (p *position) side(name string, s rally.Side) referee.Arg {
	return plain(name, p.setup.SideName(s, p.doubles()))
}

func practice() referee.Text {
	return say("drill.clause", text("clause", referee.Clause(format.Source{Mark: format.CommonPractice})))
}

func clause(s format.Source) referee.Text {
	return say("drill.clause", text("clause", referee.Clause(s)))
}
