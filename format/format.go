// Package format says what a scoring format IS, as plain data: who may score,
// who serves and from where, when a game and a match end, and how the edition
// of the rulebook in force rules on everything else.
//
// A [Format] is one comparable value. Its two coordinates are the shape (what
// is played, such as "sideout-doubles-11-of3") and the [Edition] of the
// rulebook that supplies the rulings; [Named] joins them and refuses pairs
// that never existed. Every value of an edition knows where it comes from
// ([Origin]), and what no text settles is a [Switch] with a stated default
// ([OpenPoints]).
package format

// Sides is the number of players on each side.
type Sides uint8

// The kinds of sides. The zero value is not a valid format.
const (
	Singles Sides = iota + 1
	Doubles
)

var sidesNames = []string{"", "singles", "doubles"}

// Scorer says which side may score from a won rally.
type Scorer uint8

// Who may score.
const (
	ServingSide Scorer = iota + 1 // side-out scoring: only the serving side
	EitherSide                    // rally scoring: whoever wins the rally
)

var scorerNames = []string{"", "server", "either"}

// Order is the rule that fixes who serves from which court and who moves.
// The orders themselves are in package serviceorder.
type Order uint8

// The orders of service and places.
const (
	// ByParity places every player by his own side's score: the starting
	// server stands right while it is even. In singles the server's own score
	// picks the court of both players.
	ByParity Order = iota + 1
	// FixedCourts never moves partners: the right player serves while the
	// side's score is even, the left one while it is odd.
	FixedCourts
	// SwapOnServe moves partners only after a point on their own serve; the
	// player in the court of the side's parity opens a turn.
	SwapOnServe
	// HalfCourt is singles on half courts: each player stands by his own score.
	HalfCourt
	// CountedTurns gives each server a number of points, whoever wins them; from
	// level one short of the target one each. At the end of a turn the receiver
	// serves, in doubles to the partner of who served; partners keep that order, but
	// for the pair due to receive next when the mid-game end change falls due: from
	// then on it receives the other way round. Doubles is served from the right to
	// the right, singles knows no service court.
	CountedTurns
	// TieBreak counts turns likewise, to the end, and serves them from right and
	// left in turn. The partners of a side receive each in his own court, which a
	// game alone does not tell.
	TieBreak
	// InTurn lets the side that regains the serve serve with the player who did not
	// serve last. There is no service court, and either partner may receive.
	InTurn
)

var orderNames = []string{"", "parity", "fixed-courts", "swap-on-serve", "half-court", "counted-turns", "tie-break", "in-turn"}

// Counted reports whether a turn has a number of points, so that the score says
// who serves.
func (o Order) Counted() bool { return o == CountedTurns || o == TieBreak }

// TakesOver reports whether a game can go on under o that has begun under p: where
// people serve in turn it is their turns that say who serves, and no places.
func (o Order) TakesOver(p Order) bool { return o == p || o < CountedTurns && p < CountedTurns }

// Freeze withholds a point from receivers near the end of a game. It is a
// function of the present score: nothing is latched.
type Freeze uint8

// The freezes.
const (
	// NoFreeze lets every won rally count.
	NoFreeze Freeze = iota
	// WinOnServe withholds only the point that would win the game.
	WinOnServe
	// EachAtPoint freezes a side while it has target-1 or more.
	EachAtPoint
	// LeaderAndTrailer freezes a side while it has target-1 or more, and while
	// it has target-3 or more and the other side has target-1 or more.
	LeaderAndTrailer
	// BothAtPoint freezes both sides while either has target-1 or more.
	BothAtPoint
)

var freezeNames = []string{"none", "win-on-serve", "each-at-point", "leader-and-trailer", "both-at-point"}

// NextServe says which side serves first in the next game.
type NextServe uint8

// Who serves first in the next game.
const (
	OtherSide NextServe = iota + 1 // the side that received first in this one
	Winner                         // the side that won this game
	Loser                          // the side that lost this game
	Chosen                         // the start event of the game says it
)

var nextServeNames = []string{"", "other-side", "winner", "loser", "chosen"}

