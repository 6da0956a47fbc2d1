package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/record"
)

// ask runs a command line that must be answered and returns what it printed.
func ask(t *testing.T, line string) string {
	t.Helper()
	var out, errs bytes.Buffer
	require.NotEqual(t, program.Failed, run(strings.Fields(line), nil, &out, &errs), errs.String())
	require.Empty(t, errs.String(), "progress is for terminals")
	return out.String()
}

// usual are the options of compare when none is given.
func usual(t *testing.T) (o *options) {
	t.Helper()
	command := compareCommand
	line := command.line(func(q *question) error { o = q.options; return nil })
	require.Equal(t, program.Nothing, program.Run(line, nil, nil, io.Discard, io.Discard))
	return o
}

func TestExitCodeOfDiff(t *testing.T) {
	for line, want := range map[string]int{
		"diff rally-doubles-7@2025 rally-doubles-7@2025 -only sequence": program.Nothing,
		"diff rally-doubles-7@2025 rally-doubles-7@2026 -only sequence": program.Found,
		"diff rally-doubles-7@2025":                                     program.Failed,
	} {
		require.Equal(t, want, run(strings.Fields(line), nil, io.Discard, io.Discard), line)
	}
}

// asJSON reads the figures of a command line.
func asJSON[T any](t *testing.T, line string) (out T) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(ask(t, line+" -json")))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(&out))
	return out
}

var gaps = regexp.MustCompile(`\s{2,}`)

// row returns the cells of the first row of a text table that begins so, from
// the part of that title on.
func row(t *testing.T, text, title, name string) []string {
	t.Helper()
	_, text, ok := strings.Cut(text, "\n"+title+"\n---")
	require.True(t, ok, "no part %q", title)
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if rest, ok := strings.CutPrefix(line, name+"  "); ok {
			return gaps.Split(strings.TrimSpace(rest), -1)
		}
	}
	require.Fail(t, "no such row", "%q in %q", name, title)
	return nil
}

func parsed(t *testing.T, id string) format.Format {
	t.Helper()
	f, err := format.Parse(id)
	require.NoError(t, err)
	return f
}

// The independent second method is dense LU of a chain enumerated anew: every
// figure of compare that it can give.
func TestCompareAgreesWithDenseLU(t *testing.T) {
	ids := []string{"sideout-doubles-11@2026", "rally-doubles-11@2025", "sideout-singles-11@2026"}
	line := "compare " + strings.Join(ids, " ") + " -p 0.45,0.58"
	got := asJSON[comparison](t, line)
	text := ask(t, line)
	a := explore.Rates{Serve: [2]float64{0.45, 1 - 0.58}}
	b := explore.Rates{Serve: [2]float64{1 - 0.58, 0.45}} // the better side receives first
	even := explore.Equal((0.45 + 1 - 0.58) / 2)
	for i, id := range ids {
		f := got.Formats[i]
		first, mean1, var1 := enumerate(t, id, a).solve(false)
		lost, mean2, var2 := enumerate(t, id, b).solve(false)
		e, _, _ := enumerate(t, id, even).solve(true)
		second := 1 - lost
		require.InDelta(t, first, f.First, 1e-12, id)
		require.InDelta(t, second, f.Second, 1e-12, id)
		require.InDelta(t, (first+second)/2, f.Win, 1e-12, id)
		require.InDelta(t, 2*e-1, f.EvenFirst, 1e-12, id)
		require.InDelta(t, (mean1+mean2)/2, f.Rallies.Mean, 1e-9, id)
		variance := (var1+var2)/2 + (mean1-mean2)*(mean1-mean2)/4
		require.InDelta(t, math.Sqrt(variance), f.Rallies.Spread, 1e-6, id)
		require.Equal(t, percent(first), row(t, text, "Who wins", "serving first")[i], id)
		require.Equal(t, decimal((mean1+mean2)/2, 1), row(t, text, "How long it is", "expected")[i], id)
	}
}

