package audit_test

import (
	"fmt"
	"math/rand"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// singles is a played match between two ids, games A-B.
func singles(t testing.TB, id, a, b string, games ...string) audit.ReportedMatch {
	m := audit.ReportedMatch{ID: id}
	m.Sides[0].Players[0], m.Sides[1].Players[0] = a, b
	for _, g := range games {
		m.Games = append(m.Games, score(t, g))
	}
	return m
}

// pairs is a played match between two pairs.
func pairs(t testing.TB, id, a1, a2, b1, b2 string, games ...string) audit.ReportedMatch {
	m := singles(t, id, a1, b1, games...)
	m.Sides[0].Players[1], m.Sides[1].Players[1] = a2, b2
	return m
}

// places writes a table as "1 a, 2 b, 2 c".
func places(lines []audit.Standing) []string {
	var out []string
	for _, l := range lines {
		out = append(out, string(rune('0'+l.Rank))+" "+l.ID)
	}
	return out
}

func mustTable(t testing.TB, rules audit.TableRules, matches []audit.ReportedMatch) []audit.Standing {
	t.Helper()
	lines, err := audit.Standings(rules, matches)
	require.NoError(t, err)
	return lines
}

// The worked example of a point difference that a published event notice
// gives: 11-8, 11-4 is +10, 11-9, 2-11, 11-6 is -2, together +8. The second
// match is won all the same: points never decide a match (12.B).
func TestPointDifferenceOfAPublishedExample(t *testing.T) {
	matches := []audit.ReportedMatch{
		singles(t, "one", "mei-lin", "rafael", "11-8", "11-4"),
		singles(t, "two", "mei-lin", "noor", "11-9", "2-11", "11-6"),
	}
	lines := mustTable(t, audit.RoundRobin(format.RulingsOf(format.Default)), matches)
	first := lines[0]
	require.Equal(t, "mei-lin", first.ID)
	require.Equal(t, []int{10, -2}, first.Sums)
	require.Equal(t, 8, first.For[0]-first.For[1])
	require.Equal(t, 2, first.Won)
	want := []string{"match one +10", "match two -2", "total +8", "matches-won 2 against 0 among mei-lin noor rafael"}
	require.Empty(t, cmp.Diff(want, first.Explain()))
}

// The order of a round robin is that of 12.C.4 (2025): matches won, head to
// head among the tied, point difference over all games, head-to-head point
// difference, difference against the next-highest side.
func TestRoundRobinStepByStep(t *testing.T) {
	event, err := format.Parse("sideout-doubles-11@2025+tie-restart=no")
	require.NoError(t, err)
	noRestart := audit.RoundRobin(event.Rulings)
	// Everybody beats somebody; a has the best difference, b and c are level,
	// and b beat c in games while c made more points.
	circle := []audit.ReportedMatch{
		singles(t, "1", "b", "c", "11-9", "2-11", "11-6"),
		singles(t, "2", "a", "b", "11-8", "9-11", "11-9"),
		singles(t, "3", "c", "a", "11-9", "0-11", "11-9"),
	}
	tests := []struct {
		name    string
		rules   audit.TableRules
		matches []audit.ReportedMatch
		want    []string
		decided []audit.Criterion // of the first line
	}{
		{"matches won come first, whatever the points",
			audit.RoundRobin(format.RulingsOf(format.Default)), []audit.ReportedMatch{
				singles(t, "1", "a", "b", "11-9", "0-11", "11-9"),
				singles(t, "2", "a", "c", "11-9", "0-11", "11-9"),
				singles(t, "3", "b", "c", "11-0", "11-0"),
			}, []string{"1 a", "2 b", "3 c"}, []audit.Criterion{audit.MatchesWon}},
		{"two tied: who won when they met, whatever the difference",
			audit.RoundRobin(format.RulingsOf(format.Default)), []audit.ReportedMatch{
				singles(t, "1", "a", "b", "11-9", "11-9"),
				singles(t, "2", "c", "a", "11-0", "11-0"),
				singles(t, "3", "b", "d", "11-0", "11-0"),
				singles(t, "4", "c", "d", "11-0", "11-0"),
			}, []string{"1 c", "2 a", "3 b", "4 d"}, []audit.Criterion{audit.MatchesWon}},
		{"a circle of three is not split by head to head: the difference decides",
			audit.RoundRobin(format.RulingsOf(format.Default)), []audit.ReportedMatch{
				singles(t, "1", "a", "b", "11-9", "11-9"),
				singles(t, "2", "b", "c", "11-0", "11-0"),
				singles(t, "3", "c", "a", "11-5", "11-5"),
			}, []string{"1 b", "2 a", "3 c"}, []audit.Criterion{audit.PointDiff}},
		{"a tie that got smaller starts again: b beat c",
			audit.RoundRobin(format.RulingsOf(format.Default)), circle, []string{"1 a", "2 b", "3 c"}, []audit.Criterion{audit.PointDiff}},
		{"a tie that got smaller goes on: c has the better difference against b",
			noRestart, circle, []string{"1 a", "2 c", "3 b"}, []audit.Criterion{audit.PointDiff}},
		{"tied sides that never met: the difference against the side above them",
			audit.RoundRobin(format.RulingsOf(format.Default)), []audit.ReportedMatch{
				singles(t, "1", "top", "b", "11-9", "11-9"),
				singles(t, "2", "top", "c", "11-7", "11-7"),
				singles(t, "3", "b", "d", "11-5", "11-5"),
				singles(t, "4", "c", "d", "11-3", "11-3"),
			}, []string{"1 top", "2 b", "3 c", "4 d"}, []audit.Criterion{audit.MatchesWon}},
		{"the side above them is the next one up, not the first",
			audit.RoundRobin(format.RulingsOf(format.Default)), []audit.ReportedMatch{
				singles(t, "1", "top", "second", "11-9", "11-9"),
				singles(t, "2", "top", "b", "11-7", "11-7"), singles(t, "3", "top", "c", "11-9", "11-9"),
				singles(t, "4", "second", "b", "11-9", "11-9"), singles(t, "5", "second", "c", "11-7", "11-7"),
				singles(t, "6", "b", "d", "11-7", "11-7"), singles(t, "7", "c", "d", "11-7", "11-7"),
			}, []string{"1 top", "2 second", "3 b", "4 c", "5 d"}, []audit.Criterion{audit.MatchesWon}},
		{"nothing separates them: they share the place, and the next is left out",
			audit.RoundRobin(format.RulingsOf(format.Default)), []audit.ReportedMatch{
				singles(t, "1", "a", "b", "11-9", "11-9"), singles(t, "2", "b", "a", "11-9", "11-9"),
				singles(t, "3", "a", "c", "11-9", "11-9"), singles(t, "4", "b", "c", "11-9", "11-9"),
			}, []string{"1 a", "1 b", "3 c"}, []audit.Criterion{audit.MatchesWon}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			lines := mustTable(t, test.rules, test.matches)
			require.Equal(t, test.want, places(lines))
			var decided []audit.Criterion
			for _, r := range lines[0].Decided {
				decided = append(decided, r.By)
			}
			require.Equal(t, test.decided, decided[:min(len(decided), len(test.decided))])
			// Whatever the order of the reports, the places are the same.
			rng := rand.New(rand.NewSource(1))
			for range 10 {
				rng.Shuffle(len(test.matches), func(i, k int) { test.matches[i], test.matches[k] = test.matches[k], test.matches[i] })
				require.Equal(t, test.want, places(mustTable(t, test.rules, test.matches)))
			}
		})
	}
}

