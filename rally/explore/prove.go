package explore

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/walk"
)

// Proof is what the exhaustion of a format's states showed.
type Proof struct {
	Format  string      `json:"format"`
	States  int         `json:"states"` // reachable states of the match, folded
	Edges   int         `json:"edges"`  // accepted events in them
	Bound   uint64      `json:"bound"`  // states there could have been, said beforehand
	Checked []Invariant `json:"checked"`
	Broken  []Violation `json:"broken"`  // at most one an invariant
	Dead    []string    `json:"dead"`    // rules of the format that can never bind
	Unseen  []string    `json:"unseen"`  // values that no reachable state takes
	Longest int         `json:"longest"` // events on the longest shortest path
}

// Invariant is a statement with how many states or rallies it was checked on.
type Invariant struct {
	Name  string `json:"name"`
	Cases int    `json:"cases"`
}

// Violation is an invariant that does not hold, with a shortest way there.
type Violation struct {
	Invariant string        `json:"invariant"`
	Line      string        `json:"line"`
	Path      []rally.Event `json:"path"`
}

// A moment is one state in play as invariants see it.
type moment struct {
	r      *rally.Rules
	state  rally.State
	places rally.Places
}

// A step is one rally as invariants see it.
type step struct {
	r             *rally.Rules
	game          *format.Game
	before, after rally.State
	winner        Side
	did           rally.Effects
}

func (s *step) inPlay() bool { return s.after.Phase() == rally.Playing }

type invariant struct {
	name  string
	about func(format.Format) bool
	state func(*moment) bool // holds in every state in play
	rally func(*step) bool   // holds for every rally that opens no game
}

func every(format.Format) bool { return true }

func ordered(o format.Order, sides format.Sides) func(format.Format) bool {
	return func(f format.Format) bool {
		return f.Game.Order == o && f.Last.Order == o && f.Game.Sides == sides
	}
}

func scored(by format.Scorer) func(format.Format) bool {
	return func(f format.Format) bool { return f.Game.Scorer == by && f.Last.Scorer == by }
}

// placed are formats in which everybody has a court of his own.
func placed(f format.Format) bool {
	switch f.Game.Order {
	case format.InTurn:
		return false
	case format.CountedTurns:
		return f.Game.Sides == format.Doubles
	case format.TieBreak:
		return f.Game.Sides == format.Singles
	}
	return true
}

