package pack

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/serviceorder"
)

// bitNames are the bits of a question.
var bitNames = []string{"partner", "second", "own", "other", "own score odd", "other score odd", "not first", "one"}

// questions are the bits that were set when a list of masks of an order was asked.
type questions map[string]map[string]int

func (q questions) ask(order, of string, x int) {
	if q[order] == nil {
		q[order] = map[string]int{}
	}
	q[order][of] |= x
}

// A mask of an order that has one bit too many or too few answers otherwise to
// every question with that bit. Every such question that a named format can come
// to is asked by a case that says the line after it.
func TestEveryBitOfAnOrderIsAskedByACase(t *testing.T) {
	if testing.Short() {
		t.Skip("plays every case")
	}
	can, did, orders := questions{}, questions{}, map[string]Order{}
	for _, of := range []map[string]Order{published(t).Core.Orders, published(t).Sports.Orders, published(t).Rulings.Orders} {
		maps.Copy(orders, of)
	}
	for key := range orders {
		f := playedBy(t, key)
		named, short, penalties := gamesOf(t, &f.Game)
		if !named {
			continue // of formats of one's own only
		}
		var all samples
		all.take(f)
		for of, list := range map[string][]sample{"start": all.start, "kept": all.kept, "first": all.first, "out": all.out, "foul": all.foul, "places": all.places} {
			for _, s := range list {
				// Where a sport has no penalties here, no score moves by them, nor opens by them.
				none := !penalties && (of == "foul" || of == "start" && s.asked&(ownOdd|otherOdd) != 0)
				if !none && (of != "start" || short || s.asked&second == 0) {
					can.ask(key, of, s.asked)
				}
			}
		}
	}
	everyRun(t, func(c *conformance.Case, id string) {
		follow(t, c, id, did.between)
	})
	cells := 0
	for key, of := range can {
		for name, bits := range of {
			for i, bit := range bitNames {
				if bits>>i&1 == 0 {
					continue
				}
				if cells++; did[key][name]>>i&1 == 0 {
					t.Errorf("order %s: no case asks %s with %s", key, name, bit)
				}
			}
		}
	}
	t.Logf("%d bits of questions", cells)
}

// everyRun visits the hand-written cases in their formats, as written and derived.
func everyRun(t *testing.T, visit func(c *conformance.Case, id string)) {
	files, err := conformance.Load()
	require.NoError(t, err)
	for i := range files {
		for j := range files[i].Cases {
			c := &files[i].Cases[j]
			if c.Generated {
				continue
			}
			for _, entry := range c.Formats {
				ids, err := conformance.Expand(entry)
				require.NoError(t, err)
				for _, id := range ids {
					f, err := format.Parse(id)
					require.NoError(t, err)
					visit(c, id)
					for _, d := range conformance.Derivations() {
						if derived := c.Derive(d, &f); derived != nil {
							visit(derived, id)
						}
					}
				}
			}
		}
	}
}

// follow plays a case and shows each event after which the case says the line.
func follow(t *testing.T, c *conformance.Case, id string, show func(r *rally.Rules, was, is rally.State, event string, effects []string)) {
	engine := new(conformance.Builtin)
	start := conformance.Start{From: c.From}
	if c.Start != nil {
		start = conformance.Start{First: c.Start.First, Servers: c.Start.Servers}
	}
	_, err := engine.Begin(id, start)
	require.NoError(t, err)
	if rules, is := engine.State(); start.Servers != "" {
		show(rules, rally.State{}, is, "", []string{"game-started"})
	}
	for i := range c.Steps {
		events := strings.Fields(c.Steps[i].Do)
		if entry := c.Steps[i].Entry; entry != "" {
			events = []string{entry}
		}
		for k, text := range events {
			rules, was := engine.State()
			a := engine.Do(text)
			if now, is := engine.State(); c.Steps[i].Line != "" && k == len(events)-1 && now == rules { // else nothing is said of it, or other rules brought it about
				show(rules, was, is, text, a.Effects)
			}
		}
	}
}