// Game is how one game is scored and served.
type Game struct {
	Sides   Sides  `json:"sides"`
	Scorer  Scorer `json:"scorer"`
	Servers uint8  `json:"servers"` // servers a side has in a turn, 1 or 2
	// FirstTurn is how many of them the side serving first has in the opening
	// turn of the game: the last ones, so that a turn of one begins with number 2.
	// Where turns are counted it is the points of that turn.
	FirstTurn uint8  `json:"first_turn"`
	Serves    uint8  `json:"serves,omitzero"` // points of a turn where turns are counted, else 0
	Order     Order  `json:"order"`
	Target    uint8  `json:"target"` // points that win, from 1 to 250
	WinBy     uint8  `json:"win_by"` // margin needed at or beyond the target
	Cap       uint8  `json:"cap"`    // points that win by any margin; 0 for none
	Freeze    Freeze `json:"freeze"`
	// ChangeEndsAt is the score whose first reach by either side makes the
	// mid-game end change due; 0 for none.
	ChangeEndsAt uint8 `json:"change_ends_at"`
	// ChangeEndsEvery is the number of points, of both sides together, after which
	// ends change, again and again; 0 for never.
	ChangeEndsEvery uint8 `json:"change_ends_every,omitzero"`
	TimeOuts        uint8 `json:"time_outs"` // standard time-outs a side has in the game, at most 15
}

// Series is how games make a match.
type Series struct {
	Games      uint8     `json:"games"`       // most games that can be played, 1 to 9
	PlayAll    bool      `json:"play_all"`    // all are played, even when decided
	NextServe  NextServe `json:"next_serve"`  // who serves first in the next game
	ChangeEnds bool      `json:"change_ends"` // ends change after each game
}

// Format is all that an engine must know before the first serve. It is
// comparable: two formats with equal values behave alike.
type Format struct {
	Shape   string  `json:"shape"`   // id in the registry, or empty
	Edition Edition `json:"edition"` // rulebook in force
	Game    Game    `json:"game"`    // every game but the last possible one
	Last    Game    `json:"last"`    // the last possible game, or the single one
	Match   Series  `json:"match"`
	Rulings Rulings `json:"rulings"`
}

// MostPoints is the highest score a state can hold; the point after it is
// refused by the engine.
const MostPoints = 255

// Validate reports every field at fault, each as an [*Error], several of them
// joined; nil if there is none.
func (f Format) Validate() error {
	var faults []error
	add := func(bad bool, field, reason string) {
		if bad {
			faults = append(faults, &Error{field, reason})
		}
	}
	m := &f.Match
	add(m.Games < 1 || m.Games > 9, "match.games", "must be 1 to 9")
	add(!m.PlayAll && m.Games%2 == 0 && m.Games > 0 && m.Games < 9, "match.games", "an even number of games needs play_all, or nobody may win")
	add(m.NextServe < OtherSide || m.NextServe > Chosen, "match.next_serve", "no such rule")
	faults = f.Game.faults(faults, "game.")
	if f.Match.Games == 1 {
		add(f.Game != f.Last, "last", "a single game must equal game")
	} else {
		faults = f.Last.faults(faults, "last.")
		add(f.Game.Sides != f.Last.Sides, "last.sides", "must be the same in every game")
	}
	if err := f.Edition.validate(); err != nil {
		faults = append(faults, err)
	} else if err := f.Rulings.validate(); err != nil {
		faults = append(faults, err)
	} else if f.Rulings == (Rulings{}) && RulingsOf(f.Edition) != f.Rulings {
		add(true, "rulings", "none is set: begin with those of an edition")
	} else if s, reason := f.idle(); s != 0 {
		add(true, "rulings."+s.String(), reason)
	} else if field, reason := f.counting(); field != "" {
		add(true, field, reason)
	}
	if len(faults) == 0 && f.Shape != "" {
		if s, err := shapeIn(f.Shape, f.Edition); err != nil {
			faults = append(faults, err)
		} else if !s.is(&f) {
			other := f.nearest(s)
			add(other != f.Shape, "shape", "this is what is named "+Quote(other))
		}
	}
	switch len(faults) {
	case 0:
		return nil
	case 1:
		return faults[0]
	}
	return several(faults)
}

// counting names what does not go together with turns that are counted, with the
// reason; "" for nothing.
func (f *Format) counting() (field, reason string) {
	tableTennis := f.Game.Order == CountedTurns || f.Last.Order == CountedTurns
	switch {
	case !f.Game.Order.Counted() && !f.Last.Order.Counted():
	case f.Rulings[foulValue] != 0:
		return "game.order", "what a penalty point does where turns are counted is known in no edition"
	case tableTennis && f.Game.Sides == Doubles && f.Match.Games > 1 && f.Match.NextServe != OtherSide:
		return "match.next_serve", "the first receiver follows from the game before only where the other side serves first"
	}
	return "", ""
}

// several are faults told together.
type several []error

func (s several) Error() string {
	out := ""
	for i, err := range s {
		if i > 0 {
			out += "\n"
		}
		out += err.Error()
	}
	return out
}

// Unwrap lets errors.As find each.
func (s several) Unwrap() []error { return s }