var invariants = []invariant{
	{name: "a line reads back as its state", about: every, state: func(m *moment) bool {
		back, err := m.r.ParseLine(m.r.Line(m.state))
		return err == nil && back == m.state
	}},
	{name: "server and receiver are on opposite sides", about: every, state: func(m *moment) bool {
		side, _ := m.state.Serving()
		return m.places.Server.Side() == side && m.places.Receiver.Side() != side
	}},
	{name: "everybody stands somewhere, the server in his court", about: placed, state: func(m *moment) bool {
		p := m.places
		side, _ := m.state.Serving()
		for of := A; of <= B; of++ {
			if p.At[of][rally.Right].Side() != of || p.At[of][rally.Left].Side() != of {
				return false
			}
			if m.r.Format().Game.Sides == format.Doubles && p.At[of][rally.Right] == p.At[of][rally.Left] {
				return false
			}
		}
		return p.At[side][p.Court] == p.Server
	}},
	{name: "the server serves to the player diagonally opposite", about: func(f format.Format) bool { return placed(f) && f.Game.Sides == format.Doubles },
		state: func(m *moment) bool {
			p := m.places
			side, _ := m.state.Serving()
			return p.At[side.Other()][p.Court] == p.Receiver
		}},
	{name: "parity: a starting server stands right while his side's score is even", about: ordered(format.ByParity, format.Doubles),
		state: func(m *moment) bool {
			st, _ := m.state.Starters()
			for side := A; side <= B; side++ {
				if (m.places.At[side][rally.Right] == st[side]) != (m.state.Score(side)%2 == 0) {
					return false
				}
			}
			return true
		}},
	{name: "parity: the server stands right while his own score is even", about: func(f format.Format) bool {
		return f.Game.Sides == format.Singles && f.Game.Order <= format.HalfCourt
	},
		state: func(m *moment) bool {
			side, _ := m.state.Serving()
			return (m.places.Court == rally.Right) == (m.state.Score(side)%2 == 0)
		}},
	{name: "nobody leaves a fixed court", about: ordered(format.FixedCourts, format.Doubles), rally: func(s *step) bool {
		return !s.inPlay() || s.r.Places(s.before).At == s.r.Places(s.after).At
	}},
	{name: "receivers never move under side-out", about: func(f format.Format) bool {
		return scored(format.ServingSide)(f) && f.Game.Sides == format.Doubles
	}, rally: func(s *step) bool {
		serving, _ := s.before.Serving()
		r := serving.Other()
		return !s.inPlay() || s.r.Places(s.before).At[r] == s.r.Places(s.after).At[r]
	}},
	{name: "receivers never move where partners swap on own serve", about: ordered(format.SwapOnServe, format.Doubles), rally: func(s *step) bool {
		serving, _ := s.before.Serving()
		r := serving.Other()
		return !s.inPlay() || s.r.Places(s.before).At[r] == s.r.Places(s.after).At[r]
	}},
	{name: "conservation: a rally moves one score by the point it makes, and the winner's", about: every, rally: func(s *step) bool {
		point := 0
		if s.did.Has(rally.Point) {
			point = 1
		}
		lost := s.winner.Other()
		moved := s.after.Score(s.winner) - s.before.Score(s.winner)
		back := s.after.Score(lost) - s.before.Score(lost)
		// Beyond level one short of the target both scores fold back together.
		return back <= 0 && back%walk.FoldBy == 0 && moved == point+back
	}},
	{name: "side-out: only the serving side scores", about: scored(format.ServingSide), rally: func(s *step) bool {
		serving, _ := s.before.Serving()
		return s.did.Has(rally.Point) == (s.winner == serving)
	}},
	{name: "rally scoring: every rally is a point unless the score was frozen", about: scored(format.EitherSide), rally: func(s *step) bool {
		return s.did.Has(rally.Point) != s.did.Has(rally.Withheld)
	}},
	{name: "a frozen side scores on its own serve only", about: func(f format.Format) bool { return f.Game.Freeze != 0 || f.Last.Freeze != 0 },
		rally: func(s *step) bool {
			serving, _ := s.before.Serving()
			frozen := s.game.Frozen(uint8(s.before.Score(s.winner)), uint8(s.before.Score(s.winner.Other())))
			return s.did.Has(rally.Withheld) == (frozen && s.winner != serving)
		}},
	{name: "where turns are counted the points of both say which side serves",
		about: func(f format.Format) bool { return f.Game.Order.Counted() },
		state: func(m *moment) bool {
			f := m.r.Format()
			g := f.Of(m.state.Game())
			points, single := m.state.Score(A)+m.state.Score(B), 2*(int(g.Target)-1)
			serves := max(int(g.Serves), 1)
			turns := (min(points, single) + serves - int(g.FirstTurn)) / serves
			switch {
			case g.Order == format.TieBreak:
				turns = (points + serves - int(g.FirstTurn)) / serves
			case points > single:
				turns += points - single
			}
			first, _ := m.state.First()
			return (m.places.Server.Side() != first) == (turns%2 == 1)
		}},
	{name: "the serve stays with the winner of a rally or passes on", about: func(f format.Format) bool { return !f.Game.Order.Counted() }, rally: func(s *step) bool {
		if !s.inPlay() {
			return true
		}
		was, _ := s.before.Serving()
		is, _ := s.after.Serving()
		switch {
		case s.winner == was:
			return is == was && !s.did.Has(rally.SideOut) && !s.did.Has(rally.SecondServer)
		case s.did.Has(rally.SecondServer):
			return is == was && s.game.Servers == 2 && s.r.Places(s.before).Number == 1 && s.r.Places(s.after).Number == 2
		}
		return is != was && s.did.Has(rally.SideOut)
	}},
	{name: "a game ends exactly at its finals", about: every, rally: func(s *step) bool {
		own, other := uint8(s.after.Score(s.winner)), uint8(s.after.Score(s.winner.Other()))
		return s.inPlay() != s.game.Final(own, other) && s.did.Has(rally.GameWon) == !s.inPlay()
	}},
	{name: "games won are games ended, and none is played after the decision", about: every, rally: func(s *step) bool {
		gained := s.after.Won(A) + s.after.Won(B) - s.before.Won(A) - s.before.Won(B)
		m := s.r.Format().Match
		most := max(s.after.Won(A), s.after.Won(B))
		return (gained == 1) == s.did.Has(rally.GameWon) && (m.PlayAll || most <= int(m.Needed()))
	}},
}