// Values of publications and closed forms.
func TestCompareAgreesWithPublishedValues(t *testing.T) {
	// Side-out doubles to 11 between equals at one half: the side serving first
	// wins 0.499999997522 (a published column; as a fraction
	// 820159908044849/1640319824218750).
	c := asJSON[comparison](t, "compare sideout-doubles-11 rally-doubles-11@2026 -p 0.5,0.5")
	require.InDelta(t, 2*820159908044849.0/1640319824218750.0-1, c.Formats[0].EvenFirst, 1e-15)
	require.Zero(t, c.Formats[0].Efficiency, "equal sides decide nothing")
	// DeFord and Ethier 2023 count 4n²+10 states with two final ones.
	require.Equal(t, 4*11*11+8, c.Formats[0].States)
	// Where a rally is worth a point to whoever wins it and serve does not
	// matter, a shut-out is eleven rallies in a row.
	c = asJSON[comparison](t, "compare rally-doubles-11@2026 sideout-singles-11 -p 0.55,0.55")
	require.InDelta(t, math.Pow(0.55, 11), c.Formats[0].ShutOut[0], 1e-15)
	require.InDelta(t, math.Pow(0.45, 11), c.Formats[0].ShutOut[1], 1e-15)
	require.InDelta(t, 0, c.Formats[0].EvenFirst, 1e-14)
	// Side-out singles: the server's next-point chance is p/(1-qa qb), the
	// receiver's that after winning the serve (the game to nothing of squash).
	p, q := 0.55, 0.45
	x := p / (1 - q*(1-q))
	require.InDelta(t, (math.Pow(x, 11)+p*math.Pow(x, 11))/2, c.Formats[1].ShutOut[0], 1e-12)
	// Rally scoring of 2025 and 2026 differ in their last point only.
	c = asJSON[comparison](t, "compare rally-doubles-7@2025 rally-doubles-7@2026")
	require.Greater(t, c.Formats[0].Rallies.Mean, c.Formats[1].Rallies.Mean)
	require.Equal(t, c.Formats[0].Rallies.P05, c.Formats[1].Rallies.P05)
}

// Text and JSON come from the same figures, row by row.
func TestCompareTextAgreesWithJSON(t *testing.T) {
	line := "compare rally-doubles-7@2026 rally-doubles-7-of3@2026 fixed-doubles-21-both-at-point -matches 2 -slot 45 -rally 9 -shares 0.4,0.5"
	text, c := ask(t, line), asJSON[comparison](t, line)
	require.Len(t, c.Formats, 3)
	for title, rows := range map[string]map[string]func(*figures) string{
		"Who wins": {
			"the better side wins": func(f *figures) string { return percent(f.Win) },
			"receiving first":      func(f *figures) string { return percent(f.Second) },
			"serving first is worth between equal sides, percentage points": func(f *figures) string { return points(f.EvenFirst) },
			"level one short of the target":                                 func(f *figures) string { return percent(f.Level) },
			"the other side wins to nothing":                                func(f *figures) string { return percent(f.ShutOut[1]) },
		},
		"How long it is": {
			"expected":                        func(f *figures) string { return fmt.Sprintf("%.1f", f.Rallies.Mean) },
			"nineteen of twenty have at most": func(f *figures) string { return fmt.Sprint(f.Rallies.P95) },
			"expected games":                  func(f *figures) string { return fmt.Sprintf("%.2f", f.Games) },
			"for each rally played":           func(f *figures) string { return fmt.Sprintf("%.2f", f.Efficiency) },
		},
		"Time": {
			"expected":                        func(f *figures) string { return fmt.Sprintf("%.1f min", f.Time.Mean/60) },
			"2 matches need more than 45 min": func(f *figures) string { return percent(*f.Time.Overrun) },
		},
		"What the referee must follow": {
			"rallies before which the call does not tell who serves": func(f *figures) string { return percent(f.Burden.Ambiguous) },
			"changes of court by players":                            func(f *figures) string { return fmt.Sprintf("%.1f", f.Burden.Moves) },
		},
	} {
		for name, value := range rows {
			cells := row(t, text, title, name)
			for i, f := range c.Formats {
				require.Equal(t, value(f), cells[i], "%s: %s", title, name)
			}
		}
	}
	cells := row(t, text, "Chance of the better side, by how much better it is", "5")
	grid := row(t, text, "Chance of the better side over a grid of strengths", "50.0 %")
	for i, f := range c.Formats {
		require.Equal(t, 0.05, f.ByEdge[5].Edge)
		require.Equal(t, percent(f.ByEdge[5].Win), cells[i])
		require.Len(t, f.Grid, 4)
		require.Equal(t, [2]float64{0.5, 0.4}, f.Grid[2].Rates.Serve)
		require.Equal(t, percent(f.Grid[2].Better), grid[1+2*i])
	}
	// Nothing is lost on the way: what a grid says of a pair is what -p says.
	p := asJSON[comparison](t, "compare rally-doubles-7@2026 rally-doubles-7-of3@2026 -p 0.5,0.6")
	for i, f := range p.Formats {
		require.InDelta(t, f.Win, c.Formats[i].Grid[2].Better, 1e-12)
	}
}

