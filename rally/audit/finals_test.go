package audit_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
)

func newFinals(t testing.TB, id string) *audit.Finals {
	t.Helper()
	f, err := format.Parse(id)
	require.NoError(t, err)
	finals, err := audit.NewFinals(f)
	require.NoError(t, err)
	return finals
}

// lineField takes a field out of a canonical line.
func lineField(line, name string) string {
	_, rest, _ := strings.Cut(line, " "+name+"=")
	value, _, _ := strings.Cut(rest, " ")
	return value
}

// finalsBySlowModel plays every game of the slow model, which shares nothing
// with the engine, and returns the finals that it reaches, up to a score.
func finalsBySlowModel(t testing.TB, f format.Format, most int, events ...string) map[audit.Score]bool {
	out, seen := map[audit.Score]bool{}, map[string]bool{}
	var queue []*reference.Match
	for _, first := range []string{"A", "B"} {
		m, err := reference.New(f, first, [2]int{1, 1})
		require.NoError(t, err)
		queue = append(queue, m)
	}
	for len(queue) > 0 {
		m := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, e := range events {
			next := m.Clone()
			if _, refusal := next.Do(e); refusal != "" {
				continue
			}
			line := next.Line()
			s := score(t, lineField(line, "score"))
			switch phase := lineField(line, "phase"); {
			case strings.HasSuffix(lineField(line, "result"), "mf"): // a forfeited match has no final
			case phase == "over" || phase == "between":
				out[s] = true
			case phase == "play" && max(s[0], s[1]) <= most && !seen[line]:
				seen[line] = true
				queue = append(queue, next)
			}
		}
	}
	return out
}

// Which finals are legal, by playing all games of the slow model.
func TestLegalFinalsAreThoseThatTheSlowModelReaches(t *testing.T) {
	shapes := []string{"sideout-singles-11", "sideout-doubles-11", "sideout-doubles-15@2019", "rally-doubles-7", "rally-doubles-11",
		"rally-singles-15", "fixed-doubles-21-each-at-point", "fixed-doubles-21-win-on-serve", "swap-doubles-11", "badminton-singles-21-of3", "badminton-doubles-15-of3@badminton-2005"}
	tried := 0
	for _, id := range shapes {
		f, err := format.Parse(id)
		if err != nil {
			t.Logf("%s: %v", id, err)
			continue
		}
		tried++
		t.Run(id, func(t *testing.T) {
			finals := newFinals(t, id)
			most := int(f.Game.Target) + 3
			if f.Game.Cap != 0 {
				most = int(f.Game.Cap) + 2
			}
			reached := finalsBySlowModel(t, f, most, "A", "B")
			for a := range most + 1 {
				for b := range most + 1 {
					s := audit.Score{a, b}
					require.Equal(t, reached[s], finals.Game(1, s) == audit.NoCode, "%v: %v", s, finals.Game(1, s))
				}
			}
		})
	}
	require.Equal(t, len(shapes), tried)
}

// Finals that need a penalty, by playing all games of the slow model with one
// technical foul a side, which is as many as the ladder of 2026 allows before
// a side forfeits.
func TestFinalsByPenaltyAreThoseThatTheSlowModelReaches(t *testing.T) {
	for _, id := range []string{"sideout-doubles-11@2026", "sideout-singles-11@2024", "rally-doubles-11@2026", "sideout-doubles-11@2013"} {
		t.Run(id, func(t *testing.T) {
			f, err := format.Parse(id)
			require.NoError(t, err)
			finals := newFinals(t, id)
			most := int(f.Game.Target) + 4
			byRallies := finalsBySlowModel(t, f, most, "A", "B")
			byFouls := finalsBySlowModel(t, f, most, "A", "B", "tfA", "tfB")
			penalty := 0
			for a := range most {
				for b := range most {
					s := audit.Score{a, b}
					want := byFouls[s] && !byRallies[s]
					require.Equal(t, want, finals.Game(1, s) == "game-penalty-only", "%v: %v", s, finals.Game(1, s))
					if want {
						penalty++
					}
				}
			}
			t.Logf("%d finals by rallies, %d by a penalty only", len(byRallies), penalty)
		})
	}
}

