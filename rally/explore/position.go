package explore

import (
	"math"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Position is where a game stands: scores as called on court, who serves, and
// the server's number where the order has numbers.
type Position struct {
	Score   [2]int `json:"score"`
	Serving Side   `json:"serving"`
	Number  uint8  `json:"number,omitempty"`
}

// PositionFigures are the figures of a game from a position on.
type PositionFigures struct {
	Position
	Win        float64 `json:"win"`        // chance that A wins from here: its comeback if it trails
	IfA        float64 `json:"if_a"`       // the same after A wins the next rally
	IfB        float64 `json:"if_b"`       // after B wins it
	Importance float64 `json:"importance"` // IfA - IfB: what the next rally is worth
	Reached    float64 `json:"reached"`    // times a game comes here, every rally played here counted
	Rallies    float64 `json:"rallies"`    // expected rallies left
}

// Positions returns the figures of every position of the game, in the order of
// the score lattice. Where rates depend on more than the serving side, a
// position is the mean over what it leaves open, weighted by how often it comes.
func (g *GameModel) Positions(r Rates) ([]PositionFigures, error) {
	c, o, err := g.at(r)
	if err != nil {
		return nil, err
	}
	l := c.rounds(o)
	win := c.winning(o, l)
	mean, _ := c.length(o, l)
	visits := c.visits(c.start, o, l)
	index := map[Position]int{}
	var out []PositionFigures
	for n := range c.nodes {
		p := c.position(n)
		at, seen := index[p]
		if !seen {
			at = len(out)
			index[p] = at
			out = append(out, PositionFigures{Position: p})
		}
		f := &out[at]
		w := visits[n]
		if !c.detailed {
			w = 1 // one node a position, also where play never comes at these rates
			f.Reached = visits[n]
		} else {
			f.Reached += w
		}
		a, b := win[c.nodes[n].up], win[c.nodes[n].down]
		if p.Serving == B {
			a, b = b, a
		}
		f.Win += w * win[n]
		f.IfA += w * a
		f.IfB += w * b
		f.Rallies += w * mean[n]
	}
	for i := range out {
		f := &out[i]
		if c.detailed && f.Reached > 0 {
			f.Win, f.IfA, f.IfB, f.Rallies = f.Win/f.Reached, f.IfA/f.Reached, f.IfB/f.Reached, f.Rallies/f.Reached
		}
		f.Importance = f.IfA - f.IfB
	}
	return out, nil
}

func (c *chain) position(n int) Position {
	s := c.state[n]
	side, _ := s.Serving()
	return Position{[2]int{int(c.score[n][0]), int(c.score[n][1])}, side, c.rules.Places(s).Number}
}

// At returns the figures of one position. Scores beyond level one short of the
// target may be given as they are. A position that the game cannot come to is
// an [*InputError].
func (g *GameModel) At(p Position, r Rates) (PositionFigures, error) {
	all, err := g.Positions(r)
	if err != nil {
		return PositionFigures{}, err
	}
	game := g.rules.Format().Last
	if low := min(p.Score[A], p.Score[B]); game.Cap == 0 && low > int(game.Target)-1 {
		step := low - (int(game.Target) - 1)
		if !r.plain() {
			step &^= 1
		}
		p.Score[A] -= step
		p.Score[B] -= step
	}
	for _, f := range all {
		if f.Position == p {
			return f, nil
		}
	}
	return PositionFigures{}, &InputError{"position", "the game cannot come to it"}
}

// Comeback is the chance that a side still wins after trailing by a score,
// with the serve at its worst: the other side's, by its first server.
func (g *GameModel) Comeback(side Side, own, other int, r Rates) (float64, error) {
	p := Position{Serving: side.Other()}
	p.Score[side&1], p.Score[side.Other()&1] = own, other
	if g.rules.Format().Last.Servers == 2 {
		p.Number = 1
	}
	f, err := g.At(p, r)
	if side == B {
		f.Win = 1 - f.Win
	}
	return f.Win, err
}

// Worth is what the choices before a game are worth to A: chances of winning
// the game or the match.
type Worth struct {
	ServeFirst float64 `json:"serve_first"` // chance of winning serving first less that receiving first
	BetterEnd  float64 `json:"better_end"`  // starting at the better end less starting at the worse
	// MidChange is what the mid-game change takes from the side that starts at
	// the better end: its chance without the change less that with it.
	MidChange float64 `json:"mid_change"`
}

// WorthOf returns what serving first, the first end and the mid-game change of
// ends are worth to A over a match.
func (m *MatchModel) WorthOf(r Rates) (Worth, error) {
	win := func(m *MatchModel, first Side, ends int) (float64, error) {
		other, err := NewMatchModel(m.format, Opening{First: first, Starters: m.open.Starters, Ends: ends})
		if err != nil {
			return 0, err
		}
		f, err := other.Figures(r)
		return f.Win, err
	}
	var w Worth
	served, err := win(m, A, m.open.Ends)
	if err != nil {
		return w, err
	}
	received, err := win(m, B, m.open.Ends)
	if err != nil {
		return w, err
	}
	w.ServeFirst = served - received
	if r.End == 0 {
		return w, nil
	}
	better := 0
	if r.End < 0 {
		better = 1
	}
	good, err := win(m, m.open.First, better)
	if err != nil {
		return w, err
	}
	bad, err := win(m, m.open.First, 1-better)
	if err != nil {
		return w, err
	}
	w.BetterEnd = good - bad
	still := *m
	still.format.Shape = ""
	still.format.Game.ChangeEndsAt, still.format.Last.ChangeEndsAt = 0, 0
	stays, err := win(&still, m.open.First, better)
	w.MidChange = stays - good
	return w, err
}

// StarterChoice is a pair of starting servers with A's chance of winning.
type StarterChoice struct {
	Starters rally.Starters `json:"starters"`
	Win      float64        `json:"win"`
}

// Lineups are the choices of starting servers. Where sides alternate courts the
// choice also fixes who receives first from whom.
type Lineups struct {
	All []StarterChoice `json:"all"`
	// Best is the pair that neither side would change alone; Settled is false
	// where there is none, and Best then is A's safest choice with B's answer.
	Best    StarterChoice `json:"best"`
	Settled bool          `json:"settled"`
	Worth   float64       `json:"worth"` // best less worst of A's chances over all pairs
}

// BestLineup compares the starting servers of both sides over game n of a
// format, by rates of server and receiver.
func BestLineup(f format.Format, n int, o Opening, r Rates) (Lineups, error) {
	var out Lineups
	var win [2][2]float64
	low, high := math.Inf(1), math.Inf(-1)
	for a := range 2 {
		for b := range 2 {
			o.Starters = rally.Starters{rally.A1 + rally.Person(a), rally.B1 + rally.Person(b)}
			g, err := NewGameModel(f, n, o)
			if err != nil {
				return Lineups{}, err
			}
			if win[a][b], err = g.Win(r); err != nil {
				return Lineups{}, err
			}
			out.All = append(out.All, StarterChoice{o.Starters, win[a][b]})
			low, high = min(low, win[a][b]), max(high, win[a][b])
		}
	}
	out.Worth = high - low
	safest := -1.0
	for a := range 2 {
		b := 0
		if win[a][1] < win[a][0] {
			b = 1
		}
		if win[a][b] > safest {
			safest = win[a][b]
			out.Best = out.All[2*a+b]
			out.Settled = win[1-a][b] <= win[a][b]
		}
	}
	return out, nil
}