func TestCompareTime(t *testing.T) {
	// Without spread and breaks, minutes are rallies times their seconds.
	c := asJSON[comparison](t, "compare rally-doubles-7 rally-doubles-11 -rally 10 -between 20 -rally-spread 0 -take 0 -end-change 0 -warm-up 0 -slot 10")
	for _, f := range c.Formats {
		require.InDelta(t, 30*f.Rallies.Mean, f.Time.Mean, 1e-6)
		over := 0.0
		game, err := explore.NewMatchModel(parsed(t, f.Format), explore.Opening{})
		require.NoError(t, err)
		law, err := game.Length(c.Strength.rates())
		require.NoError(t, err)
		over += law.All.Beyond(20) / 2
		game, err = explore.NewMatchModel(parsed(t, f.Format), explore.Opening{First: explore.B})
		require.NoError(t, err)
		law, err = game.Length(c.Strength.rates())
		require.NoError(t, err)
		over += law.All.Beyond(20) / 2
		require.InDelta(t, over, *f.Time.Overrun, 1e-9, "ten minutes are twenty rallies")
	}
}

func TestOnlyPrintsWhatIsAskedFor(t *testing.T) {
	text := ask(t, "compare rally-doubles-7 rally-doubles-11 -only length,time")
	require.Contains(t, text, "\nHow long it is\n")
	require.Contains(t, text, "\nTime\n")
	require.NotContains(t, text, "\nWho wins\n")
	// Every part that a command says it has can be printed alone.
	for line, c := range map[string]command{"compare rally-doubles-7 rally-doubles-11": compareCommand, "explain rally-doubles-7": explainCommand} {
		for i, name := range c.parts {
			if testing.Short() && i%4 != 0 {
				continue
			}
			parts, asked := 1, ""
			switch {
			case c.name == "compare" && name != "formats":
				parts = 2 // what the numbers of the columns stand for is always said
			case name == "at":
				asked = " -at 3-2,better"
			case name == "bell":
				asked = " -bell 10"
			}
			require.Equal(t, parts, strings.Count(ask(t, line+" -only "+name+asked), "\n---"), name)
		}
	}
}

// Of a sport of which only the scoring is known all is said but what a penalty
// point costs.
func TestExplainOtherSports(t *testing.T) {
	for _, id := range []string{"table-tennis-doubles-11-of5", "tie-break-7", "beach-doubles-21-of3", "squash-doubles-11"} {
		if testing.Short() && id != "tie-break-7" {
			continue
		}
		text, x := ask(t, "explain "+id), asJSON[explanation](t, "explain "+id)
		require.Empty(t, x.Penalties, id)
		require.NotEmpty(t, x.Finals, id)
		require.NotContains(t, text, "between equals at", id)
		require.NotContains(t, text, "lab.", "%s: a text is missing", id)
	}
	counted := ask(t, "explain tie-break-7")
	require.Equal(t, []string{"points: 1"}, row(t, counted, "What the format says", "the first turn of a game"))
	require.Equal(t, []string{"points: 2"}, row(t, counted, "What the format says", "every later turn lasts"))
}

