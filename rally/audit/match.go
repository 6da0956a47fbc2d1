package audit

import (
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/internal/names"
	"github.com/evencourt/evencourt/rally/words"
)

// MaybeSide is a side, or nobody: what a result says of its winner, or of the side
// that retired or forfeited.
type MaybeSide uint8

// The values of [MaybeSide].
const (
	Nobody MaybeSide = iota
	SideA
	SideB
)

var whoNames = []string{"", "A", "B"}

// String returns "", "A" or "B".
func (w MaybeSide) String() string { return names.Of(whoNames, w) }

// MarshalText implements encoding.TextMarshaler.
func (w MaybeSide) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (w *MaybeSide) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*w = Nobody
		return nil
	}
	return unmarshal(whoNames, "side", text, w)
}

// KnownSide returns the side as a value of [MaybeSide].
func KnownSide(s rally.Side) MaybeSide { return MaybeSide(s&1) + 1 }

// Side returns the side; false for [Nobody].
func (w MaybeSide) Side() (rally.Side, bool) {
	return rally.Side((w - 1) & 1), w == SideA || w == SideB
}

// Other returns the opponents; Nobody of Nobody.
func (w MaybeSide) Other() MaybeSide {
	if w == Nobody {
		return Nobody
	}
	return w ^ 3
}

// Score is a score A-B, in the order of entry, never winner first. One below zero
// stands for a game whose score is missing.
type Score [2]int

var noScore = Score{-1, -1}

// as is the score as an argument of a text.
func (s Score) as(name string) words.Arg { return words.Points(name, s[0], s[1]) }

// UnmarshalJSON implements json.Unmarshaler: a list of two whole numbers, or
// null for [noScore].
func (s *Score) UnmarshalJSON(text []byte) error {
	var p pairForm
	if wrong := readJSON(text, &p, "want one value"); wrong != nil {
		return wrong
	}
	v, ok := p.score()
	if !ok {
		return &InputError{Reason: "want two numbers up to 999"}
	}
	*s = v
	return nil
}

func (s Score) missing() bool { return s[0] < 0 || s[1] < 0 }

// mirrored returns the score with its sides exchanged.
func (s Score) mirrored() Score { return Score{s[1], s[0]} }

// Status says how a match came to its result. The words are those of the
// rulebooks (retirement after, withdrawal before the first score call) and of
// the desk.
type Status uint8

// The statuses.
const (
	Played        Status = iota // completed
	Retired                     // the side By stopped after the first score call
	Forfeited                   // the side By forfeited
	Withdrawn                   // the side By withdrew before the first score call
	DoubleForfeit               // both forfeited
	NotPlayed                   // never took place
	Bye                         // one side had no opponents
	Postponed                   // to be played later
	Abandoned                   // begun, broken off, undecided
	Resumed                     // taken up after it was abandoned; Of names the first part
	Awarded                     // decided by the director
	Annulled                    // struck from the record; the scores do not count
	Amended                     // replaces an earlier report; Of names it
	statusCount
)

var statusNames = []string{"played", "retired", "forfeited", "withdrawn", "double-forfeit", "not-played", "bye", "postponed",
	"abandoned", "resumed", "awarded", "annulled", "amended"}

// String returns the text of the status.
func (s Status) String() string { return names.Of(statusNames, s) }

// word is the status as an argument.
func (s Status) word() words.Arg { return words.Word("status", words.Code("status."+s.String())) }

// MarshalText implements encoding.TextMarshaler.
func (s Status) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (s *Status) UnmarshalText(text []byte) error { return unmarshal(statusNames, "status", text, s) }

