package main

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/paper"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/record"
)

var (
	sections = regexp.MustCompile(`(?s)<section class="game">.*?</section>`)
	tables   = regexp.MustCompile(`(?s)<table class="marks">.*?</table>`)
	boxes    = regexp.MustCompile(`<small>\d+</small><b>([^<]*)</b>`)
	outs     = regexp.MustCompile(`at (\d+)-(\d+)(?:-(\d))? \(entry`)
)

// readPaper reads the marks of a printed sheet as a person does: box after box.
func readPaper(t *testing.T, html string) (games [][2]paper.Marks) {
	for _, section := range sections.FindAllString(html, -1) {
		var g [2]paper.Marks
		for side, table := range tables.FindAllString(section, -1) {
			text := ""
			for _, box := range boxes.FindAllStringSubmatch(table, -1) {
				text += box[1]
			}
			m, ok := paper.ReadMarks(text)
			require.True(t, ok, text)
			g[side] = m
		}
		games = append(games, g)
	}
	return games
}

// The sheets of random matches, read back from the page by their marks alone,
// lead to the score and the server of the record.
func TestSheetsAreReadBack(t *testing.T) {
	matches := 200
	if testing.Short() {
		matches = 40
	}
	rng := rand.New(rand.NewPCG(14, 200))
	ids := []string{"sideout-doubles-11-of3@2026", "sideout-doubles-15@2022", "sideout-singles-11-of3@2025", "rally-doubles-11-of3@2026", "fixed-doubles-21@2026"}
	read := 0
	for m := range matches {
		v := session(t, ids[m%len(ids)], &bytes.Buffer{})
		_, err := v.enter(rally.Choose(rally.A, rally.ChooseServe).Entry())
		require.NoError(t, err)
		length := 10 + rng.IntN(150)
		for n := 0; n < length && v.log.State().Phase() != rally.Over; n++ {
			text := []string{"A", "B"}[rng.IntN(2)]
			switch {
			case v.log.State().Phase() != rally.Playing:
				first, _ := v.log.Rules().NextFirst(v.log.State())
				text = rally.Start(first, rally.Starters{rally.A1 + rally.Person(rng.IntN(2)), rally.B1 + rally.Person(rng.IntN(2))}).String()
			case rng.IntN(15) == 0:
				text = []string{"tA", "tB", "undo", "replay", "ends", "stop?server,struck,byref"}[rng.IntN(6)]
			}
			what, err := rally.ParseEntry(text)
			require.NoError(t, err)
			_, _ = v.enter(what) // what may not come is refused
		}
		var html bytes.Buffer
		require.NoError(t, sheetTemplate.Execute(&html, paper.Of(v.log, v.setup, v.language)))
		games := paper.Games(v.log)
		marked := readPaper(t, html.String())
		require.Len(t, marked, len(games))
		for n, g := range games {
			sheet := sheetOf(g)
			for side := range marked[n] {
				sheet.Sides[side] = audit.SideMarks{Servers: marked[n][side].Servers, Ends: marked[n][side].Ends}
			}
			reading := sheet.Read(audit.Place{})
			require.NotEmpty(t, reading.States, "%v", reading.Findings)
			for _, s := range reading.States {
				require.Equal(t, [2]int{g.Last.Score(rally.A), g.Last.Score(rally.B)}, [2]int{s.Score(rally.A), s.Score(rally.B)})
				if g.Last.Phase() == rally.Playing {
					require.Equal(t, g.Rules.Places(g.Last).Server, g.Rules.Places(s).Server)
				}
			}
			read++
		}
	}
	t.Logf("%d games of %d matches", read, matches)
}

// A time-out stands on the sheet with its call, a blank sheet has boxes, and
// names cannot break the page.
func TestSheetOnPaper(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "sheet.html")
	blank := officiated("", "-sheet", file)
	require.Equal(t, 0, blank.code, blank.errs)
	html, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, 3, len(sections.FindAll(html, -1)))
	require.Equal(t, 3*2*18, len(boxes.FindAll(html, -1)), "0 to 17 for a game to 11")

	var log bytes.Buffer
	require.NoError(t, record.Write(&log, rally.Setup{Match: "<script>alert(1)</script>"}, ladder(t).Log))
	from := filepath.Join(dir, "log.jsonl")
	require.NoError(t, os.WriteFile(from, log.Bytes(), 0o600))
	full := officiated("", "-file", from, "-sheet", file)
	require.Equal(t, 0, full.code, full.errs)
	html, err = os.ReadFile(file)
	require.NoError(t, err)
	require.NotContains(t, string(html), "<script>")
	timeOuts := 0
	ladder(t).Log.Each(func(st rally.Step) bool {
		if st.Event.Kind() == rally.TimeOut && st.Holds && st.Before.Phase() == rally.Playing {
			timeOuts++
			require.Contains(t, string(html), "at "+string(st.Rules.AppendCall(nil, st.Before))+" (entry "+strconv.Itoa(st.N))
		}
		return true
	})
	require.Positive(t, timeOuts)
	require.GreaterOrEqual(t, len(outs.FindAll(html, -1)), timeOuts)
}