func TestExplain(t *testing.T) {
	line := "explain sideout-doubles-11@2026 -p 0.5,0.5 -shares 0.4,0.5"
	text, x := ask(t, line), asJSON[explanation](t, line)
	f := parsed(t, "sideout-doubles-11@2026")
	is, err := record.MarshalFormat(f)
	require.NoError(t, err)
	require.JSONEq(t, string(is), string(x.Is))
	require.Equal(t, []string{"11"}, row(t, text, "What the format says", "points that win"))

	sum := 0.0
	for _, e := range x.Finals {
		sum += e.Chance
		require.InDelta(t, e.Even, e.Chance, 1e-12)
	}
	require.InDelta(t, 1, sum, 1e-12)
	// Sides are alike here, so a final and its mirror image are as likely.
	require.Equal(t, row(t, text, "Final scores of the first game", "11-3"), row(t, text, "Final scores of the first game", "3-11"))

	g, err := explore.NewGameModel(f, 1, explore.Opening{})
	require.NoError(t, err)
	back, err := g.Comeback(explore.A, 6, 10, explore.Equal(0.5))
	require.NoError(t, err)
	// The worst of four servers: the first of the side ahead.
	worst := x.Comebacks[6*4]
	require.Equal(t, explore.Position{Score: [2]int{6, 10}, Serving: explore.B, Number: 1}, worst.Position)
	require.InDelta(t, back, worst.Even, 1e-12)
	require.Equal(t, []string{"the side ahead, server 1", tiny(back), tiny(back)}, row(t, text, "Coming back", "6-10"))

	at, err := g.At(explore.Position{Score: [2]int{10, 10}, Serving: explore.A, Number: 2}, explore.Equal(0.5))
	require.NoError(t, err)
	require.Equal(t, []string{"better #2", percent(at.Win), percent(at.IfA), percent(at.IfB), decimal(100*at.Importance, 1),
		decimal(at.Reached, 3), decimal(at.Rallies, 1)}, row(t, text, "The rallies that matter most", "10-10"))

	proof, err := explore.Prove(f, 0)
	require.NoError(t, err)
	require.Equal(t, proof, x.Proof)
	require.Contains(t, strings.Join(strings.Fields(text), " "), fmt.Sprintf("a match has %d states", proof.States))
	require.Equal(t, []string{fmt.Sprint(proof.Checked[0].Cases)}, row(t, text, "Proved by visiting every state", proof.Checked[0].Name))
	require.Contains(t, text, "Every rule of the format matters")
	require.Contains(t, text, "never, at 5 pairs of strengths")

	// Between equals with equal partners it makes no difference who starts; a
	// stronger one should have the one-server first turn.
	require.Contains(t, ask(t, line+" -servers 0"), "It makes no difference who starts.")
	require.Equal(t, rally.A1, x.Servers.Lineups.Best.Starters[explore.A])
	require.Contains(t, text, "Best: the better side with its stronger server")
	require.Contains(t, ask(t, line+" -wind 0"), "No end is better")
	m, err := explore.NewMatchModel(f, explore.Opening{})
	require.NoError(t, err)
	worth, err := m.WorthOf(explore.Rates{Serve: [2]float64{0.5, 0.5}, End: math.Log(0.55 / 0.45)})
	require.NoError(t, err)
	require.Equal(t, points(worth.BetterEnd), row(t, text, "Ends, wind and the first choice", "starting at the better end instead of the worse")[1])
}

func TestExplainFindsDeadRules(t *testing.T) {
	text := ask(t, "explain rally-doubles-7@2026+win-by=1+cap=20 -only proof")
	require.Contains(t, text, "Dead rule: last.cap: 20 never decides a game.")
	require.NotContains(t, text, "Every rule of the format matters")
}

func TestExplainSinglesHasNoPartners(t *testing.T) {
	text := ask(t, "explain half-court-singles-11")
	require.NotContains(t, text, "starting server")
	// The better end is worse to begin with if ends change past the middle.
	require.Contains(t, text, "Ends, wind")
}

