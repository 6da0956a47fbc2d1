package format

import "strings"

// A shape is one row of the registry: what is played, whatever the edition.
type shape struct {
	id          string
	document    Document
	from        Edition // first edition that knows it; 0 for any
	to          Edition
	game        Game // target, margin and ends as in a single or last game
	games       uint8
	next        NextServe
	onServe2025 bool // the winning point must be won on own serve in 2025
}

var registry = buildRegistry()

func buildRegistry() []shape {
	var out []shape
	add := func(id string, s shape, games ...uint8) {
		for _, n := range games {
			s.id, s.games = id, n
			if n > 1 {
				s.id += "-of" + string('0'+rune(n))
			}
			out = append(out, s)
		}
	}
	base := func(sides Sides, scorer Scorer, order Order, target uint8) Game {
		return Game{Sides: sides, Scorer: scorer, Servers: 1, FirstTurn: 1, Order: order,
			Target: target, WinBy: 2, ChangeEndsAt: Midpoint(target)}
	}
	pickle := shape{document: Pickleball, next: OtherSide}

	for _, sides := range []Sides{Singles, Doubles} {
		for _, target := range []uint8{11, 15, 21} {
			s := pickle
			s.game = base(sides, ServingSide, ByParity, target)
			if sides == Doubles {
				s.game.Servers = 2
			}
			add("sideout-"+sides.String()+"-"+digits(target), s, 1, 3, 5)
		}
	}
	for _, sides := range []Sides{Singles, Doubles} {
		for _, target := range []uint8{7, 11, 15, 21} {
			s := pickle
			s.from, s.to, s.onServe2025 = E2025, E2026, true
			s.game = base(sides, EitherSide, ByParity, target)
			add("rally-"+sides.String()+"-"+digits(target), s, 1, 3, 5)
		}
	}
	fixed := pickle
	fixed.game = base(Doubles, EitherSide, FixedCourts, 21)
	for f := NoFreeze; f <= BothAtPoint; f++ {
		id := "fixed-doubles-21"
		if f != NoFreeze {
			id += "-" + f.String()
		}
		fixed.game.Freeze = f
		add(id, fixed, 1)
	}
	fixed.game = base(Doubles, EitherSide, FixedCourts, 25)
	fixed.game.Freeze = WinOnServe
	add("fixed-doubles-25-win-on-serve", fixed, 1)

	swap := pickle
	swap.game = base(Doubles, EitherSide, SwapOnServe, 11)
	add("swap-doubles-11", swap, 1)

	half := pickle
	half.game = base(Singles, ServingSide, HalfCourt, 11)
	add("half-court-singles-11", half, 1)

	shuttle := shape{document: Badminton, from: Badminton2006, to: Badminton2006, next: Winner}
	for _, sides := range []Sides{Singles, Doubles} {
		order := ByParity
		if sides == Doubles {
			order = SwapOnServe
		}
		shuttle.game = base(sides, EitherSide, order, 21)
		shuttle.game.Cap = 30
		add("badminton-"+sides.String()+"-21", shuttle, 3)
	}
	// Laws before 2006: 15 by one, setting left out; the mid-game change at 8
	// is from memory.
	old := shape{document: Badminton, from: BadmintonTo2005, to: BadmintonTo2005, next: Winner}
	old.game = base(Doubles, ServingSide, ByParity, 15)
	old.game.Servers, old.game.WinBy = 2, 1
	add("badminton-doubles-15", old, 3)
	return out
}

func digits(n uint8) string {
	if n < 10 {
		return string('0' + rune(n))
	}
	return string('0'+rune(n/10)) + string('0'+rune(n%10))
}

// Shapes lists the ids of the named shapes.
func Shapes() []string {
	out := make([]string, len(registry))
	for i, s := range registry {
		out[i] = s.id
	}
	return out
}

// EditionsOf lists the editions that a named shape goes with, oldest first;
// nil for an unknown shape. The official rally option exists from 2025; club
// shapes go with any edition, which then supplies the rulings.
func EditionsOf(id string) []Edition {
	for i := range registry {
		if registry[i].id != id {
			continue
		}
		var out []Edition
		for _, e := range Editions(registry[i].document) {
			if registry[i].goesWith(e) {
				out = append(out, e)
			}
		}
		return out
	}
	return nil
}