// What an imported final of a game to 11 is, case by case: win by two (12.B,
// 2020 to 2025).
func TestFinalOfOneGame(t *testing.T) {
	tests := []struct {
		format string
		score  string
		want   audit.FindingCode
	}{
		{"sideout-doubles-11", "11-0", audit.NoCode},
		{"sideout-doubles-11", "11-9", audit.NoCode},
		{"sideout-doubles-11", "12-10", audit.NoCode},
		{"sideout-doubles-11", "15-13", audit.NoCode},
		{"sideout-doubles-11", "21-19", audit.NoCode},
		{"sideout-doubles-11", "9-11", audit.NoCode}, // the order is that of entry, never winner first
		{"sideout-doubles-11", "11-10", "game-margin"},
		{"sideout-doubles-11", "12-11", "game-margin"},
		{"sideout-doubles-11", "15-11", "game-over-run"},
		{"sideout-doubles-11", "16-12", "game-over-run"},
		{"sideout-doubles-15", "15-12", audit.NoCode},
		{"sideout-doubles-11", "11-11", "game-level"},
		{"sideout-doubles-11", "0-0", "game-nothing"},
		{"sideout-doubles-11", "10-8", "game-unfinished"},
		{"sideout-doubles-11", "5-10", "game-unfinished"},
		{"rally-doubles-21", "21-20", "game-margin"},
		{"badminton-singles-21-of3", "30-29", audit.NoCode}, // Laws of Badminton 7.5: at 29 all the next point wins
		{"badminton-singles-21-of3", "30-28", audit.NoCode},
		{"badminton-singles-21-of3", "31-29", "game-over-run"},
		{"sideout-doubles-11", "999-997", "game-over-run"}, // a score ends at 255
		{"sideout-doubles-11", "255-253", audit.NoCode},
		// An open point: a point taken off that leaves target and margin met
		// does not end the game, so one more makes 13-10 (13.G.3.c).
		{"sideout-doubles-11", "13-10", "game-penalty-only"},
		{"sideout-doubles-11", "12-9", "game-penalty-only"},
		{"sideout-doubles-11", "14-11", "game-penalty-only"},
		{"sideout-doubles-11", "15-12", "game-penalty-only"},
	}
	for _, test := range tests {
		t.Run(test.format+" "+test.score, func(t *testing.T) {
			require.Equal(t, test.want, newFinals(t, test.format).Game(1, score(t, test.score)))
		})
	}
}

