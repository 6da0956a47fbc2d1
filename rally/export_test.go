package rally

// Folded returns what going through a log from its beginning leads to.
func (l *Log) Folded() (s State, r, pending *Rules, refused bool) {
	f := folding{log: l, begun: l.begun.state, now: l.begun}
	for _, e := range l.live(len(l.entries)) {
		if f.take(e) != nil {
			refused = true
		}
	}
	return f.now.state, f.now.rules, f.now.pending, refused
}

// Pending returns the rules that the next game will have, or nil.
func (l *Log) Pending() *Rules { return l.now.pending }

// TableDiffers returns a position in which the table takes a plain rally otherwise
// than the rule of scoring, at these scores in any order of service.
func (r *Rules) TableDiffers(a, b uint8) (s State, differs bool) {
	for _, game := range []uint64{1, uint64(r.format.Match.Games)} {
		for i := range 4 * (orderMask + 1) {
			s = State{play: game<<gameAt | uint64(Playing)<<phaseAt | i&orderMask | i/(orderMask+1)<<midDueAt}.withScores(a, b)
			for winner := A; winner <= B; winner++ {
				play, did, ok := r.game(s).play(s.play, RallyTo(winner))
				if next, want, refusal, _ := r.score(s, 0, winner); ok && (refusal != NotRefused || play != next.play || did != want) {
					return s, true
				}
			}
		}
	}
	return s, false
}
