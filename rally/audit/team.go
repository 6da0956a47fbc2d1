package audit

import (
	"github.com/evencourt/evencourt/rally/internal/names"
	"github.com/evencourt/evencourt/rally/words"
)

// Unit is what decides a match of teams.
type Unit uint8

// The units.
const (
	ByMatches Unit = iota // parts won
	ByGames               // games won in all parts
	ByPoints              // points of all parts
)

var unitNames = []string{"matches", "games", "points"}

// String returns "matches", "games" or "points".
func (u Unit) String() string { return names.Of(unitNames, u) }

// MarshalText implements encoding.TextMarshaler.
func (u Unit) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (u *Unit) UnmarshalText(text []byte) error { return unmarshal(unitNames, "unit", text, u) }

// TeamRule says what a match of teams is made of, as data.
type TeamRule struct {
	Roles      []string `json:"roles"`                // parts, such as "women", "men", "mixed-1"
	TieBreaker string   `json:"tie_breaker"`          // role played by level teams only; "" for none
	Won        Unit     `json:"won"`                  // what decides
	PerPlayer  int      `json:"per_player,omitempty"` // most parts for one player, the tie-breaker aside; 0 for any
	Finals     *Finals  `json:"-"`                    // how parts are scored; nil if that is checked elsewhere
}

// TeamMatch is a reported match of teams. Every part is a match of its own,
// side A the team named first.
type TeamMatch struct {
	ID     string    `json:"match"`
	Teams  [2]string `json:"teams"`
	Parts  []Part    `json:"parts"`
	Score  *Score    `json:"score,omitempty"` // in the unit that decides, the tie-breaker aside
	Winner MaybeSide `json:"winner,omitempty"`
}

// Part is one match within a match of teams.
type Part struct {
	Role string `json:"role"`
	ReportedMatch
}

// Check audits a match of teams and returns its score in the deciding unit,
// the tie-breaker aside, and who won it.
func (r *TeamRule) Check(m *TeamMatch, at Place, out []Finding) (Score, MaybeSide, []Finding) {
	at.Match = m.ID
	times := map[string]int{}
	players := map[string]int{}
	var score Score
	broken := Nobody
	for i := range m.Parts {
		part := &m.Parts[i]
		p := at
		p.Field = part.Role
		times[part.Role]++
		if r.Finals != nil {
			out = r.Finals.Check(&part.ReportedMatch, p, out)
		}
		winner := part.Victor()
		if winner == Nobody && counts(&part.ReportedMatch) && r.Won == ByMatches {
			out = append(out, NewFinding(teamPartUnfinished, p, words.Name("role", part.Role)))
		}
		if part.Role == r.TieBreaker && r.TieBreaker != "" {
			broken = winner
			continue
		}
		for _, e := range part.Sides {
			for _, id := range e.Players {
				if id != "" {
					players[id]++
				}
			}
		}
		score = r.add(score, part, winner)
	}
	out = r.roles(times, players, at, out)
	winner := ahead(score)
	switch _, played := times[r.TieBreaker]; {
	case r.TieBreaker == "":
		if winner == Nobody {
			out = append(out, NewFinding(teamUndecided, at, score.as("score")))
		}
	case winner == Nobody && !played:
		out = append(out, NewFinding(tieBreakerMissing, at, score.as("score"), words.Name("role", r.TieBreaker)))
	case winner == Nobody:
		winner = broken
	case played:
		out = append(out, NewFinding(tieBreakerNeedless, at, score.as("score"), words.Name("role", r.TieBreaker)))
	}
	if m.Score != nil && *m.Score != score {
		p := at
		p.Field = "score"
		out = append(out, NewFinding(teamScoreDisagrees, p, m.Score.as("given"), score.as("sum")))
	}
	if m.Winner != Nobody && m.Winner != winner {
		p := at
		p.Field = "winner"
		out = append(out, NewFinding(teamWinnerDisagrees, p, words.Name("named", m.Winner.String()), words.Name("leads", winner.String()), score.as("score")))
	}
	return score, winner, out
}

func ahead(s Score) MaybeSide {
	switch {
	case s[0] > s[1]:
		return SideA
	case s[1] > s[0]:
		return SideB
	}
	return Nobody
}

func (r *TeamRule) add(score Score, part *Part, winner MaybeSide) Score {
	var more Score
	switch r.Won {
	case ByGames:
		more = part.GamesWon()
	case ByPoints:
		more = part.Points()
	default:
		if side, ok := winner.Side(); ok {
			more[side] = 1
		}
	}
	return Score{score[0] + more[0], score[1] + more[1]}
}

// roles checks that every part is there once and nobody plays too many.
func (r *TeamRule) roles(times, players map[string]int, at Place, out []Finding) []Finding {
	known := map[string]bool{r.TieBreaker: r.TieBreaker != ""}
	for _, role := range r.Roles {
		known[role] = true
		if times[role] == 0 {
			out = append(out, NewFinding(roleMissing, at, words.Name("role", role)))
		}
	}
	for _, role := range sortedKeys(times) {
		switch n := times[role]; {
		case !known[role]:
			out = append(out, NewFinding(roleUnknown, at, words.Name("role", role)))
		case n > 1:
			out = append(out, NewFinding(roleTwice, at, words.Name("role", role), words.Count("times", n)))
		}
	}
	for _, id := range sortedKeys(players) {
		if n := players[id]; r.PerPlayer > 0 && n > r.PerPlayer {
			out = append(out, NewFinding(rolePlayerTooOften, at, words.Name("player", id), words.Count("plays", n), words.Count("allowed", r.PerPlayer)))
		}
	}
	return out
}
