package reference_test

import (
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
)

// start returns a match in the format with that id, A serving first.
func start(t testing.TB, id string) *reference.Match {
	t.Helper()
	f, err := format.Parse(id)
	if err != nil {
		t.Fatal(err)
	}
	return of(t, f)
}

func of(t testing.TB, f format.Format) *reference.Match {
	t.Helper()
	m, err := reference.New(f, "A", [2]int{1, 1})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// field cuts one field out of the line.
func field(t testing.TB, m *reference.Match, name string) string {
	t.Helper()
	for _, word := range strings.Fields(m.Line()) {
		if value, ok := strings.CutPrefix(word, name+"="); ok {
			return value
		}
	}
	t.Fatalf("no field %s in %s", name, m.Line())
	return ""
}

// position is the next serve as the tables write it: "4-2-1 A1(R)>B1".
func position(t testing.TB, m *reference.Match) string {
	t.Helper()
	server, _, _ := strings.Cut(field(t, m, "serve"), "#")
	who, court, ok := strings.Cut(server, "@")
	if !ok {
		return "phase " + field(t, m, "phase")
	}
	return m.Call() + " " + who + "(" + court + ")>" + field(t, m, "receive")
}

// do plays events that must be accepted and returns the effects of the last.
func do(t testing.TB, m *reference.Match, events ...string) string {
	t.Helper()
	var effects []string
	for _, event := range events {
		var refusal string
		if effects, refusal = m.Do(event); refusal != "" {
			t.Fatalf("%s refused: %s\nin %s", event, refusal, m.Line())
		}
	}
	return strings.Join(effects, " ")
}

// rallies plays one rally a letter.
func rallies(t testing.TB, m *reference.Match, winners string) string {
	t.Helper()
	return do(t, m, strings.Split(winners, "")...)
}

// refuse plays an event that must be refused, and nothing may change.
func refuse(t testing.TB, m *reference.Match, event, want string) {
	t.Helper()
	line := m.Line()
	if effects, refusal := m.Do(event); refusal != want || effects != nil {
		t.Errorf("%s: effects %v, refusal %q, want %q\nin %s", event, effects, refusal, want, line)
	}
	if m.Line() != line {
		t.Errorf("refused %s changed\n%s to\n%s", event, line, m.Line())
	}
}

func same(t testing.TB, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s:\n got %s\nwant %s", what, got, want)
	}
}