// faults adds what is wrong with g: of each field the first that is.
func (g *Game) faults(to []error, at string) []error {
	before := len(to)
	for _, c := range [...]struct {
		bad           bool
		field, reason string
	}{
		{g.Sides != Singles && g.Sides != Doubles, "sides", "want singles or doubles"},
		{g.Scorer != ServingSide && g.Scorer != EitherSide, "scorer", "want server or either"},
		{g.Order < ByParity || g.Order > InTurn, "order", "no such order"},
		{g.Servers < 1 || g.Servers > 2, "servers", "must be 1 or 2"},
		{g.Sides == Singles && g.Servers != 1, "servers", "singles has one server a turn"},
		{g.Order == FixedCourts && g.Servers != 1, "servers", "on fixed courts the score picks the server, so a turn has one"},
		{g.Order >= CountedTurns && g.Servers != 1, "servers", "a turn of that order has one"},
		{g.Order.Counted() != (g.Serves != 0), "serves", "say how many points a turn has where turns are counted, and nowhere else"},
		{g.FirstTurn < 1 || g.FirstTurn > max(g.Servers, g.Serves), "first_turn", "must be 1 to servers, or to serves where turns are counted"},
		{g.Order.Counted() && g.Scorer == ServingSide, "scorer", "turns are counted in points, so every rally scores"},
		{g.Order.Counted() && g.Freeze != NoFreeze, "freeze", "turns are counted in points, so every rally scores"},
		{g.Order.Counted() && g.WinBy > 2, "win_by", "must be 1 or 2 where turns are counted, so that the score says who serves"},
		{g.Sides == Singles && (g.Order == FixedCourts || g.Order == SwapOnServe), "order", "needs partners"},
		{g.Sides == Doubles && g.Order == HalfCourt, "order", "half courts are for singles"},
		{g.Target < 1 || g.Target > 250, "target", "must be 1 to 250"},
		{g.WinBy < 1 || g.WinBy > g.Target && g.Target > 0, "win_by", "must be 1 to target"},
		{g.Cap != 0 && g.Cap < g.Target, "cap", "must be 0 for none, or at least target"},
		{g.Freeze > BothAtPoint, "freeze", "no such freeze"},
		{g.Freeze != NoFreeze && g.Scorer == ServingSide, "freeze", "only the serving side scores, so there is nothing to freeze"},
		{g.Freeze == LeaderAndTrailer && g.Target < 4, "freeze", "needs a target of 4 or more"},
		{g.ChangeEndsAt >= g.Target && g.ChangeEndsAt != 0 && g.Target > 0, "change_ends_at", "must be 0 for none, or below target"},
		{g.ChangeEndsAt != 0 && g.ChangeEndsEvery != 0, "change_ends_every", "ends change once at a score or again and again, not both"},
		{g.TimeOuts > 15, "time_outs", "must be at most 15"},
	} {
		told := false
		for _, fault := range to[before:] {
			told = told || fault.(*Error).Field == at+c.field
		}
		if c.bad && !told {
			to = append(to, &Error{at + c.field, c.reason})
		}
	}
	return to
}

// Midpoint is the score at which ends change in a game to target: half of
// it, rounded up (4 of 7, 6 of 11, 8 of 15, 11 of 21). [clause.EndChangeSingle]
// gives the last three, [clause.RallyTo7] the first; the formula is derived from them.
func Midpoint(target uint8) uint8 { return target/2 + target%2 }

// Needed is how many games win the match; with PlayAll no number does.
func (m Series) Needed() uint8 { return m.Games/2 + 1 }

// Of returns how game number n (from 1) of the match is played.
func (f *Format) Of(n int) *Game {
	if n >= int(f.Match.Games) {
		return &f.Last
	}
	return &f.Game
}

// Won reports whether a side with score own has won against a side with
// score other.
func (g *Game) Won(own, other uint8) bool { return g.won(int(own), int(other)) }

func (g *Game) won(own, other int) bool {
	if own <= other {
		return false
	}
	return g.Cap != 0 && own >= int(g.Cap) || own >= int(g.Target) && own-other >= int(g.WinBy)
}

// Frozen reports whether a side with score own would be refused the point of
// a rally it won as receivers, the other side having score other.
func (g *Game) Frozen(own, other uint8) bool {
	point := g.Target - 1
	switch g.Freeze {
	case WinOnServe:
		return g.won(int(own)+1, int(other))
	case EachAtPoint:
		return own >= point
	case LeaderAndTrailer:
		return own >= point || other >= point && own >= g.Target-3
	case BothAtPoint:
		return own >= point || other >= point
	}
	return false
}

// Final reports whether own-other is a score at which a game ends by a point
// that own scored, no penalty having intervened: the point before had not
// ended it.
func (g *Game) Final(own, other uint8) bool {
	if g.Cap != 0 && own > g.Cap || g.WinBy == 1 && own > g.Target {
		return false // the game would have ended before
	}
	return g.Won(own, other) && !g.won(int(own)-1, int(other))
}
