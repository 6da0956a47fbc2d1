package audit_test

import (
	"fmt"
	"hash/fnv"
	"math/rand"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/serviceorder"
)

// A corruption puts one known error into a log. It returns the row where the
// error shows first (from 1) and the code that names it, or false where the
// format has no such error. source says which list the class is from: O is the
// trade's list of scorers' errors, D the list of errors in imported records.
type corruption struct {
	name   string
	source string
	c      columns
	codes  []audit.FindingCode // any of them names the error
	make   func(r *rally.Rules, rng *rand.Rand, c columns, most int) (w *world, row int, ok bool)
}

// edit makes a corruption that changes rows of a finished log. want says which
// rows can be changed.
func edit(want func(w *world, i int) bool, change func(w *world, i int) int) func(*rally.Rules, *rand.Rand, columns, int) (*world, int, bool) {
	return func(r *rally.Rules, rng *rand.Rand, c columns, most int) (w *world, row int, ok bool) {
		w = play(r, rng, c, most, nil)
		var at []int
		for i := range w.Rows {
			// A few rows before the end of a log that is still open, so that
			// something can contradict the error.
			if want(w, i) && (most == 0 || i < len(w.Rows)-4) {
				at = append(at, i)
			}
		}
		if len(at) == 0 {
			return w, 0, false
		}
		row = change(w, at[rng.Intn(len(at))])
		w.known = !slices.ContainsFunc(w.Rows, func(r audit.Row) bool { k := r.Event.Kind(); return k != rally.RallyWon && k != rally.NoKind })
		return w, row, true
	}
}

// meddle makes a corruption of what really happened: the first state from a
// random rally on that want picks is changed.
func meddle(change func(r *rally.Rules, s rally.State, before *rally.State) (rally.State, bool)) func(*rally.Rules, *rand.Rand, columns, int) (*world, int, bool) {
	return func(r *rally.Rules, rng *rand.Rand, c columns, most int) (*world, int, bool) {
		from, row := rng.Intn(20), 0
		var last *rally.State
		w := play(r, rng, c, most, func(i int, s rally.State) rally.State {
			if row == 0 && i >= from && (most == 0 || i < most-4) {
				if next, ok := change(r, s, last); ok {
					row = i + 1
					s = next
				}
			}
			last = &s
			return s
		})
		return w, row, row != 0
	}
}

func anyRow(*world, int) bool { return true }

func inGame(w *world, i int) bool {
	return w.Rows[i].Score != nil && w.before[i].Phase() == rally.Playing
}

// sameGame reports whether rows i to k are of one game.
func sameGame(w *world, i, k int) bool {
	return i >= 0 && k < len(w.Rows) && w.Rows[i].Game == w.Rows[k].Game
}

func flip(e rally.Event) rally.Event { return rally.RallyTo(e.Side().Other()) }

// order changes bits of the order of service.
func order(r *rally.Rules, s rally.State, bits serviceorder.Turn) (rally.State, bool) {
	return r.WithOrder(s, s.Order()^bits)
}

const (
	partner  = serviceorder.Turn(2)
	second   = serviceorder.Turn(4)
	starterA = serviceorder.Turn(64)
	starterB = serviceorder.Turn(128)
)

func remove(w *world, i, n int) { w.Rows = slices.Delete(w.Rows, i, i+n) }

