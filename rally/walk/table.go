package walk

import (
	"strconv"

	"github.com/evencourt/evencourt/rally"
)

// Symbols of a [Table]: what happened, as the low two bits of an index.
const (
	SymbolA     = 0 // A won the rally
	SymbolB     = 1 // B won the rally
	SymbolStart = 2 // a game starts: the table stands there already
	SymbolEnds  = 3 // ends change: nothing in the game moves
)

// Flags of an entry, above every state: the rally ended the game, and B won it.
const (
	Ended = uint32(1) << 31
	WonB  = uint32(1) << 30
)

// Table replays games of one kind: the same format, first server and starting
// servers. An entry is the state after a symbol, times four, with the flags:
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
	floor   int
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
	t := &Table{rules: r, ids: map[standing]uint32{}, floor: Floor(f.Last, 0)}
	t.id(root)
	for i := 0; i < len(t.states); i++ {
		s := t.states[i]
		row := [4]uint32{SymbolStart: uint32(i) << 2, SymbolEnds: uint32(i) << 2}
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
		if len(t.states) > DefaultMost {
			return nil, &SizeError{DefaultMost, Plan{Rules: r, Alphabet: Rallies()}.Bound(), 0}
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
	a, b := s.Score(rally.A), s.Score(rally.B)
	if low := min(a, b); t.floor > 0 && low-Step >= t.floor {
		by := (low - t.floor) / Step * Step
		a, b = a-by, b-by
	}
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

// Wins replays symbols from the start of a game and counts the games that each
// side won.
func (t *Table) Wins(symbols []byte) (a, b int) {
	tab, mask := t.entries, t.mask
	s, ended, byB := uint32(0), uint32(0), uint32(0)
	for _, w := range symbols {
		s = tab[(s|uint32(w&3))&mask]
		ended += s >> 31
		byB += s >> 30 & 1
	}
	return int(ended - byB), int(byB)
}

// ReplayAll replays many games, eight at a time so that their loads overlap,
// each from the start, and writes the last entry of each to last, which must
// be as long as games.
func (t *Table) ReplayAll(games [][]byte, last []uint32) error {
	if len(last) != len(games) {
		return &PlanError{"last", "must be as long as games"}
	}
	n := 0
	for ; n+8 <= len(games); n += 8 {
		t.replayEight((*[8][]byte)(games[n:]), (*[8]uint32)(last[n:]))
	}
	for ; n < len(games); n++ {
		last[n] = t.Replay(0, games[n])
	}
	return nil
}

func (t *Table) replayEight(games *[8][]byte, last *[8]uint32) {
	tab, mask := t.entries, t.mask
	short := len(games[0])
	for _, g := range games {
		short = min(short, len(g))
	}
	g0, g1, g2, g3 := games[0][:short], games[1][:short], games[2][:short], games[3][:short]
	g4, g5, g6, g7 := games[4][:short], games[5][:short], games[6][:short], games[7][:short]
	var s0, s1, s2, s3, s4, s5, s6, s7 uint32
	for i := range g0 {
		s0 = tab[(s0|uint32(g0[i]&3))&mask]
		s1 = tab[(s1|uint32(g1[i]&3))&mask]
		s2 = tab[(s2|uint32(g2[i]&3))&mask]
		s3 = tab[(s3|uint32(g3[i]&3))&mask]
		s4 = tab[(s4|uint32(g4[i]&3))&mask]
		s5 = tab[(s5|uint32(g5[i]&3))&mask]
		s6 = tab[(s6|uint32(g6[i]&3))&mask]
		s7 = tab[(s7|uint32(g7[i]&3))&mask]
	}
	*last = [8]uint32{s0, s1, s2, s3, s4, s5, s6, s7}
	for i, g := range games {
		last[i] = t.Replay(last[i], g[short:])
	}
}
