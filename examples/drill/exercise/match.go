package exercise

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// standing asks where all four stand: each side as it should, or exchanged.
func (m *Maker) standing(rng *rand.Rand) Exercise {
	p := m.midGame(rng, "sideout-doubles-11")
	e := p.anyRally(rng)
	next, _, _ := p.rules.Apply(p.state, e)
	x := Exercise{Topic: allFour, from: p, event: e.String(), Subject: p.subject(e), Prompt: append(p.told(e), say("drill.ask-standing"))}
	x.offerPlaces(next)
	x.Reason = []words.Text{p.guide.WhyServer(next), p.orderClause()}
	return x
}

// offerPlaces offers each side in its places or exchanged.
func (x *Exercise) offerPlaces(next rally.State) {
	p, at := &x.from, x.from.rules.Places(next)
	for n := range 4 {
		right := rally.Starters{rally.A1 + rally.Person(n&1), rally.B1 + rally.Person(n>>1)}
		x.Options = append(x.Options, say("drill.standing", p.person("a", right[rally.A]), p.person("b", right[rally.B])))
		if right[rally.A] == at.At[rally.A][rally.Right] && right[rally.B] == at.At[rally.B][rally.Right] {
			x.Key = strconv.Itoa(n + 1)
		}
	}
}

// subject names what a rally did, for spacing out.
func (p *position) subject(e rally.Event) string {
	_, did, _ := p.rules.Apply(p.state, e)
	return did.Result().String()
}

// opening asks who serves first in a later game.
func (m *Maker) opening(rng *rand.Rand) Exercise {
	p := m.position(rng, "sideout-doubles-11-of3")
	game := 2 + rng.IntN(2)
	plan := p.guide.Plan(p.first)[game-1]
	p.state, p.events = p.rules.New(p.first), nil
	x := Exercise{Topic: firstServe, from: p, Subject: strconv.Itoa(game), Prompt: []words.Text{p.match(), say("drill.chose-serve", p.side("side", p.first)),
		say("drill.ask-opening", number("game", game))}}
	x.about.game = game
	for side := rally.A; side <= rally.B; side++ {
		x.Options = append(x.Options, say("drill.side", p.side("side", side)))
		if side == plan.First {
			x.Key = strconv.Itoa(len(x.Options))
		}
	}
	x.Reason = []words.Text{say("drill.why-opening"), p.cited(clause.Alternate)}
	return x
}

// toss asks who chooses next once a side has taken an end or deferred.
func (m *Maker) toss(rng *rand.Rand) Exercise {
	p := m.position(rng, "sideout-doubles-11-of3")
	p.state, p.events = rally.State{}, nil
	chooses := rally.Side(rng.IntN(2))
	choice := rally.ChooseEnd
	if _, _, refusal := p.rules.Apply(p.state, rally.Choose(chooses, rally.ChooseDefer)); refusal == rally.NotRefused && rng.IntN(2) == 0 {
		choice = rally.ChooseDefer
	}
	e := rally.Choose(chooses, choice)
	next, _, _, by := p.rules.Decide(p.state, e)
	x := Exercise{Topic: firstChoice, from: p, event: e.String(), Subject: choice.String(),
		Prompt: []words.Text{p.match(), say(words.Code("drill.toss-"+choice.String()), p.side("side", chooses)), say("drill.ask-toss")}}
	for side := rally.A; side <= rally.B; side++ {
		for _, codes := range []words.Code{"drill.toss-serves", "drill.toss-all"} {
			x.Options = append(x.Options, say(codes, p.side("side", side)))
			all := choice == rally.ChooseDefer
			if len(p.guide.Options(next, side)) > 0 && (codes == "drill.toss-all") == all {
				x.Key = strconv.Itoa(len(x.Options))
			}
		}
	}
	x.Reason = []words.Text{say(words.Code("drill.why-toss-" + choice.String())), p.cited(by.First())}
	return x
}