func TestSharedPlacesNameEachOther(t *testing.T) {
	lines := mustTable(t, audit.RoundRobin(format.RulingsOf(format.Default)), []audit.ReportedMatch{
		singles(t, "1", "a", "b", "11-9", "11-9"), singles(t, "2", "b", "a", "11-9", "11-9"),
	})
	require.Equal(t, []string{"a", "b"}, lines[0].Together)
	require.Equal(t, []string{"a", "b"}, lines[1].Together)
	require.Equal(t, "shared by a b", lines[0].Explain()[3])
}

// That all of many sides are tied costs no more than there are sides and matches.
func TestManyTiedSides(t *testing.T) {
	const n = 3000
	id := func(i int) string { return fmt.Sprintf("p%04d", i%n) }
	var matches []audit.ReportedMatch
	for i := range n {
		matches = append(matches, singles(t, itoa(i), id(i), id(i+1), "11-5"))
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	lines := mustTable(t, audit.RoundRobin(format.RulingsOf(format.Default)), matches)
	runtime.ReadMemStats(&after)
	require.Len(t, lines, n)
	for _, l := range lines {
		require.Equal(t, 1, l.Rank)
		require.Len(t, l.Together, n)
	}
	require.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(16<<20))
}

// Other orders that are in use are data too.
func TestOtherOrders(t *testing.T) {
	tests := []struct {
		name    string
		rules   audit.TableRules
		matches []audit.ReportedMatch
		want    []string
	}{
		// A published league order: match, then game, then point difference.
		{"match difference before the number of wins",
			audit.TableRules{Order: []audit.Criterion{audit.MatchDiff, audit.GameDiff, audit.PointDiff}},
			[]audit.ReportedMatch{
				singles(t, "1", "a", "c", "11-9", "11-9"), singles(t, "2", "a", "c", "11-9", "11-9"),
				singles(t, "3", "b", "c", "11-9", "11-9"), singles(t, "4", "b", "c", "11-9", "11-9"), singles(t, "5", "b", "c", "11-9", "11-9"),
				singles(t, "6", "d", "b", "11-9", "11-9"), singles(t, "7", "d", "b", "11-9", "11-9"),
			}, []string{"1 a", "1 d", "3 b", "4 c"}},
		{"games, then points, where matches are level",
			audit.TableRules{Order: []audit.Criterion{audit.MatchDiff, audit.GameDiff, audit.PointDiff}},
			[]audit.ReportedMatch{
				singles(t, "1", "a", "x", "11-9", "9-11", "11-9"), singles(t, "2", "b", "y", "11-9", "11-9"), singles(t, "3", "c", "z", "11-0", "11-0"),
			}, []string{"1 c", "2 b", "3 a", "4 x", "5 y", "6 z"}},
		// A published team league: head to head only if exactly two are tied
		// and they met, then the difference.
		{"two who met",
			audit.TableRules{Order: []audit.Criterion{audit.MatchesWon, audit.TwoMet, audit.PointDiff}},
			[]audit.ReportedMatch{
				singles(t, "1", "a", "b", "11-9", "11-9"), singles(t, "2", "b", "c", "11-0", "11-0"), singles(t, "3", "a", "d", "9-11", "9-11"),
				singles(t, "4", "d", "e", "11-9", "11-9"),
			}, []string{"1 d", "2 a", "3 b", "4 e", "5 c"}},
		{"three tied: who met whom is not asked",
			audit.TableRules{Order: []audit.Criterion{audit.MatchesWon, audit.TwoMet, audit.PointDiff}},
			[]audit.ReportedMatch{
				singles(t, "1", "a", "b", "11-9", "11-9"), singles(t, "2", "b", "c", "11-9", "11-9"), singles(t, "3", "c", "d", "11-0", "11-0"),
			}, []string{"1 c", "2 a", "3 b", "4 d"}},
		// A local order: head to head, difference, points for, then a coin.
		{"points for, at last",
			audit.TableRules{Order: []audit.Criterion{audit.MatchesWon, audit.HeadToHead, audit.PointDiff, audit.PointsFor}},
			[]audit.ReportedMatch{singles(t, "1", "a", "x", "15-13", "15-13"), singles(t, "2", "b", "y", "11-9", "11-9")},
			[]string{"1 a", "2 b", "3 x", "4 y"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			require.Equal(t, test.want, places(mustTable(t, test.rules, test.matches)))
		})
	}
}