// TestSequences plays whole tables. Each entry after the first is what the
// rally of the same number leads to; the first is the start of the game.
func TestSequences(t *testing.T) {
	tests := []struct {
		name, source, format, winners, want string
	}{
		{"opening", "officials' training, rules 4.B.6 and 4.J; the last two derived", "sideout-doubles-11@2022", "ABAA",
			"0-0-2 A1(R)>B1 | 1-0-2 A1(L)>B2 | 0-1-1 B1(R)>A2 | 0-1-2 B2(L)>A1 | 1-0-1 A2(R)>B1"},
		{"opening lost", "officials' training, rule 4.B.6", "sideout-doubles-11@2022", "BAA",
			"0-0-2 A1(R)>B1 | 0-0-1 B1(R)>A1 | 0-0-2 B2(L)>A2 | 0-0-1 A1(R)>B1"},
		{"three points, side-out, back at 3", "officials' training, rules 4.B.6.b and c, 2021; courts derived", "sideout-doubles-11@2021", "AAABAA",
			"0-0-2 A1(R)>B1 | 1-0-2 A1(L)>B2 | 2-0-2 A1(R)>B1 | 3-0-2 A1(L)>B2 | 0-3-1 B1(R)>A2 | 0-3-2 B2(L)>A1 | 3-0-1 A2(R)>B1"},
		{"side-out doubles", "derived from rules 4.B.1 to 4.B.6", "sideout-doubles-11@2025", "AAABBABAABABBBAA",
			"0-0-2 A1(R)>B1 | 1-0-2 A1(L)>B2 | 2-0-2 A1(R)>B1 | 3-0-2 A1(L)>B2 | 0-3-1 B1(R)>A2 | 1-3-1 B1(L)>A1 | " +
				"1-3-2 B2(R)>A2 | 2-3-2 B2(L)>A1 | 3-2-1 A2(R)>B1 | 4-2-1 A2(L)>B2 | 4-2-2 A1(R)>B1 | 5-2-2 A1(L)>B2 | " +
				"2-5-1 B1(R)>A2 | 3-5-1 B1(L)>A1 | 4-5-1 B1(R)>A2 | 4-5-2 B2(L)>A1 | 5-4-1 A2(R)>B1"},
		{"side-out singles", "derived from rule 4.B.5", "sideout-singles-11@2025", "ABBBAAB",
			"0-0 A1(R)>B1 | 1-0 A1(L)>B1 | 0-1 B1(R)>A1 | 1-1 B1(L)>A1 | 2-1 B1(R)>A1 | 1-2 A1(L)>B1 | 2-2 A1(R)>B1 | 2-2 B1(R)>A1"},
		{"rally singles", "derived from rules 4.B.5 and 12.B.1, 2025", "rally-singles-11@2025", "ABBBAAB",
			"0-0 A1(R)>B1 | 1-0 A1(L)>B1 | 1-1 B1(L)>A1 | 2-1 B1(R)>A1 | 3-1 B1(L)>A1 | 2-3 A1(R)>B1 | 3-3 A1(L)>B1 | 4-3 B1(R)>A1"},
		{"rally doubles", "derived from rules 4.B.6.c to e, 2025", "rally-doubles-11@2025", "AABBABAAB",
			"0-0 A1(R)>B1 | 1-0 A1(L)>B2 | 2-0 A1(R)>B1 | 1-2 B2(R)>A1 | 2-2 B2(L)>A2 | 3-2 A2(R)>B1 | 3-3 B2(R)>A2 | " +
				"4-3 A1(R)>B2 | 5-3 A1(L)>B1 | 4-5 B1(R)>A2"},
		{"fixed courts", "derived; the player's number is the court he stands in", "fixed-doubles-21@2025", "AABBABAAB",
			"0-0 A1(R)>B1 | 1-0 A2(L)>B2 | 2-0 A1(R)>B1 | 1-2 B2(L)>A2 | 2-2 B1(R)>A1 | 3-2 A2(L)>B2 | 3-3 B2(L)>A2 | " +
				"4-3 A1(R)>B1 | 5-3 A2(L)>B2 | 4-5 B1(R)>A1"},
		{"fixed courts, receivers win the first rally", "league rules: the left player of that side serves at 1-0", "fixed-doubles-21@2025", "B",
			"0-0 A1(R)>B1 | 1-0 B2(L)>A2"},
		{"swap on own serve", "derived", "swap-doubles-11@2025", "AABBABAAB",
			"0-0 A1(R)>B1 | 1-0 A1(L)>B2 | 2-0 A1(R)>B1 | 1-2 B2(L)>A2 | 2-2 B2(R)>A1 | 3-2 A2(L)>B1 | 3-3 B1(L)>A2 | " +
				"4-3 A1(R)>B2 | 5-3 A1(L)>B1 | 4-5 B2(R)>A2"},
		{"half-court singles", "derived; straight when the scores differ in parity", "half-court-singles-11@2025", "AABBA",
			"0-0 A1(R)>B1 | 1-0 A1(L)>B1 | 2-0 A1(R)>B1 | 0-2 B1(R)>A1 | 1-2 B1(L)>A1 | 2-1 A1(R)>B1"},
		{"badminton doubles", "Laws of Badminton, table of the simplified rules, every row derived again from law 11", "badminton-doubles-21-of3", "ABABBAAB",
			"0-0 A1(R)>B1 | 1-0 A1(L)>B2 | 1-1 B2(L)>A1 | 2-1 A2(R)>B1 | 2-2 B1(R)>A2 | 3-2 B1(L)>A1 | 3-3 A1(L)>B1 | " +
				"4-3 A1(R)>B2 | 4-4 B2(R)>A1"},
		{"badminton doubles, losing start", "derived from law 11", "badminton-doubles-21-of3", "BBABAABABBBA",
			"0-0 A1(R)>B1 | 1-0 B2(L)>A2 | 2-0 B2(R)>A1 | 1-2 A2(L)>B1 | 3-1 B1(L)>A2 | 2-3 A1(R)>B2 | 3-3 A1(L)>B1 | " +
				"4-3 B2(R)>A2 | 4-4 A2(R)>B2 | 5-4 B1(L)>A1 | 6-4 B1(R)>A2 | 7-4 B1(L)>A1 | 5-7 A1(L)>B1"},
		{"badminton doubles, two hands", "derived from laws 11.1 to 11.9 before 2006", "badminton-doubles-15-of3@badminton-2005", "ABBABBABAABAA",
			"0-0-2 A1(R)>B1 | 1-0-2 A1(L)>B2 | 0-1-1 B1(R)>A2 | 1-1-1 B1(L)>A1 | 1-1-2 B2(R)>A2 | 2-1-2 B2(L)>A1 | " +
				"3-1-2 B2(R)>A2 | 1-3-1 A2(R)>B2 | 1-3-2 A1(L)>B1 | 2-3-2 A1(R)>B2 | 3-3-2 A1(L)>B1 | 3-3-1 B2(R)>A2 | " +
				"3-3-2 B1(L)>A1 | 3-3-1 A2(R)>B2"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			m := start(t, test.format)
			do(t, m, "gA1B1")
			got := []string{position(t, m)}
			for _, winner := range strings.Split(test.winners, "") {
				rallies(t, m, winner)
				got = append(got, position(t, m))
			}
			same(t, test.source, strings.Join(got, " | "), test.want)
		})
	}
}