// statusRules says what a match of each status must and must not have.
var statusRules = [statusCount]struct {
	games  bool // may have games
	winner bool // must have a winner, named or by its games
	none   bool // cannot have a winner
	by     bool // needs to say which side
	of     bool // must name another match
}{
	Played:        {games: true, winner: true},
	Retired:       {games: true, winner: true, by: true},
	Forfeited:     {games: true, winner: true, by: true},
	Withdrawn:     {games: true, winner: true, by: true},
	DoubleForfeit: {games: true, none: true},
	NotPlayed:     {none: true},
	Bye:           {},
	Postponed:     {none: true},
	Abandoned:     {games: true, none: true},
	Resumed:       {games: true, winner: true, of: true},
	Awarded:       {games: true, winner: true},
	Annulled:      {games: true},
	Amended:       {games: true, winner: true, of: true},
}

// Entrant is one side of a match: ids identify, names are only shown.
type Entrant struct {
	Team    string    `json:"team,omitempty"`
	Players [2]string `json:"players"`        // ids; the second is empty in singles
	Names   [2]string `json:"names,omitzero"` // opaque
}

// Empty reports whether nobody is entered.
func (e *Entrant) Empty() bool { return e.Team == "" && e.Players == [2]string{} }

// ReportedMatch is a reported result.
type ReportedMatch struct {
	ID     string     `json:"match"`
	Format string     `json:"format,omitempty"` // id, for readers that choose the rules by row
	Event  string     `json:"event,omitempty"`
	Round  string     `json:"round,omitempty"`
	Date   string     `json:"date,omitempty"` // civil date, YYYY-MM-DD
	Sides  [2]Entrant `json:"sides"`          // A and B
	Games  []Score    `json:"games,omitempty"`
	Winner MaybeSide  `json:"winner,omitempty"`
	Status Status     `json:"status,omitempty"`
	By     MaybeSide  `json:"by,omitempty"` // side that retired, forfeited or withdrew
	Of     string     `json:"of,omitempty"` // match that this one amends or resumes
	// Won and Totals are what a partial report gives instead of games, or
	// beside them: games won, and points of all games.
	Won      *Score  `json:"won,omitempty"`
	Totals   *Score  `json:"totals,omitempty"`
	TimeOuts []Score `json:"time_outs,omitempty"` // used, by game
}

// About is what a match is known by from one file to the next, whatever row it
// stands in: its event, id, date, round and sides, as far as it has them; without
// id and sides its games besides.
func (m *ReportedMatch) About() string {
	parts := []string{m.Event, m.ID, m.Date, m.Round, entryID(&m.Sides[0], ByPair), entryID(&m.Sides[1], ByPair)}
	if m.Sides[0].Empty() && m.Sides[1].Empty() && m.ID == "" {
		parts = append(parts, GamesText(keptGames(m.Games)))
	}
	about := ""
	for _, part := range parts {
		if part == "" {
			continue
		}
		if about != "" {
			about += ","
		}
		about += shortened(part)
	}
	return about
}

// GamesWon counts the games that each side has more points in.
func (m *ReportedMatch) GamesWon() Score {
	var won Score
	for _, g := range m.Games {
		switch {
		case g.missing() || g[0] == g[1]:
		case g[0] > g[1]:
			won[0]++
		default:
			won[1]++
		}
	}
	return won
}

// Points sums the points of all games.
func (m *ReportedMatch) Points() Score {
	var sum Score
	for _, g := range m.Games {
		if !g.missing() {
			sum[0] += g[0]
			sum[1] += g[1]
		}
	}
	return sum
}

// Victor returns the side that won: the one named, or the one with more games.
func (m *ReportedMatch) Victor() MaybeSide {
	if m.Winner != Nobody {
		return m.Winner
	}
	won := m.GamesWon()
	if m.Won != nil && len(m.Games) == 0 {
		won = *m.Won
	}
	switch {
	case statusRules[m.Status%statusCount].none || m.Status == Annulled:
		return Nobody
	case m.Status == Retired || m.Status == Forfeited || m.Status == Withdrawn:
		return m.By.Other()
	}
	return leader(won)
}

func sideOf(i int) rally.Side { return rally.Side(i & 1) }
