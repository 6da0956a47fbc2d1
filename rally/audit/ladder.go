package audit

import "slices"

// LadderRules say how places change, as data.
type LadderRules struct {
	// Swap exchanges the two places; otherwise the winner takes the loser's
	// place and everybody between moves down by one.
	Swap bool `json:"swap"`
	// Reach is how many places up a side may challenge; 0 for any.
	Reach int `json:"reach"`
	By    By  `json:"by"`
}

// Ladder is an order of ids, best first.
type Ladder []string

// Move is what one match did to a ladder.
type Move struct {
	Match  string `json:"match"`
	Winner string `json:"winner"`
	Loser  string `json:"loser"`
	From   int    `json:"from"` // the winner's place before, from 1
	To     int    `json:"to"`   // and after
	Why    string `json:"why"`  // "took-place", "swapped", "higher-won", "out-of-reach", "not-on-ladder", "no-winner", "not-counted"
}

// Apply moves places by a match and says what it did. The ladder given is left
// as it is.
func (l Ladder) Apply(rules LadderRules, m *ReportedMatch) (Ladder, Move) {
	move := Move{Match: m.ID}
	winner, ok := m.Victor().Side()
	switch {
	case !counts(m):
		move.Why = "not-counted"
		return l, move
	case !ok:
		move.Why = "no-winner"
		return l, move
	}
	by := rules.By
	if by == ByPlayer {
		by = ByPair
	}
	move.Winner, move.Loser = entryID(&m.Sides[winner], by), entryID(&m.Sides[winner.Other()], by)
	w, b := slices.Index(l, move.Winner), slices.Index(l, move.Loser)
	move.From, move.To = w+1, w+1
	switch {
	case w < 0 || b < 0:
		move.Why = "not-on-ladder"
		return l, move
	case w < b:
		move.Why = "higher-won"
		return l, move
	case rules.Reach > 0 && w-b > rules.Reach:
		move.Why = "out-of-reach"
		return l, move
	}
	out := slices.Clone(l)
	move.To = b + 1
	if rules.Swap {
		out[w], out[b] = out[b], out[w]
		move.Why = "swapped"
		return out, move
	}
	copy(out[b+1:w+1], l[b:w])
	out[b] = move.Winner
	move.Why = "took-place"
	return out, move
}
