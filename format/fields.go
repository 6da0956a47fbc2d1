package format

// A field is one value of a game or of a match, by the name that it has in an
// id. All of them are small numbers, most with names.
type field[T any] struct {
	name  string
	names []string // of its values; nil for a number
	get   func(*T) uint8
	set   func(*T, uint8)
}

var noYes = []string{"no", "yes"}

// Target and games come first in their lists: the rest of a shape follows from
// them where nothing else is said.
var gameFields = []field[Game]{
	{"target", nil, func(g *Game) uint8 { return g.Target }, func(g *Game, v uint8) { g.Target = v }},
	{"sides", sidesNames, func(g *Game) uint8 { return uint8(g.Sides) }, func(g *Game, v uint8) { g.Sides = Sides(v) }},
	{"scorer", scorerNames, func(g *Game) uint8 { return uint8(g.Scorer) }, func(g *Game, v uint8) { g.Scorer = Scorer(v) }},
	{"order", orderNames, func(g *Game) uint8 { return uint8(g.Order) }, func(g *Game, v uint8) { g.Order = Order(v) }},
	{"servers", nil, func(g *Game) uint8 { return g.Servers }, func(g *Game, v uint8) { g.Servers = v }},
	{"first-turn", nil, func(g *Game) uint8 { return g.FirstTurn }, func(g *Game, v uint8) { g.FirstTurn = v }},
	{"win-by", nil, func(g *Game) uint8 { return g.WinBy }, func(g *Game, v uint8) { g.WinBy = v }},
	{"cap", nil, func(g *Game) uint8 { return g.Cap }, func(g *Game, v uint8) { g.Cap = v }},
	{"freeze", freezeNames, func(g *Game) uint8 { return uint8(g.Freeze) }, func(g *Game, v uint8) { g.Freeze = Freeze(v) }},
	{"change-ends-at", nil, func(g *Game) uint8 { return g.ChangeEndsAt }, func(g *Game, v uint8) { g.ChangeEndsAt = v }},
	{"time-outs", nil, func(g *Game) uint8 { return g.TimeOuts }, func(g *Game, v uint8) { g.TimeOuts = v }},
	{"serves", nil, func(g *Game) uint8 { return g.Serves }, func(g *Game, v uint8) { g.Serves = v }},
	{"change-ends-every", nil, func(g *Game) uint8 { return g.ChangeEndsEvery }, func(g *Game, v uint8) { g.ChangeEndsEvery = v }},
}

// fieldsOfOld are the fields of a game that every digest holds. Those that came
// later it holds only where they are not zero, so that it stays what it was.
const fieldsOfOld = 11

var matchFields = []field[Series]{
	{"games", nil, func(m *Series) uint8 { return m.Games }, func(m *Series, v uint8) { m.Games = v }},
	{"play-all", noYes, func(m *Series) uint8 { return number01(m.PlayAll) }, func(m *Series, v uint8) { m.PlayAll = v == 1 }},
	{"next-serve", nextServeNames, func(m *Series) uint8 { return uint8(m.NextServe) }, func(m *Series, v uint8) { m.NextServe = NextServe(v) }},
	{"change-ends", noYes, func(m *Series) uint8 { return number01(m.ChangeEnds) }, func(m *Series, v uint8) { m.ChangeEnds = v == 1 }},
}

func number01(b bool) uint8 {
	if b {
		return 1
	}
	return 0
}

func (f *field[T]) parse(text string) (v uint8, reason string) {
	if f.names == nil {
		n, ok := Natural(text, 255)
		if !ok {
			return 0, "want a number up to 255, not " + Quote(text)
		}
		return uint8(n), ""
	}
	for i, name := range f.names {
		if name != "" && name == text {
			return uint8(i), ""
		}
	}
	return 0, "unknown value " + Quote(text) + ", want " + list(f.names)
}

func (f *field[T]) append(b []byte, prefix string, v uint8) []byte {
	b = append(append(append(append(b, '+'), prefix...), f.name...), '=')
	return append(b, f.text(v)...)
}

// A setting is a field of a game or a match that an id sets.
type setting struct {
	last bool // of the last game alone
	game *field[Game]
	of   *field[Series]
	v    uint8
}

// settingNamed reads NAME=VALUE; ok is false if no field has that name.
func settingNamed(name, value string) (s setting, ok bool, err error) {
	plain, reason := name, ""
	if len(name) > 5 && name[:5] == "last-" {
		plain, s.last = name[5:], true
	}
	for i := range gameFields {
		if f := &gameFields[i]; f.name == plain {
			s.game = f
			s.v, reason = f.parse(value)
		}
	}
	for i := range matchFields {
		if f := &matchFields[i]; f.name == name {
			s.of = f
			s.v, reason = f.parse(value)
		}
	}
	if reason != "" {
		err = &Error{name, reason}
	}
	return s, s.game != nil || s.of != nil, err
}

