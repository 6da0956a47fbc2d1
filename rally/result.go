package rally

import (
	"github.com/evencourt/evencourt/format/clause"
)

// GameScore is one game as it is reported.
type GameScore struct {
	Number int    `json:"number"`
	Score  [2]int `json:"score"` // A and B, in the order of entry, never winner first
	How    How    `json:"how"`
	Winner *Side  `json:"winner,omitempty"`
	// ByPenalty is set where a penalty point ended the game.
	ByPenalty bool `json:"by_penalty,omitempty"`
}

// How says how a game came to its reported score.
type How uint8

// The ways.
const (
	PlayedGame     How = iota // to its end
	ForfeitedGame             // forfeited: score by the edition's convention
	BrokenOffGame             // broken off by a retirement or match forfeit: the same
	UnplayedGame              // not needed to be played any more: target to nothing
	UnfinishedGame            // in play, or abandoned
	UnknownGame               // before the log began
)

var howNames = []string{"played", "forfeited", "broken-off", "unplayed", "unfinished", "unknown"}

// MatchResult is a match as it is reported.
type MatchResult struct {
	Cause  Cause       `json:"cause"`
	Winner *Side       `json:"winner,omitempty"`
	Won    [2]int      `json:"won"`
	Games  []GameScore `json:"games"`
}

// Result returns the reportable result of a log: the games played, and for
// what was forfeited, retired from or not played the score that the edition's
// convention gives. Completed games always stand.
func (l *Log) Result() MatchResult {
	s := l.now.state
	cause, winner, won := s.Outcome()
	out := MatchResult{Cause: cause, Won: [2]int{s.Won(A), s.Won(B)}}
	if won && (s.Phase() == Over || s.Phase() == Closed) {
		out.Winner = &winner
	}
	byNumber := map[int]GameScore{}
	l.Each(func(st Step) bool {
		if !st.Final {
			return true
		}
		g := st.final()
		byNumber[g.Number] = g
		return true
	})
	for n := 1; n <= s.Game(); n++ {
		g, known := byNumber[n]
		switch {
		case known:
		case n < s.Game() || s.Phase() == Between:
			g = GameScore{Number: n, How: UnknownGame}
		case cause == ByPlay || cause == ByTie:
			g = GameScore{Number: n, Score: [2]int{s.Score(A), s.Score(B)}, How: UnknownGame}
		default:
			g = GameScore{Number: n, Score: [2]int{s.Score(A), s.Score(B)}, How: UnfinishedGame}
		}
		out.Games = append(out.Games, g)
	}
	if out.Winner != nil && cause != ByPlay {
		l.complete(&out, winner)
	}
	return out
}

// final is the game that a step ended, as it is reported.
func (st *Step) final() GameScore {
	n, w := st.back.Game(), gameWinner(st)
	g := GameScore{Number: n, Score: [2]int{st.back.Score(A), st.back.Score(B)}, Winner: &w, ByPenalty: st.Effects.Has(PenaltyPoint)}
	if st.Effects.Has(GameForfeited) {
		kept := st.Rules.takes(clause.ForfeitKept) && st.Before.Phase() == Playing
		g.Score, g.How, g.ByPenalty = st.Rules.awarded(n, w, g.Score, kept), ForfeitedGame, false
	}
	return g
}

// gameWinner returns the side whose tally of games a step raised.
func gameWinner(st *Step) Side {
	if st.back.Won(B) > st.Before.Won(B) {
		return B
	}
	return A
}

// complete gives the winner of a match that was not played out the games he
// still needs: the broken-off one by convention, the rest target to nothing.
func (l *Log) complete(out *MatchResult, winner Side) {
	r := l.now.rules
	need := int(r.format.Match.Needed()) - out.Won[winner]
	if r.format.Match.PlayAll {
		need = int(r.format.Match.Games) - out.Won[A] - out.Won[B]
	}
	kept := r.takes(clause.RetirementKept)
	if out.Cause == ByForfeit {
		kept = r.takes(clause.ForfeitKept)
	}
	n := len(out.Games)
	if n > 0 && out.Games[n-1].How == UnfinishedGame && need > 0 {
		g := &out.Games[n-1]
		g.Score = r.awarded(g.Number, winner, g.Score, kept)
		g.How, g.Winner = BrokenOffGame, &winner
		need--
	}
	for ; need > 0; need-- {
		n++
		out.Games = append(out.Games, GameScore{Number: n, Score: r.awarded(n, winner, [2]int{}, false), How: UnplayedGame, Winner: &winner})
	}
}

// awarded returns the conventional score of game n for its winner: the target,
// or what is needed to lead the loser's kept points by the margin, at most the
// cap.
func (r *Rules) awarded(n int, winner Side, score [2]int, kept bool) [2]int {
	g := r.format.Of(n)
	loser := 0
	if kept {
		loser = score[winner.Other()]
	}
	own := max(int(g.Target), loser+int(g.WinBy))
	if g.Cap != 0 {
		own = min(own, int(g.Cap))
	}
	var out [2]int
	out[winner], out[winner.Other()] = own, loser
	return out
}
