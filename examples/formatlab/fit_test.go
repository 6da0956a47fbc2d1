package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/openrecords"
	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/format"
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

// A table says the same as the lines it could have been.
func TestFitReadsTables(t *testing.T) {
	winners := "AAB" + "BAA" + "AAAAAAAAA"
	want := asJSON[fitted](t, "fit "+write(t, logLine("L01", "sideout-doubles-11@2026", "A", winners)))
	for name, c := range map[string]struct{ head, cells string }{
		"with commas":     {"match,format,first,winner,a1_name,a2_name,b1_name,b2_name", "L01,sideout-doubles-11@2026,A,%c,Imani Okafor,Tomasz Zielinski,Priya Raman,Lars Nyberg"},
		"with semicolons": {"\ufeffWinner;first;match;format;a1_name;a2_name;b1_name;b2_name", "%c;A;L01;sideout-doubles-11@2026;Imani Okafor;Tomasz Zielinski;\"Priya Raman\";Lars Nyberg"},
	} {
		t.Run(name, func(t *testing.T) {
			lines := []string{c.head}
			for _, w := range winners {
				lines = append(lines, fmt.Sprintf(c.cells, w))
			}
			require.Equal(t, want, asJSON[fitted](t, "fit "+write(t, lines...)))
		})
	}
	// Who served first may be seen from the server, and a format may be named
	// for the whole table.
	rows := []string{"match,server,winner,score,undo"}
	for i, w := range "AAAAAAA" {
		rows = append(rows, fmt.Sprintf("L02,A1,%c,%d-0,", w, i+1))
	}
	got := asJSON[fitted](t, "fit -format rally-doubles-7@2026 "+write(t, rows...))
	require.Equal(t, 7, got.Serve.Won)
	require.Equal(t, "rally-doubles-7@2026", got.Lengths[0].Format)
	got = asJSON[fitted](t, "fit -format rally-doubles-7@2026 "+write(t, append(rows[:3:3], "L02,,,,true")...))
	require.Equal(t, 1, got.Serve.From, "a row that takes back the one before it")

	// As other sources have it: other names, other words, columns that say nothing
	// here, the rallies of two matches mixed.
	rows = []string{"Match ID;Served first;Point to;Weather;A1 name;A2 name;B1 name;B2 name"}
	for _, w := range winners {
		rows = append(rows, fmt.Sprintf("L01;home;%s;fair;Imani Okafor;Tomasz Zielinski;Priya Raman;Lars Nyberg", map[rune]string{'A': "Home", 'B': "away"}[w]))
	}
	require.Equal(t, want, asJSON[fitted](t, "fit -format sideout-doubles-11@2026 "+write(t, rows...)))
	rows = slices.Insert(rows, 3, "L02;away;x;fair;;;;")
	got = asJSON[fitted](t, "fit -format sideout-doubles-11@2026 "+write(t, rows...))
	require.Equal(t, want.Report, got.Report)
	require.Equal(t, []aside{{"L02", `row 4: "x" cannot be read here: want A or B; the field was left out, the row was checked without it`}}, got.Aside)

	const none = "no game can be used; of 1, the first was set aside: L01 (row 2: "
	for name, c := range map[string]struct{ rows, want string }{
		"an odd column": {"match,weather\nL01,fair", "FILE: row 1: no column of scores"},
		"a ragged row":  {"match,winner\nL01,A,A", none + "this row cannot be read: want 2 fields, have 3)"},
		"a quote":       {"match,winner\nL01,\"A", "FILE: row 2: a quote is opened and not closed"},
		"an odd winner": {"match,first,winner\nL01,A,C", none + `"C" cannot be read here: want A or B`},
		"an odd number": {"match,first,game,winner\nL01,A,x,A", none + `"x" cannot be read here: want a number from 1`},
		"an odd score":  {"match,first,score\nL01,A,4", none + `"4" cannot be read here: want scores such as 11-8`},
		"an odd format": {"match,format,first,winner\nL01,triples,A,A", none + "no such format: triples"},
		"a header only": {"match,winner", "FILE: holds no row"},
		"results":       {"match,games\nL01,11-8", "FILE: is a table of results"},
	} {
		t.Run(name, func(t *testing.T) {
			var out, errs strings.Builder
			file := write(t, c.rows)
			require.Equal(t, program.Failed, run([]string{"fit", file}, nil, &out, &errs))
			require.Contains(t, errs.String(), "formatlab: fit: "+strings.Replace(c.want, "FILE", file, 1))
			require.Empty(t, out.String())
		})
	}
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
		_, err := l.Enter(e)
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
		"a format unknown": {logLine("L02", "triples-11", "A", "A"), "line 2: format: "},
		"not JSON":         {"match,game", "line 2: "},
	} {
		t.Run(name, func(t *testing.T) {
			var out, errs strings.Builder
			file := write(t, good, c.line)
			require.Equal(t, program.Failed, run([]string{"fit", file}, nil, &out, &errs))
			require.True(t, strings.HasPrefix(errs.String(), "formatlab: fit: "+file+": "+c.want), errs.String())
			require.Equal(t, 1, strings.Count(errs.String(), "\n"))
			require.Empty(t, out.String())
		})
	}
}