func TestDiff(t *testing.T) {
	t.Run("the last rally point of 2026", func(t *testing.T) {
		line := "diff rally-doubles-11@2025 rally-doubles-11@2026 -shares 0.4,0.5"
		text, d := ask(t, line), asJSON[difference](t, line)
		// At 10-0 the other side must win a rally, and A one while receiving.
		require.Contains(t, text, "12 events of rallies, side A serving first: A A A A A A A A A A B A.")
		require.Contains(t, text, "Before the last event: call 1-10, B2 serves from the right court to A1.")
		require.Equal(t, []string{"side out; no point: the winner scores on its own serve only at this score", "point; game won; match won"}, row(t, text, "The shortest sequence that tells them apart", "happened"))
		require.Equal(t, []string{"10-1", "11-1"}, row(t, text, "The shortest sequence that tells them apart", "score, A and B"))
		require.Contains(t, text, "What makes it: scores on own serve only: whoever would win the game or never held to it")
		require.Regexp(t, `scores on own serve only +whoever would win the game +never held to it`, text)
		require.Contains(t, strings.Join(strings.Fields(text), " "), "forfeit-score: [1] A game forfeited in play keeps the points of the side that forfeits. [2] A game forfeited in play is recorded as lost to nothing.")
		require.NotContains(t, text, "[rule.")
		require.Len(t, d.Incentives, 2)
		require.Empty(t, d.Incentives[0].Found)
		require.InDelta(t, 20.9, d.Effect[0].Rallies.Mean, 0.05)
	})
	t.Run("a ruling", func(t *testing.T) {
		text := ask(t, "diff sideout-doubles-11@2022 sideout-doubles-11@2025")
		require.Contains(t, text, "never differ: proved")
		require.Regexp(t, `order-error +fault +replay-if-stopped +2022 rule 4.B.9 \(read\) +2025 rule 4.B.9.a \(read\)`, text)
		require.NotContains(t, text, "What the difference does", "rallies alone are played alike")
		require.Contains(t, text, "[1] rules: The serving side loses the rally")
		require.Contains(t, text, "[2] rules: The rally is replayed")
		require.Contains(t, text, "side A stops the rally after the serve is struck")
	})
	t.Run("never", func(t *testing.T) {
		text := ask(t, "diff rally-doubles-7@2026 rally-doubles-7@2026+target=7")
		require.Contains(t, text, "They never differ")
		require.Equal(t, len(explore.Alphabets()), strings.Count(text, "never differ: proved"))
		require.Contains(t, text, "Nothing.")
	})
	t.Run("not known", func(t *testing.T) {
		d := difference{Searched: []explore.Comparison{{Alphabet: "rallies", Proved: true}, {Alphabet: "rallies with breaks", Depth: 7}}}
		f := parsed(t, "rally-doubles-7")
		require.Equal(t, "No difference was found", d.sequencePart(f, f).Title)
		require.Equal(t, []string{"rallies with breaks", "no difference found", "0", "7"}, d.searchedPart().Table.Rows[1])
	})
	t.Run("each change of an edition alone", func(t *testing.T) {
		text := ask(t, "diff rally-singles-7@2025 rally-singles-7@2026 -each -only changes")
		require.Contains(t, text, "scores on own serve only: whoever would win the game or never held to it. Shown by 8 events")
		for _, c := range explore.Changes(parsed(t, "rally-singles-7@2025"), parsed(t, "rally-singles-7@2026")) {
			field, values := changeWords(c)
			require.Contains(t, text, "\n"+field+": "+values[0]+" or "+values[1])
		}
		said := strings.Join(strings.Fields(text), " ")
		require.Contains(t, said, "Shown by 1 event, before the match: vwA. In words: verbal warning, side A.")
		require.Contains(t, said, "mA1: request for medical time, A1; mA1w: medical request withdrawn, A1.")
	})
}

func init() { language, _ = texts.Language("en") }

// Every event that a difference can hold has words.
func TestEveryEventHasWords(t *testing.T) {
	said := map[string]rally.Event{}
	for _, a := range explore.Alphabets() {
		for _, e := range append(a.Always, a.Rarely...) {
			words := inWords(e)
			require.NotEqual(t, e.String(), words)
			require.NotContains(t, words, "%!", e.String())
			require.NotContains(t, words, "  ", e.String())
			require.False(t, strings.HasSuffix(words, " "), "%s: %q", e, words)
			if other, ok := said[words]; ok {
				require.Equal(t, e.Kind(), other.Kind(), words)
			}
			said[words] = e
		}
	}
	require.Greater(t, len(said), 300)
}

