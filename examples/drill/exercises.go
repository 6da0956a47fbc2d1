package main

import (
	"math/rand/v2"
	"slices"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// exercise is one question with its key. The key is the number of an option,
// from 1, or a score call such as "4-2-1".
type exercise struct {
	topic   topic
	prompt  []words.Text
	options []words.Text // none: the answer is a score call
	key     string
	reason  []words.Text // clause and reason, said after the answer
	from    position     // where it comes from, so that a key can be checked
	event   string       // the event that it asks about
	sheet   *sheet       // the sheet that it shows
	about   detail       // what else decides the key
}

// detail is what decides a key besides the position.
type detail struct {
	question referee.Question
	asker    rally.Side
	right    bool               // whether it is as the question hopes
	verdicts [2]referee.Verdict // of a retraining: before and now
	defect   defect
	fault    rally.Fault
	// officiated says whether there is a referee where a fault is called.
	officiated bool
	duties     []words.Code // in the order of the options
}

// maker makes exercises.
type maker struct {
	options
	changed []string // situations whose ruling changed, for retraining
}

func newMaker(o options) *maker {
	d := &maker{options: o}
	if o.level.name == retraining {
		d.changed = d.changedSituations()
	}
	return d
}

// exercises makes n exercises; exercise i depends on the seed and on i alone. It
// makes fewer only if there is nothing to ask: no ruling changed.
func (m *maker) exercises(n int) []exercise {
	if m.level.name == retraining && len(m.changed) == 0 {
		return nil
	}
	out := make([]exercise, n)
	for i := range out {
		rng := newRand(m.seed, i)
		out[i] = m.exercise(rng, m.level.topics[i%len(m.level.topics)])
	}
	return out
}

func newRand(seed uint64, i int) *rand.Rand { return rand.New(rand.NewPCG(seed, uint64(i))) }

func (m *maker) exercise(rng *rand.Rand, t topic) exercise {
	switch t {
	case resultCall:
		return m.resultCall(rng)
	case scoreCall:
		return m.scoreCall(rng)
	case nextServer:
		return m.nextServer(rng)
	case fromPost:
		return m.fromPost(rng)
	case whoCalls:
		return m.whoCalls(rng)
	case firstDuty:
		return m.firstDuty(rng)
	case mayAnswer:
		return m.mayAnswer(rng)
	case rebuilding:
		return m.rebuilding(rng)
	case situation:
		if m.level.name == retraining {
			return m.changedRuling(rng)
		}
		return m.ruling(rng)
	}
	return m.wrongSheet(rng)
}

// position is a moment of a match of the invented ladder, with the events that
// led to it.
type position struct {
	id     string // format
	rules  *rally.Rules
	guide  *referee.Guide
	setup  rally.Setup
	first  rally.Side // serves first in game 1
	events []string   // from before the match
	state  rally.State
}

var pairs = [2]rally.Team{
	{Players: [2]rally.Player{{Name: "Imani Okafor"}, {Name: "Tomasz Zielinski"}}},
	{Players: [2]rally.Player{{Name: "Priya Raman"}, {Name: "Lars Nyberg"}}},
}

var singles = [2]rally.Team{
	{Players: [2]rally.Player{{Name: "Mei-Lin Castellanos"}}},
	{Players: [2]rally.Player{{Name: "Rafael Oyelaran"}}},
}

// shape picks one of the level's shapes that the edition knows.
func (m *maker) shape(rng *rand.Rand) string {
	var fit []string
	for _, s := range m.level.shapes {
		if slices.Contains(format.EditionsOf(s), m.edition) {
			fit = append(fit, s)
		}
	}
	return fit[rng.IntN(len(fit))]
}

// position plays a match of a shape into one of its games and stops between
// two rallies.
func (m *maker) position(rng *rand.Rand, shape string) position {
	f, err := format.Named(shape, m.edition)
	if err != nil {
		panic(err) // levels name shapes that exist in every edition they are asked in
	}
	p := position{id: f.ID(), rules: rally.MustCompile(f), first: rally.Side(rng.IntN(2))}
	p.setup = rally.Setup{Match: "Harbour Lane Courts autumn ladder", Referee: "Noor Haddad", Sides: pairs, Left: rally.Side(rng.IntN(2))}
	if f.Game.Sides == format.Singles {
		p.setup.Sides = singles
	}
	p.guide = referee.New(p.rules, p.setup)
	for p.state.Phase() != rally.Playing {
		p.state, p.events = p.rules.New(p.first), nil
		for n := 3 + rng.IntN(60); n > 0; n-- {
			p.step(rng)
		}
	}
	return p
}

// step plays a rally, after the start or the end change that is due.
func (p *position) step(rng *rand.Rand) {
	serving, playing := p.state.Serving()
	switch {
	case p.state.Phase() >= rally.Over:
	case !playing:
		first, _ := p.rules.NextFirst(p.state)
		st := rally.Starters{rally.A1, rally.B1}
		if p.doubles() {
			st = rally.Starters{rally.A1 + rally.Person(rng.IntN(2)), rally.B1 + rally.Person(rng.IntN(2))}
		}
		p.do(rally.Start(first, st))
	case p.state.EndChangeDue():
		p.do(rally.Of(rally.EndsChanged))
	case rng.IntN(100) < 45:
		p.do(rally.RallyTo(serving))
	default:
		p.do(rally.RallyTo(serving.Other()))
	}
}

func (p *position) do(e rally.Event) {
	next, _, refusal := p.rules.Apply(p.state, e)
	if refusal == rally.NotRefused {
		p.state = next
		p.events = append(p.events, e.String())
	}
}

func (p *position) doubles() bool { return p.rules.Format().Game.Sides == format.Doubles }

// game returns how the game in play is played.
func (p *position) game() *format.Game {
	f := p.rules.Format()
	return f.Of(p.state.Game())
}

func (p *position) serving() rally.Side {
	side, _ := p.state.Serving()
	return side
}

// anyRally picks the winner of the next rally.
func (p *position) anyRally(rng *rand.Rand) rally.Event {
	return rally.RallyTo(rally.Side(rng.IntN(2)))
}

// midGame is a position from which no side can end the game by the next rally,
// and no end change is due.
func (m *maker) midGame(rng *rand.Rand, shape string) position {
	for {
		p := m.position(rng, shape)
		target := int(p.game().Target)
		if p.state.Score(rally.A) < target-1 && p.state.Score(rally.B) < target-1 && !p.state.EndChangeDue() {
			return p
		}
	}
}