// A match is over when it is decided; the winner owns more games; total points
// never decide (12.B).
func TestFinalsOfAMatch(t *testing.T) {
	tests := []struct {
		name   string
		format string
		games  string
		change func(m *audit.ReportedMatch)
		want   []string
	}{
		{"two to nothing", "sideout-doubles-11-of3", "11-8 11-4", nil, nil},
		{"two to one", "sideout-doubles-11-of3", "11-8 2-11 11-9", nil, nil},
		{"three to two", "sideout-doubles-11-of5", "11-8 2-11 11-9 2-11 12-10", nil, nil},
		{"more points, fewer games", "sideout-doubles-11-of3", "11-9 0-11 11-9", func(m *audit.ReportedMatch) { m.Winner = audit.SideA }, nil},
		{"empty columns after the last game", "sideout-doubles-11-of3", "11-8 11-4 -", nil, nil},
		{"a third game after two to nothing", "sideout-doubles-11-of3", "11-8 11-4 11-2", nil,
			[]string{"match-extra-game: the match was decided after game 2, but 3 games are given"}},
		{"four games of three", "sideout-doubles-11-of3", "11-8 2-11 11-4 11-2", nil,
			[]string{"match-too-many-games: 4 games are given, the match has at most 3"}},
		{"one game of three", "sideout-doubles-11-of3", "11-8", nil,
			[]string{"match-undecided: 1-0 in games: nobody has won 2"}},
		{"one each of three", "sideout-doubles-11-of3", "11-8 2-11", nil,
			[]string{"match-undecided: 1-1 in games: nobody has won 2"}},
		{"the second game missing", "sideout-doubles-11-of3", "11-8 - 11-4", nil,
			[]string{"match-game-missing: game 2 has no score, but a later one has"}},
		{"the winner named lost", "sideout-doubles-11-of3", "11-8 11-4", func(m *audit.ReportedMatch) { m.Winner = audit.SideB },
			[]string{"winner-disagrees winner: side B is named the winner, but the games stand 2-0: the winner or the order of the scores is wrong"}},
		{"every game fits another target", "sideout-doubles-11-of3", "15-12 15-13", nil,
			[]string{"target-other: no game fits the target of 11, but every game fits 15: wrong format?"}},
		{"one low game is rather unfinished", "sideout-doubles-11", "7-5", nil,
			[]string{"game-unfinished: game 1: 7-5 is unfinished, the target is 11: compare with the sheet", "retirement-unmarked: did side B retire at 7-5? Then the convention reports 11-5"}},
		{"two unfinished games are another target", "sideout-doubles-11-of3", "7-5 7-2", nil,
			[]string{"target-other: no game fits the target of 11, but every game fits 7: wrong format?"}},
		{"a loser's unfinished game with a winner named", "sideout-doubles-11-of3", "11-7 10-5", func(m *audit.ReportedMatch) { m.Winner = audit.SideB },
			[]string{"game-unfinished: game 2: 10-5 is unfinished, the target is 11: probably 11-5",
				"retirement-unmarked: did side A retire at 10-5? Then the convention reports 11-7 10-12 0-11",
				"winner-disagrees winner: side B is named the winner, but the games stand 2-0: the winner or the order of the scores is wrong"}},
		{"too many time-outs", "sideout-doubles-11", "11-8", func(m *audit.ReportedMatch) { m.TimeOuts = []audit.Score{{3, 2}} },
			[]string{"time-outs-too-many time_outs: game 1: side A used 3 time-outs, 2 are allowed"}},
		{"three time-outs to 21", "sideout-doubles-21", "21-8", func(m *audit.ReportedMatch) { m.TimeOuts = []audit.Score{{3, 3}} }, nil},
		{"one player on both sides", "sideout-doubles-11", "11-8", func(m *audit.ReportedMatch) { m.Sides[1].Players[1] = "imani" },
			[]string{"player-both-sides sides: player imani is on both sides"}},
		{"one player twice", "sideout-doubles-11", "11-8", func(m *audit.ReportedMatch) { m.Sides[1].Players[1] = "priya" },
			[]string{"player-twice sides: player priya is listed twice on one side"}},
		{"a doubles with one player", "sideout-doubles-11", "11-8", func(m *audit.ReportedMatch) { m.Sides[1].Players[1] = "" },
			[]string{"side-players sides: side B has not the number of players of doubles"}},
		{"a singles with two", "sideout-singles-11", "11-8", nil,
			[]string{"side-players sides: side A has not the number of players of singles", "side-players sides: side B has not the number of players of singles"}},
		{"games won given beside the games", "sideout-doubles-11-of3", "11-8 11-4", func(m *audit.ReportedMatch) { m.Won = &audit.Score{2, 1} },
			[]string{"totals-disagree won: 2-1 is given, the games add up to 2-0"}},
		{"totals given beside the games", "sideout-doubles-11-of3", "11-8 11-4", func(m *audit.ReportedMatch) { m.Totals = &audit.Score{22, 13} },
			[]string{"totals-disagree totals: 22-13 is given, the games add up to 22-12"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			m := pairs(t, "m", "imani", "tomasz", "priya", "lars")
			m.Games = games(t, test.games)
			if test.change != nil {
				test.change(&m)
			}
			require.Empty(t, cmp.Diff(test.want, brief(newFinals(t, test.format).Check(&m, audit.Place{}, nil))))
		})
	}
}