// Prove visits every reachable state of a match of the format and checks the
// invariants that go with it. It also lists what the format says that never
// happens. Formats of more states than most (0 for [mostStates]) are a
// [*SizeError].
func Prove(f format.Format, most int) (Proof, error) {
	r, err := rally.Compile(f)
	if err != nil {
		return Proof{}, err
	}
	if most == 0 {
		most = mostStates
	}
	root, _, _ := r.Apply(r.New(A), rally.Start(A, rally.Starters{rally.A1, rally.B1}))
	plan := walk.Plan{Rules: r, Root: root, Alphabet: walk.Play(), Most: most}
	out := Proof{Format: f.ID(), Bound: plan.Bound()}
	g, err := plan.Walk()
	if err != nil {
		return out, &SizeError{"states of a match", plan.Bound(), uint64(max(most, 0))}
	}
	out.States = g.Len()
	seen := newSeen(r)
	for _, inv := range invariants {
		if inv.about(f) {
			out.Checked = append(out.Checked, Invariant{Name: inv.name})
		}
	}
	broken := map[string]bool{}
	for i := range g.Len() {
		s := g.State(i)
		out.Longest = max(out.Longest, g.Depth(i))
		opens := s.Phase() != rally.Playing
		now := moment{r, s, r.Places(s)}
		n := -1
		for _, inv := range invariants {
			if !inv.about(f) {
				continue
			}
			n++
			check := func(holds bool) {
				out.Checked[n].Cases++
				if !holds && !broken[inv.name] {
					broken[inv.name] = true
					out.Broken = append(out.Broken, Violation{inv.name, r.Line(s), g.Path(i)})
				}
			}
			if inv.state != nil && !opens {
				check(inv.state(&now))
			}
			if inv.rally == nil || opens {
				continue
			}
			for w := A; w <= B; w++ {
				if e := g.Edge(i, letterA+int(w)); e.To != walk.Refused {
					check(inv.rally(&step{r, f.Of(s.Game()), s, g.State(e.To), w, e.Did}))
				}
			}
		}
		seen.state(s)
		for k := range g.Alphabet() {
			if e := g.Edge(i, k); e.To != walk.Refused {
				out.Edges++
				seen.edge(s, g.State(e.To), k, e.Did)
			}
		}
	}
	out.Dead, out.Unseen = seen.dead(f), seen.unseen(f)
	return out, nil
}

// seen notes which rules have bound and which values have been taken.
type seen struct {
	r        *rally.Rules
	withheld [2]bool // in a game but the last, in the last
	trailer  [2]bool // withheld from a side below target-1
	capped   [2]bool // a game ended that without its cap would have gone on
	margin   [2]bool // a game went on at the target for want of the margin
	mid      [2]bool // the mid-game change came due
	numbers  [3]bool
	courts   [2]bool
	servers  [4]bool
	receiver [4]bool
	finals   [2]map[[2]int]bool
}

func newSeen(r *rally.Rules) *seen {
	return &seen{r: r, finals: [2]map[[2]int]bool{{}, {}}}
}

