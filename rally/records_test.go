package rally_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/openrecords"
	"github.com/evencourt/evencourt/rally"
)

// chartedGame is one game of doubles charted from video (pklmart via pklshop,
// Apache-2.0): a token a rally, SERVER>RECEIVER:WINNER, TA and TB time-outs.
type chartedGame struct {
	Game   string `json:"game"`
	Final  [2]int `json:"final_A_B"`
	Winner string `json:"recorded_winner"`
	Events string `json:"events"`
}

// The target of a charted game is not recorded. These games went to 15, and
// three ended at no legal final, so that 21 lets them be played through.
var chartedTo15 = map[string]bool{"G17": true, "G27": true, "G34": true, "G35": true, "G47": true, "G55": true}
var chartedIllegal = map[string]bool{"G20": true, "G21": true, "G23": true}

// TestChartedDoubles replays games from the rally winners alone and compares
// the recorded final, and server and receiver of every rally. (The server and
// receiver columns were probably computed by the charting tool: a cross-check,
// not human evidence.)
func TestChartedDoubles(t *testing.T) {
	games, rallies, timeOuts, legal := 0, 0, 0, map[int]int{}
	scan := bufio.NewScanner(bytes.NewReader(openrecords.Read(t, "data/charted-doubles/games.jsonl")))
	scan.Buffer(nil, 1<<20)
	for scan.Scan() {
		var g chartedGame
		require.NoError(t, json.Unmarshal(scan.Bytes(), &g))
		target := 11
		if chartedTo15[g.Game] {
			target = 15
		}
		playTo := target
		if chartedIllegal[g.Game] {
			playTo = 21
		}
		rules := rally.MustCompile(mustParse(fmt.Sprintf("sideout-doubles-%d@2022", playTo)))
		s, _, refusal := rules.Apply(rules.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
		require.Equal(t, rally.NotRefused, refusal)
		for i, token := range strings.Fields(g.Events) {
			if token == "TA" || token == "TB" {
				timeOuts++
				s, _, refusal = rules.Apply(s, rally.OfSide(rally.TimeOut, rally.Side(token[1]-'A')))
				require.Equal(t, rally.NotRefused, refusal, "%s token %d", g.Game, i)
				continue
			}
			require.Equal(t, rally.Playing, s.Phase(), "%s goes on after its end", g.Game)
			p := rules.Places(s)
			require.Equal(t, token[:len(token)-2], p.Server.String()+">"+p.Receiver.String(), "%s token %d at %s", g.Game, i, rules.Line(s))
			s, _, refusal = rules.Apply(s, rally.RallyTo(rally.Side(token[len(token)-1]-'A')))
			require.Equal(t, rally.NotRefused, refusal)
			rallies++
		}
		require.Equal(t, g.Final, [2]int{s.Score(rally.A), s.Score(rally.B)}, g.Game)
		games++
		if chartedIllegal[g.Game] {
			require.Equal(t, rally.Playing, s.Phase(), g.Game)
			final := rally.MustCompile(mustParse("sideout-doubles-15@2022")).Format().Game
			require.False(t, final.Final(uint8(max(g.Final[0], g.Final[1])), uint8(min(g.Final[0], g.Final[1]))), g.Game)
			t.Logf("%s ends at %d-%d, which is no final to 11, 15 or 21", g.Game, g.Final[0], g.Final[1])
			continue
		}
		legal[target]++
		require.Equal(t, rally.Over, s.Phase(), g.Game)
		_, winner, _ := s.Outcome()
		require.Equal(t, g.Winner, winner.String(), g.Game)
	}
	require.NoError(t, scan.Err())
	t.Logf("charted doubles: %d games, %d rallies, %d time-outs; %d end legally to 11, %d to 15, %d do not",
		games, rallies, timeOuts, legal[11], legal[15], games-legal[11]-legal[15])
	require.Equal(t, []int{54, 2462, 73, 45, 6}, []int{games, rallies, timeOuts, legal[11], legal[15]})
}

// TestBadmintonTour replays every rally history of the tour records
// (juanliong14/badminton_data_analysis, CC0 1.0 as declared) as best of three
// to 21 by two with a cap of 30. Caps are counted in matches played out: one
// more game ended 30-28, in a match that was retired from later.
func TestBadmintonTour(t *testing.T) {
	data := openrecords.Read(t, "data/badminton-tour/games.tsv")
	type match struct{ retired, clean, over bool }
	singles := rally.MustCompile(mustParse("badminton-singles-21-of3"))
	doubles := rally.MustCompile(mustParse("badminton-doubles-21-of3"))
	var games, rallies, clean, retired, odd int
	caps := map[string]int{}
	var at string
	var m match
	var rules *rally.Rules
	var s rally.State
	finish := func() {
		switch {
		case at == "":
		case m.retired:
			retired++
		case m.clean && m.over:
			clean++
		default:
			odd++
		}
	}
	for n, row := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		if n == 0 {
			continue
		}
		f := strings.Split(strings.TrimRight(row, "\r"), "\t")
		require.Len(t, f, 7, "line %d", n+1)
		if key := f[0] + f[1]; key != at {
			finish()
			at, m = key, match{retired: f[2] == "True", clean: true}
			rules = doubles
			if strings.HasSuffix(f[0], "S") {
				rules = singles
			}
			s = rules.New(rally.A)
		}
		games++
		start := s
		for _, c := range f[6] {
			rallies++
			next, _, refusal := rules.Apply(s, rally.RallyTo(rally.Side(c-'1')))
			if refusal != rally.NotRefused || s.Phase() == rally.Between && s != start {
				m.clean = false // the game goes on after its end
				break
			}
			s = next
		}
		final := fmt.Sprintf("%d-%d", s.Score(rally.A), s.Score(rally.B))
		ended := s.Phase() == rally.Between || s.Phase() == rally.Over
		m.clean = m.clean && ended && final == f[5]
		m.over = s.Phase() == rally.Over
		if ended && !m.retired && (s.Score(rally.A) == 30 || s.Score(rally.B) == 30) {
			caps[fmt.Sprintf("30-%d", min(s.Score(rally.A), s.Score(rally.B)))]++
		}
	}
	finish()
	t.Logf("badminton tour: %d games, %d rallies; matches: %d clean, %d retired, %d cut or foreign; caps %v", games, rallies, clean, retired, odd, caps)
	require.Equal(t, []int{34415, 14718, 194, 6}, []int{games, clean, retired, odd})
	require.Equal(t, map[string]int{"30-28": 10, "30-29": 17}, caps)
}