// TestCalls checks published calls from the middle of a game.
func TestCalls(t *testing.T) {
	tests := []struct{ source, lead, winners, want string }{
		// Officials' training, rules 4.B.6 and 4.J. The leads reach 4-3-1 and
		// 5-3-1 in side-out doubles, A serving.
		{"a lost first serve, a point, a side-out", "AAAABBBBAA", "BAB", "4-3-1 4-3-2 5-3-2 3-5-1"},
		{"both serves lost", "AAAABBBBAA", "BB", "4-3-1 4-3-2 3-4-1"},
		{"a lost first serve at 5", "AAAAABBBBAA", "B", "5-3-1 5-3-2"},
	}
	for _, test := range tests {
		m := start(t, "sideout-doubles-11@2022")
		rallies(t, m, test.lead)
		got := m.Call()
		for _, winner := range strings.Split(test.winners, "") {
			rallies(t, m, winner)
			got += " " + m.Call()
		}
		same(t, test.source, got, test.want)
	}
}

// TestOpeningPoints: a carried penalty opens the game at 1-0-2, the starting
// server standing left ("the side dictated by the score", 4.B.2, 2022); 0-1-2
// is derived. On fixed courts the left player serves at 1-0 (league rules).
func TestOpeningPoints(t *testing.T) {
	tests := []struct {
		format string
		a, b   int
		want   string
	}{
		{"sideout-doubles-11@2025", 1, 0, "1-0-2 A1(L)>B2"},
		{"sideout-doubles-11@2025", 0, 1, "0-1-2 A1(R)>B2"},
		{"sideout-singles-11@2025", 1, 0, "1-0 A1(L)>B1"},
		{"half-court-singles-11@2025", 0, 1, "0-1 A1(R)>B1"},
		{"fixed-doubles-21@2025", 1, 0, "1-0 A2(L)>B2"},
		{"swap-doubles-11@2025", 1, 0, "1-0 A1(L)>B2"},
	}
	for _, test := range tests {
		m := start(t, test.format)
		if err := m.OpenAt(test.a, test.b); err != nil {
			t.Fatal(err)
		}
		do(t, m, "gA1B1")
		same(t, test.format, position(t, m), test.want)
		same(t, "opens", field(t, m, "opens"), "0:0")
		if m.OpenAt(1, 0) == nil {
			t.Error("points given to a game in play")
		}
	}
	m := start(t, "sideout-doubles-11")
	for _, v := range [][2]int{{1, 1}, {-1, 0}, {11, 0}} {
		if m.OpenAt(v[0], v[1]) == nil {
			t.Errorf("opening at %v accepted", v)
		}
	}
}

// custom is a doubles game of one's own under the 2025 rulings.
func custom(t testing.TB, change func(g *format.Game)) format.Format {
	t.Helper()
	f, err := format.Parse("rally-doubles-11@2025")
	if err != nil {
		t.Fatal(err)
	}
	f.Shape, f.Game.Freeze = "", format.NoFreeze
	change(&f.Game)
	f.Last = f.Game
	return f
}

// TestTwoServersRally: receivers score on the first server's loss and the
// serve stays (decisions, default 10); derived from parity for both sides.
func TestTwoServersRally(t *testing.T) {
	m := of(t, custom(t, func(g *format.Game) { g.Servers, g.FirstTurn = 2, 1 }))
	do(t, m, "gA1B1")
	same(t, "start", position(t, m), "0-0-2 A1(R)>B1")
	same(t, "effects", rallies(t, m, "B"), "point side-out")
	same(t, "side-out", position(t, m), "1-0-1 B2(R)>A1")
	same(t, "effects", rallies(t, m, "A"), "point second-server")
	same(t, "second server", position(t, m), "1-1-2 B1(L)>A1")
	rallies(t, m, "A")
	same(t, "side-out back", position(t, m), "2-1-1 A1(R)>B2")

	m = of(t, custom(t, func(g *format.Game) { g.Servers, g.FirstTurn = 2, 2 }))
	do(t, m, "gA1B1")
	same(t, "full first turn", m.Call(), "0-0-1")
}