// between notes what is asked from one state to the next.
func (q questions) between(r *rally.Rules, was, is rally.State, _ string, effects []string) {
	if is.Phase() != rally.Playing {
		return
	}
	f := r.Format()
	g := f.Game
	if is.Game() == int(f.Match.Games) {
		g = f.Last
	}
	o := observed{serviceorder.New(g, f.Rulings), g.Sides == format.Doubles, g.Order.Counted()}
	key := fmt.Sprintf("%d,%d,%d", g.Order, g.Sides, g.Servers)
	for _, reading := range []format.Clause{clause.FixedCourtFoulSame, clause.SwapFoulStays} {
		if f.Rulings.Takes(reading) {
			key += "," + reading.String()
		}
	}
	a, b := uint8(is.Score(rally.A)), uint8(is.Score(rally.B))
	after := o.question(is.Order(), a, b)
	q.ask(key, "places", after)
	did := func(effect string) bool { return slices.Contains(effects, effect) }
	switch {
	case did("game-started") && !did("point") && !did("side-out") && !did("second-server"):
		short := 0
		if max(g.Servers, g.Serves) > g.FirstTurn {
			short = second
		}
		q.ask(key, "start", after&^moves|short)
		return
	case was.Phase() != rally.Playing || was.Game() != is.Game() || did("stands") && did("warning") || did("exchanged"):
		return
	}
	x := after&^moves | o.bits(was.Order(), uint8(was.Score(rally.A)), uint8(was.Score(rally.B)))
	switch side := was.Order().Side(); {
	case did("penalty-point"):
		x = x &^ notFirst
		if was.Score(side) != is.Score(side) {
			x |= notFirst
		}
		q.ask(key, "foul", x)
	case is.Order().Side() != side:
		q.ask(key, "out", x)
	case did("second-server"):
		q.ask(key, "first", x)
	case did("point"):
		q.ask(key, "kept", x)
	}
}

// gamesOf says whether a named shape is played in the order of a game, whether the
// first turn of one is a short one, and whether penalties move the score of one.
func gamesOf(t *testing.T, of *format.Game) (named, short, penalties bool) {
	for _, shape := range format.Shapes() {
		for _, e := range format.EditionsOf(shape) {
			f, err := format.Named(shape, e)
			require.NoError(t, err)
			for _, g := range []format.Game{f.Game, f.Last} {
				if g.Order == of.Order && g.Sides == of.Sides && g.Servers == of.Servers {
					named = true
					short = short || g.FirstTurn < max(g.Servers, g.Serves)
					penalties = penalties || e.Document() == format.Pickleball
				}
			}
		}
	}
	return named, short, penalties
}

// Each cell of the ladder that the counts of a side can come to is read by a case
// that says what comes of it.
func TestEveryRungIsAskedByACase(t *testing.T) {
	if testing.Short() {
		t.Skip("plays every case")
	}
	asked := map[int]bool{}
	everyRun(t, func(c *conformance.Case, id string) {
		follow(t, c, id, func(r *rally.Rules, was, _ rally.State, event string, _ []string) {
			e, err := rally.ParseEvent(event)
			p := was.Phase()
			if err != nil || e.Kind() != rally.TechnicalWarning && e.Kind() != rally.TechnicalFoul || p == rally.Over || p == rally.Closed {
				return
			}
			f := r.Format()
			asked[cell(f.Rulings, e.Kind() == rally.TechnicalFoul, was.TechnicalWarnings(e.Side()), was.TechnicalFouls(e.Side()), was.GameForfeits(e.Side()))] = true
		})
	})
	for _, id := range []string{"", "+made-foul-counts=no", "+two-fouls=game-forfeit", "+made-foul-counts=no+two-fouls=game-forfeit"} {
		f, err := format.Parse("sideout-doubles-11-of3@2026" + id)
		require.NoError(t, err)
		for n := range 24 {
			foul, tw, tf, gf := n >= 12, n/4%3, n/2%2, n%2
			if !asked[cell(f.Rulings, foul, tw, tf, gf)] {
				t.Errorf("%s: no case gives a foul: %v, to a side with %d warnings, %d fouls, %d games forfeited", f.ID(), foul, tw, tf, gf)
			}
		}
	}
}

// cell is the place in the ladder, as README.md says.
func cell(r format.Rulings, foul bool, warnings, fouls, games int) int {
	at := func(cond bool, n int) int {
		if cond {
			return n
		}
		return 0
	}
	return (at(r.Takes(clause.MadeFoulCounts), 4)+at(r.Takes(clause.TwoFoulsGame), 2)+at(foul, 1))*12 + min(warnings, 2)*4 + min(fouls, 1)*2 + min(games, 1)
}