// Shares rank fairly where sides have played unequal numbers of matches
// (common practice after a withdrawal).
func TestUnequalNumbersOfMatches(t *testing.T) {
	matches := []audit.ReportedMatch{
		singles(t, "1", "a", "x", "11-9", "11-9"), singles(t, "2", "a", "x", "11-9", "11-9"), singles(t, "3", "x", "a", "11-9", "11-9"), // a: 2 of 3
		singles(t, "4", "b", "y", "11-9", "11-9"), singles(t, "5", "b", "y", "11-9", "11-9"), singles(t, "6", "b", "y", "11-9", "11-9"),
		singles(t, "7", "y", "b", "11-9", "11-9"), singles(t, "8", "y", "b", "11-9", "11-9"), // b: 3 of 5
	}
	byNumber := audit.TableRules{Order: []audit.Criterion{audit.MatchesWon}}
	byShare := byNumber
	byShare.Share = true
	require.Equal(t, []string{"1 b", "2 a", "2 y", "4 x"}, places(mustTable(t, byNumber, matches)))
	lines := mustTable(t, byShare, matches)
	require.Equal(t, []string{"1 a", "2 b", "3 y", "4 x"}, places(lines))
	require.Equal(t, audit.Reason{By: audit.MatchesWon, Value: 2, Of: 3, Other: 3, From: []string{"a", "b", "x", "y"}}, lines[0].Decided[0])

	// Who has played nothing has no share, and comes last.
	matches = append(matches, audit.ReportedMatch{ID: "9", Status: audit.Postponed, Sides: [2]audit.Entrant{{Players: [2]string{"new"}}, {Players: [2]string{"x"}}}})
	lines = mustTable(t, byShare, matches)
	require.Equal(t, "5 new", places(lines)[4])
	require.Equal(t, []string{"9"}, lines[4].Left)
}

