package walk

import (
	"strconv"

	"github.com/evencourt/evencourt/rally"
)

// Symbols of a [Table]: what happened, as the low two bits of an index.
const (
	symbolA     = 0 // A won the rally
	symbolB     = 1 // B won the rally
	symbolStart = 2 // a game starts: the table stands there already
	symbolEnds  = 3 // ends change: nothing in the game moves
)

// Flags of an entry, above every state: the rally ended the game, and B won it.
const (
	Ended = uint32(1) << 31
	WonB  = uint32(1) << 30
)

// Table replays games of one kind: the same format, first server and starting
// servers. Make one with [NewTable]. An entry is the state after a symbol, times four, with the flags:
//
//	s = tab[(s|w)&mask]
//
// takes state s over symbol w, flags and all. A final is folded into the
// start, so that the next game follows at once; starts and end changes stay
// where they are and clear the flags.
type Table struct {
	entries []uint32
	mask    uint32
	states  []rally.State
	rules   *rally.Rules
	ids     map[standing]uint32
	fold    Fold
}

// standing is what a game is played on by: scores and places. The mid-game end
// change, which never moves either, is left out.
type standing struct {
	a, b   int
	places rally.Places
}

// NewTable compiles the table of a single game, from its first serve. A format
// of several games is a [*PlanError].
func NewTable(r *rally.Rules, first rally.Side, st rally.Starters) (*Table, error) {
	if r == nil {
		return nil, &PlanError{"rules", "none given"}
	}
	f := r.Format()
	if f.Match.Games != 1 {
		return nil, &PlanError{"rules", "a table is of single games, not of a match of " + strconv.Itoa(int(f.Match.Games))}
	}
	root, _, refusal := r.Apply(r.New(first), rally.Start(first, st))
	if refusal != rally.NotRefused {
		return nil, &PlanError{"starters", "refused: " + refusal.String()}
	}
	t := &Table{rules: r, ids: map[standing]uint32{}, fold: FoldOf(f.Last, 0)}
	t.id(root)
	for i := 0; i < len(t.states); i++ {
		s := t.states[i]
		row := [4]uint32{symbolStart: uint32(i) << 2, symbolEnds: uint32(i) << 2}
		for w := rally.A; w <= rally.B; w++ {
			next, _, refusal := r.Apply(s, rally.RallyTo(w))
			if refusal != rally.NotRefused {
				return nil, &PlanError{"rules", "a rally is refused at " + r.Line(s) + ": " + refusal.String()}
			}
			if _, winner, won := next.Outcome(); won {
				row[w] = Ended | WonB*uint32(winner)
				continue
			}
			row[w] = t.id(next) << 2
		}
		t.entries = append(t.entries, row[:]...)
		if len(t.states) > defaultMost {
			return nil, &SizeError{defaultMost, Plan{Rules: r, Alphabet: Rallies()}.Bound(), 0}
		}
	}
	size := 1
	for size < len(t.entries) {
		size *= 2
	}
	t.entries = append(t.entries, make([]uint32, size-len(t.entries))...)
	t.mask = uint32(size - 1)
	return t, nil
}

func (t *Table) standing(s rally.State) standing {
	a, b := t.fold.Scores(s.Score(rally.A), s.Score(rally.B))
	return standing{a, b, t.rules.Places(s)}
}

func (t *Table) id(s rally.State) uint32 {
	key := t.standing(s)
	id, seen := t.ids[key]
	if !seen {
		id = uint32(len(t.states))
		t.ids[key] = id
		t.states = append(t.states, s)
	}
	return id
}

// Len returns the number of states.
func (t *Table) Len() int { return len(t.states) }

// Entries returns the table and its mask, for a loop of the caller's own. The
// slice is shared and must not be written to.
func (t *Table) Entries() (entries []uint32, mask uint32) { return t.entries, t.mask }

