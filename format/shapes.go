package format

import (
	"strconv"

	"github.com/evencourt/evencourt/format/clause"
)

// A family is a row of the registry: shapes that differ in target, freeze and
// number of games only.
type family struct {
	id       string
	from, to Edition // editions that know it
	sides    Sides
	scorer   Scorer
	order    Order
	servers  uint8
	winBy    uint8
	cap      uint8
	targets  []uint8
	freezes  []Freeze // one shape each; none is named after NoFreeze
	games    []uint8
	next     NextServe
	onServe  Clause // where it stands the winning point counts only on own serve
	other    *sport // what other sports have of their own
}

// A sport is what the shapes of a family have otherwise than pickleball and
// badminton, which change ends in mid-game at half the target, rounded up.
type sport struct {
	serves, firstTurn uint8 // points of a turn, and of the first
	lastTarget        uint8 // target of the last game, 0 for that of all
	half              bool  // ends change in mid-game at half the target, rounded down
	every, lastEvery  uint8 // ends change every so many points of both, and in a last game to lastTarget
	keepEnds          bool  // ends do not change of themselves after a game
}

var (
	tableTennis   = &sport{serves: 2, firstTurn: 2, half: true}
	tableTennis21 = &sport{serves: 5, firstTurn: 5, half: true}
	tieBreak      = &sport{serves: 2, firstTurn: 1, every: 6}
	beach         = &sport{lastTarget: 15, every: 7, lastEvery: 5, keepEnds: true}
	squashDoubles = &sport{keepEnds: true}
)

// The registry. Club shapes go with any edition, which supplies the rulings;
// the official rally option exists from 2025. Badminton stands here as an
// outside check of the orders; that of before 2006 is without setting. Of the
// other sports only score, order and ends are here.
var registry = []family{
	{"sideout-singles", E1999, latest, Singles, ServingSide, ByParity, 1, 2, 0, []uint8{11, 15, 21}, []Freeze{NoFreeze}, []uint8{1, 3, 5}, OtherSide, 0, nil},
	{"sideout-doubles", E1999, latest, Doubles, ServingSide, ByParity, 2, 2, 0, []uint8{11, 15, 21}, []Freeze{NoFreeze}, []uint8{1, 3, 5}, OtherSide, 0, nil},
	{"rally-singles", E2025, latest, Singles, EitherSide, ByParity, 1, 2, 0, []uint8{7, 11, 15, 21}, []Freeze{NoFreeze}, []uint8{1, 3, 5}, OtherSide, clause.RallyPointOnServe, nil},
	{"rally-doubles", E2025, latest, Doubles, EitherSide, ByParity, 1, 2, 0, []uint8{7, 11, 15, 21}, []Freeze{NoFreeze}, []uint8{1, 3, 5}, OtherSide, clause.RallyPointOnServe, nil},
	{"fixed-doubles", E1999, latest, Doubles, EitherSide, FixedCourts, 1, 2, 0, []uint8{21}, []Freeze{NoFreeze, WinOnServe, EachAtPoint, LeaderAndTrailer, BothAtPoint}, []uint8{1}, OtherSide, 0, nil},
	{"fixed-doubles", E1999, latest, Doubles, EitherSide, FixedCourts, 1, 2, 0, []uint8{15}, []Freeze{EachAtPoint}, []uint8{1}, OtherSide, 0, nil},
	{"fixed-doubles", E1999, latest, Doubles, EitherSide, FixedCourts, 1, 2, 0, []uint8{25}, []Freeze{WinOnServe}, []uint8{1}, OtherSide, 0, nil},
	{"swap-doubles", E1999, latest, Doubles, EitherSide, SwapOnServe, 1, 2, 0, []uint8{11}, []Freeze{NoFreeze}, []uint8{1}, OtherSide, 0, nil},
	{"half-court-singles", E1999, latest, Singles, ServingSide, HalfCourt, 1, 2, 0, []uint8{11}, []Freeze{NoFreeze}, []uint8{1}, OtherSide, 0, nil},
	{"badminton-singles", Badminton2006, Badminton2006, Singles, EitherSide, ByParity, 1, 2, 30, []uint8{21}, []Freeze{NoFreeze}, []uint8{3}, Winner, 0, nil},
	{"badminton-doubles", Badminton2006, Badminton2006, Doubles, EitherSide, SwapOnServe, 1, 2, 30, []uint8{21}, []Freeze{NoFreeze}, []uint8{3}, Winner, 0, nil},
	{"badminton-singles", Badminton2027, latest, Singles, EitherSide, ByParity, 1, 2, 21, []uint8{15}, []Freeze{NoFreeze}, []uint8{3}, Winner, 0, nil},
	{"badminton-doubles", Badminton2027, latest, Doubles, EitherSide, SwapOnServe, 1, 2, 21, []uint8{15}, []Freeze{NoFreeze}, []uint8{3}, Winner, 0, nil},
	{"badminton-doubles", BadmintonTo2005, BadmintonTo2005, Doubles, ServingSide, ByParity, 2, 1, 0, []uint8{15}, []Freeze{NoFreeze}, []uint8{3}, Winner, 0, nil},
	{"table-tennis-singles", TableTennis2001, latest, Singles, EitherSide, CountedTurns, 1, 2, 0, []uint8{11}, []Freeze{NoFreeze}, []uint8{1, 3, 5, 7}, OtherSide, 0, tableTennis},
	{"table-tennis-doubles", TableTennis2001, latest, Doubles, EitherSide, CountedTurns, 1, 2, 0, []uint8{11}, []Freeze{NoFreeze}, []uint8{1, 3, 5, 7}, OtherSide, 0, tableTennis},
	{"table-tennis-singles", TableTennisTo2001, TableTennisTo2001, Singles, EitherSide, CountedTurns, 1, 2, 0, []uint8{21}, []Freeze{NoFreeze}, []uint8{1, 3, 5}, OtherSide, 0, tableTennis21},
	{"tie-break", Tennis2025, latest, Singles, EitherSide, TieBreak, 1, 2, 0, []uint8{7, 10}, []Freeze{NoFreeze}, []uint8{1}, OtherSide, 0, tieBreak},
	{"tie-break-doubles", Tennis2025, latest, Doubles, EitherSide, TieBreak, 1, 2, 0, []uint8{7, 10}, []Freeze{NoFreeze}, []uint8{1}, OtherSide, 0, tieBreak},
	{"beach-doubles", Beach2025, latest, Doubles, EitherSide, InTurn, 1, 2, 0, []uint8{21}, []Freeze{NoFreeze}, []uint8{3}, Chosen, 0, beach},
	{"squash-doubles", SquashDoubles2010, latest, Doubles, EitherSide, InTurn, 1, 1, 0, []uint8{11}, []Freeze{NoFreeze}, []uint8{1}, Winner, 0, squashDoubles},
}