func TestLeaguePoints(t *testing.T) {
	rules := audit.TableRules{Points: audit.PointRules{Win: 3, Tie: 1, Loss: 0, Forfeit: -1, PerGame: 1}, Order: []audit.Criterion{audit.LeaguePoints, audit.PointDiff}}
	won, lost := singles(t, "won", "a", "b", "11-8", "7-11", "11-9"), singles(t, "forfeit", "b", "c", "0-11", "0-11")
	lost.Status, lost.By = audit.Forfeited, audit.SideA
	tied := singles(t, "tied", "a", "c", "11-9", "9-11")
	both := singles(t, "both", "b", "c")
	both.Status = audit.DoubleForfeit
	lines := mustTable(t, rules, []audit.ReportedMatch{won, lost, tied, both})
	got := map[string][2]int{}
	for _, l := range lines {
		got[l.ID] = [2]int{l.League, l.Played}
		require.Equal(t, l.Played, l.Won+l.Lost+l.Tied, l.ID)
	}
	want := map[string][2]int{
		"a": {3 + 2 + 1 + 1, 2},     // a win with two games, a tie with one
		"b": {0 + 1 - 1 + 0 - 1, 3}, // a loss with one game, two forfeits
		"c": {3 + 2 + 1 + 1 - 1, 3}, // a win with two games, a tie with one, a double forfeit
	}
	require.Empty(t, cmp.Diff(want, got))
	require.Equal(t, "1 a", places(lines)[0])
}