func (s *shape) goesWith(e Edition) bool {
	return e.Document() == s.document && (s.from == 0 || e >= s.from && e <= s.to)
}

// Named returns a named shape under an edition's rulings. An unknown shape,
// and a pair that never existed, are an [*Error] in field shape or edition.
func Named(id string, e Edition) (Format, error) {
	for i := range registry {
		s := &registry[i]
		if s.id != id {
			continue
		}
		if err := e.validate(); err != nil {
			return Format{}, err
		}
		if !s.goesWith(e) {
			return Format{}, &Error{"edition", "shape " + id + " does not exist in edition " + e.String()}
		}
		return s.build(e, RulingsOf(e)), nil
	}
	return Format{}, &Error{"shape", "unknown id " + quote(id)}
}

func (s *shape) build(e Edition, r Rulings) Format {
	game := s.game
	game.TimeOuts = r.timeOuts(game.Target)
	if s.onServe2025 && e == E2025 {
		game.Freeze = WinOnServe
	}
	last := game
	if s.games > 1 {
		game.ChangeEndsAt = 0
	}
	return Format{Shape: s.id, Edition: e, Game: game, Last: last, Rulings: r,
		Match: Match{Games: s.games, NextServe: s.next, ChangeEnds: s.games > 1}}
}

// TimeOutsFor is the number of standard time-outs a side has in a game to
// target under an edition: its table, and for targets outside the table what
// the decisions of this library derive: three from 21 up, else two.
func TimeOutsFor(e Edition, target uint8) uint8 {
	r := RulingsOf(e)
	return r.timeOuts(target)
}

func (r *Rulings) timeOuts(target uint8) uint8 {
	s := TimeOuts11
	switch {
	case target == 7:
		s = TimeOuts7
	case target == 15:
		s = TimeOuts15
	case target >= 21:
		s = TimeOuts21
	}
	return uint8(r[s])
}

// Parse reads a format id: SHAPE, SHAPE@EDITION, or either followed by
// readings, each +SWITCH=VALUE. Without an edition the [Default] one holds if
// the shape exists in it, else the newest that it exists in.
func Parse(id string) (Format, error) {
	id, readings, more := strings.Cut(id, "+")
	name, edition, named := strings.Cut(id, "@")
	e := Default
	if named {
		if err := e.UnmarshalText([]byte(edition)); err != nil {
			return Format{}, err
		}
	} else if all := EditionsOf(name); len(all) > 0 {
		e = all[len(all)-1]
	}
	f, err := Named(name, e)
	for err == nil && more {
		var reading string
		reading, readings, more = strings.Cut(readings, "+")
		field, value, ok := strings.Cut(reading, "=")
		var s Switch
		if err = s.UnmarshalText([]byte(field)); err != nil {
			break
		}
		if !ok {
			err = &Error{field, "a reading is +switch=value"}
			break
		}
		err = f.Rulings.SetText(s, value)
	}
	if err != nil {
		return Format{}, err
	}
	return f.rebuilt(), nil
}

// rebuilt returns the named shape of f under the rulings of f, which say how
// many time-outs a game has; f itself if it has no name.
func (f Format) rebuilt() Format {
	for i := range registry {
		if registry[i].id == f.Shape && registry[i].goesWith(f.Edition) {
			return registry[i].build(f.Edition, f.Rulings)
		}
	}
	return f
}

// ID returns the text that [Parse] turns back into f, or "" for a format that
// no id describes.
func (f Format) ID() string {
	named, err := Named(f.Shape, f.Edition)
	if err != nil || f.Validate() != nil {
		return ""
	}
	id := f.Shape + "@" + f.Edition.String()
	for s := Switch(1); s < switchCount; s++ {
		if f.Rulings[s] != named.Rulings[s] {
			id += "+" + s.String() + "=" + f.Rulings.Text(s)
		}
	}
	return id
}