// reach plays rallies to a score in rally scoring, side last winning the last
// one, so that it serves next.
func reach(t testing.TB, m *reference.Match, a, b int, last string) {
	t.Helper()
	if last == "A" {
		a--
	} else {
		b--
	}
	for a > 0 || b > 0 {
		if a > b || a == b && last == "A" {
			rallies(t, m, "A")
			a--
		} else {
			rallies(t, m, "B")
			b--
		}
	}
	rallies(t, m, last)
}

// TestEndings plays the last rally of a game. Published: the 2026 games to 15
// (rule 14.A.2 and two officials' summaries). Derived: the rest, from 12.B.1.c
// of 2025, from the definitions of the freezes, and from laws 7.4 and 7.5 of
// badminton for the cap.
func TestEndings(t *testing.T) {
	freeze := func(fr format.Freeze) func(testing.TB) format.Format {
		return func(t testing.TB) format.Format {
			return custom(t, func(g *format.Game) { g.Target, g.Freeze = 21, fr })
		}
	}
	named := func(id string) func(testing.TB) format.Format {
		return func(t testing.TB) format.Format {
			f, err := format.Parse(id)
			if err != nil {
				t.Fatal(err)
			}
			return f
		}
	}
	tests := []struct {
		name    string
		format  func(testing.TB) format.Format
		a, b    int
		server  string
		winner  string
		effects string
		score   string
	}{
		{"2026, receivers win at 14-13", named("rally-doubles-15@2026"), 14, 13, "B", "A", "point game-won match-won", "15-13"},
		{"2026, receivers win at 14-10", named("rally-doubles-15@2026"), 14, 10, "B", "A", "point game-won match-won", "15-10"},
		{"2025, 14-10 receiving", named("rally-doubles-15@2025"), 14, 10, "B", "A", "side-out withheld", "14-10"},
		{"2025, 14-13 receiving", named("rally-doubles-15@2025"), 14, 13, "B", "A", "side-out withheld", "14-13"},
		{"2025, 14-14 receiving", named("rally-doubles-15@2025"), 14, 14, "B", "A", "point side-out", "15-14"},
		{"2026, 14-14 receiving", named("rally-doubles-15@2026"), 14, 14, "B", "A", "point side-out", "15-14"},
		{"2025, won on serve", named("rally-doubles-15@2025"), 14, 13, "A", "A", "point game-won match-won", "15-13"},
		{"each, 20-20", freeze(format.EachAtPoint), 20, 20, "B", "A", "side-out withheld", "20-20"},
		{"each, 19-20", freeze(format.EachAtPoint), 19, 20, "B", "A", "point side-out", "20-20"},
		{"leader at 20", freeze(format.LeaderAndTrailer), 20, 15, "B", "A", "side-out withheld", "20-15"},
		{"trailer at 17", freeze(format.LeaderAndTrailer), 17, 20, "B", "A", "point side-out", "18-20"},
		{"trailer at 18", freeze(format.LeaderAndTrailer), 18, 20, "B", "A", "side-out withheld", "18-20"},
		{"18 each, nobody leads", freeze(format.LeaderAndTrailer), 18, 18, "B", "A", "point side-out", "19-18"},
		{"both, any trailer", freeze(format.BothAtPoint), 3, 20, "B", "A", "side-out withheld", "3-20"},
		{"both, before the point", freeze(format.BothAtPoint), 19, 19, "B", "A", "point side-out", "20-19"},
		{"win on serve at 24-24", named("fixed-doubles-25-win-on-serve@2025"), 24, 24, "B", "A", "point side-out", "25-24"},
		{"cap at 29-29", named("badminton-doubles-21-of3"), 29, 29, "B", "A", "point game-won", "30-29"},
		{"no margin at 21-20", named("badminton-doubles-21-of3"), 20, 20, "B", "A", "point side-out", "21-20"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			m := of(t, test.format(t))
			reach(t, m, test.a, test.b, test.server)
			places := field(t, m, "A")
			same(t, "effects", rallies(t, m, test.winner), test.effects)
			same(t, "score", field(t, m, "score"), test.score)
			if strings.Contains(test.effects, "withheld") {
				same(t, "nobody moves without a point", field(t, m, "A"), places)
			}
		})
	}

	// 2025: the call after the withheld point, the starting server at 14 even.
	m := start(t, "rally-doubles-15@2025")
	reach(t, m, 14, 10, "B")
	rallies(t, m, "A")
	same(t, "after the withheld point", strings.Fields(position(t, m))[0]+strings.Fields(position(t, m))[1][:5], "14-10A1(R)")
}

