package audit

import "github.com/evencourt/evencourt/rally/words"

// partial checks a report without games: only games won, only totals, or
// neither. What could be checked is stated.
func (f *Finals) partial(m *ReportedMatch, at Place, out []Finding) []Finding {
	if m.Won == nil && m.Totals == nil {
		return append(out, NewFinding(matchEmpty, at))
	}
	var checked []words.Text
	if won := m.Won; won != nil {
		checked = append(checked, words.New("part.games-won"))
		if !f.possibleWon(*won) {
			p := at
			p.Field = "won"
			return append(out, NewFinding(gamesWonImpossible, p, won.as("won"), words.Count("most", int(f.match.Games))))
		}
		if m.Winner != Nobody && m.Winner != leader(*won) {
			out = append(out, disagrees(m, *won, at))
		}
	}
	if m.Totals != nil {
		checked = append(checked, words.New("part.totals"))
		if !f.possibleTotals(m.Won, *m.Totals) {
			p := at
			p.Field = "totals"
			out = append(out, NewFinding(totalsImpossible, p, m.Totals.as("totals")))
		}
	}
	if m.Winner != Nobody {
		checked = append(checked, words.New("part.winner"))
	} else if m.Won == nil {
		p := at
		p.Field = "winner"
		out = append(out, NewFinding(winnerMissing, p))
	}
	return append(out, NewFinding(partialChecked, at, words.Each("parts", checked...)))
}

// possibleWon reports whether a match can end with these games won.
func (f *Finals) possibleWon(won Score) bool {
	a, b := won[0], won[1]
	if a < 0 || b < 0 {
		return false
	}
	if f.match.PlayAll {
		return a+b == int(f.match.Games)
	}
	need := f.needed()
	return max(a, b) == need && min(a, b) < need
}

// totalsSet is the set of point totals that a match with given games won can
// have, up to 255 a side.
type totalsSet [256][4]uint64

func (t *totalsSet) has(a, b int) bool { return t[a][b>>6]>>(b&63)&1 != 0 }
func (t *totalsSet) add(a, b int)      { t[a][b>>6] |= 1 << (b & 63) }

// possibleTotals reports whether legal games, with these games won if they are
// known, can add up to these totals. Totals past 255 are taken as possible.
func (f *Finals) possibleTotals(won *Score, totals Score) bool {
	if totals[0] < 0 || totals[1] < 0 {
		return false
	}
	if max(totals[0], totals[1]) > 255 {
		return true
	}
	if won != nil {
		return f.totalsOf(*won).has(totals[0], totals[1])
	}
	for a := 0; a <= int(f.match.Games); a++ {
		for b := 0; a+b <= int(f.match.Games); b++ {
			if f.possibleWon(Score{a, b}) && f.totalsOf(Score{a, b}).has(totals[0], totals[1]) {
				return true
			}
		}
	}
	return false
}

// totalsOf computes, once, what a match with these games won can add up to.
func (f *Finals) totalsOf(won Score) *totalsSet {
	f.mu.Lock()
	defer f.mu.Unlock()
	if t := f.totals[won]; t != nil {
		return t
	}
	n := won[0] + won[1]
	sums := map[Score]*totalsSet{{}: {}}
	sums[Score{}].add(0, 0)
	for i := 1; i <= n; i++ {
		next := map[Score]*totalsSet{}
		for w, from := range sums {
			for side := range 2 {
				after := w
				after[side]++
				if after[side] > won[side] || i < n && after[side] >= f.needed() {
					continue
				}
				if next[after] == nil {
					next[after] = &totalsSet{}
				}
				f.addGame(from, next[after], i, side)
			}
		}
		sums = next
	}
	t := sums[won]
	if t == nil {
		t = &totalsSet{}
	}
	if f.totals == nil {
		f.totals = map[Score]*totalsSet{}
	}
	f.totals[won] = t
	return t
}

// addGame adds every final of game i that side wins to the sums so far.
func (f *Finals) addGame(from, to *totalsSet, i, side int) {
	var finals []Score
	g := &f.games[f.kind(i)]
	for low := 0; low < 255; low++ {
		for high := int(g.Target); high <= 255; high++ {
			if g.Final(uint8(high), uint8(low)) {
				s := Score{high, low}
				if side == 1 {
					s = s.mirrored()
				}
				finals = append(finals, s)
			}
		}
	}
	for a := range 256 {
		for b := range 256 {
			if !from.has(a, b) {
				continue
			}
			for _, s := range finals {
				if a+s[0] < 256 && b+s[1] < 256 {
					to.add(a+s[0], b+s[1])
				}
			}
		}
	}
}