// games reads "11-8 - 7-11".
func games(t testing.TB, text string) []audit.Score {
	var out []audit.Score
	for _, word := range strings.Fields(text) {
		if word == "-" {
			out = append(out, audit.NoScore())
			continue
		}
		out = append(out, score(t, word))
	}
	return out
}

// Where all games are played a match can be tied; that is local.
func TestAllGamesPlayed(t *testing.T) {
	finals, err := audit.NewFinalsOf(audit.Scoring{Target: 11, WinBy: 2, Games: 4, PlayAll: true})
	require.NoError(t, err)
	for text, want := range map[string][]string{
		"11-8 11-4 11-2 3-11": nil,
		"11-8 4-11 11-2 3-11": {"match-tied: 2-2 in games: the match is tied"},
		"11-8 11-4 11-2":      {"match-undecided: 3-0 in games: nobody has won 3"},
	} {
		require.Empty(t, cmp.Diff(want, brief(finals.Check(&audit.ReportedMatch{Games: games(t, text)}, audit.Place{}, nil))), text)
	}
}

// The last possible game may have another target (12.B: two to 11, a third to
// 15 in some events; Laws of volleyball 6.3.2: the fifth set to 15).
func TestAnotherLastGame(t *testing.T) {
	finals, err := audit.NewFinalsOf(audit.Scoring{Target: 25, WinBy: 2, Games: 5, Last: &audit.GameEnd{Target: 15, WinBy: 2}})
	require.NoError(t, err)
	require.Equal(t, audit.NoCode, finals.Game(5, audit.Score{15, 13}))
	require.Equal(t, audit.FindingCode("game-unfinished"), finals.Game(4, audit.Score{15, 13}))
	require.Equal(t, audit.FindingCode("game-over-run"), finals.Game(5, audit.Score{25, 13}))
}

// How a match of each status must look: what was not played has no games,
// what was broken off says by whom (12.F, 12.G, 2024).
func TestStatuses(t *testing.T) {
	tests := []struct {
		status audit.Status
		games  string
		change func(m *audit.ReportedMatch)
		want   []string
	}{
		{audit.NotPlayed, "", nil, nil},
		{audit.NotPlayed, "11-2", nil, []string{"status-games: a match that is not played has 1 game"}},
		{audit.NotPlayed, "", func(m *audit.ReportedMatch) { m.Winner = audit.SideA }, []string{"status-winner: a match that is not played: a winner is named, and there can be none"}},
		{audit.Postponed, "", nil, nil},
		{audit.Postponed, "11-2", nil, []string{"status-games: a match that is postponed has 1 game"}},
		{audit.Bye, "", func(m *audit.ReportedMatch) { m.Sides[1] = audit.Entrant{} }, nil},
		{audit.Bye, "", nil, []string{"bye-opponent: a bye has two sides"}},
		{audit.DoubleForfeit, "", nil, nil},
		{audit.DoubleForfeit, "", func(m *audit.ReportedMatch) { m.Winner = audit.SideB }, []string{"status-winner: a match that is forfeited by both: a winner is named, and there can be none"}},
		{audit.Abandoned, "11-2 5-5", nil, nil},
		{audit.Abandoned, "11-2 11-5", nil, []string{"status-games: a match that is abandoned has 2 games"}},
		{audit.Abandoned, "5-5 11-2", nil, []string{"game-level: game 1: 5-5 is level, so nobody has won it: compare with the sheet"}},
		{audit.Abandoned, "11-2", func(m *audit.ReportedMatch) { m.Winner = audit.SideA }, []string{"status-winner: a match that is abandoned: a winner is named, and there can be none"}},
		{audit.Resumed, "11-2 11-5", func(m *audit.ReportedMatch) { m.Of = "earlier" }, nil},
		{audit.Resumed, "11-2 11-5", nil, []string{"reference-missing: a match that is resumed does not say of which match"}},
		{audit.Amended, "11-2 11-5", nil, []string{"reference-missing: a match that is amended does not say of which match"}},
		{audit.Awarded, "", func(m *audit.ReportedMatch) { m.Winner = audit.SideB }, nil},
		{audit.Awarded, "11-2", nil, nil},
		{audit.Awarded, "", nil, []string{"status-winner: a match that is awarded: the winner is not said"}},
		{audit.Annulled, "99-98 3-3", nil, nil},
		{audit.Retired, "11-2 5-3", nil, []string{"status-winner: a match that is retired: which side that was is not said, or it is named the winner"}},
		{audit.Retired, "11-2 5-3", func(m *audit.ReportedMatch) { m.By, m.Winner = audit.SideA, audit.SideA },
			[]string{"status-winner winner: a match that is retired: which side that was is not said, or it is named the winner", "retirement-convention: side A retired at 5-3; the convention reports 11-2 5-11 0-11"}},
	}
	for _, test := range tests {
		t.Run(fmt.Sprint(test.status, " ", test.games), func(t *testing.T) {
			m := pairs(t, "m", "imani", "tomasz", "priya", "lars")
			m.Games, m.Status = games(t, test.games), test.status
			if test.change != nil {
				test.change(&m)
			}
			require.Empty(t, cmp.Diff(test.want, brief(newFinals(t, "sideout-doubles-11-of3").Check(&m, audit.Place{}, nil))))
		})
	}
}