// TestFoulPlaces: exactly one pair swaps and the due receiver changes, server
// and number stay (table of the places after a penalty point; derived from
// 13.G.3.c and parity).
func TestFoulPlaces(t *testing.T) {
	tests := []struct{ name, format, winners, foul, before, after string }{
		{"servers above zero", "sideout-doubles-11@2025", "AAA", "tfA", "3-0-2 A1(L)>B2", "2-0-2 A1(R)>B1"},
		{"servers at zero", "sideout-doubles-11@2025", "B", "tfB", "0-0-1 B1(R)>A1", "0-1-1 B1(R)>A2"},
		{"receivers above zero", "sideout-doubles-11@2025", "AAB", "tfA", "0-2-1 B1(R)>A1", "0-1-1 B1(R)>A2"},
		{"receivers at zero", "sideout-doubles-11@2025", "AA", "tfB", "2-0-2 A1(R)>B1", "3-0-2 A1(L)>B2"},
		{"points are awarded", "sideout-doubles-11@2013", "AA", "tfA", "2-0-2 A1(R)>B1", "2-1-2 A1(R)>B2"},
		{"singles, server moves", "sideout-singles-11@2025", "AA", "tfA", "2-0 A1(R)>B1", "1-0 A1(L)>B1"},
		{"fixed, by parity", "fixed-doubles-21@2025", "AA", "tfA", "2-0 A1(R)>B1", "1-0 A2(L)>B2"},
		{"fixed, same server", "fixed-doubles-21@2025+fixed-court-foul=same-server", "AA", "tfA", "2-0 A1(R)>B1", "1-0 A1(R)>B1"},
		{"swap on serve", "swap-doubles-11@2025", "AA", "tfA", "2-0 A1(R)>B1", "1-0 A1(L)>B2"},
		{"swap on serve, receivers", "swap-doubles-11@2025", "AAB", "tfA", "1-2 B2(L)>A2", "1-1 B2(L)>A1"},
		{"swap on serve, stay", "swap-doubles-11@2025+swap-foul=stay", "AA", "tfA", "2-0 A1(R)>B1", "1-0 A2(L)>B2"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			m := start(t, test.format)
			rallies(t, m, test.winners)
			same(t, "before", position(t, m), test.before)
			same(t, "effects", do(t, m, test.foul), "foul penalty-point")
			same(t, "after", position(t, m), test.after)
			same(t, "a second foul", do(t, m, test.foul), "match-won foul match-forfeit")
		})
	}
	// The side that lost a point has another first server at the next
	// side-out (worked example of that table): at 3 it would be the partner.
	m := start(t, "sideout-doubles-11@2025")
	rallies(t, m, "AAAB")
	do(t, m, "tfA")
	rallies(t, m, "AA")
	same(t, "first server after the foul", position(t, m), "2-0-1 A1(R)>B1")
}

// TestFoulEnds: decisions, settled 5 and defaults 6 and 7.
func TestFoulEnds(t *testing.T) {
	m := start(t, "rally-doubles-11@2026")
	rallies(t, m, "AAAAAAAAAA")
	same(t, "awarded point", do(t, m, "tfB"), "game-won match-won foul penalty-point")
	same(t, "result", field(t, m, "result"), "A")

	m = start(t, "rally-doubles-11@2025+awarded-point-wins=no")
	rallies(t, m, "AAAAAAAAAA")
	same(t, "awarded point", do(t, m, "tfB"), "foul penalty-point")
	rallies(t, m, "B")
	same(t, "goes on", field(t, m, "score"), "11-1")
	rallies(t, m, "AA")
	same(t, "until the leader scores on serve", field(t, m, "score")+" "+field(t, m, "phase"), "12-1 over")

	m = start(t, "rally-doubles-11@2026")
	reach(t, m, 12, 11, "A")
	same(t, "removed point", do(t, m, "tfB"), "foul penalty-point")
	same(t, "score", field(t, m, "score")+" "+field(t, m, "phase"), "12-10 play")
	rallies(t, m, "A")
	same(t, "score", field(t, m, "score")+" "+field(t, m, "phase"), "13-10 over")

	m = start(t, "rally-doubles-11@2026+removed-point-wins=yes")
	reach(t, m, 12, 11, "A")
	same(t, "removed point wins", do(t, m, "tfB"), "game-won match-won foul penalty-point")

	// A foul unfreezes: nothing is latched.
	m = start(t, "fixed-doubles-21-leader-and-trailer@2025")
	reach(t, m, 20, 18, "A")
	do(t, m, "tfA")
	same(t, "unfrozen", rallies(t, m, "B"), "point side-out")

	// A penalty point makes the end change due, unless read otherwise; a
	// removal neither cancels nor repeats it.
	m = start(t, "rally-doubles-11@2026")
	rallies(t, m, "AAAAA")
	same(t, "penalty at the midpoint", do(t, m, "tfB"), "ends-due foul penalty-point")
	same(t, "removal", do(t, m, "tfA"), "foul penalty-point")
	same(t, "still due", field(t, m, "due")+field(t, m, "score"), "e5-0")
	same(t, "made", do(t, m, "ends"), "ends-changed")
	same(t, "not again", rallies(t, m, "A"), "point")
	m = start(t, "rally-doubles-11@2026+penalty-end-change=no")
	rallies(t, m, "AAAAA")
	same(t, "penalty does not count", do(t, m, "tfB"), "foul penalty-point")
}

