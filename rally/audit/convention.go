package audit

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// GamesText writes games as "11-8 7-11", "-" for a missing one.
func GamesText(games []Score) string {
	out := make([]byte, 0, 6*len(games))
	for i, s := range games {
		if i > 0 {
			out = append(out, ' ')
		}
		out = appendScore(out, s)
	}
	return string(out)
}

func appendScore(dst []byte, s Score) []byte {
	if s.missing() {
		return append(dst, '-')
	}
	dst = strconv.AppendInt(dst, int64(s[0]), 10)
	return strconv.AppendInt(append(dst, '-'), int64(s[1]), 10)
}

// Convention returns the games that the edition reports for a match that the
// side by did not finish: games that were completed stand; the one in play
// goes to the opponents, who get the target or what leads the points that are
// kept by the margin, at most the cap; games still needed are target to
// nothing. Whether points are kept are the switches retirement-score and
// forfeit-score. A [Scoring] keeps them.
func (f *Finals) Convention(games []Score, by MaybeSide, status Status) []Score {
	kept := clause.RetirementKept
	if status == Forfeited || status == Withdrawn {
		kept = clause.ForfeitKept
	}
	return f.convention(games, by.Other(), format.Clause(kept))
}

func (f *Finals) convention(games []Score, winner MaybeSide, keeping format.Clause) []Score {
	w, ok := winner.Side()
	if !ok {
		return nil
	}
	kept := f.rules == nil || f.format.Rulings.Takes(keeping)
	var out []Score
	var won Score
	open := Score{}
	for i, g := range games {
		if f.Game(i+1, g) != NoCode || won[0] >= f.needed() || won[1] >= f.needed() {
			if !g.missing() {
				open = g
			}
			break
		}
		out = append(out, g)
		if g[0] > g[1] {
			won[0]++
		} else {
			won[1]++
		}
	}
	for len(out) < int(f.match.Games) && won[w] < f.needed() && won[1-w] < f.needed() {
		g := &f.games[f.kind(len(out)+1)]
		lost := 0
		if kept {
			lost = open[1-w]
		}
		open = Score{}
		own := max(int(g.Target), lost+int(g.WinBy))
		if g.Cap != 0 {
			own = min(own, int(g.Cap))
		}
		var next Score
		next[w], next[1-w] = own, lost
		out = append(out, next)
		won[w]++
	}
	return out
}

// broken checks a match that one side did not finish.
func (f *Finals) broken(m *ReportedMatch, at Place, out []Finding) []Finding {
	games := m.Games
	for len(games) > 0 && games[len(games)-1].missing() {
		games = games[:len(games)-1]
	}
	if m.Winner != Nobody && m.Winner == m.By {
		at.Field = "winner"
		out = append(out, NewFinding(statusWinner, at, m.Status.word(), words.Word("unclear", "unclear.by")))
		at.Field = ""
	}
	if len(games) == 0 {
		if m.Status == Retired {
			out = append(out, NewFinding(retirementBeforePlay, at, words.Name("games", GamesText(f.Convention(nil, m.By, m.Status)))))
		} else {
			out = append(out, NewFinding(forfeitConvention, at, words.Points("score", 0, 0), words.Name("games", GamesText(f.Convention(nil, m.By, m.Status)))))
		}
		return out
	}
	won, complete, out := f.brokenOff(games, at, out)
	by, _ := m.By.Side()
	last := games[len(games)-1]
	switch {
	case won[by] >= f.needed():
		out = append(out, NewFinding(retirementComplete, at, words.Name("side", m.By.String()), won.as("won")))
	case complete && won[1-by] >= f.needed():
		// The games are those of a complete match: fine if the last one can be
		// a conventional score.
		if last[by] != 0 && (m.Status == Withdrawn || !f.keeps(m.Status) || !f.isConvention(len(games), last, by)) {
			code := retirementComplete
			if m.Status != Retired {
				code = forfeitFullScore
			}
			out = append(out, NewFinding(code, at, words.Name("side", m.By.String()), won.as("won")))
		} else if last[by] != 0 && m.Status == Forfeited && !f.anyNothing(games, by) {
			out = append(out, NewFinding(forfeitFullScore, at, words.Name("side", m.By.String()), won.as("won")))
		}
	default:
		conventional := words.Name("games", GamesText(f.Convention(games, m.By, m.Status)))
		if m.Status == Retired {
			out = append(out, NewFinding(retirementConvention, at, words.Name("side", m.By.String()), last.as("score"), conventional))
		} else {
			out = append(out, NewFinding(forfeitConvention, at, last.as("score"), conventional))
		}
	}
	return out
}

// keeps reports whether the side that stops keeps its points.
func (f *Finals) keeps(s Status) bool {
	if s == Retired {
		return f.rules == nil || f.format.Rulings.Takes(clause.RetirementKept)
	}
	return f.rules == nil || f.format.Rulings.Takes(clause.ForfeitKept)
}

// isConvention reports whether a score is what convention gives for some
// number of points kept.
func (f *Finals) isConvention(n int, s Score, loser rally.Side) bool {
	g := &f.games[f.kind(n)]
	own := max(int(g.Target), s[loser]+int(g.WinBy))
	if g.Cap != 0 {
		own = min(own, int(g.Cap))
	}
	return s[1-loser] == own
}

// anyNothing reports whether a side has no point in some game.
func (f *Finals) anyNothing(games []Score, side rally.Side) bool {
	for _, g := range games {
		if g[side] == 0 {
			return true
		}
	}
	return false
}
