package explore

import "github.com/evencourt/evencourt/format"

// MatchModel is a whole match of a format, ready to be asked for its figures. Where
// the format leaves the first serve of the next game to be chosen, it is taken
// to alternate. Make one with [NewMatchModel].
type MatchModel struct {
	format format.Format
	open   Opening
	games  map[gameKind]*GameModel
}

// gameKind tells games apart that have other figures.
type gameKind struct {
	last  bool
	first Side
	ends  int
}

// NewMatchModel makes a match of a format ready, from the opening of its first
// game. Its errors are those of [NewGameModel].
func NewMatchModel(f format.Format, o Opening) (*MatchModel, error) {
	if err := f.Validate(); err != nil {
		return nil, err
	}
	o, err := o.normal(f.Game.Sides == format.Singles)
	if err != nil {
		return nil, err
	}
	m := &MatchModel{format: f, open: o, games: map[gameKind]*GameModel{}}
	for n := 1; n <= int(f.Match.Games); n++ {
		last := n == int(f.Match.Games)
		if n > 1 && !last {
			continue
		}
		for first := A; first <= B; first++ {
			if f.Match.Games == 1 && first != o.First {
				continue
			}
			for ends := range 2 {
				at := Opening{First: first, Starters: o.Starters, Ends: ends}
				k := gameKind{last && f.Match.Games > 1, first, ends}
				if ends == 1 {
					// The plain states of a game are the same whichever end A starts at.
					twin := m.games[gameKind{k.last, first, 0}]
					m.games[k] = &GameModel{rules: twin.rules, opening: at, plain: twin.plain}
					continue
				}
				if m.games[k], err = NewGameModel(f, n, at); err != nil {
					return nil, err
				}
			}
		}
	}
	return m, nil
}

// Format returns the format of the match.
func (m *MatchModel) Format() format.Format { return m.format }

// stage is where a match stands between two games.
type stage struct {
	won  [2]int
	next Side // who serves first in the coming game
	ends int
}

func (m *MatchModel) kind(s stage) gameKind {
	last := s.won[A]+s.won[B]+1 == int(m.format.Match.Games) && m.format.Match.Games > 1
	return gameKind{last, s.next, s.ends}
}

// over reports whether the match is decided, and who won it; a tie is nobody's.
func (m *MatchModel) over(s stage) (winner Side, tie, over bool) {
	played, rules := s.won[A]+s.won[B], m.format.Match
	lead := A
	if s.won[B] > s.won[A] {
		lead = B
	}
	switch {
	case !rules.PlayAll && s.won[lead] >= int(rules.Needed()):
		return lead, false, true
	case played == int(rules.Games):
		return lead, s.won[A] == s.won[B], true
	}
	return A, false, false
}

// after returns the stage after a game that winner won. A mid-game end change
// leaves the sides at other ends than they started at.
func (m *MatchModel) after(s stage, winner Side) stage {
	mid := m.format.Of(s.won[A] + s.won[B] + 1).ChangeEndsAt
	s.won[winner]++
	switch m.format.Match.NextServe {
	case format.Winner:
		s.next = winner
	case format.Loser:
		s.next = winner.Other()
	default:
		s.next = s.next.Other()
	}
	if m.format.Match.ChangeEnds {
		s.ends ^= 1
	}
	// Whoever wins has passed the midpoint, as it lies below the target.
	if mid != 0 {
		s.ends ^= 1
	}
	return s
}

func (m *MatchModel) start() stage { return stage{next: m.open.First, ends: m.open.Ends} }

// MatchFigures are the exact figures of a match.
type MatchFigures struct {
	Win       float64 `json:"win"`        // chance that A wins
	Tie       float64 `json:"tie"`        // chance that nobody does, where all games are played
	Mean      float64 `json:"mean"`       // rallies of a match
	Variance  float64 `json:"variance"`   // of the number of rallies
	Games     float64 `json:"games"`      // games of a match
	GamesLaw  Law     `json:"games_law"`  // entry n: chance of n games
	GameFirst float64 `json:"game_first"` // chance that A wins the first game
	Pointless float64 `json:"pointless"`  // rallies that give nobody a point
}

// part are the figures of one kind of game by who wins it.
type part struct {
	win            float64    // A's chance
	pointless      float64    // rallies that give nobody a point
	mean, variance [2]float64 // rallies, given that A, B wins it
}