// TestMatchFlow follows a match of three through its phases.
func TestMatchFlow(t *testing.T) {
	m := start(t, "sideout-doubles-11-of3@2025")
	const rest = " medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----"
	same(t, "before", m.Line(), "L2 game=0 won=0:0 score=0-0 opens=0:0 serve=- receive=- A=-- B=-- first=A start=- ends=0 due=- phase=before result=- break=- timeouts=0:0"+rest)
	refuse(t, m, "gB1A1", "wrong-side-first")
	refuse(t, m, "tA", "not-started")
	refuse(t, m, "ref", "not-started")
	refuse(t, m, "ends", "not-in-play")
	refuse(t, m, "in", "no-break")
	refuse(t, m, "sheet", "not-now")
	refuse(t, m, "xA", "not-started")
	refuse(t, m, "tfA", "not-in-edition")
	refuse(t, m, "vwA", "not-in-edition")
	same(t, "start", do(t, m, "gA2B1"), "game-started")
	same(t, "in play", m.Line(), "L2 game=1 won=0:0 score=0-0 opens=0:0 serve=A2@R#2 receive=B1 A=21 B=12 first=A start=A2B1 ends=0 due=- phase=play result=- break=- timeouts=0:0"+rest)
	refuse(t, m, "gA1B1", "in-play")
	same(t, "time-out", do(t, m, "tA"), "break time-out-charged")
	same(t, "another", do(t, m, "tB"), "break time-out-charged")
	same(t, "the last", do(t, m, "tA"), "break time-out-charged last-time-out")
	refuse(t, m, "tA", "none-left")
	same(t, "safety never waits", do(t, m, "ref"), "break")
	refuse(t, m, "eqA1", "in-break")
	same(t, "rally after it", do(t, m, "A:net"), "point time-in")
	rallies(t, m, "AAAAAAAAA")
	same(t, "game", rallies(t, m, "A"), "point game-won")
	same(t, "between", m.Line(), "L2 game=1 won=1:0 score=11-0 opens=0:0 serve=- receive=- A=-- B=-- first=A start=A2B1 ends=0 due=- phase=between result=- break=- timeouts=0:0"+rest)
	same(t, "no call", m.Call(), "")
	same(t, "time-out between", do(t, m, "tB"), "break time-out-charged")
	refuse(t, m, "gA1B1", "wrong-side-first")
	same(t, "the other side serves first", do(t, m, "A"), "side-out game-started time-in")
	same(t, "second game", m.Line(), "L2 game=2 won=1:0 score=0-0 opens=0:0 serve=A2@R#1 receive=B1 A=21 B=12 first=B start=A2B1 ends=1 due=- phase=play result=- break=- timeouts=0:1"+rest)
	rallies(t, m, "BBBBBBBBBBBBB")
	same(t, "one each", field(t, m, "won"), "1:1")
	do(t, m, "gA1B2")
	same(t, "ends again", field(t, m, "ends"), "0")
	rallies(t, m, "AAAAA")
	refuse(t, m, "ends", "not-due")
	same(t, "midpoint", rallies(t, m, "A"), "point ends-due")
	same(t, "ends", do(t, m, "ends"), "ends-changed")
	refuse(t, m, "ends", "not-due")
	same(t, "shown", field(t, m, "ends")+field(t, m, "due"), "1m-")
	same(t, "replay", do(t, m, "replay"), "replay")
	same(t, "the other at the midpoint", rallies(t, m, "BBBBBBB"), "point")
	rallies(t, m, "AAAAAAA")
	same(t, "over", m.Line(), "L2 game=3 won=2:1 score=11-6 opens=0:0 serve=- receive=- A=-- B=-- first=A start=A1B2 ends=1m due=- phase=over result=A break=- timeouts=0:0"+rest)
	refuse(t, m, "A", "over")
	refuse(t, m, "tA", "over")
	same(t, "sheet", do(t, m, "sheet"), "closed")
	for _, event := range []string{"A", "sheet", "gA1B1", "tfA"} {
		refuse(t, m, event, "closed")
	}
}

// TestEndChangeForgotten: it never blocks a rally, and a game that ends takes
// it along (decisions, default 6).
func TestEndChangeForgotten(t *testing.T) {
	m := start(t, "rally-singles-11@2026")
	rallies(t, m, "AAAAAAA")
	same(t, "due", field(t, m, "due"), "e")
	rallies(t, m, "AAAA")
	same(t, "gone", field(t, m, "due")+field(t, m, "ends"), "-0")
}

