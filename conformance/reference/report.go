package reference

import "strconv"

// Scores that are reported of games that were not played to their end. The
// first row that fits holds; completed games always stand.
var reports = []struct {
	clause  string
	ended   string // how the game ended for the side that lost it
	reading string // the answer of the edition that it rests on
	scored  string
}{
	{"forfeit-ends-match", "unplayed", "", "target to nothing"},
	{"retirement-nil", "retired", "retirement-score=lost", "target to nothing"},
	{"retirement-kept", "retired", "retirement-score=kept", "loser keeps his points"},
	{"forfeit-nil", "forfeited", "forfeit-score=lost", "target to nothing"},
	{"forfeit-kept", "forfeited", "forfeit-score=kept", "loser keeps his points"},
	{"forfeit-nil", "forfeited", "", "target to nothing"},
	{"retirement-nil", "retired", "", "target to nothing"},
}

// reported is the score at which game n is reported that a side lost with so
// many points and without its end. Who keeps his points is beaten by the
// target, or by the margin that he would have had to be beaten by, which the
// cap limits.
func (m *Match) reported(n int, loser side, points int, ended string) string {
	g := m.book.of(n)
	score := [2]int{}
	for _, row := range reports {
		if row.ended != ended || row.reading != "" && !m.answers(row.reading) {
			continue
		}
		score[loser.other()] = int(g.Target)
		if row.scored == "loser keeps his points" {
			score[loser] = points
			score[loser.other()] = max(int(g.Target), points+int(g.WinBy))
			if g.Cap > 0 {
				score[loser.other()] = min(score[loser.other()], int(g.Cap))
			}
		}
		break
	}
	return scoreText(score)
}

// Report lists the scores at which the games are reported, A's points first:
// those played, in full or so far, those
// forfeited, and after a retirement, withdrawal or match
// forfeit those that the other side still needed.
func (l *Log) Report() []string {
	states, _ := l.fold()
	var out []string
	for k := 1; k < len(states); k++ {
		was, is := &states[k-1], &states[k]
		if is.phase == before {
			out = nil // what lateness forfeited has been taken back
		}
		switch {
		case is.did.has(gameWon):
			out = append(out, scoreText(is.score))
		case is.did.has(gameForfeit) && was.phase == inPlay:
			out = append(out, is.reported(is.number, is.winner.other(), was.score[is.winner.other()], "forfeited"))
		case is.did.has(gameForfeit):
			out = append(out, is.reported(is.number, is.winner.other(), 0, "unplayed"))
		}
		if is.phase == over && was.phase != over && len(is.result) > 1 {
			out = is.reportRest(was, out)
		}
		if is.phase == closed && was.phase == inPlay {
			out = append(out, scoreText(is.score)) // the match was abandoned in it
		}
	}
	if l.now.phase == inPlay {
		out = append(out, scoreText(l.now.score))
	}
	return out
}

// reportRest adds what is reported of a match that ended without a last point.
func (m *Match) reportRest(before *Match, out []string) []string {
	winner := sideIn(m.result[:1])
	if winner == noSide { // both forfeited, or all games are played and tied
		if m.result == "dmf" && before.phase == inPlay {
			out = append(out, scoreText(before.score))
		}
		return out
	}
	ended, loser := map[string]string{"ret": "retired", "mf": "forfeited", "wd": "unplayed"}[m.result[1:]], winner.other()
	n, won := m.number, m.won[winner]
	if before.phase == inPlay {
		out = append(out, m.reported(n, loser, before.score[loser], ended))
		won++
	}
	for n++; n <= int(m.book.match.Games) && (m.book.match.PlayAll || won < m.book.needed()); n++ {
		out = append(out, m.reported(n, loser, 0, "unplayed"))
		won++
	}
	return out
}

func scoreText(score [2]int) string {
	return strconv.Itoa(score[sideA]) + "-" + strconv.Itoa(score[sideB])
}
