package rally

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/serviceorder"
)

// Rules is a format made ready to play. It is immutable and safe for use by
// several goroutines.
type Rules struct {
	_       [0]func() // not comparable: compare formats instead
	format  format.Format
	games   [2]game // every game but the last possible one; the last
	last    uint64  // number of the last possible game
	doubles bool
}

// game is one kind of game, with the table of its plain rallies.
type game struct {
	format.Game
	order serviceorder.Rules
	// edge is a score that a plain rally must stay below for the table to
	// hold: from there on a game can end, freeze or change ends. It is indexed
	// by whether the end change is due or made.
	edge [4]uint8
	// What a plain rally does below the edge, by its winner and the lowest
	// bits of the state: what is added to State.play, and the effects. Both are
	// computed from the order of service, never written down; they stand apart
	// so that either is found without a multiplication.
	delta   [2][128]uint64
	effects [2][128]Effects
}

// Compile makes the rules of a format. The error is a [*format.Error].
func Compile(f format.Format) (*Rules, error) {
	if err := f.Validate(); err != nil {
		return nil, err
	}
	r := &Rules{format: f, doubles: f.Game.Sides == format.Doubles}
	r.games[0].compile(f.Game, f.Rulings)
	r.games[1].compile(f.Last, f.Rulings)
	r.last = uint64(f.Match.Games)
	return r, nil
}

// MustCompile is [Compile] for formats known to be valid; it panics if not.
func MustCompile(f format.Format) *Rules {
	r, err := Compile(f)
	if err != nil {
		panic(err)
	}
	return r
}

// Format returns the format that the rules were compiled from.
func (r *Rules) Format() format.Format { return r.format }

// New returns a match before its first game, with the first choice made: the
// side that will serve first.
func (r *Rules) New(first Side) State {
	return State{play: knownBit | uint64(first&1)<<fixedAt}
}

func (r *Rules) switchIs(s format.Switch, value uint16) bool { return r.format.Rulings[s] == value }

// game returns how game n of the match is played.
func (r *Rules) game(n int) *game {
	if uint64(n) >= r.last {
		return &r.games[1]
	}
	return &r.games[0]
}

func (g *game) compile(f format.Game, rulings format.Rulings) {
	g.Game, g.order = f, serviceorder.New(f, rulings)
	for winner := A; winner <= B; winner++ {
		for i := range g.delta[winner] {
			g.delta[winner][i], g.effects[winner][i] = g.step(uint64(i), winner)
		}
	}
	edge := f.Target
	if f.Freeze == format.LeaderAndTrailer || f.Freeze == format.BothAtPoint {
		edge-- // receivers can be frozen before a point would win
	}
	for latch := range g.edge {
		g.edge[latch] = edge
	}
	if f.ChangeEndsAt != 0 {
		g.edge[0] = min(edge, f.ChangeEndsAt)
	}
}

// step computes entry i of the table: the moving bits of the order, and the
// parity of A's and of B's score.
func (g *game) step(i uint64, winner Side) (delta uint64, did Effects) {
	before := serviceorder.State(i & orderMask)
	score := [2]uint8{uint8(i >> 5 & 1), uint8(i >> 6 & 1)}
	scored := g.scores(before, winner)
	if scored {
		delta = 1 << (scoreAAt + 8*int(winner))
		score[winner]++
	}
	after := g.order.Rally(before, winner, scored, score[A], score[B])
	return delta + uint64(after) - uint64(before), rallyEffects(before, after, winner, scored)
}

// scores reports whether the winner of a rally scores, freezes apart.
func (g *game) scores(s serviceorder.State, winner Side) bool {
	return g.Scorer == format.EitherSide || winner == s.Side()
}

func rallyEffects(before, after serviceorder.State, winner Side, scored bool) Effects {
	var e Effects
	if scored {
		e |= Point
	}
	switch {
	case before.Side() != after.Side():
		e |= SideOut
	case winner != before.Side():
		e |= SecondServer
	}
	return e
}

// ordinary masks what must stand at a plain rally for the table to hold. It
// takes in the top bit of either score, so that no score can overflow.
const ordinary = phaseMask | breakMask | outMask | dutyBit | aborted | 0x80<<scoreAAt | 0x80<<scoreBAt

// Apply returns the state after an event and what the event did, or s itself
// and why the event was refused. It is total: any state and any event give an
// answer. It never allocates.
func (r *Rules) Apply(s State, e Event) (State, Effects, Refusal) {
	if e&^sideFlag == Event(RallyWon) && s.play&ordinary == uint64(Playing)<<phaseAt {
		g := r.game(s.Game())
		winner, i := e>>sideAt&1, s.play&63|s.play>>(scoreBAt-6)&64
		play := s.play + g.delta[winner][i]
		if edge := g.edge[s.play>>midDueAt&3]; uint8(play>>scoreAAt) < edge && uint8(play>>scoreBAt) < edge {
			return State{play, s.ledger}, g.effects[winner][i], NotRefused
		}
		return r.applyAtEdge(s, e.Side())
	}
	return r.apply(s, e)
}

// applyAtEdge plays a plain rally with which a game may end, freeze or change
// ends.
func (r *Rules) applyAtEdge(s State, winner Side) (State, Effects, Refusal) {
	m := move{r: r, s: s}
	if refusal := m.score(winner); refusal != NotRefused {
		return s, 0, refusal
	}
	return m.s, m.did, NotRefused
}