// TestNextServe: law 7.6 of badminton for the winner; derived for the rest.
func TestNextServe(t *testing.T) {
	match := func(next format.NextServe, games uint8, all bool) *reference.Match {
		f := custom(t, func(g *format.Game) { g.Target, g.ChangeEndsAt = 2, 0 })
		f.Match.NextServe, f.Match.Games, f.Match.PlayAll = next, games, all
		return of(t, f)
	}
	m := match(format.Winner, 3, false)
	rallies(t, m, "BBA")
	same(t, "winner", field(t, m, "first"), "B")
	m = match(format.Loser, 3, false)
	rallies(t, m, "BBA")
	same(t, "loser", field(t, m, "first"), "A")
	m = match(format.Chosen, 3, false)
	rallies(t, m, "BB")
	refuse(t, m, "A", "no-first-server")
	do(t, m, "gB2A1")
	same(t, "chosen", field(t, m, "serve"), "B2@R#-")

	m = match(format.OtherSide, 2, true)
	same(t, "tie", rallies(t, m, "AABB"), "point game-won")
	same(t, "tie", field(t, m, "result")+" "+field(t, m, "phase"), "tie over")
	m = match(format.OtherSide, 3, true)
	rallies(t, m, "AAAA")
	same(t, "all are played", field(t, m, "phase"), "between")
	same(t, "the last", rallies(t, m, "BB"), "point game-won match-won")
	same(t, "result", field(t, m, "result"), "A")
}

// TestBreaks covers breaks that are no standard time-outs.
func TestBreaks(t *testing.T) {
	m := start(t, "sideout-singles-11-of3@2017")
	refuse(t, m, "gA2B1", "no-such-player")
	rallies(t, m, "A")
	refuse(t, m, "eqB2", "no-such-player")
	same(t, "equipment", do(t, m, "eqB1"), "break")
	refuse(t, m, "tA", "in-break")
	refuse(t, m, "dealt", "no-break")
	same(t, "in", do(t, m, "in"), "time-in")
	for _, event := range []string{"blood", "hazard", "illness"} {
		do(t, m, event)
		refuse(t, m, "A", "undealt")
		refuse(t, m, "replay", "undealt")
		refuse(t, m, "in", "undealt")
		same(t, "dealt", do(t, m, "dealt"), "time-in")
	}
	do(t, m, "ref")
	same(t, "rally ends it", rallies(t, m, "B"), "side-out time-in")
	rallies(t, m, "BBBBBBBBBBB")
	refuse(t, m, "tA", "not-in-edition") // no time-outs between games before 2019
	do(t, m, "hazard")
	refuse(t, m, "gB1A1", "undealt")
	do(t, m, "dealt", "gB1A1")
}

// TestExchange: partners on fixed courts may exchange only at a time-out, an
// end change until the next rally, or between games.
func TestExchange(t *testing.T) {
	m := start(t, "fixed-doubles-21@2025")
	rallies(t, m, "AA")
	refuse(t, m, "xA", "not-now")
	do(t, m, "tB")
	same(t, "exchange", do(t, m, "xA"), "exchanged")
	same(t, "the other partner serves", position(t, m), "2-0 A2(R)>B1")
	same(t, "start", field(t, m, "start")+" "+field(t, m, "A"), "A2B1 21")
	do(t, m, "xB")
	same(t, "the other partner receives", position(t, m), "2-0 A2(R)>B2")
	do(t, m, "in")
	refuse(t, m, "xA", "not-now")
	rallies(t, m, "AAAAAAAAA")
	same(t, "due", field(t, m, "due"), "ex")
	do(t, m, "xA")
	same(t, "at the end change", position(t, m), "11-0 A2(L)>B1")
	do(t, m, "ends", "xA")
	rallies(t, m, "A")
	refuse(t, m, "xA", "not-now")
}

// TestMostPoints: the point after 255 is refused, a rally without one is not.
func TestMostPoints(t *testing.T) {
	m := of(t, custom(t, func(g *format.Game) { g.Target = 250 }))
	for range format.MostPoints {
		rallies(t, m, "AB")
	}
	same(t, "score", field(t, m, "score"), "255-255")
	refuse(t, m, "A", "most-points")
	refuse(t, m, "B", "most-points")
	do(t, m, "replay")
	do(t, m, "tfA")
	same(t, "taken off", field(t, m, "score"), "254-255")
}

