package explore

import "math"

// Bell ends a game that is not over after some time: the rally in play is
// finished, and the side ahead has won, by whatever margin. No rulebook has
// it; it is common practice where courts are shared by the hour.
type Bell struct {
	Seconds float64 `json:"seconds"` // of play; the clock stands in breaks
	Draw    bool    `json:"draw"`    // level then, nobody wins; otherwise the next point decides
}

// BellFigures are the figures of a game that a bell may end.
type BellFigures struct {
	Win     float64 `json:"win"`     // chance that A wins
	Tie     float64 `json:"tie"`     // chance that nobody does
	Rung    float64 `json:"rung"`    // chance that the game is not over when the bell rings
	Level   float64 `json:"level"`   // chance that it is level then, after the rally in play
	Rallies float64 `json:"rallies"` // of a game
}

// Bell returns the figures of a game that a bell may end. Rallies take time as
// in [MatchModel.TimeLaw]; how long they are does not hang on how they end.
func (g *GameModel) Bell(r Rates, pace Pace, b Bell) (BellFigures, error) {
	if err := pace.validate(); err != nil {
		return BellFigures{}, err
	}
	if !(b.Seconds > 0 && b.Seconds <= 24*3600) {
		return BellFigures{}, &InputError{"seconds", "must be above 0 and at most a day"}
	}
	c, o, err := g.at(r)
	if err != nil {
		return BellFigures{}, err
	}
	var out BellFigures
	x, y := make([]float64, c.size()), make([]float64, c.size())
	x[c.start] = 1
	going := 1.0 // chance that the bell has not rung before rally n begins
	for n := 1; ; n++ {
		clear(y)
		playing := 0.0
		for i := range c.nodes {
			if p := x[i]; p != 0 {
				playing += p
				y[c.nodes[i].up] += p * o.win[c.nodes[i].who]
				y[c.nodes[i].down] += p * o.lose[c.nodes[i].who]
			}
		}
		if playing < tail || n > mostRallies {
			return out, nil
		}
		for j, at := range c.cuts {
			y[at] += y[c.slotAt()+j]
		}
		out.Rallies += playing
		for i, f := range c.finals {
			if f.Winner == A {
				out.Win += y[c.finalAt()+i]
			}
		}
		// The bell has rung by the end of the rally, and its pause, or has not.
		still := min(going, pace.startsBefore(n+1, b.Seconds))
		ring := 0.0
		if going > 0 {
			ring = 1 - still/going
		}
		going = still
		for i := range c.nodes {
			if p := y[i] * ring; p != 0 {
				out.Rung += p
				c.ring(i, p, o, b, &out)
			}
			y[i] *= 1 - ring
		}
		x, y = y, x
	}
}

// startsBefore is the chance that rally n starts before some seconds have gone.
func (p Pace) startsBefore(n int, seconds float64) float64 {
	mean, deviation := float64(n-1)*(p.Rally+p.Between), p.RallySpread*math.Sqrt(float64(n-1))
	if deviation == 0 {
		if mean < seconds {
			return 1
		}
		return 0
	}
	return 0.5 * math.Erfc((mean-seconds)/(deviation*math.Sqrt2))
}

// ring decides a game that stands at a node when the bell has rung.
func (c *chain) ring(n int, p float64, o *odds, b Bell, out *BellFigures) {
	switch s := c.score[n]; {
	case s[A] > s[B]:
		out.Win += p
		return
	case s[A] < s[B]:
		return
	}
	out.Level += p
	if b.Draw {
		out.Tie += p
		return
	}
	// The serve goes round until somebody scores.
	at := n
	for left := p; left > tail; {
		who := c.nodes[at].who
		if c.serving(at) == A {
			out.Win += left * o.win[who]
		}
		out.Rallies += left
		if !c.dry[at] {
			if c.serving(at) == B {
				out.Win += left * o.lose[who]
			}
			return
		}
		left *= o.lose[who]
		to, known := c.nodeAt(c.nodes[at].down)
		if !known {
			return
		}
		at = to
	}
}
