package reference

// state puts the match into a position that is stated outright, if the rules
// in force can bring it about.
func (m *Match) state(line string) string {
	to := Match{book: m.book, next: m.next}
	if err := to.takeUp(line); err != nil || !to.possible() {
		return "malformed"
	}
	if to.phase == closed || m.lifted(&to) {
		return "not-now" // the sheet is returned by an entry of its own, and a position is no physician
	}
	to.did = 0
	*m = to
	return ""
}