// shape is one member of a family.
type shape struct {
	*family
	id         string
	target     uint8
	lastTarget uint8
	freeze     Freeze
	games      uint8
}

// shapes are the members of all families.
var shapes = func() []shape {
	var out []shape
	for i := range registry {
		f := &registry[i]
		for _, target := range f.targets {
			for _, freeze := range f.freezes {
				for _, games := range f.games {
					id := f.id + "-" + strconv.Itoa(int(target))
					if freeze != NoFreeze {
						id += "-" + freeze.String()
					}
					if games > 1 {
						id += "-of" + strconv.Itoa(int(games))
					}
					last := target
					if f.other != nil && f.other.lastTarget != 0 {
						last = f.other.lastTarget
					}
					out = append(out, shape{f, id, target, last, freeze, games})
				}
			}
		}
	}
	return out
}()

// find returns the shape with an id that goes with an edition, or if none does
// any that had the id; nil if there is none. A document that comes back to an old
// target has two shapes by one id.
func find(id string, e Edition) *shape {
	var found *shape
	for i := range shapes {
		if s := &shapes[i]; s.id == id && (found == nil || s.goesWith(e)) {
			found = s
		}
	}
	return found
}

// Shapes lists the ids of the named shapes.
func Shapes() []string {
	out := make([]string, 0, len(shapes))
	for i := range shapes {
		if id := shapes[i].id; find(id, 0) == &shapes[i] {
			out = append(out, id)
		}
	}
	return out
}

// EditionsOf lists the editions that a named shape goes with, oldest first;
// nil for an unknown shape.
func EditionsOf(id string) []Edition {
	s := find(id, 0)
	if s == nil {
		return nil
	}
	var out []Edition
	for _, e := range Editions(s.from.Document()) {
		if find(id, e).goesWith(e) {
			out = append(out, e)
		}
	}
	return out
}

// Named returns a named shape under an edition's rulings. An unknown shape,
// and a pair that never existed, are an [*Error] in field shape or edition.
func Named(id string, e Edition) (Format, error) {
	s, err := shapeIn(id, e)
	if err != nil {
		return Format{}, err
	}
	return s.build(e, RulingsOf(e)), nil
}

// shapeIn returns a shape that goes with an edition.
func shapeIn(id string, e Edition) (*shape, error) {
	s := find(id, e)
	if s == nil {
		return nil, &Error{"shape", "unknown id " + Quote(id)}
	}
	if err := e.validate(); err != nil {
		return nil, err
	}
	if !s.goesWith(e) {
		return nil, &Error{"edition", "shape " + id + " does not exist in edition " + e.String()}
	}
	return s, nil
}

func (f *family) goesWith(e Edition) bool { return period{f.from, f.to}.holds(e) }

