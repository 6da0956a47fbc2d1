package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/openrecords"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/record"
)

// write writes lines to a file.
func write(t *testing.T, lines ...string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "logs.jsonl")
	require.NoError(t, os.WriteFile(file, []byte(strings.Join(lines, "\n")+"\n"), 0o600))
	return file
}

// logLine is a log of rallies won by the sides of a text.
func logLine(match, format, first, winners string) string {
	var rows []string
	for _, w := range winners {
		rows = append(rows, fmt.Sprintf(`{"winner":"%c"}`, w))
	}
	return fmt.Sprintf(`{"match":%q,"format":%q,"first":%q,"sides":[{"players":["p1","p2"],"names":["Imani Okafor","Tomasz Zielinski"]},{"players":["p3","p4"],"names":["Priya Raman","Lars Nyberg"]}],"rows":[%s]}`,
		match, format, first, strings.Join(rows, ","))
}

// A game counted by hand. Side-out doubles: A1 serves and wins twice, loses;
// B1 wins once and loses, B2 loses; A1 (right, on 2) wins nine times in a row.
func TestFitCountsServes(t *testing.T) {
	file := write(t, logLine("L01", "sideout-doubles-11@2026", "A", "AAB"+"BAA"+"AAAAAAAAA"))
	f := asJSON[fitted](t, "fit "+file)
	require.Equal(t, explore.NewShare("all rallies", 12, 15), f.Serve)
	require.Equal(t, explore.NewShare("side that served first", 11, 12), f.Report.Serve[0])
	require.Equal(t, explore.NewShare("other side", 1, 3), f.Report.Serve[1])
	byName := map[string]explore.Share{}
	for _, p := range f.Players {
		byName[p.Of] = p
	}
	require.Equal(t, 11, byName["Imani Okafor"].Won)
	require.Equal(t, 12, byName["Imani Okafor"].From)
	require.Equal(t, [2]int{1, 2}, [2]int{byName["Priya Raman"].Won, byName["Priya Raman"].From})
	require.Equal(t, [2]int{0, 1}, [2]int{byName["Lars Nyberg"].Won, byName["Lars Nyberg"].From})
	require.Equal(t, []int{15}, f.Lengths[0].Rallies)
	text := ask(t, "fit "+file)
	require.Equal(t, []string{"11", "12", "91.7 %", percent(byName["Imani Okafor"].Low), percent(byName["Imani Okafor"].High)},
		row(t, text, "The same by server", "Imani Okafor"))
	require.Contains(t, text, "take -p 0.80,0.20.")

	// The same game with the sides exchanged: A is whoever served first.
	swap := strings.NewReplacer("A", "B", "B", "A")
	other := asJSON[fitted](t, "fit "+write(t, logLine("L01", "sideout-doubles-11@2026", "B", swap.Replace("AABBAAAAAAAAAAA"))))
	require.Equal(t, f.Report.Serve, other.Report.Serve)
	require.Equal(t, f.Report.Lengths, other.Report.Lengths)
}

// Singles and doubles to 11 in matches are told apart, and each is held
// against its own law.
func TestFitTellsFormatsApart(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	var lines []string
	for n := range 40 {
		for _, id := range []string{"sideout-singles-11-of3@2026", "rally-doubles-11-of3@2026"} {
			lines = append(lines, logLine(fmt.Sprintf("%s-%d", id, n), id, "B", played(t, rng, id, 0.45)))
		}
	}
	f := asJSON[fitted](t, "fit "+write(t, lines...))
	require.Len(t, f.Lengths, 4, "two formats, two kinds of games each")
	require.Len(t, f.Report.Lengths, 4)
	for i, l := range f.Lengths {
		require.InDelta(t, l.Predicted.Mean, f.Report.Lengths[i].Predicted, 1e-6)
		require.Equal(t, len(l.Rallies), f.Report.Lengths[i].Games)
		require.Less(t, f.Report.Lengths[i].Z, 4.0)
		require.Greater(t, f.Report.Lengths[i].Z, -4.0)
	}
	require.Less(t, f.Lengths[2].Predicted.Mean, 0.7*f.Lengths[0].Predicted.Mean)
	require.Less(t, f.Serve.Low, 0.45)
	require.Greater(t, f.Serve.High, 0.45)
	require.Greater(t, f.Report.Tests[0].P, 0.001)
}

// played plays a match by chance.
func played(t *testing.T, rng *rand.Rand, id string, share float64) string {
	r := rally.MustCompile(parsed(t, id))
	s, _, _ := r.Apply(r.New(rally.B), rally.Start(rally.B, rally.Starters{rally.A1, rally.B1}))
	out := ""
	for s.Phase() != rally.Over {
		side, serving := s.Serving()
		if !serving {
			side, _ = r.NextFirst(s)
		}
		if rng.Float64() >= share {
			side = side.Other()
		}
		s, _, _ = r.Apply(s, rally.RallyTo(side))
		out += side.String()
	}
	return out
}