var corruptions = []corruption{
	{"winner contradicts score and servers", "D", everyColumn, []audit.FindingCode{"log-winner-wrong"}, edit(anyRow, func(w *world, i int) int {
		w.Rows[i].Event = flip(w.Rows[i].Event)
		return i + 1
	})},
	{"winner blank", "D", everyColumn, []audit.FindingCode{"log-winner-inferred"}, edit(anyRow, func(w *world, i int) int {
		w.Rows[i].Event = 0
		return i + 1
	})},
	{"one wrong server that heals itself", "D", everyColumn, []audit.FindingCode{"log-server-wrong"}, edit(doubles, func(w *world, i int) int {
		p, _ := w.Rows[i].Server.Person()
		w.Rows[i].Server = audit.KnownPerson(p.Partner())
		return i + 1
	})},
	{"one wrong receiver", "O", everyColumn, []audit.FindingCode{"log-receiver-wrong"}, edit(doubles, func(w *world, i int) int {
		p, _ := w.Rows[i].Receiver.Person()
		w.Rows[i].Receiver = audit.KnownPerson(p.Partner())
		return i + 1
	})},
	{"score called from the receivers' side", "O", everyColumn, []audit.FindingCode{"log-call-reversed"}, edit(func(w *world, i int) bool {
		return w.Rows[i].Call.Serving != w.Rows[i].Call.Receiving
	}, func(w *world, i int) int {
		c := *w.Rows[i].Call
		c.Serving, c.Receiving = c.Receiving, c.Serving
		w.Rows[i].Call = &c
		return i + 1
	})},
	{"server number taken for a person: wrong number called", "O", everyColumn, []audit.FindingCode{"log-call-wrong"}, edit(func(w *world, i int) bool {
		return w.Rows[i].Call.Number != 0
	}, func(w *world, i int) int {
		c := *w.Rows[i].Call
		c.Number = 3 - c.Number
		w.Rows[i].Call = &c
		return i + 1
	})},
	{"score of one row mistyped", "O", everyColumn, []audit.FindingCode{"log-score-wrong"}, edit(anyRow, func(w *world, i int) int {
		s := *w.Rows[i].Score
		s[w.rng.Intn(2)] += 3
		w.Rows[i].Score = &s
		return i + 1
	})},
	{"point marked on the wrong side's line", "O", everyColumn, []audit.FindingCode{"log-score-shifted"}, edit(func(w *world, i int) bool {
		return inGame(w, i) && sameGame(w, i, i+3) && w.Rows[i].Score[0] > 0 && *w.Rows[i].Score != (audit.Score{w.before[i].Score(rally.A), w.before[i].Score(rally.B)})
	}, func(w *world, i int) int {
		a, b := 1, -1
		if w.Rows[i].Score[0] > w.before[i].Score(rally.A) {
			a, b = -1, 1
		}
		shiftFrom(w, i, a, b)
		return i + 1
	})},
	{"a point marked that nobody scored", "O", everyColumn, []audit.FindingCode{"log-score-shifted"}, edit(func(w *world, i int) bool {
		return inGame(w, i) && sameGame(w, i, i+3) && *w.Rows[i].Score == (audit.Score{w.before[i].Score(rally.A), w.before[i].Score(rally.B)})
	}, func(w *world, i int) int {
		shiftFrom(w, i, 1, 0)
		return i + 1
	})},
	{"game number of one row wrong", "D", everyColumn, []audit.FindingCode{"log-game-number"}, edit(func(w *world, i int) bool {
		return sameGame(w, i-1, i+1)
	}, func(w *world, i int) int {
		w.Rows[i].Game += 2
		return i + 1
	})},
	{"opening turn given two servers", "O", everyColumn, []audit.FindingCode{"log-order-slipped"}, meddle(func(r *rally.Rules, s rally.State, before *rally.State) (rally.State, bool) {
		f := r.Format().Game
		if f.Servers != 2 || f.FirstTurn != 1 || before != nil && before.Game() == s.Game() {
			return s, false
		}
		return order(r, s, second)
	})},
	{"second server left out, wrong servers ever after", "D, O", everyColumn, []audit.FindingCode{"log-rally-missing"}, meddle(func(r *rally.Rules, s rally.State, _ *rally.State) (rally.State, bool) {
		if p := r.Places(s); p.Number != 2 || s.Order().Side() == s.Order().First() && s.Score(rally.A)+s.Score(rally.B) == 0 {
			return s, false
		}
		side, _ := s.Serving()
		next, did, _ := r.Apply(s, rally.RallyTo(side.Other()))
		return next, did.Has(rally.SideOut) && !did.Has(rally.Point)
	})},
	{"third server given", "O", everyColumn, []audit.FindingCode{"log-row-extra"}, meddle(func(r *rally.Rules, s rally.State, before *rally.State) (rally.State, bool) {
		if before == nil || r.Format().Game.Servers != 2 || r.Places(*before).Number != 2 || r.Places(s).Number != 1 || before.Game() != s.Game() {
			return s, false
		}
		return *before, true
	})},
	{"first server after side-out by habit", "O", everyColumn, []audit.FindingCode{"log-order-slipped"}, meddle(func(r *rally.Rules, s rally.State, before *rally.State) (rally.State, bool) {
		if before == nil || r.Format().Game.Sides != format.Doubles || r.Format().Game.Order != format.ByParity || before.Order().Side() == s.Order().Side() {
			return s, false
		}
		return order(r, s, partner)
	})},
	{"receivers stand exchanged from here on", "O", everyColumn, []audit.FindingCode{"log-order-slipped"}, meddle(func(r *rally.Rules, s rally.State, _ *rally.State) (rally.State, bool) {
		if r.Format().Game.Sides != format.Doubles {
			return s, false
		}
		if s.Order().Side() == rally.A {
			return order(r, s, starterB)
		}
		return order(r, s, starterA)
	})},
	{"servers stand exchanged after a break", "O", everyColumn, []audit.FindingCode{"log-order-slipped"}, meddle(func(r *rally.Rules, s rally.State, _ *rally.State) (rally.State, bool) {
		if r.Format().Game.Sides != format.Doubles {
			return s, false
		}
		if s.Order().Side() == rally.B {
			return order(r, s, starterB)
		}
		return order(r, s, starterA)
	})},
	{"technical foul not recorded", "O", everyColumn, []audit.FindingCode{"log-foul-missing"}, meddle(func(r *rally.Rules, s rally.State, _ *rally.State) (rally.State, bool) {
		next, did, refusal := r.Apply(s, rally.OfSide(rally.TechnicalFoul, rally.A))
		return next, refusal == rally.NotRefused && did.Has(rally.PenaltyPoint) && next.Phase() == rally.Playing
	})},
	{"technical foul recorded, places not moved", "O", everyColumn, []audit.FindingCode{"log-order-slipped"}, foulWithoutPlaces},
	{"rows out of order, numbered", "D", numbered, []audit.FindingCode{"log-out-of-order"}, edit(func(w *world, i int) bool { return i+3 < len(w.Rows) }, func(w *world, i int) int {
		w.Rows[i], w.Rows[i+3] = w.Rows[i+3], w.Rows[i]
		return i + 2
	})},
	{"two rows changed places, not numbered", "D", everyColumn, []audit.FindingCode{"log-out-of-order"}, edit(func(w *world, i int) bool {
		return sameGame(w, i, i+2) && *w.Rows[i].Score != *w.Rows[i+1].Score
	}, func(w *world, i int) int {
		w.Rows[i], w.Rows[i+1] = w.Rows[i+1], w.Rows[i]
		return i + 1
	})},
	{"row delivered twice, numbered", "D", numbered, []audit.FindingCode{"log-duplicate"}, edit(anyRow, func(w *world, i int) int {
		w.Rows = slices.Insert(w.Rows, i+1, w.Rows[i])
		return i + 2
	})},
	{"row delivered twice, not numbered", "D", everyColumn, []audit.FindingCode{"log-duplicate", "log-after-end"}, edit(anyRow, func(w *world, i int) int {
		w.Rows = slices.Insert(w.Rows, i+1, w.Rows[i])
		return i + 2
	})},
	{"undo as a row of its own", "D", everyColumn, []audit.FindingCode{"log-undo"}, edit(anyRow, func(w *world, i int) int {
		wrong := w.Rows[i]
		wrong.Event = flip(wrong.Event)
		w.Rows = slices.Insert(w.Rows, i, wrong, audit.Row{Undo: true, Line: wrong.Line})
		return i + 2
	})},
	{"undo implied by a score that steps back", "D", everyColumn, []audit.FindingCode{"log-undo-implied", "log-row-extra", "log-winner-wrong"}, undoImplied},
	{"tail not delivered", "D", everyColumn, []audit.FindingCode{"log-tail-missing"}, func(r *rally.Rules, rng *rand.Rand, c columns, _ int) (*world, int, bool) {
		w := play(r, rng, c, 0, nil)
		n := 1 + rng.Intn(4)
		remove(w, len(w.Rows)-n, n)
		return w, len(w.Rows) + 1, true
	}},
	{"gap with the score after it", "D", everyColumn, []audit.FindingCode{"log-rally-missing"}, edit(func(w *world, i int) bool { return sameGame(w, i-1, i+3) }, func(w *world, i int) int {
		remove(w, i, 1+w.rng.Intn(3))
		return i + 1
	})},
	{"gap without a score", "D", noScores, []audit.FindingCode{"log-rally-missing"}, edit(func(w *world, i int) bool { return sameGame(w, i-1, i+4) }, func(w *world, i int) int {
		remove(w, i, 1)
		return i + 1
	})},
	{"played after the game was won, counted into the final", "D", everyColumn, []audit.FindingCode{"log-after-end"}, func(r *rally.Rules, rng *rand.Rand, c columns, _ int) (*world, int, bool) {
		w := play(r, rng, c, 0, nil)
		n := len(w.Rows)
		last := w.Rows[n-1]
		final := &w.Finals[len(w.Finals)-1]
		for range 1 + rng.Intn(3) {
			more := last
			s := *last.Score
			side := more.Event.Side()
			s[side]++
			final[side]++
			more.Score, more.Call = &s, nil
			w.Rows = append(w.Rows, more)
			last = more
		}
		return w, n + 1, true
	}},
	{"final of another game attached", "D", everyColumn, []audit.FindingCode{"log-final-differs"}, func(r *rally.Rules, rng *rand.Rand, c columns, _ int) (*world, int, bool) {
		w := play(r, rng, c, 0, nil)
		other := play(r, rng, c, 0, nil)
		g := rng.Intn(len(w.Finals))
		if w.Finals[g] == other.Finals[0] {
			return w, 0, false
		}
		w.Finals[g] = other.Finals[0]
		for i := range w.Rows {
			if w.Rows[i].Game == g+1 {
				return w, 0, true
			}
		}
		return w, 0, true
	}},
	{"two recordings glued together", "D", everyColumn, []audit.FindingCode{"log-row-extra", "log-after-end"}, func(r *rally.Rules, rng *rand.Rand, c columns, most int) (*world, int, bool) {
		w := play(r, rng, c, most, nil)
		other := play(r, rng, c, 6+rng.Intn(6), nil)
		n := len(w.Rows)
		if most != 0 {
			return w, 0, false
		}
		w.Rows = append(w.Rows, other.Rows...)
		return w, n + 1, true
	}},
	{"rows that name another match", "D", everyColumn, []audit.FindingCode{"log-other-match"}, func(r *rally.Rules, rng *rand.Rand, c columns, most int) (*world, int, bool) {
		w := play(r, rng, c, most, nil)
		other := play(r, rng, c, 5, nil)
		for i := range w.Rows {
			w.Rows[i].Match = "m"
		}
		for i := range other.Rows {
			other.Rows[i].Match = "other"
		}
		at := rng.Intn(len(w.Rows))
		w.Rows = slices.Insert(w.Rows, at, other.Rows...)
		return w, 0, true
	}},
	{"too many time-outs", "D, O", everyColumn, []audit.FindingCode{"log-event-refused"}, edit(func(w *world, i int) bool { return w.before[i].Score(rally.A)+w.before[i].Score(rally.B) > 2 }, func(w *world, i int) int {
		n := w.Rules.TimeOutsAllowed(w.before[i])
		var rows []audit.Row
		for range n + 1 {
			rows = append(rows, audit.Row{Event: rally.OfSide(rally.TimeOut, rally.A)}, audit.Row{Event: rally.EventOf(rally.TimeIn)})
		}
		w.Rows = slices.Insert(w.Rows, i, rows[:len(rows)-1]...)
		return i + len(rows) - 1
	})},
	{"end change where none is due", "O", everyColumn, []audit.FindingCode{"log-event-refused"}, edit(func(w *world, i int) bool { return w.before[i].Phase() == rally.Playing && !w.before[i].EndChangeDue() }, func(w *world, i int) int {
		w.Rows = slices.Insert(w.Rows, i, audit.Row{Event: rally.EventOf(rally.EndsChanged)})
		return i + 1
	})},
	{"another starting server than stated", "O", everyColumn, []audit.FindingCode{"log-start-differs", "log-order-slipped"}, func(r *rally.Rules, rng *rand.Rand, c columns, most int) (*world, int, bool) {
		if r.Format().Game.Sides != format.Doubles {
			return nil, 0, false
		}
		w := play(r, rng, c, most, nil)
		first, _ := w.First.Side()
		w.Starters[first] = w.Starters[first].Partner()
		return w, 1, true
	}},
	{"format label of the other scoring", "D, O", everyColumn, []audit.FindingCode{"log-other-scoring"}, func(r *rally.Rules, rng *rand.Rand, c columns, most int) (*world, int, bool) {
		id := r.Format().Shape
		label := ""
		if rest, ok := strings.CutPrefix(id, "sideout-"); ok {
			label = "rally-" + rest
		} else if rest, ok := strings.CutPrefix(id, "rally-"); ok && !strings.Contains(rest, "-7") {
			label = "sideout-" + rest
		}
		f, err := format.Parse(label)
		if err != nil {
			return nil, 0, false
		}
		w := play(r, rng, c, 0, nil)
		w.Rules = rally.MustCompile(f)
		return w, 0, true
	}},
}