// How editions report what was not finished. Lost points: 12.F.6.a to 2021.
// Kept points: 12.F.6.a from 2022, with the published example of 2024, a
// retirement at 10-5 up in the first game: 10-12, 0-11. Forfeits: kept in 2024
// and 2025 by 12.F.4 (USA Pickleball rule-change submission 1019), not in
// 2026 (a summary of 22.K), not before 2022 (from memory), open in between.
func TestConventions(t *testing.T) {
	tests := []struct {
		name   string
		format string
		games  string
		by     audit.MaybeSide
		status audit.Status
		want   string
	}{
		{"published example, 2024: the leader retires", "sideout-doubles-11-of3@2024", "10-5", audit.SideA, audit.Retired, "10-12 0-11"},
		{"trailing, 2024", "sideout-doubles-11-of3@2024", "3-8", audit.SideA, audit.Retired, "3-11 0-11"},
		{"level past the target, 2024", "sideout-doubles-11-of3@2024", "11-11", audit.SideA, audit.Retired, "11-13 0-11"},
		{"one short of two clear, 2024", "sideout-doubles-11-of3@2024", "14-13", audit.SideA, audit.Retired, "14-16 0-11"},
		{"published question, a game to 15", "sideout-doubles-15@2024", "9-12", audit.SideA, audit.Retired, "9-15"},
		{"the other side", "sideout-doubles-11-of3@2024", "5-10", audit.SideB, audit.Retired, "12-10 11-0"},
		{"completed games stand", "sideout-doubles-11-of3@2024", "11-7 4-6", audit.SideA, audit.Retired, "11-7 4-11 0-11"},
		{"in the last game", "sideout-doubles-11-of3@2024", "11-7 4-11 2-1", audit.SideA, audit.Retired, "11-7 4-11 2-11"},
		{"between games", "sideout-doubles-11-of3@2024", "11-7", audit.SideA, audit.Retired, "11-7 0-11 0-11"},
		{"best of five", "sideout-doubles-11-of5@2024", "4-2", audit.SideA, audit.Retired, "4-11 0-11 0-11"},
		{"2021: points are lost", "sideout-doubles-11-of3@2021", "10-5", audit.SideA, audit.Retired, "0-11 0-11"},
		{"2021: completed games stand", "sideout-doubles-11-of3@2021", "11-7 4-6", audit.SideA, audit.Retired, "11-7 0-11 0-11"},
		{"2022: points are kept", "sideout-doubles-11-of3@2022", "10-5", audit.SideA, audit.Retired, "10-12 0-11"},
		{"forfeit before play, any edition", "sideout-doubles-21@2026", "", audit.SideB, audit.Forfeited, "21-0"},
		{"forfeit in play, 2024: as a retirement", "sideout-doubles-11-of3@2024", "7-4", audit.SideB, audit.Forfeited, "11-4 11-0"},
		{"forfeit in play, 2026: to nothing", "sideout-doubles-11-of3@2026", "7-4", audit.SideB, audit.Forfeited, "11-0 11-0"},
		{"forfeit in play, 2019: to nothing", "sideout-doubles-11-of3@2019", "7-4", audit.SideB, audit.Forfeited, "11-0 11-0"},
		{"withdrawal", "sideout-doubles-11-of3@2024", "", audit.SideA, audit.Withdrawn, "0-11 0-11"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			finals := newFinals(t, test.format)
			got := finals.Convention(games(t, test.games), test.by, test.status)
			require.Equal(t, test.want, audit.GamesText(got))
			// The convention reported is itself accepted, and decides the match.
			m := audit.ReportedMatch{Games: got, Status: test.status, By: test.by}
			require.Empty(t, brief(finals.Check(&m, audit.Place{}, nil)))
			require.Equal(t, test.by.Other(), m.Victor())
			// What was reported instead is answered with the convention.
			m.Games = games(t, test.games)
			found := finals.Check(&m, audit.Place{}, nil)
			require.Len(t, found, 1, brief(found))
			require.Equal(t, test.want, found[0].Args.Plain("games"))
		})
	}
}