func TestWhomATableRanks(t *testing.T) {
	m := []audit.ReportedMatch{
		pairs(t, "1", "imani", "tomasz", "priya", "lars", "11-8", "11-4"),
		pairs(t, "2", "lars", "priya", "tomasz", "imani", "11-9", "11-9"), // the order of a pair is free
		pairs(t, "3", "imani", "priya", "tomasz", "mei-lin", "11-2", "11-2"),
	}
	for i := range m {
		m[i].Sides[0].Team, m[i].Sides[1].Team = "harbour", "lane"
	}
	tests := []struct {
		by   audit.By
		want map[string][3]int // played, won, point difference
	}{
		{audit.ByPair, map[string][3]int{
			"imani+tomasz": {2, 1, 6}, "lars+priya": {2, 1, -6}, "imani+priya": {1, 1, 18}, "mei-lin+tomasz": {1, 0, -18}}},
		{audit.ByTeam, map[string][3]int{"harbour": {3, 3, 32}, "lane": {3, 0, -32}}},
		{audit.ByPlayer, map[string][3]int{
			"imani": {3, 2, 24}, "tomasz": {3, 1, -12}, "priya": {3, 2, 12}, "lars": {2, 1, -6}, "mei-lin": {1, 0, -18}}},
	}
	for _, test := range tests {
		t.Run(test.by.String(), func(t *testing.T) {
			got := map[string][3]int{}
			rules := audit.RoundRobin(format.RulingsOf(format.Default))
			rules.By = test.by
			for _, l := range mustTable(t, rules, m) {
				got[l.ID] = [3]int{l.Played, l.Won, l.For[0] - l.For[1]}
			}
			require.Empty(t, cmp.Diff(test.want, got))
		})
	}
}

// What counts for a table, and which of several reports does (common
// practice).
func TestWhatCounts(t *testing.T) {
	with := func(m audit.ReportedMatch, s audit.Status, of string) audit.ReportedMatch {
		m.Status, m.Of = s, of
		return m
	}
	a11, b11 := singles(t, "1", "a", "b", "11-9", "11-9"), singles(t, "1", "a", "b", "9-11", "9-11")
	under := func(m audit.ReportedMatch, id string) audit.ReportedMatch {
		m.ID = id
		return m
	}
	tests := []struct {
		name    string
		matches []audit.ReportedMatch
		want    [2]int // matches that a won and b won
	}{
		{"played", []audit.ReportedMatch{a11}, [2]int{1, 0}},
		{"reported twice: the first counts", []audit.ReportedMatch{a11, b11}, [2]int{1, 0}},
		{"without ids nothing tells that it is the same", []audit.ReportedMatch{under(a11, ""), under(a11, "")}, [2]int{2, 0}},
		{"amended: the amendment counts", []audit.ReportedMatch{a11, with(under(b11, "2"), audit.Amended, "1")}, [2]int{0, 1}},
		{"amended, the amendment listed first", []audit.ReportedMatch{with(under(b11, "2"), audit.Amended, "1"), a11}, [2]int{0, 1}},
		{"amended under its own id", []audit.ReportedMatch{a11, with(b11, audit.Amended, "1")}, [2]int{0, 1}},
		{"amended twice: the last amendment counts", []audit.ReportedMatch{a11, with(under(b11, "2"), audit.Amended, "1"), with(under(a11, "3"), audit.Amended, "1")}, [2]int{1, 0}},
		{"an amendment amended", []audit.ReportedMatch{a11, with(under(b11, "2"), audit.Amended, "1"), with(under(a11, "3"), audit.Amended, "2")}, [2]int{1, 0}},
		{"a circle of amendments is one match", []audit.ReportedMatch{with(under(a11, "1"), audit.Amended, "2"), with(under(b11, "2"), audit.Amended, "1")}, [2]int{0, 1}},
		{"abandoned and resumed", []audit.ReportedMatch{with(a11, audit.Abandoned, ""), with(under(b11, "2"), audit.Resumed, "1")}, [2]int{0, 1}},
		{"abandoned", []audit.ReportedMatch{with(a11, audit.Abandoned, "")}, [2]int{0, 0}},
		{"postponed, and played later under the same id", []audit.ReportedMatch{with(singles(t, "1", "a", "b"), audit.Postponed, ""), a11}, [2]int{1, 0}},
		{"annulled", []audit.ReportedMatch{with(a11, audit.Annulled, "")}, [2]int{0, 0}},
		{"postponed", []audit.ReportedMatch{with(singles(t, "1", "a", "b"), audit.Postponed, "")}, [2]int{0, 0}},
		{"not played", []audit.ReportedMatch{with(singles(t, "1", "a", "b"), audit.NotPlayed, "")}, [2]int{0, 0}},
		{"bye", []audit.ReportedMatch{with(singles(t, "1", "a", "b"), audit.Bye, "")}, [2]int{0, 0}},
		{"double forfeit: nobody won", []audit.ReportedMatch{with(singles(t, "1", "a", "b"), audit.DoubleForfeit, "")}, [2]int{0, 0}},
		{"awarded", []audit.ReportedMatch{func() audit.ReportedMatch {
			m := with(singles(t, "1", "a", "b"), audit.Awarded, "")
			m.Winner = audit.SideB
			return m
		}()}, [2]int{0, 1}},
		{"retired: the opponents won, whatever the points", []audit.ReportedMatch{func() audit.ReportedMatch {
			m := with(singles(t, "1", "a", "b", "11-2", "5-3"), audit.Retired, "")
			m.By = audit.SideA
			return m
		}()}, [2]int{0, 1}},
		{"only games won", []audit.ReportedMatch{func() audit.ReportedMatch {
			m := singles(t, "1", "a", "b")
			m.Won = &audit.Score{1, 2}
			return m
		}()}, [2]int{0, 1}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			won := map[string]int{}
			for _, l := range mustTable(t, audit.RoundRobin(format.RulingsOf(format.Default)), test.matches) {
				won[l.ID] = l.Won
			}
			require.Equal(t, test.want, [2]int{won["a"], won["b"]})
		})
	}
}