// built returns a shape with settings: first targets and number of games, from
// which mid-game change of ends and time-outs follow, then the rest for all
// games, then what the last game has of its own.
func (s *shape) built(e Edition, r Rulings, settings []setting) Format {
	base := *s
	for _, x := range settings {
		switch {
		case x.of == &matchFields[0]:
			base.games = x.v
		case x.game == &gameFields[0] && !x.last:
			base.target = x.v
		}
	}
	base.lastTarget = base.lastOf(s)
	for _, x := range settings {
		if x.game == &gameFields[0] && x.last {
			base.lastTarget = x.v
		}
	}
	f := base.build(e, r)
	if len(settings) == 0 {
		return f
	}
	for _, last := range []bool{false, true} {
		for _, x := range settings {
			switch {
			case x.of != nil:
				x.of.set(&f.Match, x.v)
			case x.last != last || x.game == &gameFields[0]:
			case last && base.games > 1:
				x.game.set(&f.Last, x.v)
			default:
				x.game.set(&f.Game, x.v)
				x.game.set(&f.Last, x.v)
			}
		}
	}
	f.Shape = f.nearest(s)
	return f
}

// lastOf is the target of the last game where that of the others is b's: it is
// that of the shape only if they are.
func (b *shape) lastOf(s *shape) uint8 {
	if b.target == s.target && b.games == s.games {
		return s.lastTarget
	}
	return b.target
}

// nearest returns the id of the named shape that f is, or that of s.
func (f *Format) nearest(s *shape) string {
	for i := range shapes {
		if shapes[i].goesWith(f.Edition) && shapes[i].is(f) {
			return shapes[i].id
		}
	}
	return s.id
}

// is reports whether f is s under its edition and rulings, with nothing of its
// own.
func (s *shape) is(f *Format) bool {
	plain := s.build(f.Edition, f.Rulings)
	return plain.Game == f.Game && plain.Last == f.Last && plain.Match == f.Match
}

// appendSettings writes what f has otherwise than its shape, in the order of
// the fields, so that [Parse] builds it again.
func (s *shape) appendSettings(b []byte, f *Format) []byte {
	base := *s
	base.target, base.lastTarget, base.games = f.Game.Target, f.Last.Target, f.Match.Games
	plain := base.build(f.Edition, f.Rulings)
	if f.Game.Target != s.target {
		b = gameFields[0].append(b, "", f.Game.Target)
	}
	if f.Last.Target != base.lastOf(s) {
		b = gameFields[0].append(b, "last-", f.Last.Target)
	}
	for i := 1; i < len(gameFields); i++ {
		x := &gameFields[i]
		if own := x.get(&f.Game); own != x.get(&plain.Game) {
			b = x.append(b, "", own)
			x.set(&plain.Last, own)
		}
		if last := x.get(&f.Last); last != x.get(&plain.Last) {
			b = x.append(b, "last-", last)
		}
	}
	plain.Match.Games = s.games
	for i := range matchFields {
		if x := &matchFields[i]; x.get(&f.Match) != x.get(&plain.Match) {
			b = x.append(b, "", x.get(&f.Match))
		}
	}
	return b
}

// Custom returns a format of one's own under the rulings of an edition. What
// is zero in the game and follows from the rest is filled in: one server, or
// one serve, in the first turn (all serves where turns are counted to the last), the edition's time-outs for the target, and in the last game, or a
// single one, the mid-game change of ends. It has an id as every format has,
// after the named shape that is nearest; [Format.Validate] says what is wrong
// with it.
func Custom(e Edition, g Game, m Series) Format {
	r := RulingsOf(e)
	switch {
	case g.FirstTurn == 0 && g.Order == CountedTurns:
		g.FirstTurn = g.Serves
	case g.FirstTurn == 0:
		g.FirstTurn = 1
	}
	if g.TimeOuts == 0 {
		g.TimeOuts = r.timeOuts(g.Target)
	}
	f := Format{Edition: e, Game: g, Last: g, Match: m, Rulings: r}
	if f.Last.ChangeEndsAt == 0 && g.ChangeEndsEvery == 0 {
		f.Last.ChangeEndsAt = Midpoint(g.Target)
	}
	if m.Games == 1 {
		f.Game = f.Last
	}
	var base *shape
	alike := 0
	for i := range shapes {
		s := &shapes[i]
		if !s.goesWith(e) || s.sides != g.Sides {
			continue
		}
		n := 1
		if s.order == g.Order {
			n++
		}
		if s.scorer == g.Scorer {
			n++
		}
		if n > alike {
			base, alike = s, n
		}
	}
	if base != nil {
		f.Shape = f.nearest(base)
	}
	return f
}