// ends asks whether ends change after a rally, now or later in the game; each
// answer is right as often as the others.
func (m *Maker) ends(rng *rand.Rand) Exercise {
	wanted := []string{"now", "later", "not"}[rng.IntN(3)]
	for tries := 0; ; tries++ {
		p := m.position(rng, []string{"sideout-doubles-11", "sideout-doubles-11-of3"}[rng.IntN(2)])
		e := p.anyRally(rng)
		next, did, _ := p.rules.Apply(p.state, e)
		most := max(next.Score(rally.A), next.Score(rally.B))
		if p.state.EndChangeDue() || next.Phase() != rally.Playing || !did.Has(rally.Point) || most < 5 || most > 7 {
			continue
		}
		f := p.rules.Format()
		x := Exercise{Topic: changeEnds, from: p, event: e.String(),
			Prompt:  append(p.told(e), say("drill.ask-ends", number("games", int(f.Match.Games)))),
			Options: []words.Text{say("drill.ends-now"), say("drill.ends-later"), say("drill.ends-not")}}
		switch last := next.Game() == int(f.Match.Games); {
		case did.Has(rally.EndsDue):
			x.Subject, x.Key = "now", "1"
		case last && most < 6:
			x.Subject, x.Key = "later", "2"
		default: // it is not that game, or they have changed
			x.Subject, x.Key = "not", "3"
		}
		if x.Subject != wanted && tries < 1000 { // which material of one's own may not have
			continue
		}
		at := int(f.Of(next.Game()).ChangeEndsAt)
		why := say(words.Code("drill.why-ends-"+x.Subject), number("score", at))
		if at == 0 {
			why = say("drill.why-ends-none")
		}
		x.Reason = []words.Text{why, p.cited(clause.EndChangeLast)}
		return x
	}
}

// timeOut asks what follows when a side asks for a time-out.
func (m *Maker) timeOut(rng *rand.Rand) Exercise {
	p := m.midGame(rng, []string{"sideout-doubles-11", "sideout-doubles-21"}[rng.IntN(2)])
	side := rally.Side(rng.IntN(2))
	allowed := p.rules.TimeOutsAllowed(p.state)
	for n := rng.IntN(allowed + 1); n > 0; n-- {
		p.do(rally.OfSide(rally.TimeOut, side))
		p.do(rally.EventOf(rally.TimeIn))
	}
	e := rally.OfSide(rally.TimeOut, side)
	used := p.state.TimeOutsUsed(side)
	next, _, refusal, by := p.rules.Decide(p.state, e)
	x := Exercise{Topic: timeOuts, from: p, event: e.String(), Subject: strconv.Itoa(used),
		Prompt: append(p.shown(), say("drill.used", p.side("side", side), number("used", used)), say("drill.ask-time-out", p.side("side", side)))}
	for left := 2; left >= 0; left-- {
		x.Options = append(x.Options, say("drill.time-out-left", number("left", left)))
	}
	x.Options = append(x.Options, say("drill.time-out-refused"))
	x.Key = "4"
	if refusal == rally.NotRefused {
		x.Key = strconv.Itoa(3 - (allowed - next.TimeOutsUsed(side)))
	}
	why := words.Code("drill.why-time-out")
	if refusal != rally.NotRefused {
		why = "drill.why-time-out-refused"
	}
	x.Reason = []words.Text{say(why, number("allowed", allowed)), p.cited(by.First())}
	return x
}

// lineCall asks whose a line call is: of the players at that end, or of the
// referee to whom they appeal.
func (m *Maker) lineCall(rng *rand.Rand) Exercise {
	p := m.midGame(rng, "sideout-doubles-11")
	side := rally.Side(rng.IntN(2))
	appealed := rng.IntN(3) == 0
	x := Exercise{Topic: lineCalls, from: p, Subject: "line", Key: strconv.Itoa(int(side) + 1), about: detail{asker: side, right: appealed},
		Prompt: append(p.shown(), say("drill.lands", p.side("side", side)))}
	if appealed {
		x.Subject, x.Key = "appeal", "3"
		x.Prompt = append(x.Prompt, say("drill.appealed"))
	}
	x.Prompt = append(x.Prompt, say("drill.ask-line"))
	for s := rally.A; s <= rally.B; s++ {
		x.Options = append(x.Options, say("drill.players-of", p.side("side", s)))
	}
	x.Options = append(x.Options, referee.Referee.Text())
	f, _ := p.guide.Fault(rally.OutOfBounds)
	why := words.Code("drill.why-line")
	if appealed {
		why = "drill.why-line-appeal"
	}
	x.Reason = []words.Text{say(why), cite(f.Clause, f.Source)}
	return x
}

// afterFault names a fault of a side and asks for the next score call.
func (m *Maker) afterFault(rng *rand.Rand) Exercise {
	p := m.midGame(rng, "sideout-doubles-11")
	all := rally.Faults()
	f := all[rng.IntN(len(all))]
	loser := rally.Side(rng.IntN(2))
	if f.OfServe() {
		loser = p.serving()
	}
	if f == rally.WrongReceiver || f == rally.AbsentPlayer || f == rally.LateTimeOut || f == rally.StoppedPlay { // by edition, or not at this moment
		f = rally.IntoNet
	}
	e := rally.FaultTo(loser.Other(), f)
	next, did, _ := p.rules.Apply(p.state, e)
	fault, _ := p.guide.Fault(f)
	return Exercise{Topic: whoCalls, from: p, event: e.String(), Subject: f.String(), Key: p.call(next),
		Prompt: append(p.shown(), say("drill.faulted", p.side("side", loser), text("fault", fault.Name)), say("drill.ask-score")),
		Reason: []words.Text{p.whyResult(did), cite(fault.Clause, fault.Source)}}
}