func (s *shape) build(e Edition, r Rulings) Format {
	g := Game{Sides: s.sides, Scorer: s.scorer, Servers: s.servers, FirstTurn: 1, Order: s.order,
		Target: s.target, WinBy: s.winBy, Cap: s.cap, Freeze: s.freeze, TimeOuts: r.timeOuts(s.target)}
	if s.onServe.In(e) {
		g.Freeze = WinOnServe
	}
	last := g
	last.Target, last.ChangeEndsAt, last.TimeOuts = s.lastTarget, Midpoint(s.lastTarget), r.timeOuts(s.lastTarget)
	m := Series{Games: s.games, NextServe: s.next, ChangeEnds: s.games > 1}
	if o := s.other; o != nil {
		o.change(&g, &last, &m)
	}
	if s.games == 1 {
		g = last
	}
	return Format{Shape: s.id, Edition: e, Game: g, Last: last, Rulings: r, Match: m}
}

// change makes of a format what it is in a sport.
func (o *sport) change(g, last *Game, m *Series) {
	for _, game := range []*Game{g, last} {
		game.Serves, game.FirstTurn = o.serves, max(o.firstTurn, 1)
	}
	last.ChangeEndsAt = 0
	if o.half {
		last.ChangeEndsAt = last.Target / 2
	}
	g.ChangeEndsEvery, last.ChangeEndsEvery = o.every, o.every
	if m.Games > 1 && last.Target == o.lastTarget {
		last.ChangeEndsEvery = o.lastEvery
	}
	m.ChangeEnds = m.ChangeEnds && !o.keepEnds
}

func (r *Rulings) timeOuts(target uint8) uint8 { return uint8(r[TimeOutSwitch(target)]) }

// TimeOutSwitch names the row of the time-out table that a game to target
// goes by; for targets outside the table what the decisions of this library
// derive: three time-outs from 21 up, else two.
func TimeOutSwitch(target uint8) Switch {
	switch {
	case target == 7:
		return timeOuts7
	case target == 15:
		return timeOuts15
	case target >= 21:
		return timeOuts21
	}
	return timeOuts11
}

// Parse reads a format id: SHAPE, SHAPE@EDITION, or either followed by what an
// event has of its own, each +NAME=VALUE: a reading of a [Switch], or a field of
// the game and match, such as +target=13+win-by=1+cap=15 or +games=3. A field of
// a game is that of all games; with last- before its name, of the last one. A
// target brings its mid-game change of ends and its time-outs, if they are not
// set too. Without an edition the [Default] one holds if the shape exists in it,
// else the newest that it exists in. Any error is an [*Error], or several joined.
func Parse(id string) (Format, error) {
	id, rest, more := Cut(id, '+')
	name, edition, named := Cut(id, '@')
	e := Default
	if named {
		if err := e.UnmarshalText([]byte(edition)); err != nil {
			return Format{}, err
		}
	} else if all := EditionsOf(name); len(all) > 0 && !find(name, e).goesWith(e) {
		e = all[len(all)-1]
	}
	s, err := shapeIn(name, e)
	if err != nil {
		return Format{}, err
	}
	r := RulingsOf(e)
	var settings []setting
	for more {
		var own string
		own, rest, more = Cut(rest, '+')
		field, value, ok := Cut(own, '=')
		if !ok {
			return Format{}, &Error{field, "want +name=value"}
		}
		set, isField, err := settingNamed(field, value)
		if err != nil {
			return Format{}, err
		}
		if isField {
			for _, other := range settings {
				if other.game == set.game && other.of == set.of && other.last == set.last {
					return Format{}, &Error{field, "set twice"}
				}
			}
			settings = append(settings, set)
			continue
		}
		var of Switch
		if err := of.UnmarshalText([]byte(field)); err != nil {
			return Format{}, &Error{"switch", "no switch and no field is called " + Quote(field)}
		}
		if err := r.SetText(of, value); err != nil {
			return Format{}, err
		}
	}
	f := s.built(e, r, settings)
	if err := f.Validate(); err != nil {
		return Format{}, err
	}
	return f, nil
}

// String returns the id of f; "-@EDITION" for a format that has none.
func (f Format) String() string {
	if id := f.ID(); id != "" {
		return id
	}
	return "-@" + f.Edition.String()
}

// ID returns the text that [Parse] turns back into f, or "" for a format that
// is not valid or has no shape to be told by.
func (f Format) ID() string {
	s := find(f.Shape, f.Edition)
	if s == nil || f.Validate() != nil {
		return ""
	}
	id := append(make([]byte, 0, 64), f.Shape...)
	id = append(append(id, '@'), f.Edition.String()...)
	if !s.is(&f) {
		own := f // what goes through a field's functions is allocated
		id = s.appendSettings(id, &own)
	}
	edition := RulingsOf(f.Edition)
	for s := Switch(1); s < switchCount; s++ {
		if f.Rulings[s] != edition[s] {
			id = append(append(id, '+'), table[s].id...)
			id = append(append(id, '='), f.Rulings.Text(s)...)
		}
	}
	return string(id)
}