// Random round robins against sums that are made here in another way, and the
// identities of any table: what one side wins another loses.
func TestTableAddsUp(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	for range 300 {
		n := 3 + rng.Intn(4)
		var matches []audit.ReportedMatch
		diff, wins := make([]int, n), make([]int, n)
		for a := range n {
			for b := a + 1; b < n; b++ {
				m := singles(t, string(rune('a'+a))+string(rune('a'+b)), string(rune('a'+a)), string(rune('a'+b)))
				for m.GamesWon()[0] < 2 && m.GamesWon()[1] < 2 {
					s := audit.Score{11, rng.Intn(10)}
					if rng.Intn(2) == 0 {
						s = audit.Score{s[1], s[0]}
					}
					m.Games = append(m.Games, s)
					diff[a] += s[0] - s[1]
					diff[b] -= s[0] - s[1]
				}
				winner := a
				if m.GamesWon()[1] == 2 {
					winner = b
				}
				wins[winner]++
				matches = append(matches, m)
			}
		}
		lines := mustTable(t, audit.TableRules{Order: []audit.Criterion{audit.MatchesWon, audit.PointDiff}}, matches)
		order := make([]int, n)
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(x, y int) int { return 1000*(wins[y]-wins[x]) + diff[y] - diff[x] })
		sum := [3]int{}
		for i, l := range lines {
			k := order[i]
			require.Equal(t, string(rune('a'+k)), l.ID)
			require.Equal(t, [3]int{wins[k], diff[k], n - 1}, [3]int{l.Won, l.For[0] - l.For[1], l.Played})
			sum[0] += l.Won - l.Lost
			sum[1] += l.Games[0] - l.Games[1]
			sum[2] += l.For[0] - l.For[1]
		}
		require.Equal(t, [3]int{}, sum)
		for _, l := range mustTable(t, audit.RoundRobin(format.RulingsOf(format.Default)), matches) {
			require.NotZero(t, l.Rank)
			require.LessOrEqual(t, l.Rank+max(len(l.Together), 1)-1, n)
		}
	}
}