func TestFitSetsGamesAside(t *testing.T) {
	// A record whose second game has a technical foul in it, and whose third is
	// not finished.
	r := rally.MustCompile(parsed(t, "sideout-doubles-11-of3@2026"))
	l := rally.NewLog(r, r.New(rally.A))
	for _, e := range strings.Fields("gA1B1 " + strings.Repeat("A ", 11) + "B tfB " + strings.Repeat("B ", 11) + "A A") {
		_, err := l.Do(e)
		require.NoError(t, err, e)
	}
	file := filepath.Join(t.TempDir(), "match.jsonl")
	out, err := os.Create(file)
	require.NoError(t, err)
	u := rally.Setup{Match: "Harbour Lane Courts autumn ladder, round 3", Referee: "Noor Haddad"}
	u.Sides[0].Players[0].Name = "Imani Okafor"
	require.NoError(t, record.Write(out, u, l))
	require.NoError(t, out.Close())
	f := asJSON[fitted](t, "fit "+file)
	require.Equal(t, []aside{{"match.jsonl game 2", "holds tfB, which is no rally"}}, f.Aside)
	require.Equal(t, 2, f.Games)
	require.Equal(t, 1, f.Report.Unfinished)
	require.Equal(t, []string{"Imani Okafor"}, []string{f.Players[0].Of})
	require.Contains(t, ask(t, "fit "+file), "1 game without an end")
}

func TestFitRefusesWhatCannotBe(t *testing.T) {
	good := logLine("L01", "sideout-doubles-11@2026", "A", "AAB")
	for name, c := range map[string]struct{ line, want string }{
		"a result":         {`{"match":"L01","games":[[11,3]],"winner":"A"}`, "line 2: a result, not a log: it has no rows"},
		"an odd winner":    {logLine("L02", "sideout-doubles-11@2026", "A", "AXB"), `line 2: `},
		"after the end":    {logLine("L02", "rally-doubles-7@2026", "A", "AAAAAAAA"), "line 2: rows.7: A is refused: "},
		"nobody first":     {`{"match":"L02","format":"rally-doubles-7","rows":[{"winner":"A"}]}`, "line 2: first: who served first is not said"},
		"no winner":        {`{"match":"L02","format":"rally-doubles-7","first":"A","rows":[{"score":[1,0]}]}`, "line 2: rows.0: who won is not said; resultcheck proposes it"},
		"a format unknown": {logLine("L02", "triples-11", "A", "A"), "line 2: format: "},
		"not JSON":         {"match,game", "line 2: "},
	} {
		t.Run(name, func(t *testing.T) {
			var out, errs strings.Builder
			file := write(t, good, c.line)
			require.Equal(t, unasked, run([]string{"fit", file}, nil, &out, &errs))
			require.True(t, strings.HasPrefix(errs.String(), "formatlab: fit: "+file+": "+c.want), errs.String())
			require.Equal(t, 1, strings.Count(errs.String(), "\n"))
			require.Empty(t, out.String())
		})
	}
}

// TestFitOfChartedDoubles reads open records (Apache-2.0, "Rally data: pklmart
// via pklshop (c) 2022 Nolan Smyth") through the program, if they are there.
// The default of -p is the share that they show.
func TestFitOfChartedDoubles(t *testing.T) {
	var lines []string
	for scan := bufio.NewScanner(openrecords.Open(t, "data/charted-doubles/games.jsonl")); scan.Scan(); {
		var game struct{ Game, Events string }
		require.NoError(t, json.Unmarshal(scan.Bytes(), &game))
		// Six games were to 15; three end in no legal final.
		if strings.Contains(" G20 G21 G23 ", " "+game.Game+" ") {
			continue
		}
		id := "sideout-doubles-11@2025"
		if strings.Contains(" G17 G27 G34 G35 G47 G55 ", " "+game.Game+" ") {
			id = "sideout-doubles-15@2025"
		}
		winners := ""
		for token := range strings.FieldsSeq(game.Events) {
			if _, winner, ok := strings.Cut(token, ":"); ok {
				winners += winner
			}
		}
		lines = append(lines, logLine(game.Game, id, "A", winners))
	}
	f := asJSON[fitted](t, "fit "+write(t, lines...))
	t.Logf("%d games, %d rallies, %.4f of them won by the server's side", f.Games, f.Report.Rallies, f.Serve.Rate)
	require.Equal(t, 51, f.Games)
	require.Empty(t, f.Aside)
	o, _, err := parse(&compareCommand, nil)
	require.NoError(t, err)
	require.InDelta(t, f.Serve.Rate, o.strength.share(), 0.005)
}