func TestTable(t *testing.T) {
	c := asJSON[catalogue](t, "table doubles-7 singles-11")
	text := ask(t, "table doubles-7 singles-11")
	var names []string
	for _, f := range c.Formats {
		names = append(names, f.Format)
		cells := row(t, text, "Formats", f.Format)
		require.Equal(t, fmt.Sprint(f.States), cells[0])
		require.Equal(t, percent(f.Win), cells[1])
		require.Equal(t, decimal(f.Rallies.Mean, 1), cells[3])
	}
	newest := func(d format.Document) string { all := format.Editions(d); return "@" + all[len(all)-1].String() }
	pickleball, table, tennis := newest(format.Pickleball), newest(format.TableTennis), newest(format.Tennis)
	require.Equal(t, []string{"sideout-singles-11" + pickleball, "sideout-singles-11-of3" + pickleball, "sideout-singles-11-of5" + pickleball,
		"rally-singles-11@2025", "rally-singles-11" + pickleball, "rally-singles-11-of3@2025", "rally-singles-11-of3" + pickleball, "rally-singles-11-of5@2025", "rally-singles-11-of5" + pickleball,
		"rally-doubles-7@2025", "rally-doubles-7" + pickleball, "rally-doubles-7-of3@2025", "rally-doubles-7-of3" + pickleball, "rally-doubles-7-of5@2025", "rally-doubles-7-of5" + pickleball,
		"half-court-singles-11" + pickleball, "table-tennis-singles-11" + table, "table-tennis-singles-11-of3" + table,
		"table-tennis-singles-11-of5" + table, "table-tennis-singles-11-of7" + table, "tie-break-doubles-7" + tennis}, names)
	// A match of a table is the same as compare has it.
	other := asJSON[comparison](t, "compare sideout-singles-11-of3 rally-doubles-7-of5@2025")
	require.InDelta(t, c.Formats[1].Win, other.Formats[0].Win, 1e-12)
	require.InDelta(t, c.Formats[13].Rallies.Mean, other.Formats[1].Rallies.Mean, 1e-9)
}

func TestEveryShapeIsInTheTable(t *testing.T) {
	shapes := map[string]bool{}
	for _, s := range namedFormats() {
		shapes[s.Format.Shape] = true
	}
	require.Len(t, shapes, len(format.Shapes()))
	if testing.Short() {
		t.Skip("computes every named format")
	}
	c := asJSON[catalogue](t, "table -take 0 -rally-spread 0")
	require.Len(t, c.Formats, len(namedFormats()))
}

// At the ends of what is possible there are figures, and charts, too.
func TestExtremeStrengths(t *testing.T) {
	for _, p := range []string{"1,1", "1,0", "0.999,0.001", "0.02,1", "1,0.5", "0.01,0.995"} {
		if testing.Short() && p != "1,0" && p != "0.01,0.995" {
			continue
		}
		for _, c := range []string{"compare sideout-singles-11 rally-doubles-7@2025", "explain rally-doubles-7@2025", "diff rally-doubles-7@2025 rally-doubles-7@2026"} {
			if strings.HasPrefix(p, "0.0") && !strings.HasPrefix(c, "explain") {
				continue // side-out would be refused as too long
			}
			line := c + " -shares 0.4 -p " + p
			page := ask(t, line+" -html -")
			require.NotContains(t, page, "NaN", line)
			require.NotContains(t, page, "Inf", line)
			require.True(t, json.Valid([]byte(ask(t, line+" -json"))), line)
		}
	}
	c := asJSON[comparison](t, "compare rally-doubles-7 rally-doubles-7@2025 -p 1,1")
	for _, f := range c.Formats {
		require.Equal(t, 1.0, f.Win)
		// Without the serve a rally must be won to get it, and no point is withheld.
		require.Equal(t, 7.0, f.Rallies.Mean)
	}
	_, err := format.Parse("rally-doubles-7+rally=3600")
	require.Error(t, err)
	slow := asJSON[comparison](t, "compare rally-doubles-7 rally-doubles-7-of5 -rally 3600 -rally-spread 3600 -matches 20")
	require.InDelta(t, 3616*slow.Formats[0].Rallies.Mean+300+60+120, slow.Formats[0].Time.Mean, 0.01*slow.Formats[0].Time.Mean)
}

