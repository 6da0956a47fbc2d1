package audit_test

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/serviceorder"
)

// A scorer watches a game of the slow model and marks what a referee marks:
// every point with the number of the server who scored it, and the own score
// at which a turn of a side ended.
type scorer struct {
	game    *reference.Match
	servers [2][]uint8
	ends    [2][]int // sorted, each score once: marks on one spot are one
}

func newScorer(t testing.TB, f format.Format, first string, starters [2]int) *scorer {
	m, err := reference.New(f, first, starters)
	require.NoError(t, err)
	_, refusal := m.Do("g" + map[string]string{"A": fmt.Sprintf("A%dB%d", starters[0], starters[1]), "B": fmt.Sprintf("B%dA%d", starters[1], starters[0])}[first])
	require.Empty(t, refusal)
	return &scorer{game: m}
}

// server reads who serves, his side and his number from a line.
func server(line string) (person string, side, number int) {
	person, rest, _ := strings.Cut(lineField(line, "serve"), "@")
	if _, n, _ := strings.Cut(rest, "#"); n != "-" && n != "" {
		number = int(n[0] - '0')
	}
	return person, int(person[0] - 'A'), number
}

func sides(line string) [2]int {
	a, b, _ := strings.Cut(lineField(line, "score"), "-")
	var out [2]int
	fmt.Sscan(a+" "+b, &out[0], &out[1])
	return out
}

// after returns what the marks are after one more rally.
func (s *scorer) after(winner string) *scorer {
	next := &scorer{game: s.game.Clone(), servers: s.servers, ends: s.ends}
	before := s.game.Line()
	if _, refusal := next.game.Do(winner); refusal != "" {
		return nil
	}
	line := next.game.Line()
	_, serving, number := server(before)
	if won := int(winner[0] - 'A'); sides(line)[won] > sides(before)[won] {
		if won != serving {
			number = 0 // no server scored it
		}
		next.servers[won] = append(slices.Clone(s.servers[won]), uint8(number))
	}
	if lineField(line, "phase") == "play" {
		if _, now, _ := server(line); now != serving {
			next.end(serving, sides(line)[serving])
		}
	}
	return next
}

func (s *scorer) end(side, own int) {
	if slices.Contains(s.ends[side], own) {
		return
	}
	s.ends[side] = append(slices.Clone(s.ends[side]), own)
	slices.Sort(s.ends[side])
}

func (s *scorer) marks() string { return fmt.Sprint(s.servers, s.ends) }

// sheet returns the marks as a sheet that nobody has written more on.
func (s *scorer) sheet(r *rally.Rules) *audit.Sheet {
	out := &audit.Sheet{Rules: r}
	for side := range out.Sides {
		out.Sides[side] = audit.SideMarks{Servers: s.servers[side], Ends: append([]int{}, s.ends[side]...)}
	}
	return out
}

func readLines(r *rally.Rules, states []rally.State) []string {
	var out []string
	for _, s := range states {
		out = append(out, r.Line(s))
	}
	slices.Sort(out)
	return out
}