// TestFoulRefused: an award cannot pass 255, and badminton has no such foul.
func TestFoulRefused(t *testing.T) {
	f := custom(t, func(g *format.Game) { g.Target = 250 })
	f.Rulings.Take(clause.FoulAwards)
	m := of(t, f)
	for range format.MostPoints {
		rallies(t, m, "AB")
	}
	refuse(t, m, "tfA", "most-points")
	m = start(t, "badminton-doubles-21-of3")
	rallies(t, m, "A")
	refuse(t, m, "tfA", "not-in-edition")
	refuse(t, m, "tA", "none-left")
}

// TestNew refuses what cannot be a match.
func TestNew(t *testing.T) {
	doubles, _ := format.Parse("sideout-doubles-11")
	singles, _ := format.Parse("sideout-singles-11")
	for _, test := range []struct {
		f        format.Format
		first    string
		starters [2]int
	}{
		{format.Format{}, "A", [2]int{1, 1}},
		{doubles, "C", [2]int{1, 1}},
		{doubles, "A", [2]int{0, 1}},
		{doubles, "A", [2]int{1, 3}},
		{singles, "A", [2]int{1, 2}},
	} {
		if _, err := reference.New(test.f, test.first, test.starters); err == nil {
			t.Errorf("accepted %v %q %v", test.f.Shape, test.first, test.starters)
		}
	}
	m, err := reference.New(doubles, "", [2]int{2, 1})
	if err != nil {
		t.Fatal(err)
	}
	refuse(t, m, "A", "no-first-server")
	same(t, "either side may start", do(t, m.Clone(), "gB1A2"), "game-started")
	m, err = reference.New(doubles, "B", [2]int{2, 1})
	if err != nil {
		t.Fatal(err)
	}
	do(t, m, "replay")
	same(t, "given starters", position(t, m), "0-0-2 B1(R)>A2")
}

// TestTexts covers events that nobody can mean.
func TestTexts(t *testing.T) {
	m := start(t, "sideout-doubles-11")
	for event, want := range map[string]string{
		"": "malformed", "undo": "log-only", "mA": "malformed", "mA1x": "malformed", "stop": "malformed", "A?": "malformed",
		"A?asked": "malformed", "A?court,server": "malformed", "stop?server,struck,rallyover": "malformed", "lateA:060": "malformed",
		"lateA:65536": "malformed", "fcA:end ": "malformed", "cwA1+": "malformed", "A:": "malformed", "A:ball": "malformed", "gA1A2": "malformed", "gA1C1": "malformed",
		"xC": "malformed", "tC": "malformed", "tf": "malformed", "eqA": "malformed",
	} {
		refuse(t, m, event, want)
	}
}

// TestParity walks at random and checks what officials check: the starting
// server stands right exactly while his side's score is even (rule 4.B.6.b,
// 2021), serving or receiving, fouls included; and a clone goes its own way.
func TestParity(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	events := []string{"A", "B", "A", "B", "A", "B", "A:out", "B:foot", "replay", "ends", "tA", "tB", "in", "tfA", "tfB", "gA1B1", "gB2A1", "blood", "dealt"}
	for _, id := range []string{"sideout-doubles-11-of3@2025", "rally-doubles-15-of5@2025", "rally-doubles-11-of3@2026", "badminton-doubles-15-of3@badminton-2005"} {
		for range 60 {
			m := start(t, id)
			for field(t, m, "phase") != "over" {
				twin := m.Clone()
				event := events[r.IntN(len(events))]
				effects, refusal := m.Do(event)
				again, refusedAgain := twin.Do(event)
				if twin.Line() != m.Line() || !reflect.DeepEqual(effects, again) || refusal != refusedAgain {
					t.Fatalf("a clone did something else on %s", event)
				}
				if m.Call() == "" {
					continue
				}
				points := strings.Split(field(t, m, "score"), "-")
				starters := field(t, m, "start")
				for i, side := range []string{"A", "B"} {
					even := strings.ContainsAny(points[i][len(points[i])-1:], "02468")
					stands := field(t, m, side)[0] == starters[2*i+1]
					if even != stands {
						t.Fatalf("after %s the starting server of %s is misplaced: %s", event, side, m.Line())
					}
				}
			}
		}
	}
}

func BenchmarkRally(b *testing.B) {
	fresh := start(b, "sideout-doubles-11-of3@2025")
	r := rand.New(rand.NewPCG(3, 4))
	m := fresh.Clone()
	for b.Loop() {
		if _, refusal := m.Do([]string{"A", "B"}[r.IntN(2)]); refusal != "" {
			m = fresh.Clone()
		}
	}
}

func BenchmarkLine(b *testing.B) {
	m := start(b, "sideout-doubles-11-of3@2025")
	rallies(b, m, "AAB")
	for b.Loop() {
		_ = m.Line()
	}
}
