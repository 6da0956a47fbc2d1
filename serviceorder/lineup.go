package serviceorder

// A LineUp says which member of a team, or which pair, plays which rally where
// teams take turns in one game: after so many rallies the next one comes in, and
// after the last the first again. It is a view and no state: it follows from the
// points of both sides, so that nothing is entered and a correction corrects it
// too. Where receivers score nothing it does not hold. Leagues play to 21 with four
// members and a change every four rallies (from memory).
type LineUp struct {
	Members int // of a side
	Rallies int // that each plays in a row
}

// Plays returns who plays the rally after so many points, from 0, and how many
// rallies he has left, that one included. It is false for what is no line-up.
func (l LineUp) Plays(points int) (member, left int, ok bool) {
	if l.Members < 1 || l.Rallies < 1 || points < 0 {
		return 0, 0, false
	}
	return points / l.Rallies % l.Members, l.Rallies - points%l.Rallies, true
}