func doubles(w *world, i int) bool { return w.Rules.Format().Game.Sides == format.Doubles }

// shiftFrom carries an error of the score on to the end of the game.
func shiftFrom(w *world, i, a, b int) {
	game := w.Rows[i].Game
	for k := i; k < len(w.Rows) && w.Rows[k].Game == game; k++ {
		s := *w.Rows[k].Score
		s[0], s[1] = s[0]+a, s[1]+b
		w.Rows[k].Score = &s
		if k == i {
			continue
		}
		c := *w.Rows[k].Call
		if w.before[k].Order().Side() == rally.A {
			c.Serving, c.Receiving = c.Serving+a, c.Receiving+b
		} else {
			c.Serving, c.Receiving = c.Serving+b, c.Receiving+a
		}
		w.Rows[k].Call = &c
	}
	if game <= len(w.Finals) {
		w.Finals[game-1][0] += a
		w.Finals[game-1][1] += b
	}
}

// undoImplied enters a wrong rally and then, without a word, the right one.
func undoImplied(r *rally.Rules, rng *rand.Rand, c columns, most int) (*world, int, bool) {
	w := play(r, rng, c, most, nil)
	var at []int
	for i := range w.Rows {
		if next, did, _ := r.Apply(w.before[i], flip(w.truth[i])); did.Has(rally.Point) && next.Phase() == rally.Playing &&
			sameGame(w, i, i+2) && (most == 0 || i < len(w.Rows)-4) {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		return w, 0, false
	}
	i := at[rng.Intn(len(at))]
	next, _, _ := r.Apply(w.before[i], flip(w.truth[i]))
	w.Rows = slices.Insert(w.Rows, i, rowOf(r, w.before[i], next, w.truth[i].Side().Other(), i+1, c))
	return w, i + 1, true
}

// foulWithoutPlaces records a foul, and the players stay where they stood.
func foulWithoutPlaces(r *rally.Rules, rng *rand.Rand, c columns, most int) (*world, int, bool) {
	if r.Format().Game.Sides != format.Doubles || r.Format().Game.Order != format.ByParity {
		return nil, 0, false
	}
	from, row := rng.Intn(15), 0
	w := play(r, rng, c, most, func(i int, s rally.State) rally.State {
		if row != 0 || i < from || most != 0 && i >= most-4 || s.Score(rally.A)+s.Score(rally.B) < 2 {
			return s
		}
		next, did, refusal := r.Apply(s, rally.OfSide(rally.TechnicalFoul, rally.A))
		if refusal != rally.NotRefused || !did.Has(rally.PenaltyPoint) || next.Phase() != rally.Playing {
			return s
		}
		moved := starterA
		if next.Score(rally.A) == s.Score(rally.A) {
			moved = starterB
		}
		bits := moved
		if moved == starterA == (s.Order().Side() == rally.A) {
			bits |= partner // the server is the same person
		}
		out, ok := order(r, next, bits)
		if !ok {
			return s
		}
		row = i + 1
		return out
	})
	if row == 0 {
		return w, 0, false
	}
	foul := rally.OfSide(rally.TechnicalFoul, rally.A)
	w.Rows = slices.Insert(w.Rows, row-1, audit.Row{Event: foul})
	w.truth = slices.Insert(w.truth, row-1, foul)
	return w, row + 1, true
}

// tally is a line of the table.
type tally struct {
	name, source, columns                            string
	trials, hidden, detected, located, named, unique int
	servers, right                                   int // the server at the end is certain, and is the true one
	known, happened                                  int // what happened is known, and is among the cheapest
	certain, sure, further                           int // what happened is known, and an explanation certain; it is what happened; that takes an error more
	slowest                                          time.Duration
	slow                                             string
}

// add adds up lines.
func (y *tally) add(other *tally) {
	for to, n := range map[*int]int{&y.trials: other.trials, &y.hidden: other.hidden, &y.detected: other.detected, &y.located: other.located, &y.named: other.named, &y.unique: other.unique,
		&y.servers: other.servers, &y.right: other.right, &y.known: other.known, &y.happened: other.happened, &y.certain: other.certain, &y.sure: other.sure, &y.further: other.further} {
		*to += n
	}
}

// try corrupts one log and measures what the audit makes of it.
func (y *tally) try(t *testing.T, c *corruption, r *rally.Rules, rng *rand.Rand, most int) {
	w, row, ok := c.make(r, rng, c.c, most)
	if !ok {
		return
	}
	if leavesNoTrace(w) {
		y.hidden++
		return
	}
	began := time.Now()
	rep := w.Audit(audit.Place{})
	if d := time.Since(began); d > y.slowest {
		y.slowest, y.slow = d, fmt.Sprint(c.name, " ", r.Format().Shape, " ", len(w.Rows), " rows")
	}
	y.trials++
	detected := detects(rep.Findings, c.codes)
	if detected {
		y.detected++
	}
	if detected && locates(w, rep.Findings, row) {
		y.located++
	}
	if names(&rep, c.codes, row) {
		y.named++
	}
	y.explained(w, &rep, 0)
	if !slices.Contains(c.codes, "log-other-scoring") {
		y.served(r, w, &rep)
	}
}

// explained counts whether the explanation is the only cheapest one, whether what
// happened is among them, and whether what is called certain is so. What happened
// costs at most the price; 0 if that is not known.
func (y *tally) explained(w *world, rep *audit.Report, price int) {
	if rep.Repair == nil || rep.Repair.Ties == 1 {
		y.unique++
	}
	if w.known && rep.Repair != nil {
		y.known++
		if rep.Repair.Has(w.truth) {
			y.happened++
		}
		if allCertain(rep.Repair.Edits) {
			y.certain++
			if slices.Equal(slices.DeleteFunc(slices.Clone(rep.Repair.Truth), func(e rally.Event) bool { return e.Kind() == rally.StartGame }), w.truth) {
				y.sure++
			} else if price >= rep.Repair.Cost+costs.Winner {
				y.further++
			}
		}
	}
}

// allCertain reports whether an explanation changes anything, and is called
// certain in all of it. A winner that no row names is nobody's error.
func allCertain(edits []audit.Edit) bool {
	return len(edits) > 0 && !slices.ContainsFunc(edits, func(e audit.Edit) bool { return !e.Certain && e.Code != "log-winner-inferred" })
}

// served counts whether the server at the end is certain, and the true one.
func (y *tally) served(r *rally.Rules, w *world, rep *audit.Report) {
	if server, certain := certainServer(r, rep, w); certain {
		y.servers++
		if server == r.Places(w.end).Server {
			y.right++
		}
	}
}

// detects reports whether something is said that is more than a note, or that
// names the error.
func detects(found []audit.Finding, codes []audit.FindingCode) bool {
	return slices.ContainsFunc(found, func(f audit.Finding) bool { return f.Severity > audit.Note || slices.Contains(codes, f.Code) })
}

// locates reports whether a finding is at most one row away from the error; an
// error of no row is anywhere.
func locates(w *world, found []audit.Finding, row int) bool {
	return row == 0 || slices.ContainsFunc(found, func(f audit.Finding) bool {
		return f.Rally >= row-1 && f.Rally <= row+1 || f.Rally == 0 && row > len(w.Rows)
	})
}

// names reports whether the true error is found, or is in another of the
// cheapest explanations.
func names(rep *audit.Report, codes []audit.FindingCode, row int) bool {
	for _, code := range codes {
		if audit.Has(rep.Findings, code) || rep.Repair != nil && rep.Repair.HasEdit(code, row, 1) {
			return true
		}
	}
	return false
}

// certainServer returns who serves where the rows end, if every cheapest
// explanation agrees.
func certainServer(r *rally.Rules, rep *audit.Report, w *world) (rally.Person, bool) {
	if rep.Repair == nil || rep.Repair.Cost < 0 || w.end.Phase() != rally.Playing {
		return 0, false
	}
	servers := map[rally.Person]bool{}
	one := rally.Person(0)
	for _, s := range rep.Repair.Ends {
		if s.Phase() == rally.Playing {
			one = r.Places(s).Server
			servers[one] = true
		}
	}
	return one, len(servers) == 1
}

// leavesNoTrace proves that nobody could see an error in a log: its rows are
// those of a match that could have been played, column by column.
func leavesNoTrace(w *world) bool {
	first, known := w.First.Side()
	if !known || len(w.Rows) == 0 {
		return false
	}
	s, _, _ := w.Rules.Apply(w.Rules.New(first), rally.Start(first, *w.Starters))
	finals := 0
	for i := range w.Rows {
		row := &w.Rows[i]
		if row.Event.Kind() != rally.RallyWon || row.Undo || row.Match != "" {
			return false
		}
		if s.Phase() == rally.Between {
			// Starting servers may change between games: whoever the row shows.
			f, _ := w.Rules.NextFirst(s)
			between := s
			for v := range rally.Person(4) {
				st := rally.Starters{rally.A1 ^ v&1, rally.B1 ^ v>>1}
				s, _, _ = w.Rules.Apply(between, rally.Start(f, st))
				p := w.Rules.Places(s)
				if audit.KnownPerson(p.Server) == row.Server && audit.KnownPerson(p.Receiver) == row.Receiver {
					break
				}
			}
		}
		next, did, refusal := w.Rules.Apply(s, row.Event)
		want := rowOf(w.Rules, s, next, row.Event.Side(), i+1, w.c)
		want.N, want.Line = row.N, row.Line
		if row.Game == 0 {
			want.Game = 0
		}
		if refusal != rally.NotRefused || !cmp.Equal(want, *row) || row.N != 0 && row.N != i+1 {
			return false
		}
		if did.Has(rally.GameWon) && w.Finals != nil {
			if finals >= len(w.Finals) || w.Finals[finals] != (audit.Score{next.Score(rally.A), next.Score(rally.B)}) {
				return false
			}
			finals++
		}
		s = next
	}
	return finals == len(w.Finals)
}

// measureLogs corrupts logs of formats: class by class, whole matches and
// logs that are cut, as often as trials says. The numbers of a class depend on
// nothing but its name, the formats and trials.
func measureLogs(t *testing.T, shapes []string, trials int) []tally {
	var out []tally
	for i := range corruptions {
		c := &corruptions[i]
		y := tally{name: c.name, source: c.source, columns: c.c.String()}
		for _, shape := range shapes {
			r := rules(t, shape)
			rng := rand.New(rand.NewSource(seedOf(c.name + shape)))
			for k := range 2 * trials {
				y.try(t, c, r, rng, k%2*(12+rng.Intn(25)))
			}
		}
		// The table is measured; these bounds only keep it from getting worse.
		require.GreaterOrEqual(t, 100*y.detected, 97*y.trials, "%s: detected", c.name)
		require.GreaterOrEqual(t, 100*y.named, 95*y.trials, "%s: true error among the cheapest", c.name)
		out = append(out, y)
	}
	return out
}

// seedOf makes a fixed random number of a name.
func seedOf(name string) int64 {
	h := fnv.New64a()
	h.Write([]byte(name))
	return int64(h.Sum64() >> 1)
}