// A format of one's own: written, changed, read from a file and from standard
// input, or named by its changes.
func TestFormatsOfOnesOwn(t *testing.T) {
	text := ask(t, "write rally-doubles-11@2026")
	f, err := record.UnmarshalFormat([]byte(text))
	require.NoError(t, err)
	require.Equal(t, parsed(t, "rally-doubles-11@2026"), f)

	var m map[string]any
	require.NoError(t, json.Unmarshal([]byte(text), &m))
	for _, game := range []string{"game", "last"} {
		m[game].(map[string]any)["target"] = 13
		m[game].(map[string]any)["change_ends_at"] = 7
	}
	mine, err := json.MarshalIndent(m, "", "\t")
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "to13.json")
	require.NoError(t, os.WriteFile(file, mine, 0o600))
	c := asJSON[comparison](t, "compare "+file+" rally-doubles-11@2026+target=13")
	require.Equal(t, "rally-doubles-11@2026+target=13", c.Formats[0].Format)
	require.Equal(t, c.Formats[1], c.Formats[0])

	var out, errs bytes.Buffer
	require.Equal(t, program.Nothing, run([]string{"compare", "-", file, "-only", "formats"}, bytes.NewReader(mine), &out, &errs), errs.String())
	require.Contains(t, out.String(), "[1]  rally-doubles-11@2026+target=13  doubles, either side scores, to 13 by 2")

	for _, c := range []struct {
		id   string
		want func(*format.Format)
	}{
		{"sideout-doubles-11+first-turn=2", func(f *format.Format) { f.Game.FirstTurn, f.Last.FirstTurn = 2, 2 }},
		{"sideout-doubles-11-of3+last-target=15", func(f *format.Format) { f.Last.Target, f.Last.ChangeEndsAt = 15, 8 }},
		{"rally-doubles-11@2025+freeze=none", func(f *format.Format) { f.Game.Freeze, f.Last.Freeze = format.NoFreeze, format.NoFreeze }},
		{"rally-doubles-11+games=3", func(f *format.Format) {
			f.Match.Games, f.Match.ChangeEnds, f.Game.ChangeEndsAt = 3, true, 0
		}},
		{"rally-doubles-21+target=11", func(f *format.Format) {
			f.Game = parsed(t, "rally-doubles-11").Game
			f.Last = f.Game
		}},
	} {
		got, err := format.Parse(c.id)
		require.NoError(t, err, c.id)
		want := parsed(t, strings.Split(c.id, "+")[0])
		want.Shape = got.Shape // some of these have a name
		c.want(&want)
		require.Equal(t, want, got, c.id)
	}
}