// A round robin of single games to 11 needs six sides (12.B, 2024 and 2025),
// and everybody meets as often as the rules say.
func TestMeetings(t *testing.T) {
	rules := audit.RoundRobin(format.RulingsOf(format.Default))
	rules.Meeting = 1
	all := func(n int, format string) []audit.ReportedMatch {
		var out []audit.ReportedMatch
		for a := range n {
			for b := a + 1; b < n; b++ {
				m := singles(t, string(rune('a'+a))+string(rune('a'+b)), string(rune('a'+a)), string(rune('a'+b)), "11-9")
				m.Format = format
				out = append(out, m)
			}
		}
		return out
	}
	require.Empty(t, audit.CheckMeetings(rules, all(6, "sideout-singles-11@2025"), audit.Place{}, nil))
	require.Empty(t, audit.CheckMeetings(rules, all(5, "sideout-singles-11-of3@2025"), audit.Place{}, nil))
	require.Empty(t, audit.CheckMeetings(rules, all(5, "sideout-singles-15@2025"), audit.Place{}, nil))
	require.Empty(t, audit.CheckMeetings(rules, all(5, "sideout-singles-11@2019"), audit.Place{}, nil))
	require.Equal(t, []string{"one game to 11 is for round robins of six or more, here are 5"},
		say(audit.CheckMeetings(rules, all(5, "sideout-singles-11@2024"), audit.Place{}, nil)))

	five := all(4, "")[1:]
	five = append(five, five[4], singles(t, "again", "a", "c", "11-2"))
	require.Equal(t, []string{"a and b have met 0 times, 1 is due", "a and c have met 2 times, 1 is due"},
		say(audit.CheckMeetings(rules, five, audit.Place{}, nil)), "a report given twice is one match")
	rules.Meeting = 0
	require.Empty(t, audit.CheckMeetings(rules, five, audit.Place{}, nil), "unchecked")
}

// say writes findings as sentences.
func say(findings []audit.Finding) []string {
	var out []string
	for i := range findings {
		out = append(out, words.English().Say(findings[i].Text()))
	}
	return out
}

func TestTableRefusesAnOrderItDoesNotKnow(t *testing.T) {
	for _, order := range [][]audit.Criterion{nil, {audit.MatchesWon, 0}, {99}} {
		_, err := audit.Standings(audit.TableRules{Order: order}, nil)
		var input *audit.InputError
		require.ErrorAs(t, err, &input)
		require.Equal(t, "order", input.Field)
	}
}

// Random reports, amendments of amendments and circles among them: what is
// one match, by any chain of references, counts once or not at all.
func TestEveryMatchCountsOnce(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	statuses := []audit.Status{audit.Played, audit.Played, audit.Amended, audit.Amended, audit.Resumed, audit.Postponed, audit.Annulled, audit.Abandoned}
	for range 2000 {
		const ids = 6
		group := [ids]int{} // by repeated joining
		for i := range group {
			group[i] = i
		}
		var matches []audit.ReportedMatch
		counting := map[int]bool{}
		for range 1 + rng.Intn(9) {
			id := rng.Intn(ids)
			m := singles(t, string(rune('1'+id)), "a", "b", "11-9")
			m.Status = statuses[rng.Intn(len(statuses))]
			if m.Status == audit.Amended || m.Status == audit.Resumed {
				of := rng.Intn(ids)
				m.Of = string(rune('1' + of))
				if seen := slices.IndexFunc(matches, func(x audit.ReportedMatch) bool { return x.ID == m.ID && x.Of != "" }); seen >= 0 {
					m.Of = matches[seen].Of // one id names one match
					of = int(m.Of[0] - '1')
				}
				from, to := group[id], group[of]
				for i := range group {
					if group[i] == from {
						group[i] = to
					}
				}
			}
			matches = append(matches, m)
		}
		for i := range matches {
			if s := matches[i].Status; s == audit.Played || s == audit.Amended || s == audit.Resumed {
				counting[group[matches[i].ID[0]-'1']] = true
			}
		}
		lines := mustTable(t, audit.RoundRobin(format.RulingsOf(format.Default)), matches)
		require.Len(t, lines, 2)
		require.Equal(t, len(counting), lines[0].Played, "%v", reports(matches))
		require.Equal(t, len(matches), lines[0].Played+len(lines[0].Left))
	}
}

func reports(matches []audit.ReportedMatch) []string {
	var out []string
	for _, m := range matches {
		out = append(out, m.ID+" "+m.Status.String()+" "+m.Of)
	}
	return out
}