func ladder(t *testing.T) *record.Record {
	rec, err := record.Read(bytes.NewReader(ladderMatch))
	require.NoError(t, err)
	return rec
}

// A record is held to marks and to scores, and says where they part.
func TestRecordAgainstPaper(t *testing.T) {
	dir := t.TempDir()
	v := session(t, "sideout-doubles-11-of3@2026", &bytes.Buffer{})
	for _, text := range strings.Fields("fcA:serve gA1B1 A A B A B A B A A A A tB A A A A A") {
		what, err := rally.ParseEntry(text)
		require.NoError(t, err)
		_, err = v.enter(what)
		require.NoError(t, err, text)
	}
	var log bytes.Buffer
	require.NoError(t, record.Write(&log, v.setup, v.log))
	file := filepath.Join(dir, "log.jsonl")
	require.NoError(t, os.WriteFile(file, log.Bytes(), 0o600))
	marks := paper.Games(v.log)[0]
	a, b := marks.Sides[0].Text(), marks.Sides[1].Text()
	for _, c := range []struct {
		name string
		args []string
		code int
		said string
	}{
		{"right marks", []string{"-marks", a + " " + b}, 0, "They agree."},
		{"a mark of the other server", []string{"-marks", strings.Replace(a, "22", "21", 1) + " " + b}, 1, "Game 1, A1 and A2: they agree to 1 point; then the sheet has 1 and the record 2, at entry 4."},
		{"a mark too many", []string{"-marks", a + "1 " + b}, 1, "then the sheet has 1 and the record no mark"},
		{"no marks at all", []string{"-marks", a + " x"}, 2, ""},
		{"what is claimed", []string{"-claim", "11-2"}, 1, "11-2 is claimed"},
		{"a question", []string{"-ask", "score at B's first time-out"}, 0, "served from the"},
		{"another question", []string{"-ask", "who served at 2-0?"}, 0, `Game 1, 2-0: "two, zero, two"; A1 served from the right court to B1. Entry 4`},
		{"what never was", []string{"-ask", "who served at 9-9"}, 0, "That never stood in this record."},
		{"no question", []string{"-ask", "how are you"}, 2, ""},
		{"what counts", []string{"-counts", "-brief"}, 0, "Game 1 begins"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := officiated("", append([]string{"-file", file}, c.args...)...)
			require.Equal(t, c.code, got.code, got.errs)
			require.Contains(t, got.out, c.said)
		})
	}
}

// Questions to a record are read as a language asks them, in its own words.
func TestQuestionsInEveryLanguage(t *testing.T) {
	for _, c := range []struct {
		tag, asked string
		want       question
	}{
		{"en", "score at B's second time-out", question{timeOut: true, side: rally.B, nth: 2}},
		{"en", "What stood at a 3rd timeout by B in game 2?", question{timeOut: true, side: rally.B, nth: 3, game: 2}},
		{"en", "time out of a", question{timeOut: true}},
		{"en", "who served at 7-5 in game 2", question{score: [2]int{7, 5}, game: 2}},
		{"de", "Stand bei der zweiten Auszeit von B", question{timeOut: true, side: rally.B, nth: 2}},
		{"de", "As letzte Auszeit in Spiel 3", question{timeOut: true, nth: -1, game: 3}},
		{"de", "Wer schlug bei 7:5 in Spiel 1 auf?", question{score: [2]int{7, 5}, game: 1}},
		{"de", "who served at 7-5", question{score: [2]int{7, 5}}},
	} {
		l, err := texts.Language(c.tag)
		require.NoError(t, err)
		got, ok := newAsking(l).parse(c.asked)
		require.True(t, ok, c.asked)
		require.Equal(t, c.want, got, c.asked)
	}
	l, err := texts.Language("de")
	require.NoError(t, err)
	for _, asked := range []string{"", "how are you", "Auszeit", "bei 7-", "in Spiel 2"} {
		_, ok := newAsking(l).parse(asked)
		require.False(t, ok, asked)
	}
}