func (n *seen) kind(game int) int {
	if game >= int(n.r.Format().Match.Games) {
		return 1
	}
	return 0
}

func (n *seen) state(s rally.State) {
	if s.Phase() != rally.Playing {
		return
	}
	p := n.r.Places(s)
	n.numbers[p.Number] = true
	if p.Court <= rally.Left {
		n.courts[p.Court] = true
	}
	n.servers[p.Server], n.receiver[p.Receiver] = true, true
	if p.AnyReceives {
		n.receiver[p.Receiver.Partner()] = true
	}
	k := n.kind(s.Game())
	f := n.r.Format()
	n.margin[k] = n.margin[k] || max(s.Score(A), s.Score(B)) >= int(f.Of(s.Game()).Target)
	n.mid[k] = n.mid[k] || s.EndChangeDue()
}

func (n *seen) edge(before, after rally.State, letter int, did rally.Effects) {
	if before.Phase() != rally.Playing || letter > letterB {
		return
	}
	k, winner := n.kind(before.Game()), Side(letter)
	f := n.r.Format()
	g := f.Of(before.Game())
	if did.Has(rally.Withheld) {
		n.withheld[k] = true
		if before.Score(winner) < int(g.Target)-1 {
			n.trailer[k] = true
		}
	}
	if did.Has(rally.GameWon) {
		own, other := after.Score(winner), after.Score(winner.Other())
		n.finals[k][[2]int{own, other}] = true
		free := *g
		free.Cap = 0
		n.capped[k] = n.capped[k] || !free.Won(uint8(own), uint8(other))
	}
}

func (n *seen) games(f format.Format, each func(at string, k int, g format.Game)) {
	if f.Match.Games > 1 {
		each("game.", 0, f.Game)
	}
	each("last.", 1, f.Last)
}

func (n *seen) dead(f format.Format) (out []string) {
	n.games(f, func(at string, k int, g format.Game) {
		add := func(dead bool, what string) {
			if dead {
				out = append(out, at+what)
			}
		}
		add(g.Freeze != format.NoFreeze && !n.withheld[k], "freeze: "+g.Freeze.String()+" never withholds a point")
		add(g.Freeze == format.LeaderAndTrailer && !n.trailer[k], "freeze: never binds the trailer")
		add(g.Cap != 0 && !n.capped[k], "cap: "+strconv.Itoa(int(g.Cap))+" never decides a game")
		add(g.WinBy > 1 && !n.margin[k], "win_by: the margin never keeps a game going")
		add(g.ChangeEndsAt != 0 && !n.mid[k], "change_ends_at: the change never comes due")
	})
	return out
}

func (n *seen) unseen(f format.Format) (out []string) {
	n.games(f, func(at string, k int, g format.Game) {
		top := int(g.Target) + int(g.WinBy)
		if g.Cap != 0 {
			top = int(g.Cap)
		}
		for own := int(g.Target); own <= top; own++ {
			for other := range own {
				if g.Final(uint8(own), uint8(other)) && !n.finals[k][[2]int{own, other}] && (g.Cap != 0 || other <= int(g.Target)-1) {
					out = append(out, at+"final "+strconv.Itoa(own)+"-"+strconv.Itoa(other))
				}
			}
		}
	})
	if f.Game.Servers == 2 && !n.numbers[1] {
		out = append(out, "server number 1")
	}
	if f.Game.Servers == 2 && !n.numbers[2] {
		out = append(out, "server number 2")
	}
	for c, court := range []string{"right", "left"} {
		if f.Game.Order <= format.HalfCourt && !n.courts[c] {
			out = append(out, "serve from the "+court+" court")
		}
	}
	for p := rally.A1; p <= rally.B2; p++ {
		if f.Game.Sides == format.Singles && p.Player() == 2 {
			continue
		}
		if !n.servers[p] {
			out = append(out, p.String()+" serving")
		}
		if !n.receiver[p] {
			out = append(out, p.String()+" receiving")
		}
	}
	return out
}