// What cannot be used is set aside and said; the rest is used.
func TestFitSetsLogsAside(t *testing.T) {
	good := logLine("L01", "sideout-doubles-11@2026", "A", "AAB")
	for name, c := range map[string]struct{ line, want string }{
		"after the end": {logLine("L02", "rally-doubles-7@2026", "A", "AAAAAAAA"), "L02: row 8: A is refused: "},
		"nobody first":  {`{"match":"L02","format":"rally-doubles-7","rows":[{"winner":"A"}]}`, "L02: who served first is not said"},
		"no winner":     {`{"match":"L02","format":"rally-doubles-7","first":"A","rows":[{"score":[1,0]}]}`, "L02: row 1: who won is not said; resultcheck proposes it"},
		"a score jumps": {`{"match":"L02","format":"rally-doubles-7@2026","first":"A","rows":[{"winner":"A","score":[1,0]},{"winner":"A","score":[3,0]}]}`, "L02: row 2: the score is 3-0 where the rallies make it 2-0"},
	} {
		t.Run(name, func(t *testing.T) {
			file := write(t, good, c.line)
			require.Contains(t, strings.Join(strings.Fields(ask(t, "fit "+file)), " "), c.want)
			require.Equal(t, 1, asJSON[fitted](t, "fit "+file).Games)
			var out, errs strings.Builder
			require.Equal(t, program.Failed, run([]string{"fit", write(t, c.line)}, nil, &out, &errs))
			require.Contains(t, errs.String(), "no game can be used")
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
	o := usual(t)
	require.InDelta(t, f.Serve.Rate, o.strength.share(), 0.005)
}

// Nothing that a file can hold makes the reading of it panic.
func FuzzFitFile(f *testing.F) {
	f.Add([]byte(logLine("L01", "sideout-doubles-11@2026", "A", "AAB")))
	f.Add([]byte("match,first,winner,score\nL01,A,A,1-0\nL01,A,B,1-0\n"))
	f.Add([]byte("winner;first\n\"A\";B\n"))
	rec, err := os.ReadFile("../officiate/ladder-match.jsonl")
	require.NoError(f, err)
	f.Add(rec[:4000])
	f.Fuzz(func(t *testing.T, data []byte) {
		rd := &reading{format: "rally-doubles-7", players: map[string]*[2]int{}}
		_ = rd.read("file", bytes.NewReader(data))
		for _, g := range rd.games {
			if g.problem == "" && len(g.Events) != len(g.served) {
				t.Fatal("a game is half taken in")
			}
		}
	})
}

// Nothing that can be typed as a format makes its reading panic, and what is
// read is valid.
func FuzzFormat(f *testing.F) {
	for _, id := range []string{"sideout-doubles-11-of3@2025+order-error=fault", "rally-doubles-11+target=13+freeze=none", "rally-doubles-7+games=3+play-all=yes+last-win-by=1"} {
		f.Add(id)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if got, err := format.Parse(text); err == nil {
			if err := got.Validate(); err != nil {
				t.Fatal(err)
			}
		}
	})
}
