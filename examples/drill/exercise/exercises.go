package exercise

import (
	"math/rand/v2"
	"slices"

	"github.com/evencourt/evencourt/examples/program/setup"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// Exercise is one question with its key, in no language yet.
type Exercise struct {
	Topic   Topic
	Subject string // what of the topic it is about, for spacing out
	Prompt  []words.Text
	Options []words.Text // none: the answer is a score call, or marks
	Key     string       // the number of an option, from 1; a score call such as "4-2-1"; marks such as "22/1/"
	Reason  []words.Text // clause and reason, said after the answer
	Edition format.Edition

	from  position // where it comes from, so that a key can be checked
	event string   // the event that it asks about
	sheet *sheet   // the sheet that it shows
	about detail   // what else decides the key
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
	game       int          // that it asks about
	offered    []referee.Verdict
	matter     format.Switch
	since      format.Edition
	clause     format.Clause   // that is the key
	clauses    []format.Clause // of the options
}

// Course is what exercises are made from.
type Course struct {
	Seed     uint64 // the same seed gives the same exercises
	Level    Level
	Edition  format.Edition
	Since    format.Edition // of a retraining: the edition that the trainee knows
	Topics   []Topic        // of the level's; all of them if none is named
	Names    []string       // of A1, A2, B1, B2 in place of invented ones; none or four
	Material *Material      // a match that questions are asked about; nil for invented ones
}

// Material is a recorded match.
type Material struct {
	Log   *rally.Log
	Setup rally.Setup
}

// Asked are the topics that are asked about.
func (c *Course) Asked() []Topic {
	if len(c.Topics) > 0 {
		return c.Topics
	}
	return c.Level.Topics
}

// LastChange is the newest edition since which something has changed that a
// retraining asks about; 1999 if there is none later.
func (c Course) LastChange() format.Edition {
	for c.Since = c.Edition - 1; c.Since > format.E1999; c.Since-- {
		if m := New(c); len(m.changed)+len(m.changedBook)+len(m.gone) > 0 {
			break
		}
	}
	return c.Since
}

// Maker makes the exercises of a course.
type Maker struct {
	Course
	topics      []Topic         // that there is something to ask about
	changed     []string        // situations whose ruling changed, for retraining
	changedBook []matter        // and what else did
	gone        []format.Clause // or is new
}

// New returns the maker of a course.
func New(c Course) *Maker {
	m := &Maker{Course: c}
	if m.retrains() {
		m.changed = m.changedSituations()
		m.changedBook, m.gone = c.changedMatters(), c.changedClauses()
	}
	m.topics = slices.DeleteFunc(slices.Clone(c.Level.Topics), func(t Topic) bool {
		return m.retrains() && (t == situation && len(m.changed) == 0 || t == inBook && len(m.changedBook)+len(m.gone) == 0) ||
			len(c.Topics) > 0 && !slices.Contains(c.Topics, t)
	})
	return m
}

func (m *Maker) retrains() bool { return m.Level.Name == Retraining }

// Exercises makes n exercises, of which the first are those that cards ask for.
// It makes none only if there is nothing to ask: nothing changed.
func (m *Maker) Exercises(n int, cards ...string) []Exercise {
	if len(m.topics) == 0 {
		return nil
	}
	out := make([]Exercise, n)
	for i := range out {
		if i < len(cards) {
			out[i] = m.Repeat(i, cards[i])
		} else {
			out[i], _ = m.Exercise(i)
		}
	}
	return out
}

// Exercise makes exercise i, from 0; it depends on the course and on i alone. It
// is false if there is nothing to ask.
func (m *Maker) Exercise(i int) (x Exercise, ok bool) {
	if len(m.topics) == 0 {
		return Exercise{}, false
	}
	rng := newRand(m.Seed, i)
	t := m.topics[rng.IntN(len(m.topics))] // the kind of the next one is not known in advance
	if i < len(m.topics) {
		t = m.topics[(i+int(m.Seed%uint64(len(m.topics))))%len(m.topics)] // but all come
	}
	return m.about(rng, t), true
}

// Repeat makes exercise i of the sort that a card names: the same matter at
// another moment.
func (m *Maker) Repeat(i int, card string) Exercise {
	rng := newRand(m.Seed, i)
	t := topicOf(card)
	x := m.about(rng, t)
	for n := 0; n < 300 && x.Card() != card; n++ {
		x = m.about(rng, t)
	}
	return x
}

func newRand(seed uint64, i int) *rand.Rand { return rand.New(rand.NewPCG(seed, uint64(i))) }

// about makes an exercise about a topic.
func (m *Maker) about(rng *rand.Rand, t Topic) Exercise {
	x := m.make(rng, t)
	x.Edition = m.Edition
	return x
}

func (m *Maker) make(rng *rand.Rand, t Topic) Exercise {
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
		if rng.IntN(2) == 0 {
			return m.afterFault(rng)
		}
		return m.whoCalls(rng)
	case firstDuty:
		return m.firstDuty(rng)
	case mayAnswer:
		return m.mayAnswer(rng)
	case rebuilding:
		return m.rebuilding(rng)
	case firstChoice:
		return m.toss(rng)
	case firstServe:
		return m.opening(rng)
	case allFour:
		return m.standing(rng)
	case changeEnds:
		return m.ends(rng)
	case lineCalls:
		return m.lineCall(rng)
	case timeOuts:
		return m.timeOut(rng)
	case penalties:
		return m.afterPenalty(rng)
	case afterFouls:
		return m.afterFoul(rng)
	case playsAlone:
		return m.alone(rng)
	case takesOver:
		return m.handOver(rng)
	case inBook:
		if m.retrains() {
			return m.changedReading(rng)
		}
		return m.inTheBook(rng)
	case reports:
		return m.reportOf(rng)
	case markSheet:
		return m.marking(rng)
	case situation:
		if m.retrains() {
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

// shape picks one of the level's shapes that the edition knows.
func (m *Maker) shape(rng *rand.Rand) string {
	var fit []string
	if shape := m.materialShape(); shape != "" {
		return shape
	}
	for _, s := range m.Level.shapes {
		if slices.Contains(format.EditionsOf(s), m.Edition) {
			fit = append(fit, s)
		}
	}
	return fit[rng.IntN(len(fit))]
}

// position plays a match of a shape into one of its games and stops between
// two rallies.
func (m *Maker) position(rng *rand.Rand, shape string) position {
	if m.Material != nil && (shape == m.materialShape() || m.materialShape() == "") {
		if p, ok := m.fromRecord(rng); ok {
			return p
		}
	}
	f, err := format.Named(shape, m.Edition)
	if err != nil {
		panic(err) // levels name shapes that exist in every edition they are asked in
	}
	p := position{id: f.ID(), rules: rally.MustCompile(f), first: rally.Side(rng.IntN(2))}
	p.setup = setup.Ladder(f)
	p.setup.Left = rally.Side(rng.IntN(2))
	if len(m.Names) == 4 && p.doubles() {
		for i, name := range m.Names {
			p.setup.Sides[i/2].Players[i%2] = rally.Player{Name: name}
		}
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
		p.do(rally.EventOf(rally.EndsChanged))
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
func (m *Maker) midGame(rng *rand.Rand, shape string) position {
	for {
		p := m.position(rng, shape)
		target := int(p.game().Target)
		if p.state.Score(rally.A) < target-1 && p.state.Score(rally.B) < target-1 && !p.state.EndChangeDue() {
			return p
		}
	}
}

// materialShape is the shape of the record that the trainer gave; "" for none.
func (m *Maker) materialShape() string {
	if m.Material == nil {
		return ""
	}
	return m.Material.Log.Rules().Format().Shape
}

// fromRecord is a moment between two rallies of the record that the trainer gave.
// It is false where the record has none that its plain entries lead to.
func (m *Maker) fromRecord(rng *rand.Rand) (position, bool) {
	rules, start := m.Material.Log.Initial()
	f := rules.Format()
	p := position{id: f.ID(), rules: rules, setup: m.Material.Setup, state: start}
	p.guide = referee.New(rules, p.setup)
	var moments []position
	m.Material.Log.Each(func(st rally.Step) bool {
		if !st.Holds || st.Event.Kind() >= rally.Undo {
			return true
		}
		before := len(p.events)
		if p.do(st.Event); len(p.events) == before {
			return false
		}
		if first, known := p.state.First(); known && p.state.Phase() == rally.Before {
			p.first, p.state, p.events = first, rules.New(first), nil
		}
		if b, _ := p.state.Break(); p.state.Phase() == rally.Playing && b == rally.NoBreak {
			now := p
			now.events = slices.Clone(p.events)
			moments = append(moments, now)
		}
		return true
	})
	if len(moments) == 0 {
		return p, false
	}
	return moments[rng.IntN(len(moments))], true
}