// What a sheet allows is what the slow model can have played: every game is
// played, point by point and turn by turn, until nothing new can be marked, and
// for each set of marks the positions that have it are collected. Then the
// sheet is read, without who served first, without starting servers.
func TestSheetAgainstEveryGameOfTheSlowModel(t *testing.T) {
	for _, test := range []struct {
		id   string
		most int // points together
	}{{"sideout-doubles-11", 3}, {"sideout-singles-11", 4}, {"rally-doubles-11", 6}, {"rally-singles-11", 6}} {
		t.Run(test.id, func(t *testing.T) {
			r := rules(t, test.id)
			doubles := r.Format().Game.Sides == format.Doubles
			var queue []*scorer
			for _, first := range []string{"A", "B"} {
				for _, starters := range [][2]int{{1, 1}, {1, 2}, {2, 1}, {2, 2}} {
					if doubles || starters == [2]int{1, 1} {
						queue = append(queue, newScorer(t, r.Format(), first, starters))
					}
				}
			}
			allowed := map[string]map[string]bool{} // lines by marks
			one := map[string]*scorer{}
			seen := map[string]bool{}
			for len(queue) > 0 {
				s := queue[len(queue)-1]
				queue = queue[:len(queue)-1]
				line, marks := s.game.Line(), s.marks()
				if seen[line+marks] {
					continue
				}
				seen[line+marks] = true
				if allowed[marks] == nil {
					allowed[marks], one[marks] = map[string]bool{}, s
				}
				allowed[marks][line] = true
				for _, winner := range []string{"A", "B"} {
					if next := s.after(winner); next != nil && sides(next.game.Line())[0]+sides(next.game.Line())[1] <= test.most {
						queue = append(queue, next)
					}
				}
			}
			marks := make([]string, 0, len(one))
			for m := range one {
				marks = append(marks, m)
			}
			slices.Sort(marks)
			rand.New(rand.NewSource(1)).Shuffle(len(marks), func(i, k int) { marks[i], marks[k] = marks[k], marks[i] })
			sheets := 0
			for _, m := range marks[:min(len(marks), 400)] {
				sheet := one[m].sheet(r)
				var want []string
				for line := range allowed[m] {
					want = append(want, line)
				}
				slices.Sort(want)
				got := sheet.Read(audit.Place{})
				require.Empty(t, cmp.Diff(want, readLines(r, got.States)), m)
				require.Equal(t, len(want) > 1, audit.Has(got.Findings, "sheet-several"))
				sheets++

				// Told which side it is turned to and what the marker shows, it
				// allows those of them that agree.
				_, side, number := server(one[m].game.Line())
				sheet.Serving, sheet.Number = audit.KnownSide(rally.Side(side)), number
				want = slices.DeleteFunc(want, func(line string) bool {
					_, s, n := server(line)
					return s != side || n != number
				})
				require.Empty(t, cmp.Diff(want, readLines(r, sheet.Read(audit.Place{}).States)), "%s, side %d, number %d", m, side, number)
				sheets++
			}
			t.Logf("%d sets of marks, %d sheets read", len(marks), sheets)
			require.NotZero(t, sheets)
		})
	}
}

// The least that tells the server (common practice): the side's own score at
// its last side-out mark and the server number. Even and first, starter; odd
// and first, partner; even and second, partner; odd and second, starter; in
// the opening turn the starter. The table, and random games of the slow model.
func TestStarterServes(t *testing.T) {
	f, err := format.Parse("sideout-doubles-11")
	require.NoError(t, err)
	for _, test := range []struct {
		name        string
		own, number int
		opening     bool
		starter, ok bool
	}{
		{"even, first server", 4, 1, false, true, true},
		{"odd, first server", 5, 1, false, false, true},
		{"even, second server", 4, 2, false, false, true},
		{"odd, second server", 5, 2, false, true, true},
		{"opening turn", 0, 2, true, true, true},
		{"opening turn at an odd score", 3, 2, true, true, true},
		{"no such number", 4, 3, false, false, false},
		{"no number", 4, 0, false, false, false},
		{"no such score", -1, 1, false, false, false},
		{"past any score", 256, 1, false, false, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			starter, ok := audit.StarterServes(f, test.own, test.number, test.opening)
			require.Equal(t, []bool{test.starter, test.ok}, []bool{starter, ok})
		})
	}
	singles, err := format.Parse("sideout-singles-11")
	require.NoError(t, err)
	_, ok := audit.StarterServes(singles, 4, 1, false)
	require.False(t, ok, "singles has no partners")

	rng := rand.New(rand.NewSource(1))
	compared := 0
	for range 200 {
		starters := [2]int{1 + rng.Intn(2), 1 + rng.Intn(2)}
		s := newScorer(t, f, string("AB"[rng.Intn(2)]), starters)
		opening, own := true, [2]int{} // score of each side at its last side-out mark
		for lineField(s.game.Line(), "phase") == "play" {
			person, side, number := server(s.game.Line())
			starter, ok := audit.StarterServes(f, own[side], number, opening)
			require.True(t, ok)
			require.Equal(t, int(person[1]-'0') == starters[side], starter, s.game.Line())
			compared++
			s = s.after(string("AB"[rng.Intn(2)]))
			if line := s.game.Line(); lineField(line, "phase") == "play" {
				if _, now, _ := server(line); now != side {
					opening, own[side] = false, sides(line)[side]
					own[now] = sides(line)[now] // its turn begins: the score of its last mark
				}
			}
		}
	}
	t.Logf("%d positions", compared)
}