func TestBadInputIsOneLine(t *testing.T) {
	dir := t.TempDir()
	half := filepath.Join(dir, "half.json")
	require.NoError(t, os.WriteFile(half, []byte(`{"shape":"rally-doubles-11"}`), 0o600))
	for _, c := range []struct{ line, want string }{
		{"frobnicate", `no command "frobnicate"; there are compare, explain, diff, fit, table, rule, write`},
		{"rule 2025 xyzzy", "rule: no clause holds: 2025 xyzzy"},
		{"compare", "compare: want at least 2 formats, not 0"},
		{"compare rally-doubles-7", "compare: want at least 2 formats, not 1"},
		{"compare a b c d e f g", "compare: want at most 6 formats, not 7"},
		{"explain", "explain: want 1 formats, not 0"},
		{"diff rally-doubles-7", "diff: want 2 formats, not 1"},
		{"explain triples-11", `explain: triples-11: shape: unknown id "triples-11"`},
		{"explain rally-doubles-11@2024", "explain: rally-doubles-11@2024: edition: shape rally-doubles-11 does not exist in edition 2024"},
		{"explain none.json", "explain: none.json: no such file or directory"},
		{"explain " + half, "explain: " + program.Shorten(half) + ": edition: missing"},
		{"explain rally-doubles-11+target=0", "explain: rally-doubles-11+target=0: game.target: must be 1 to 250"},
		{"explain rally-doubles-11+target=many", "explain: rally-doubles-11+target=many: target: want a number up to 255, not \"many\""},
		{"explain rally-doubles-11+target=300", "explain: rally-doubles-11+target=300: target: want a number up to 255, not \"300\""},
		{"explain rally-doubles-11+order-error=maybe", `explain: rally-doubles-11+order-error=maybe: rulings.order-error: unknown reading "maybe", want stands-warned, fault, replay-if-stopped, corrected`},
		{"explain sideout-doubles-11+target=250", "explain: sideout-doubles-11+target=250: too large: its games have about 250000 positions, and formatlab explores 100000"},
		{"explain rally-doubles-7 -p 0.5", "explain: -p: want two chances, of winning a rally served and one received, such as 0.45,0.61"},
		{"explain rally-doubles-7 -p 1.2,0.5", `explain: -p: "1.2" is no chance: want a number from 0 to 1, such as 0.45`},
		{"explain rally-doubles-7 -p NaN,0.5", `explain: -p: "NaN" is no chance: want a number from 0 to 1, such as 0.45`},
		{"explain rally-doubles-7 -p 0.4,0.5", "explain: -p: 0.4,0.5 describes the weaker side: the two chances must sum to at least 1"},
		{"compare sideout-doubles-11 rally-doubles-7 -p 0,1", "compare: sideout-doubles-11: sides that win 0.0 % and 0.0 % of their own serves: endless: at these rates nobody can finish the game from here, at 0-0"},
		{"compare rally-doubles-7 rally-doubles-11 -shares 0,1", "compare: rally-doubles-7: sides that win 0.0 % and 0.0 % of their own serves: endless: at these rates nobody can finish the game from here, at 0-0"},
		{"compare rally-doubles-7 rally-doubles-11 -shares 2", `compare: -shares: "2" is no chance: want a number from 0 to 1, such as 0.45`},
		{"explain rally-doubles-7 -rally -1", "explain: -rally: must be from 0 to 3600, not -1"},
		{"explain rally-doubles-7 -rally 0 -between 0", "explain: -rally and -between: rallies must take time"},
		{"explain rally-doubles-7 -slot NaN", "explain: -slot: must be from 0 to 10000, not NaN"},
		{"explain rally-doubles-7 -matches 101", "explain: -matches: must be 1 to 100, not 101"},
		{"explain rally-doubles-7 -matches 0", "explain: -matches: must be 1 to 100, not 0"},
		{"explain rally-doubles-7 -wind 1", "explain: -wind: must be from 0 to 0.4, not 1"},
		{"explain rally-doubles-7 -servers 0.95", "explain: -servers: at most 0.78 at these strengths, or a server would win less than none or more than all of the serves"},
		{"compare rally-doubles-7 sideout-doubles-11 -p 0.001,0.999", "compare: rally-doubles-7: sides that win 0.1 % and 0.1 % of their own serves: a match may have more than 20000 rallies"},
		{"explain rally-doubles-7 -only nothing", `explain: -only: no part "nothing"; there are format, winning, length, time, referee, finals, scores, moments, at, comeback, penalty, bell, proof, incentives, ends, servers`},
		{"explain rally-doubles-7 -json -html -", "explain: -json and -html - both want standard output"},
		{"explain rally-doubles-7 -each", "explain: flag provided but not defined: -each"},
		{"diff rally-doubles-7 rally-doubles-11 -each", "diff: -each wants two editions of one named shape, not rally-doubles-7 and rally-doubles-11"},
		{"diff - -", "diff: standard input holds one format only"},
		{"explain -", "explain: -: not a JSON object"},
		{"fit", "fit: want at least one file with a record or with logs"},
		{"fit none.jsonl", "fit: none.jsonl: no such file or directory"},
		{"fit " + dir, "fit: " + dir + ": is a directory"},
		{"fit -format triples x", `fit: -format: shape: unknown id "triples"`},
		{"table nothing", "table: no named format holds any of: nothing"},
		{"write rally-doubles-7 -json", "write: flag provided but not defined: -json"},
	} {
		t.Run(c.line, func(t *testing.T) {
			var out, errs bytes.Buffer
			status := run(strings.Fields(c.line), strings.NewReader(""), &out, &errs)
			require.Equal(t, "formatlab: "+c.want+"\n", errs.String())
			require.Equal(t, program.Failed, status)
			require.Empty(t, out.String())
		})
	}
	var out, errs bytes.Buffer
	require.Equal(t, program.Failed, run(nil, nil, &out, &errs), "no question")
	require.Contains(t, errs.String(), "want a command: compare, ")
	require.Equal(t, program.Nothing, run([]string{"explain", "-h"}, nil, &out, &errs))
	require.Contains(t, out.String(), "--wind SHARE")
	errs.Reset()
	require.Equal(t, program.Failed, run([]string{"explain", "rally-doubles-7", "-html", filepath.Join(dir, "no", "folder")}, nil, &out, &errs))
	require.Contains(t, errs.String(), "no such file or directory")
}
