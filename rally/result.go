package rally

import "github.com/evencourt/evencourt/format"

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
	s := l.now
	cause, winner, won := s.Outcome()
	out := MatchResult{Cause: cause, Won: [2]int{s.Won(A), s.Won(B)}}
	if won && (s.Phase() == Over || s.Phase() == Closed) {
		out.Winner = &winner
	}
	byNumber := map[int]GameScore{}
	l.Each(func(st Step) bool {
		n := st.After.Game()
		score := [2]int{st.After.Score(A), st.After.Score(B)}
		switch {
		case st.Effects.Has(GameWon):
			w := gameWinner(st)
			byNumber[n] = GameScore{Number: n, Score: score, Winner: &w, ByPenalty: st.Effects.Has(PenaltyPoint)}
		case st.Effects.Has(GameForfeited):
			w := gameWinner(st)
			kept := st.Rules.switchIs(format.ForfeitScore, format.ForfeitScoreKept) && st.Before.Phase() == Playing
			byNumber[n] = GameScore{Number: n, Score: st.Rules.awarded(n, w, score, kept), How: ForfeitedGame, Winner: &w}
		default:
			if st.After.Phase() == Playing {
				delete(byNumber, n) // a stated position can take a game up again
			}
		}
		return true
	})
	for n := 1; n <= s.Game(); n++ {
		g, known := byNumber[n]
		switch {
		case known:
		case n < s.Game() || s.Phase() == Between:
			g = GameScore{Number: n, How: UnknownGame}
		case cause == Played || cause == Tied:
			g = GameScore{Number: n, Score: [2]int{s.Score(A), s.Score(B)}, How: UnknownGame}
		default:
			g = GameScore{Number: n, Score: [2]int{s.Score(A), s.Score(B)}, How: UnfinishedGame}
		}
		out.Games = append(out.Games, g)
	}
	if out.Winner != nil && cause != Played {
		l.complete(&out, winner)
	}
	return out
}

// gameWinner returns the side whose tally of games a step raised.
func gameWinner(st Step) Side {
	if st.After.Won(B) > st.Before.Won(B) {
		return B
	}
	return A
}

// complete gives the winner of a match that was not played out the games he
// still needs: the broken-off one by convention, the rest target to nothing.
func (l *Log) complete(out *MatchResult, winner Side) {
	r := l.rules
	need := int(r.format.Match.Needed()) - out.Won[winner]
	if r.format.Match.PlayAll {
		need = int(r.format.Match.Games) - out.Won[A] - out.Won[B]
	}
	s := format.RetirementScore
	if out.Cause == Forfeited {
		s = format.ForfeitScore
	}
	const kept = 2 // the second reading of both switches
	n := len(out.Games)
	if n > 0 && out.Games[n-1].How == UnfinishedGame && need > 0 {
		g := &out.Games[n-1]
		g.Score = r.awarded(g.Number, winner, g.Score, r.format.Rulings[s] == kept)
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
	g := r.game(n)
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