// Figures returns the exact figures of the match.
func (m *MatchModel) Figures(r Rates) (MatchFigures, error) {
	parts := map[gameKind]part{}
	for _, k := range m.kinds() {
		p, err := m.games[k].part(r)
		if err != nil {
			return MatchFigures{}, err
		}
		parts[k] = p
	}
	out := MatchFigures{GamesLaw: make(Law, m.format.Match.Games+1), GameFirst: parts[m.kind(m.start())].win}
	// Moments of the rallies so far, added up stage by stage, each branch with
	// its chance: a branch is a sequence of winners, and there are few.
	var play func(s stage, p, mean, variance float64)
	type end struct{ p, mean, variance float64 }
	var ends []end
	play = func(s stage, p, mean, variance float64) {
		if p == 0 {
			return
		}
		if winner, tie, over := m.over(s); over {
			switch {
			case tie:
				out.Tie += p
			case winner == A:
				out.Win += p
			}
			out.GamesLaw[s.won[A]+s.won[B]] += p
			ends = append(ends, end{p, mean, variance})
			return
		}
		g := parts[m.kind(s)]
		out.Pointless += p * g.pointless
		play(m.after(s, A), p*g.win, mean+g.mean[A], variance+g.variance[A])
		play(m.after(s, B), p*(1-g.win), mean+g.mean[B], variance+g.variance[B])
	}
	play(m.start(), 1, 0, 0)
	for _, e := range ends {
		out.Mean += e.p * e.mean
	}
	for _, e := range ends {
		d := e.mean - out.Mean
		out.Variance += e.p * (e.variance + d*d)
	}
	out.Games = out.GamesLaw.Mean()
	return out, nil
}

// kinds lists the kinds of games that the match can come to.
func (m *MatchModel) kinds() []gameKind {
	seen := map[stage]bool{}
	have := map[gameKind]bool{}
	var out []gameKind
	todo := []stage{m.start()}
	for len(todo) > 0 {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if _, _, over := m.over(s); over || seen[s] {
			continue
		}
		seen[s] = true
		if k := m.kind(s); !have[k] {
			have[k] = true
			out = append(out, k)
		}
		todo = append(todo, m.after(s, A), m.after(s, B))
	}
	return out
}

// part returns the figures of a game by its winner. The moments of games that
// A wins are those of the chain whose chances are weighted by A's chance of
// winning from where they lead.
func (g *GameModel) part(r Rates) (part, error) {
	c, o, err := g.at(r)
	if err != nil {
		return part{}, err
	}
	l := c.rounds(o)
	win := c.winning(o, l)
	p := part{win: win[c.start], pointless: c.pointless(c.visits(c.start, o, l), o)}
	for side := A; side <= B; side++ {
		x := win
		if side == B {
			x = make([]float64, c.size())
			for i, f := range c.finals {
				if f.Winner == B {
					x[c.finalAt()+i] = 1
				}
			}
			c.solve(x, o, nil, l)
		}
		if x[c.start] == 0 {
			continue
		}
		// u = E[T; side wins], v = E[T²; side wins]: each rally adds x to u, and
		// 2u - x to v.
		u := make([]float64, c.size())
		c.solve(u, o, x, l)
		reward := make([]float64, len(c.nodes))
		for i := range reward {
			reward[i] = 2*u[i] - x[i]
		}
		v := make([]float64, c.size())
		c.solve(v, o, reward, l)
		p.mean[side] = u[c.start] / x[c.start]
		p.variance[side] = v[c.start]/x[c.start] - p.mean[side]*p.mean[side]
	}
	return p, nil
}

// MatchLength is the law of the rallies of a match, whole and by its games.
type MatchLength struct {
	All     Law
	ByGames []Law // entry n: matches of n games; the chances sum to those of n games
}

// Length returns the law of the rallies of the match.
func (m *MatchModel) Length(r Rates) (MatchLength, error) {
	laws := map[gameKind]Length{}
	total := 0
	for _, k := range m.kinds() {
		c, o, err := m.games[k].at(r)
		if err != nil {
			return MatchLength{}, err
		}
		law, err := c.lengthLaw(o)
		if err != nil {
			return MatchLength{}, err
		}
		laws[k] = law
		total = max(total, len(law.All)*int(m.format.Match.Games))
	}
	if total > mostRallies {
		return MatchLength{}, &SizeError{"rallies of a match", uint64(total), mostRallies}
	}
	out := MatchLength{ByGames: make([]Law, m.format.Match.Games+1)}
	// Stage by stage: the law of the rallies so far at each.
	now := map[stage]Law{m.start(): {1}}
	for len(now) > 0 {
		next := map[stage]Law{}
		for s, law := range now {
			if _, _, over := m.over(s); over {
				n := s.won[A] + s.won[B]
				out.ByGames[n] = out.ByGames[n].add(law, 1)
				out.All = out.All.add(law, 1)
				continue
			}
			game := laws[m.kind(s)]
			for side := A; side <= B; side++ {
				to := m.after(s, side)
				next[to] = next[to].add(law.plus(game.By[side]), 1)
			}
		}
		now = next
	}
	return out, nil
}