// afterPenalty gives a side a warning or a foul on top of what it has, and asks
// what that costs.
func (m *Maker) afterPenalty(rng *rand.Rand) Exercise {
	for {
		p := m.midGame(rng, "sideout-doubles-11-of3")
		side := rally.Side(rng.IntN(2))
		given := []rally.Kind{rally.TechnicalWarning, rally.TechnicalFoul}
		var had []words.Text
		for n := rng.IntN(3); n > 0; n-- {
			k := given[rng.IntN(2)]
			p.do(rally.OfSide(k, side))
			had = append(had, words.For(k))
		}
		if p.state.Phase() != rally.Playing {
			continue
		}
		e := rally.OfSide(given[rng.IntN(2)], side)
		_, did, refusal, by := p.rules.Decide(p.state, e)
		grounds := p.rules.Grounds(by)
		if refusal != rally.NotRefused || len(grounds) == 0 || unsettled(grounds) {
			continue
		}
		x := Exercise{Topic: penalties, from: p, event: e.String(), Prompt: p.shown()}
		if len(had) > 0 {
			x.Prompt = append(x.Prompt, say("drill.had", p.side("side", side), words.Each("had", had...)))
		} else {
			x.Prompt = append(x.Prompt, say("drill.had-none", p.side("side", side)))
		}
		x.Prompt = append(x.Prompt, say("drill.given", p.side("side", side), text("kind", words.For(e.Kind()))), say("drill.ask-penalty", plain("edition", m.Edition.String())))
		for i, cost := range costs {
			x.Options = append(x.Options, say(cost.code))
			if x.Key == "" && did.Has(cost.effect) {
				x.Key = strconv.Itoa(i + 1)
			}
		}
		x.Subject = x.Key
		for _, ground := range grounds {
			x.Reason = append(x.Reason, words.For(ground.Clause), cite(ground.Clause, ground.Source))
		}
		return x
	}
}

// afterFoul gives a side a technical foul, and asks for the call or the places
// when play goes on.
func (m *Maker) afterFoul(rng *rand.Rand) Exercise {
	for range 20 {
		p := m.midGame(rng, "sideout-doubles-11-of3")
		side := rally.Side(rng.IntN(2))
		e := rally.OfSide(rally.TechnicalFoul, side)
		next, did, refusal, by := p.rules.Decide(p.state, e)
		grounds := p.rules.Grounds(by)
		if refusal != rally.NotRefused || !did.Has(rally.Fouled) || next.Phase() != rally.Playing || len(grounds) == 0 || unsettled(grounds) {
			continue
		}
		x := Exercise{Topic: afterFouls, from: p, event: e.String(), Subject: "call",
			Prompt: append(p.shown(), say("drill.given", p.side("side", side), text("kind", words.For(e.Kind()))))}
		if rng.IntN(2) == 0 {
			x.Subject = "places"
			x.Prompt = append(x.Prompt, say("drill.ask-standing"))
			x.offerPlaces(next)
		} else {
			x.Prompt = append(x.Prompt, say("drill.ask-score"))
			x.Key = p.call(next)
		}
		for _, ground := range grounds {
			x.Reason = append(x.Reason, words.For(ground.Clause), cite(ground.Clause, ground.Source))
		}
		return x
	}
	return m.afterPenalty(rng) // no text of the edition settles the places
}

// alone takes a player out whose partner plays on, and asks what comes next;
// or, where the one who is out is due, for the call after that.
func (m *Maker) alone(rng *rand.Rand) Exercise {
	p := m.midGame(rng, "sideout-doubles-11")
	out := rally.Person(rng.IntN(4))
	p.do(rally.OfPerson(rally.PlayOnAlone, out))
	e, due := p.rules.AbsentFault(p.state)
	loses := rally.FaultTo(out.Side().Other(), rally.AbsentPlayer)
	x := Exercise{Topic: playsAlone, from: p, event: loses.String(), Subject: strconv.FormatBool(due), about: detail{asker: out.Side()},
		Prompt: append(p.shown(), say("drill.is-out", p.person("player", out)))}
	if due && rng.IntN(2) == 0 {
		next, _, _ := p.rules.Apply(p.state, e)
		x.Subject, x.Key = "call", p.call(next)
		x.Prompt = append(x.Prompt, say("drill.is-due"), say("drill.ask-score"))
	} else {
		x.Prompt = append(x.Prompt, say("drill.ask-alone"))
		x.Options = []words.Text{say("drill.alone-plays"), say("drill.alone-fault", p.side("side", rally.A)), say("drill.alone-fault", p.side("side", rally.B))}
		x.Key = "1"
		if due {
			x.Key = strconv.Itoa(2 + int(out.Side()))
		}
	}
	for _, c := range []format.Clause{clause.AbsentDue, clause.OnePlayer} {
		x.Reason = append(x.Reason, words.For(c), p.cited(c))
	}
	return x
}