// A scoring keeps the points of the game in play, and its cap holds.
func TestConventionOfAScoring(t *testing.T) {
	finals, err := audit.NewFinalsOf(audit.Scoring{Target: 21, WinBy: 2, Cap: 30, Games: 3})
	require.NoError(t, err)
	for text, want := range map[string]string{"29-28": "29-30 0-21", "29-29": "29-30 0-21", "12-3": "12-21 0-21", "20-20": "20-22 0-21"} {
		require.Equal(t, want, audit.GamesText(finals.Convention(games(t, text), audit.SideA, audit.Retired)), text)
	}
}

func TestBrokenOffThatCannotBe(t *testing.T) {
	tests := []struct {
		name   string
		games  string
		by     audit.MaybeSide
		status audit.Status
		want   []string
	}{
		{"retired, though the match was won", "11-2 11-4", audit.SideA, audit.Retired,
			[]string{"retirement-complete: side A is said to have retired, but 2-0 in games had decided the match"}},
		{"retired, though the match was lost on court", "2-11 9-13", audit.SideA, audit.Retired, []string{"game-over-run: game 2: 9-13 goes past the end of a game to 11, won by 2: probably 11-13 or 9-11",
			"retirement-convention: side A retired at 9-13; the convention reports 2-11 9-11"}},
		{"retired before a score is a withdrawal", "", audit.SideA, audit.Retired,
			[]string{"retirement-before-play: a retirement before any score is a withdrawal; the convention reports 0-11 0-11"}},
		{"forfeited with games that look played", "4-11 9-11", audit.SideA, audit.Forfeited,
			[]string{"forfeit-full-score: side A is said to have forfeited, but the games look played out (0-2 in games)"}},
		{"withdrawn with games that look played", "4-11 9-11", audit.SideA, audit.Withdrawn,
			[]string{"forfeit-full-score: side A is said to have forfeited, but the games look played out (0-2 in games)"}},
		{"forfeited in play", "11-4 2-3", audit.SideA, audit.Forfeited,
			[]string{"forfeit-convention: the match was not finished at 2-3; the convention reports 11-4 2-11 0-11"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			m := audit.ReportedMatch{Games: games(t, test.games), By: test.by, Status: test.status}
			require.Empty(t, cmp.Diff(test.want, brief(newFinals(t, "sideout-doubles-11-of3@2024").Check(&m, audit.Place{}, nil))))
		})
	}
}

