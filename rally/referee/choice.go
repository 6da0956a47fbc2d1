package referee

import (
	"math/rand/v2"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Draw returns the side that has the first choice, each with the same chance
// ([clause.FirstChoice]: any fair method). The source is the caller's: a seeded one for
// a demonstration, one seeded from the system for a match.
func Draw(source rand.Source) rally.Side { return rally.Side(source.Uint64() >> 63) }

// Hidden is a one or a two written where the players cannot see it: whoever
// guesses it has the first choice. Make one with [Hide].
type Hidden struct{ number int }

// Hide draws a hidden number, one or two with the same chance.
func Hide(source rand.Source) Hidden { return Hidden{1 + int(source.Uint64()>>63)} }

// Reveal returns the hidden number, 1 or 2.
func (h Hidden) Reveal() int { return h.number }

// Guess returns the side that has the first choice after a side guessed. It is
// false for a guess other than 1 or 2, and for a number that was never hidden.
func (h Hidden) Guess(side rally.Side, guess int) (rally.Side, bool) {
	if side > rally.B || guess < 1 || guess > 2 || h.number == 0 {
		return rally.A, false
	}
	if guess == h.number {
		return side, true
	}
	return side.Other(), true
}

// Option is one thing that a side may choose now.
type Option struct {
	Side   rally.Side   `json:"side"`
	Choice rally.Choice `json:"choice"`
	Text   words.Text   `json:"text"`
}

// Options lists what a side may choose at this step of the first choice, found
// by trying every choice. It is empty when the choice is made or not its own.
func (g *Guide) Options(s rally.State, side rally.Side) []Option {
	if side > rally.B {
		return nil
	}
	var out []Option
	for c := rally.ChooseServe; c <= rally.ChooseDefer; c++ {
		if _, _, refusal := g.rules.Apply(s, rally.Choose(side, c)); refusal == rally.NotRefused {
			out = append(out, Option{side, c, say(words.Code("choice."+c.String()), g.side("side", side), g.side("other", side.Other()))})
		}
	}
	return out
}

// Planned is how one game of the match opens, if the games before it are
// played to their ends.
type Planned struct {
	Game  int        `json:"game"`
	First rally.Side `json:"first"` // side that serves first
	Known bool       `json:"known"` // whether First is settled by now
	Left  rally.Side `json:"left"`  // side on the referee's left at its first serve
	// MidChange is the score at which ends change in this game; 0 for none.
	MidChange int        `json:"mid_change"`
	Text      words.Text `json:"text"`
	Mid       words.Text `json:"mid"`
}

// Plan says for every game that the match can have who serves first and from
// which end, when first is the side that serves first in game 1. It is read
// from a match that is played through, the sides winning games in turn. Where
// the winner or the loser of a game serves first in the next, First is open.
func (g *Guide) Plan(first rally.Side) []Planned {
	if first > rally.B {
		return nil
	}
	s := g.rules.New(first)
	next := g.format.Match.NextServe
	var out []Planned
	for n := 1; n <= int(g.format.Match.Games); n++ {
		serves, known := g.rules.NextFirst(s)
		opened, _, refusal := g.rules.Apply(s, rally.Start(serves, rally.Starters{rally.A1, rally.B1}))
		if refusal != rally.NotRefused {
			break
		}
		p := Planned{Game: n, First: serves, Known: known && (n == 1 || next == format.OtherSide), Left: rally.A,
			MidChange: int(g.format.Of(n).ChangeEndsAt)}
		if g.rules.View(opened, g.setup.Left).Hands[rally.B] == rally.LeftHand {
			p.Left = rally.B
		}
		p.Text = g.planned(p, next)
		p.Mid = say("plan.mid-none")
		if p.MidChange > 0 {
			p.Mid = say("plan.mid", count("score", p.MidChange))
		}
		out = append(out, p)
		s = g.playOut(opened, rally.Side((n-1)&1))
	}
	return out
}

func (g *Guide) planned(p Planned, next format.NextServe) words.Text {
	ends := []words.Arg{count("game", p.Game), g.side("left", p.Left), g.side("right", p.Left.Other())}
	switch {
	case p.Known:
		return say("plan.game", append(ends, g.side("side", p.First))...)
	case next == format.Winner:
		return say("plan.winner", ends...)
	case next == format.Loser:
		return say("plan.loser", ends...)
	}
	return say("plan.open", ends...)
}

// playOut lets one side win every rally until the game is over, and makes the
// end change when it is due. No game needs more rallies than points can be
// held, and two for the serve.
func (g *Guide) playOut(s rally.State, winner rally.Side) rally.State {
	for n := 0; n < 2*format.MostPoints && s.Phase() == rally.Playing; n++ {
		e := rally.RallyTo(winner)
		if s.EndChangeDue() {
			e = rally.EventOf(rally.EndsChanged)
		}
		s, _, _ = g.rules.Apply(s, e)
	}
	return s
}