// handOver tells what has happened besides rallies, and asks for the line of a
// side that another referee is handed over: its time-outs, or its warnings.
func (m *Maker) handOver(rng *rand.Rand) Exercise {
	p := m.midGame(rng, "sideout-doubles-11")
	side := rally.Side(rng.IntN(2))
	x := Exercise{Topic: takesOver, Subject: "time-outs", about: detail{asker: side}}
	var told []words.Text
	for n := 1 + rng.IntN(6); n > 0 || len(told) == 0; n-- { // a time-out is taken in every edition
		e := rally.OfSide([]rally.Kind{rally.TimeOut, rally.VerbalWarning, rally.TechnicalWarning}[rng.IntN(3)], rally.Side(rng.IntN(2)))
		if next, did, refusal := p.rules.Apply(p.state, e); refusal == rally.NotRefused && !did.Has(rally.Fouled) && next.Phase() == rally.Playing {
			told = append(told, p.guide.Event(e))
			p.do(e)
			p.do(rally.EventOf(rally.TimeIn)) // refused after a warning, which stops nothing
		}
	}
	x.from = p
	x.Prompt = append(p.shown(), say("drill.so-far", words.Each("events", told...)), say("drill.ask-hand-over", p.side("side", side)))
	where, allowed := format.Clause(clause.PracticeBreak), p.rules.TimeOutsAllowed(p.state)
	if rng.IntN(2) == 0 {
		x.Subject, where = "penalties", clause.PracticeEnd
		for n := range 4 {
			x.Options = append(x.Options, say("drill.hand-over-warnings", number("verbal", n&1), number("warnings", n>>1)))
		}
		x.Key = strconv.Itoa(1 + p.state.VerbalWarnings(side) + 2*p.state.TechnicalWarnings(side))
	} else {
		for used := range allowed + 1 {
			x.Options = append(x.Options, say("drill.hand-over-time-outs", number("used", used), number("left", allowed-used)))
		}
		x.Key = strconv.Itoa(1 + p.state.TimeOutsUsed(side))
	}
	x.Reason = []words.Text{say("drill.why-hand-over"), p.cited(where)}
	return x
}

// costs are what a penalty can cost, the dearest first.
var costs = []struct {
	code   words.Code
	effect rally.Effects
}{
	{"drill.costs-match", rally.MatchForfeited}, {"drill.costs-game", rally.GameForfeited},
	{"drill.costs-point", rally.Fouled}, {"drill.costs-nothing", rally.Warned},
}

// unsettled reports whether a decision rests on something that no text settles.
func unsettled(grounds []rally.Ground) bool {
	for _, ground := range grounds {
		if ground.Setting || ground.Source.Mark == format.Open {
			return true
		}
	}
	return false
}

// marking reads rallies out and asks for the marks of a side.
func (m *Maker) marking(rng *rand.Rand) Exercise {
	for {
		p := m.midGame(rng, "sideout-doubles-11")
		sh := p.marks()
		if len(sh.turns) < 3 || len(sh.turns) > 10 {
			continue
		}
		side := rally.Side(rng.IntN(2))
		x := Exercise{Topic: markSheet, from: p, Subject: "marks", sheet: &sh, about: detail{asker: side}, Key: sh.row(side)}
		x.Prompt = []words.Text{p.match(), say("drill.starters", p.person("a", sh.starters[rally.A]), p.person("b", sh.starters[rally.B])),
			say("drill.first-serve", p.side("side", sh.turns[0].side)), say("drill.rallies", words.Each("rallies", p.winners()...)), say("drill.ask-marks", p.side("side", side))}
		x.Reason = []words.Text{say("drill.why-marks"), p.cited(clause.PracticeMarks)}
		return x
	}
}