// Sheets of one game that is told here: A1 and B2 start, A serves first; A
// scores twice and is out (0-0-2, one server), B's first server scores three
// times, B's second server once; then A again.
func ladderSheet(t testing.TB) (*audit.Sheet, *rally.Rules) {
	r := rules(t, "sideout-doubles-11")
	s := &audit.Sheet{Rules: r, First: audit.SideA, Starters: &rally.Starters{rally.A1, rally.B2}}
	s.Sides[rally.A] = audit.SideMarks{Servers: []uint8{2, 2}, Ends: []int{2}}
	s.Sides[rally.B] = audit.SideMarks{Servers: []uint8{1, 1, 1, 2}, Ends: []int{4}}
	return s, r
}

func TestSheetByHand(t *testing.T) {
	court := func(c rally.Court) *rally.Court { return &c }
	tests := []struct {
		name   string
		change func(s *audit.Sheet)
		states []string // server@court#number of each state allowed
		ask    serviceorder.Probe
		want   []string
	}{
		{"turned to A, the marker shows 1", func(s *audit.Sheet) { s.Serving, s.Number = audit.SideA, 1 }, []string{"A1@R#1"}, serviceorder.NoQuestion, nil},
		{"turned to A, the marker shows 2: the partner", func(s *audit.Sheet) { s.Serving, s.Number = audit.SideA, 2 }, []string{"A2@L#2"}, serviceorder.NoQuestion, nil},
		{"turned to A, no marker: the court tells", func(s *audit.Sheet) { s.Serving = audit.SideA }, []string{"A1@R#1", "A2@L#2"}, serviceorder.WhichCourt,
			[]string{"sheet-several: 2 states agree with the marks; what settles it: from which court is the next serve?"}},
		{"B may serve too, if A's turns had no points: the server tells", func(*audit.Sheet) {}, []string{"A1@R#1", "A2@L#2", "B1@L#2", "B2@R#1"}, serviceorder.WhichServer,
			[]string{"sheet-several: 4 states agree with the marks; what settles it: who serves?"}},
		{"starting servers unknown, but one of A seen standing", func(s *audit.Sheet) {
			s.Starters, s.Serving, s.Number, s.Stands[rally.A] = nil, audit.SideA, 1, court(rally.Right)
		}, []string{"A1@R#1", "A1@R#1", "A2@R#1", "A2@R#1"}, serviceorder.MoreThanOne,
			[]string{"sheet-several: 4 states agree with the marks; what settles it: no single question"}},
		{"the starting server stands on the wrong court", func(s *audit.Sheet) {
			s.Serving, s.Number, s.Stands[rally.A] = audit.SideA, 1, court(rally.Left)
		}, nil, serviceorder.NoQuestion, []string{"sheet-impossible: no game leaves these marks: no sequence of rallies does"}},
		{"turns without a point leave marks on one spot", func(s *audit.Sheet) {
			s.Sides[rally.A].Ends = []int{2, 2, 2}
			s.Serving, s.Number = audit.SideA, 1
		}, []string{"A1@R#1"}, serviceorder.NoQuestion, []string{"sheet-turns: turns without a point leave no trace; their number is unknown, who serves is not"}},
		{"points not split by server", func(s *audit.Sheet) {
			s.Sides[rally.B].Servers = []uint8{0, 0, 0, 0}
			s.Serving, s.Number = audit.SideA, 1
		}, []string{"A1@R#1"}, serviceorder.NoQuestion, nil},
		// A's second point may have been made by the second server of a later
		// turn, which began at 1: then the starter serves.
		{"side-outs not marked", func(s *audit.Sheet) {
			s.Sides[rally.A].Ends, s.Sides[rally.B].Ends = nil, nil
			s.Serving, s.Number = audit.SideA, 2
		}, []string{"A1@R#2", "A2@L#2"}, serviceorder.WhichCourt, []string{"sheet-several: 2 states agree with the marks; what settles it: from which court is the next serve?"}},
		{"a time-out at a score of the game", func(s *audit.Sheet) {
			s.Serving, s.Number = audit.SideA, 1
			s.TimeOuts = []audit.TimeOutNote{{rally.B, audit.Score{2, 3}, 1}, {rally.A, audit.Score{2, 4}, 2}}
		}, []string{"A1@R#1"}, serviceorder.NoQuestion, nil},
		{"a time-out at a score that the game never had", func(s *audit.Sheet) {
			s.TimeOuts = []audit.TimeOutNote{{rally.B, audit.Score{2, 3}, 0}, {rally.B, audit.Score{1, 3}, 0}}
		}, nil, serviceorder.NoQuestion, []string{"sheet-time-out-score: the time-out of side B is noted at 1-3, which no moment of the game has",
			"sheet-impossible: no game leaves these marks: no sequence of rallies does"}},
		{"a time-out with a server number that it cannot have had", func(s *audit.Sheet) {
			s.TimeOuts = []audit.TimeOutNote{{rally.A, audit.Score{1, 0}, 1}}
		}, nil, serviceorder.NoQuestion, []string{"sheet-time-out-score: the time-out of side A is noted at 1-0, which no moment of the game has",
			"sheet-impossible: no game leaves these marks: no sequence of rallies does"}},
		{"the opening turn given two servers", func(s *audit.Sheet) { s.Sides[rally.A].Servers = []uint8{1, 2} }, nil, serviceorder.NoQuestion,
			[]string{"sheet-impossible: no game leaves these marks: no sequence of rallies does"}},
		{"the first server scores after the second in one turn", func(s *audit.Sheet) { s.Sides[rally.B].Servers = []uint8{2, 1, 1, 1} }, nil, serviceorder.NoQuestion,
			[]string{"sheet-impossible: no game leaves these marks: no sequence of rallies does"}},
		{"the same with the side-out mark that it needs", func(s *audit.Sheet) {
			s.Sides[rally.B] = audit.SideMarks{Servers: []uint8{2, 1, 1, 1}, Ends: []int{1, 4}}
			s.Serving, s.Number = audit.SideA, 1
		}, []string{"A1@R#1"}, serviceorder.NoQuestion, nil},
		{"the side-out mark of the opening turn missing", func(s *audit.Sheet) { s.Sides[rally.A].Ends = []int{} }, nil, serviceorder.NoQuestion,
			[]string{"sheet-impossible: no game leaves these marks: no sequence of rallies does"}},
		{"a mark past the score", func(s *audit.Sheet) { s.Sides[rally.A].Ends = []int{2, 5}; s.Serving, s.Number = audit.SideA, 1 }, nil, serviceorder.NoQuestion,
			[]string{"sheet-impossible: no game leaves these marks: a side-out is marked at a score that was not reached"}},
		{"a mark before nothing", func(s *audit.Sheet) { s.Sides[rally.A].Ends = []int{-1, 2} }, nil, serviceorder.NoQuestion,
			[]string{"sheet-impossible: no game leaves these marks: a side-out is marked at a score that was not reached"}},
		{"the game is over", func(s *audit.Sheet) {
			s.Sides[rally.A] = audit.SideMarks{Servers: []uint8{2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2}, Ends: []int{}}
			s.Sides[rally.B] = audit.SideMarks{Ends: []int{}}
		}, []string{"-"}, serviceorder.NoQuestion, nil},
		{"no rules", func(s *audit.Sheet) { s.Rules = nil }, nil, serviceorder.NoQuestion, []string{"sheet-impossible: no game leaves these marks: no format is given"}},
		{"more points than a game has", func(s *audit.Sheet) { s.Sides[rally.A].Servers = make([]uint8, 61) }, nil, serviceorder.NoQuestion,
			[]string{"sheet-impossible: no game leaves these marks: there are more than a game can have"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s, r := ladderSheet(t)
			test.change(s)
			got := s.Read(audit.Place{})
			var states []string
			for _, state := range got.States {
				states = append(states, lineField(r.Line(state), "serve"))
			}
			slices.Sort(states)
			require.Empty(t, cmp.Diff(test.states, states))
			require.Equal(t, test.ask.String(), got.Question.String())
			require.Empty(t, cmp.Diff(test.want, brief(got.Findings)))
		})
	}
}

