package exercise

import (
	"math/rand/v2"
	"slices"
	"strconv"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// calledBy are the faults whose callers were read in a text, with a referee and
// without one: service foot faults, short serves and faults at the non-volley zone,
// balls out, and what players without a referee call on themselves only.
var (
	calledBy      = []rally.Fault{rally.FootFault, rally.ShortServe}
	calledWithout = []rally.Fault{rally.FootFault, rally.VolleyZone, rally.OutOfBounds, rally.SecondBounce, rally.NetTouch, rally.BodyTouch}
	callers       = []referee.Caller{referee.Referee, referee.EndPlayers, referee.AnyPlayer, referee.Offender}
)

// whoCalls asks who calls one of them.
func (m *Maker) whoCalls(rng *rand.Rand) Exercise {
	p := m.midGame(rng, "sideout-doubles-11")
	type row struct {
		ask    words.Code
		fault  referee.FaultCall
		caller referee.Caller
	}
	var rows []row
	for _, called := range calledBy {
		f, _ := p.guide.Fault(called)
		rows = append(rows, row{"drill.ask-caller", f, f.Officiated[0]})
	}
	for _, called := range calledWithout {
		f, _ := p.guide.Fault(called)
		rows = append(rows, row{"drill.ask-caller-without", f, f.Without[0]})
	}
	r := rows[rng.IntN(len(rows))]
	x := Exercise{Topic: whoCalls, Subject: r.fault.Fault.String() + "?", from: p, about: detail{fault: r.fault.Fault, officiated: r.ask == "drill.ask-caller"},
		Prompt: []words.Text{say(r.ask, text("fault", r.fault.Name))}}
	for _, c := range callers {
		x.Options = append(x.Options, c.Text())
		if c == r.caller {
			x.Key = strconv.Itoa(len(x.Options))
		}
	}
	x.Reason = []words.Text{say("drill.why-caller", text("loser", r.fault.Loses.Text()), text("said", r.fault.Said), text("when", r.fault.When)),
		cite(r.fault.Clause, r.fault.Source)}
	return x
}

// firstDuty shows some of the duties of a moment out of order and asks which
// comes first. Where a player may need care that is always to call help.
func (m *Maker) firstDuty(rng *rand.Rand) Exercise {
	if rng.IntN(3) == 0 {
		return m.atMoment(rng)
	}
	p := m.midGame(rng, m.shape(rng))
	events := []rally.Event{rally.RallyTo(rally.A), rally.RallyTo(rally.B), rally.OfSide(rally.TimeOut, p.serving()),
		rally.OfPerson(rally.MedicalRequest, rally.Person(2*rng.IntN(2))), rally.EventOf(rally.BloodTimeOut)}
	codes := []words.Code{"", "", "drill.time-out", "drill.asks-medical", "drill.blood"}
	n := rng.IntN(len(events))
	e := events[n]
	duties, _ := p.guide.After(p.state, e)
	if codes[n] == "" && rng.IntN(2) == 0 { // the moment before the call instead
		duties = p.guide.Duties(p.state, referee.BeforeCall)
		return p.orderOf(rng, rally.Event(0), duties, append(p.shown(), say("drill.before-call")))
	}
	prompt := p.shown()
	switch codes[n] {
	case "":
		prompt = p.told(e)
	case "drill.asks-medical":
		prompt = append(prompt, say(codes[n], p.person("player", e.Person())))
	case "drill.time-out":
		prompt = append(prompt, say(codes[n], p.side("side", e.Side())))
	default:
		prompt = append(prompt, say(codes[n]))
	}
	return p.orderOf(rng, e, duties, prompt)
}

// atMoment asks about the moments outside play: before the match, at an end
// change, between games, after the last point.
func (m *Maker) atMoment(rng *rand.Rand) Exercise {
	p := m.position(rng, "sideout-doubles-11-of3")
	moment := []referee.Moment{referee.BeforeMatch, referee.BetweenGames, referee.AtEnd}[rng.IntN(3)]
	phase := map[referee.Moment]rally.Phase{referee.BeforeMatch: rally.Before, referee.BetweenGames: rally.Between, referee.AtEnd: rally.Over}[moment]
	p.state, p.events = p.rules.New(p.first), nil
	for p.state.Phase() != phase {
		p.step(rng)
	}
	return p.orderOf(rng, 0, p.guide.Duties(p.state, moment), []words.Text{p.match(), say(words.Code("drill.moment-" + moment.String()))})
}

// orderOf keeps at most four duties, shuffles them and asks for the earliest.
// A duty to call help is always kept, and is always the first.
func (p *position) orderOf(rng *rand.Rand, e rally.Event, duties []referee.Duty, prompt []words.Text) Exercise {
	duties = slices.DeleteFunc(slices.Clone(duties), func(d referee.Duty) bool {
		// Beside writing down what happened, or handing on: no text says which is first.
		return slices.Contains([]words.Code{"duty.clock", "duty.between-matches", "duty.coaching", "duty.no-coaching"}, d.Text.Code)
	})
	keep := rng.Perm(len(duties))[:min(4, len(duties))]
	if duties[0].Text.Code == "duty.help" && !slices.Contains(keep, 0) {
		keep[0] = 0
	}
	first := slices.Min(keep)
	x := Exercise{Topic: firstDuty, Subject: string(duties[first].Text.Code), from: *p, Prompt: append(prompt, say("drill.ask-first"))}
	if e != 0 {
		x.event = e.String()
	}
	for _, i := range keep {
		x.Options = append(x.Options, quiet(duties[i].Text))
		x.about.duties = append(x.about.duties, duties[i].Text.Code)
		if i == first {
			x.Key = strconv.Itoa(len(x.Options))
		}
	}
	x.Reason = append(x.Reason, say("drill.all-duties"))
	for _, duty := range duties {
		x.Reason = append(x.Reason, duty.Text)
	}
	x.Reason = append(x.Reason, say("drill.clause", text("clause", duties[first].Cited())))
	return x
}

// quiet is a duty without the words that tell its place.
func quiet(t words.Text) words.Text {
	switch t.Code {
	case "duty.help":
		return say("drill.quiet-help")
	case "duty.medical-penalty":
		return say("drill.quiet-penalty")
	case "duty.then-look":
		return words.Text{Code: "drill.quiet-look", Args: t.Args}
	}
	return t
}

// mayAnswer asks what is done about a player's question.
func (m *Maker) mayAnswer(rng *rand.Rand) Exercise {
	p := m.midGame(rng, "sideout-doubles-11")
	questions := referee.Questions()
	q := questions[rng.IntN(len(questions))]
	asker := rally.Side(rng.IntN(2))
	right := rng.IntN(2) == 0
	a := p.guide.Answer(p.state, asker, q, right)
	who := words.Code("drill.receivers-ask")
	if asker == p.serving() {
		who = "drill.servers-ask"
	}
	x := Exercise{Topic: mayAnswer, Subject: q.String(), from: p, about: detail{question: q, asker: asker, right: right},
		Prompt: append(p.shown(), say(who, text("question", q.Text())), say(so(q, right)), say("drill.ask-answer", plain("edition", m.Edition.String())))}
	for r := referee.Refuse; r <= referee.PutInOrder; r++ {
		done := r.Text()
		if r == referee.ScoreOnly && q != referee.AskScore {
			done = say("drill.own-score")
		}
		x.Options = append(x.Options, done)
		if r == a.Done {
			x.Key = strconv.Itoa(len(x.Options))
		}
	}
	x.Reason = []words.Text{say("drill.why-answer", text("why", a.Why), text("said", a.Said)), cite(a.Clause, a.Source)}
	if q != referee.AskScore && a.Done != referee.PutInOrder {
		x.Reason = append(x.Reason, say("drill.volunteer-nothing"))
	}
	return x
}

// so tells whether it is as a question about places hopes; the score is no such
// question.
func so(q referee.Question, right bool) words.Code {
	switch {
	case q == referee.AskScore:
		return "drill.so-score"
	case right:
		return "drill.so-right"
	}
	return "drill.so-wrong"
}
