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