// At returns the state that an entry stands for, flags apart: one of those
// that behave like it. It is false for no entry of the table.
func (t *Table) At(entry uint32) (rally.State, bool) {
	id := entry &^ (Ended | WonB) >> 2
	if int(id) >= len(t.states) {
		return rally.State{}, false
	}
	return t.states[id], true
}

// Find returns the entry of a state in play, to start a replay from it.
func (t *Table) Find(s rally.State) (uint32, bool) {
	if s.Phase() != rally.Playing {
		return 0, false
	}
	id, ok := t.ids[t.standing(s)]
	return id << 2, ok
}

// Replay takes entry s over symbols and returns the last entry. Bits of a
// symbol above the lowest two are ignored.
func (t *Table) Replay(s uint32, symbols []byte) uint32 {
	tab, mask := t.entries, t.mask
	for _, w := range symbols {
		s = tab[(s|uint32(w&3))&mask]
	}
	return s
}

// Wins replays a record of whole games, one after the other with a
// symbolStart before each, and counts the games that each side won. It cuts
// the record at starts into eight parts and replays them side by side, so that
// their loads overlap.
func (t *Table) Wins(symbols []byte) (a, b int) {
	const lanes = 8
	var parts [lanes][]byte
	for n := range parts {
		cut := len(symbols)
		if n < lanes-1 {
			cut = nextStart(symbols, len(symbols)/(lanes-n))
		}
		parts[n], symbols = symbols[:cut], symbols[cut:]
	}
	return t.winsOf(&parts)
}

// nextStart returns where the first game at or after from starts.
func nextStart(symbols []byte, from int) int {
	for ; from < len(symbols); from++ {
		if symbols[from]&3 == symbolStart {
			return from
		}
	}
	return len(symbols)
}

func (t *Table) winsOf(parts *[8][]byte) (a, b int) {
	tab, mask := t.entries, t.mask
	short := len(parts[0])
	for _, p := range parts {
		short = min(short, len(p))
	}
	p0, p1, p2, p3 := parts[0][:short], parts[1][:short], parts[2][:short], parts[3][:short]
	p4, p5, p6, p7 := parts[4][:short], parts[5][:short], parts[6][:short], parts[7][:short]
	var s [8]uint32
	var s0, s1, s2, s3, s4, s5, s6, s7 uint32
	// The flags of eight lanes are counted as one sum of top bits: a game won
	// by A adds 2, one won by B adds 3, and a count of games splits them.
	sum, games := uint64(0), uint64(0)
	for i := range p0 {
		s0 = tab[(s0|uint32(p0[i]&3))&mask]
		s1 = tab[(s1|uint32(p1[i]&3))&mask]
		s2 = tab[(s2|uint32(p2[i]&3))&mask]
		s3 = tab[(s3|uint32(p3[i]&3))&mask]
		s4 = tab[(s4|uint32(p4[i]&3))&mask]
		s5 = tab[(s5|uint32(p5[i]&3))&mask]
		s6 = tab[(s6|uint32(p6[i]&3))&mask]
		s7 = tab[(s7|uint32(p7[i]&3))&mask]
		if (s0|s1|s2|s3|s4|s5|s6|s7)&Ended != 0 {
			games += uint64(s0>>31 + s1>>31 + s2>>31 + s3>>31 + s4>>31 + s5>>31 + s6>>31 + s7>>31)
			sum += uint64(s0>>30 + s1>>30 + s2>>30 + s3>>30 + s4>>30 + s5>>30 + s6>>30 + s7>>30)
		}
	}
	s = [8]uint32{s0, s1, s2, s3, s4, s5, s6, s7}
	for n, p := range parts {
		at := s[n]
		for _, w := range p[short:] {
			at = tab[(at|uint32(w&3))&mask]
			games += uint64(at >> 31)
			sum += uint64(at >> 30)
		}
	}
	byB := sum - 2*games
	return int(games - byB), int(byB)
}
