package rally

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/serviceorder"
)

// Rules is a format made ready to play. Make them with [Compile]; the zero Rules
// play nothing. They are immutable and safe for use by several goroutines.
type Rules struct {
	_       [0]func() // not comparable: compare formats instead
	last    uint64    // State.play at least, in the last possible game
	format  format.Format
	games   [2]game // every game but the last possible one; the last
	doubles bool
	unruled KindSet // of these the edition has no rule
	ofGame  uint64  // what in State.ledger is of one game and goes with it
	// openings are what State.play becomes from [Rules.New] by the start of the
	// first game, by the side and the starting servers in the event; 0 for none.
	openings [2][4]uint64
}

// game is one kind of game, with the table of its plain rallies.
type game struct {
	// What a rally does to points and order in a game that goes on, by its
	// winner and the lowest bits of the state: what is added to State.play, and
	// the effects. Both are computed by step, never written down; they stand
	// apart so that either is found without a multiplication, and first, so that
	// neither is looked for behind the rest.
	delta   [2][plainIndex + 1]uint64
	effects [2][plainIndex + 1]Effects
	format.Game
	order  serviceorder.Service
	endsBy Grounds // the clause by which an end change falls due in it
	// counted: turns are counted, so that at an edge the score says who serves, and
	// not the table.
	counted bool
	// edge holds what is added to both scores at once, so that the top bit of
	// one shows that a plain rally has come where a game can end, freeze or
	// change ends, and the table does not hold. It is indexed by whether the end
	// change is due or made.
	edge [4]uint64
}

// Compile makes the rules of a format. The error is a [*format.Error].
func Compile(f format.Format) (*Rules, error) {
	if err := f.Validate(); err != nil {
		return nil, err
	}
	r := &Rules{format: f, doubles: f.Game.Sides == format.Doubles}
	r.games[0].compile(f.Game, &f)
	r.games[1].compile(f.Last, &f)
	r.last = uint64(f.Match.Games) << gameAt
	r.ofGame = timeOutsMask
	if r.takes(clause.SecondWarningGame) {
		r.ofGame |= warningsMask
	}
	if format.Clause(clause.ScoringOnly).In(f.Edition) {
		r.unruled = ofPickleball
		if f.Game.TimeOuts|f.Last.TimeOuts != 0 {
			r.unruled &^= 1 << TimeOut
		}
	}
	for side := A; side <= B; side++ {
		for i := range Person(4) {
			e := Start(side, Starters{A1 + i&1, B1 + i>>1})
			if s, _, refusal, _ := r.decide(r.New(side), e); refusal == NotRefused {
				r.openings[side][i] = s.play
			}
		}
	}
	return r, nil
}

// ofPickleball are the events that take a rule of pickleball: those of breaks,
// conduct, rulings and lateness. Where the library holds no more of a sport than its
// scoring they are refused. What safety asks for is not among them, nor how a match
// ends without its games.
const ofPickleball KindSet = 1<<Stop | 1<<TimeOut | 1<<EquipmentTimeOut | 1<<MedicalRequest | 1<<MedicalValid | 1<<MedicalInvalid |
	1<<MedicalWithdrawn | 1<<HelpArrived | 1<<PlayOnAlone | 1<<VerbalWarning | 1<<TechnicalWarning | 1<<TechnicalFoul |
	1<<CarryVerbal | 1<<CarryWarning | 1<<CarryFoul | 1<<ChallengeLost | 1<<ChallengeWithdrawn | 1<<GameForfeit |
	1<<LateArrival | 1<<Ejection | 1<<Expulsion

// MustCompile is [Compile] for formats known to be valid; it panics if not.
func MustCompile(f format.Format) *Rules {
	r, err := Compile(f)
	if err != nil {
		panic(err)
	}
	return r
}

// String returns the id of the format, as [format.Format.String] does.
func (r *Rules) String() string { return r.format.String() }

// MarshalText refuses: rules are made from their format, which is what to keep.
func (r *Rules) MarshalText() ([]byte, error) {
	return nil, noText("rules have no text: keep Rules.Format, and Compile it")
}

// noText says why a value has no text, and what to keep in its place.
type noText string

func (e noText) Error() string { return "rally: " + string(e) }

// Format returns the format that the rules were compiled from.
func (r *Rules) Format() format.Format { return r.format }

// New returns a match before its first game, with the first choice made: the
// side that will serve first.
func (r *Rules) New(first Side) State {
	return State{play: knownBit}.withOrder(serviceorder.Prepare(first&1, Starters{}))
}

// by returns the clause that is taken of those between which one switch chooses,
// one of which is named.
func (r *Rules) by(c format.Clause) Grounds { return Grounds(r.format.Rulings.Of(c)) }

// standing returns a clause of another sport where that is played, else one of
// pickleball for the same matter.
func (r *Rules) standing(other, own format.Clause) Grounds {
	if other.In(r.format.Edition) {
		return Grounds(other)
	}
	return Grounds(own)
}

// takes reports whether the rules go by a clause that is a reading of a switch.
func (r *Rules) takes(c format.Clause) bool { return r.format.Rulings.Takes(c) }

// game returns how the game in play, or the last one, is played.
func (r *Rules) game(s State) *game {
	if s.play < r.last {
		return &r.games[0]
	}
	return &r.games[1]
}

func (g *game) compile(f format.Game, of *format.Format) {
	g.Game, g.order, g.counted = f, serviceorder.New(f, of.Rulings), f.Order.Counted()
	switch {
	case f.ChangeEndsEvery != 0:
		g.endsBy = clause.EndsByTotal
	case of.Match.Games == 1:
		g.endsBy = clause.EndChangeSingle
	default:
		g.endsBy = clause.EndChangeLast
	}
	for i := range plainIndex + 1 {
		s := State{play: i | i>>parityBAt&1<<scoreBAt}
		for winner := A; winner <= B; winner++ {
			next, did := g.step(s, winner, f.Scorer == format.EitherSide || winner == s.Order().Side())
			g.delta[winner][i], g.effects[winner][i] = next.play-s.play, did
		}
	}
	edge := min(f.Target, topBit, g.order.ByParityTo())
	if f.ChangeEndsEvery != 0 {
		edge = 0 // any rally can bring a change
	}
	if edge > 0 && (f.Freeze == format.LeaderAndTrailer || f.Freeze == format.BothAtPoint) {
		edge-- // receivers can be frozen before a point would win
	}
	for latch := range g.edge {
		g.edge[latch] = toTop(edge)
	}
	if f.ChangeEndsAt != 0 { // a change made or due is no edge any more
		g.edge[0] = toTop(min(edge, f.ChangeEndsAt))
	}
}

const (
	topBit  = 0x80
	topBits = uint64(topBit)<<scoreAAt | uint64(topBit)<<scoreBAt
)

// toTop is what lifts a score of edge to its top bit, for both scores. An edge of
// 0 is one of 1: no point leads to less, and a lift by more could overflow.
func toTop(edge uint8) uint64 {
	lift := uint64(topBit - max(edge, 1))
	return lift<<scoreAAt | lift<<scoreBAt
}