// The question asked is the easiest of [serviceorder.Probe] whose answer
// leaves one state; answers are read here from the canonical line.
func TestSheetAsksTheEasiestQuestion(t *testing.T) {
	right := func(line, side string) string { return lineField(line, side)[:1] }
	answers := []func(line string) string{
		serviceorder.WhichCourt:      func(l string) string { _, rest, _ := strings.Cut(lineField(l, "serve"), "@"); return rest[:1] },
		serviceorder.WhichServer:     func(l string) string { return lineField(l, "serve")[:2] },
		serviceorder.WhoStandsRightA: func(l string) string { return right(l, "A") },
		serviceorder.WhoStandsRightB: func(l string) string { return right(l, "B") },
		serviceorder.WhichReceiver:   func(l string) string { return lineField(l, "receive") },
		serviceorder.WhichSide:       func(l string) string { return lineField(l, "serve")[:1] },
		serviceorder.WhichNumber:     func(l string) string { return lineField(l, "serve")[5:] },
		serviceorder.WhichStarterA:   func(l string) string { return lineField(l, "start")[:2] },
		serviceorder.WhichStarterB:   func(l string) string { return lineField(l, "start")[2:] },
		serviceorder.WhichFirst:      func(l string) string { return lineField(l, "first") },
	}
	rng := rand.New(rand.NewSource(2))
	asked := map[serviceorder.Probe]int{}
	for range 400 {
		r := rules(t, "sideout-doubles-11")
		starters := [2]int{1 + rng.Intn(2), 1 + rng.Intn(2)}
		s := newScorer(t, r.Format(), string("AB"[rng.Intn(2)]), starters)
		for range rng.Intn(12) {
			s = s.after(string("AB"[rng.Intn(2)]))
		}
		sheet := s.sheet(r)
		person, side, number := server(s.game.Line())
		know := rng.Intn(16)
		if know&1 != 0 {
			sheet.First = audit.MaybeSide(1 + int(lineField(s.game.Line(), "first")[0]-'A'))
		}
		if know&2 != 0 {
			sheet.Starters = &rally.Starters{rally.A1 + rally.Person(starters[0]-1), rally.B1 + rally.Person(starters[1]-1)}
		}
		if know&4 != 0 {
			sheet.Serving = audit.KnownSide(rally.Side(side))
		}
		if know&8 != 0 {
			sheet.Number = number
		}
		got := sheet.Read(audit.Place{})
		lines := readLines(r, got.States)
		require.Contains(t, lines, s.game.Line(), "the truth is among what the marks allow; %s serves", person)
		want := serviceorder.NoQuestion
		if len(lines) > 1 {
			want = serviceorder.MoreThanOne
			for q := serviceorder.MoreThanOne - 1; q >= serviceorder.WhichCourt; q-- {
				distinct := map[string]bool{}
				for _, line := range lines {
					distinct[answers[q](line)] = true
				}
				if len(distinct) == len(lines) {
					want = q
				}
			}
		}
		require.Equal(t, want.String(), got.Question.String())
		asked[got.Question]++
	}
	t.Log(asked)
	require.Greater(t, len(asked), 4)
}