// The shortest sequence proves that a final can be reached: played from the
// start, it ends the games at it; and no shorter one can, since every point
// takes a rally and side-out scoring a lost serve before the other side scores.
func TestShortestReachesTheFinal(t *testing.T) {
	tests := []struct {
		format string
		games  string
		want   int // rallies
	}{
		{"rally-doubles-11@2026", "11-3", 14},
		{"sideout-doubles-11", "11-0", 11},
		{"sideout-doubles-11", "0-11", 11}, // that side serves first
		{"sideout-doubles-11", "11-1", 13}, // B serves first, scores, and loses its one serve of the opening turn
		{"sideout-doubles-11-of3", "11-0 0-11 11-0", 33},
		{"sideout-doubles-11-of3", "11-0 11-0", 11 + 1 + 11}, // the other side serves first in game 2 and loses its one serve
		{"sideout-singles-11-of3", "11-8 7-11 11-9", 0},
	}
	for _, test := range tests {
		t.Run(test.format+" "+test.games, func(t *testing.T) {
			finals := newFinals(t, test.format)
			want := games(t, test.games)
			first, events, err := finals.Shortest(want)
			require.NoError(t, err)
			if test.want != 0 {
				require.Len(t, events, test.want)
			}
			m, err := reference.New(finals.Rules().Format(), first.String(), [2]int{1, 1})
			require.NoError(t, err)
			var ended []audit.Score
			for _, e := range events {
				_, refusal := m.Do(e.String())
				require.Empty(t, refusal)
				if phase := lineField(m.Line(), "phase"); phase != "play" {
					ended = append(ended, score(t, lineField(m.Line(), "score")))
				}
			}
			require.Equal(t, want, ended)
			require.Equal(t, "over", lineField(m.Line(), "phase"))
		})
	}
}

// Against the slow model once more: breadth first through all games finds
// nothing shorter.
func TestShortestIsShortest(t *testing.T) {
	for _, id := range []string{"sideout-doubles-11", "sideout-singles-11", "rally-doubles-11@2025", "fixed-doubles-21-win-on-serve"} {
		finals := newFinals(t, id)
		f := finals.Rules().Format()
		length := map[audit.Score]int{}
		layer, seen := map[string]*reference.Match{}, map[string]bool{}
		for _, first := range []string{"A", "B"} {
			m, err := reference.New(f, first, [2]int{1, 1})
			require.NoError(t, err)
			layer[m.Line()+first] = m
		}
		for n := 1; len(layer) > 0; n++ {
			next := map[string]*reference.Match{}
			for _, m := range layer {
				for _, e := range []string{"A", "B"} {
					c := m.Clone()
					if _, refusal := c.Do(e); refusal != "" {
						continue
					}
					line := c.Line()
					s := score(t, lineField(line, "score"))
					switch phase := lineField(line, "phase"); {
					case phase != "play":
						if length[s] == 0 {
							length[s] = n
						}
					case max(s[0], s[1]) < int(f.Game.Target)+2 && !seen[line]:
						seen[line] = true
						next[line] = c
					}
				}
			}
			layer = next
		}
		checked := 0
		for s, want := range length {
			if max(s[0], s[1]) > int(f.Game.Target)+1 {
				continue
			}
			_, events, err := finals.Shortest([]audit.Score{s})
			require.NoError(t, err, "%v", s)
			require.Len(t, events, want, "%s %v", id, s)
			checked++
		}
		t.Logf("%s: %d finals", id, checked)
		require.GreaterOrEqual(t, checked, 2*int(f.Game.Target-1))
	}
}

func TestShortestSaysWhatCannotBe(t *testing.T) {
	finals := newFinals(t, "sideout-doubles-11-of3")
	scoring, err := audit.NewFinalsOf(audit.Scoring{Target: 11, WinBy: 2, Games: 1})
	require.NoError(t, err)
	for _, test := range []struct {
		finals *audit.Finals
		games  string
		want   string
	}{
		{finals, "", "audit: games: no games"},
		{finals, "11-8 11-10", "audit: games.1: game-margin"},
		{finals, "11-8 11-4 11-2", "audit: games.2: no sequence of rallies reaches it"},
		{finals, "13-10 11-4", "audit: games.0: game-penalty-only"},
		{scoring, "11-4", "audit: format: a scoring has no rallies"},
	} {
		_, _, err := test.finals.Shortest(games(t, test.games))
		require.EqualError(t, err, test.want)
	}
}