// winners lists who won the rallies of the game in play, in their order.
func (p *position) winners() []words.Text {
	var out []words.Text
	for _, word := range p.events {
		switch {
		case strings.HasPrefix(word, "g"):
			out = nil
		case word == "A" || word == "B":
			out = append(out, say("drill.rally-to", plain("side", word)))
		}
	}
	return out
}

// row is the marks of a side: the server number of each point, a stroke where a
// turn of the side ended.
func (sh *sheet) row(side rally.Side) string {
	out := ""
	for i, t := range sh.turns {
		if t.side != side {
			continue
		}
		for j, n := range t.servers {
			out += strings.Repeat(strconv.Itoa(n), len(t.points[j]))
		}
		if i < len(sh.turns)-1 && !strings.HasSuffix(out, "/") {
			out += "/"
		}
	}
	if out == "" {
		out = "-"
	}
	return out
}

// reportOf asks at which scores the games of a match are reported that a side
// gave up or lost by a forfeit.
func (m *Maker) reportOf(rng *rand.Rand) Exercise {
	for {
		p := m.position(rng, "sideout-doubles-11-of3")
		loser := rally.Side(rng.IntN(2))
		k, switched := rally.Retirement, format.Clause(clause.RetirementKept)
		if rng.IntN(2) == 0 {
			k, switched = rally.MatchForfeit, clause.ForfeitKept
		}
		if !settledIn(switched.Switch(), m.Edition) {
			k, switched = rally.Retirement, clause.RetirementKept
		}
		e := rally.OfSide(k, loser)
		right := p.reported(e)
		own, others := p.state.Score(loser), p.state.Score(loser.Other())
		options := []words.Text{right}
		for _, last := range [][2]int{{own, others}, {0, 11}, {own, 11}, {own, max(11, own+2)}, {0, others}} {
			score := last
			if loser == rally.B {
				score = [2]int{last[1], last[0]}
			}
			games := p.finals()
			games = append(games, say("score.of", words.Points("score", score[0], score[1])))
			text := say("drill.games", words.Each("games", games...))
			if rest := p.state.Won(loser.Other()) == 0; rest && last != [2]int{own, others} {
				zero := [2]int{11, 0}
				if loser == rally.A {
					zero = [2]int{0, 11}
				}
				text = say("drill.games", words.Each("games", append(games, say("score.of", words.Points("score", zero[0], zero[1])))...))
			}
			if !slices.ContainsFunc(options, text.Equal) && len(options) < 4 {
				options = append(options, text)
			}
		}
		if len(options) < 3 || !settledIn(switched.Switch(), m.Edition) {
			if !settledIn(format.Clause(clause.RetirementKept).Switch(), m.Edition) {
				return m.inTheBook(rng) // no text of the edition says
			}
			continue
		}
		f := p.rules.Format()
		c := f.Rulings.Of(switched)
		x := Exercise{Topic: reports, from: p, event: e.String(), Subject: k.String(), Prompt: append(p.shown(), p.before(),
			say(words.Code("drill.gives-up-"+k.String()), p.side("side", loser)), say("drill.ask-report", plain("edition", m.Edition.String())))}
		for _, i := range rng.Perm(len(options)) {
			x.Options = append(x.Options, options[i])
			if i == 0 {
				x.Key = strconv.Itoa(len(x.Options))
			}
		}
		x.Reason = []words.Text{words.For(c), p.cited(c)}
		return x
	}
}

// settledIn reports whether a text of the edition answers a switch.
func settledIn(s format.Switch, e format.Edition) bool {
	r := format.RulingsOf(e)
	source, ok := r.Clause(s).Source(e)
	return ok && source.Mark != format.Open
}

// log is the match so far.
func (p *position) log() *rally.Log {
	l := rally.NewLog(p.rules, p.rules.New(p.first))
	for _, word := range p.events {
		_, _ = l.Enter(word)
	}
	return l
}

// finals are the games that are over, as scores.
func (p *position) finals() []words.Text {
	var out []words.Text
	for _, g := range p.log().Result().Games {
		if g.How == rally.PlayedGame {
			out = append(out, say("score.of", words.Points("score", g.Score[0], g.Score[1])))
		}
	}
	return out
}

// before says how the games before this one ended.
func (p *position) before() words.Text {
	if games := p.finals(); len(games) > 0 {
		return say("drill.finals", words.Each("games", games...))
	}
	return say("drill.no-finals")
}

// reported are the games as they are reported after an event.
func (p *position) reported(e rally.Event) words.Text {
	l := p.log()
	_, _ = l.Apply(e)
	var games []words.Text
	for _, g := range l.Result().Games {
		games = append(games, say("score.of", words.Points("score", g.Score[0], g.Score[1])))
	}
	return say("drill.games", words.Each("games", games...))
}
