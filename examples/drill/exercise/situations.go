package exercise

import (
	"math/rand/v2"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// situations are rallies with something wrong, as the text of an event in
// which S stands for the serving and R for the receiving side.
var situations = func() []string {
	var out []string
	for _, wrong := range []string{"server", "court", "receiver", "rcourt", "call", "~server", "~call"} {
		claim := strings.HasPrefix(wrong, "~")
		for _, reach := range []string{"called", "struck", "returned", "third"} {
			switch {
			case wrong == "receiver" && (reach == "called" || reach == "struck"):
				continue // nobody has received yet
			case reach == "called":
				continue // there is no rally yet to rule on
			}
			for _, by := range []string{"byS", "byR", "byref"} {
				if claim && by == "byref" {
					continue
				}
				out = append(out, "stop?"+wrong+","+reach+","+by)
			}
		}
		if claim {
			continue
		}
		for _, winner := range []string{"S", "R"} {
			for _, since := range []string{"rallyover", "served"} {
				out = append(out, winner+"?"+wrong+","+since)
			}
		}
	}
	return out
}()

// happened turns a situation into an event of the position.
func (p *position) happened(situation string) rally.Event {
	serving := p.serving()
	s, r := serving.String(), serving.Other().String()
	situation = strings.NewReplacer("byS", "by"+s, "byR", "by"+r, "S?", s+"?", "R?", r+"?").Replace(situation)
	e, err := rally.ParseEvent(situation)
	if err != nil {
		panic(err) // a test reads every situation
	}
	return e
}

// describe tells a situation in sentences.
func (p *position) describe(e rally.Event) []words.Text {
	i, _ := e.Incident()
	var out []words.Text
	switch {
	case i.Claimed && i.Claim == rally.WrongCall:
		out = append(out, say("drill.right-call"))
	case i.Claimed:
		out = append(out, say("drill.right-server"))
	default:
		for m := rally.WrongSideServed; m <= rally.WrongCall; m++ {
			if i.Mistakes.Has(m) {
				out = append(out, say(words.Code("drill.wrong-"+m.String())))
			}
		}
	}
	if e.Kind() == rally.Stop {
		return append(out, say(words.Code("drill.reach-"+i.Reach.String())), say(words.Code("drill."+p.stopper(i.Stopper))))
	}
	won := words.Code("drill.won-by-receivers")
	if e.Side() == p.serving() {
		won = "drill.won-by-servers"
	}
	return append(out, say(won), say(words.Code("drill.since-"+i.Since.String())))
}

func (p *position) stopper(s rally.Stopper) string {
	if s == rally.ByReferee {
		return "stop-referee"
	}
	if rally.Side(s-rally.BySideA) == p.serving() {
		return "stop-servers"
	}
	return "stop-receivers"
}

// settled reports whether a ruling rests on texts only: what no text settles is
// never asked.
func settled(r referee.Ruling) bool {
	for _, ground := range r.Grounds {
		if ground.Source.Mark == format.Open {
			return false
		}
	}
	return r.Verdict != referee.Unaffected
}

// inText reports whether any text of the edition knows of such a case: that of
// 1999 has nothing on stopping play for server, court or receiver.
func (p *position) inText(e rally.Event) bool {
	i, _ := e.Incident()
	about := i.Mistakes.Has(rally.WrongCall) || i.Claimed && i.Claim == rally.WrongCall
	return p.rules.Format().Edition != format.E1999 || about || e.Kind() != rally.Stop && i.Mistakes.Has(rally.WrongServer)
}

func (m *Maker) ruling(rng *rand.Rand) Exercise {
	p := m.midGame(rng, "sideout-doubles-11")
	for {
		e := p.happened(situations[rng.IntN(len(situations))])
		if r := p.guide.Ruling(p.state, e); settled(r) && p.inText(e) {
			return p.ruled(e, r)
		}
	}
}

func (p *position) ruled(e rally.Event, r referee.Ruling) Exercise {
	x := Exercise{Topic: situation, from: *p, event: e.String(),
		Prompt: append(append(p.shown(), p.describe(e)...), say("drill.ask-ruling", plain("edition", p.rules.Format().Edition.String())))}
	for v := referee.RallyStands; v <= referee.ReceiversFault; v++ {
		if e.Kind() == rally.RallyWon && v == p.asPlayed(e) {
			continue // which is what a rally that stands comes to
		}
		if e.Kind() == rally.Stop && v == referee.RallyStands && r.Verdict != v {
			continue // it was not played to its end
		}
		option := v.Text()
		if v == referee.RallyStands {
			option = say("drill.unchanged")
		}
		x.Options = append(x.Options, option)
		x.about.offered = append(x.about.offered, v)
		if v == r.Verdict {
			x.Key = strconv.Itoa(len(x.Options))
		}
	}
	if x.Key == "" { // the ruling and the rally come to the same
		x.Key = "1"
	}
	x.Subject = situationOf(e, p.serving())
	x.about.verdicts[1] = r.Verdict
	x.Reason = p.grounds(r)
	return x
}

// asPlayed is the verdict that gives a rally to whoever won it.
func (p *position) asPlayed(e rally.Event) referee.Verdict {
	if e.Side() == p.serving() {
		return referee.ReceiversFault
	}
	return referee.ServersFault
}

// grounds is the branch that applied, with where it stands.
func (p *position) grounds(r referee.Ruling) []words.Text {
	var out []words.Text
	for _, ground := range r.Grounds {
		out = append(out, ground.Text, cite(ground.Clause, ground.Source))
	}
	return out
}

// situationOf is an event with S for the serving and R for the receiving side.
func situationOf(e rally.Event, serving rally.Side) string {
	s, r := serving.String(), serving.Other().String()
	return strings.NewReplacer("by"+s, "byS", "by"+r, "byR", s+"?", "S?", r+"?", "R?").Replace(e.String())
}

// under is the same position under another edition's rulings.
func (p *position) under(e format.Edition) position {
	f, err := format.Named(p.rules.Format().Shape, e)
	if err != nil {
		panic(err) // retraining plays a shape of every edition
	}
	q := *p
	q.id, q.rules = f.ID(), rally.MustCompile(f)
	q.guide = referee.New(q.rules, q.setup)
	q.state = q.rules.New(q.first)
	for _, word := range p.events {
		event, _ := rally.ParseEvent(word)
		q.state, _, _ = q.rules.Apply(q.state, event)
	}
	return q
}

// changedSituations lists the situations on which the two editions of a
// retraining rule differently, where texts settle both.
func (m *Maker) changedSituations() []string {
	p := m.midGame(newRand(m.Seed, 0), "sideout-doubles-11")
	before := p.under(m.Since)
	var out []string
	for _, s := range situations {
		e := p.happened(s)
		now, then := p.guide.Ruling(p.state, e), before.guide.Ruling(before.state, e)
		if settled(now) && settled(then) && p.inText(e) && before.inText(e) && now.Verdict != then.Verdict {
			out = append(out, s)
		}
	}
	return out
}

func (m *Maker) changedRuling(rng *rand.Rand) Exercise {
	p := m.midGame(rng, "sideout-doubles-11")
	e := p.happened(m.changed[rng.IntN(len(m.changed))])
	before := p.under(m.Since)
	now, then := p.guide.Ruling(p.state, e), before.guide.Ruling(before.state, e)
	x := p.ruled(e, now)
	x.about.verdicts = [2]referee.Verdict{then.Verdict, now.Verdict}
	x.Reason = []words.Text{
		say("drill.ruling-then", plain("edition", m.Since.String()), text("ruling", then.Text)),
		say("drill.ruling-now", plain("edition", m.Edition.String()), text("ruling", now.Text)),
	}
	return x
}
