package record_test

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

func TestNotation(t *testing.T) {
	for _, c := range []struct{ name, text, joined string }{
		{"a game", "sideout-doubles-11@2026 A: gA1B1 AABAB tA in A:net BB undo B", ""},
		{"nothing yet", "rally-singles-15@2025 -:", ""},
		{"a reading besides", "sideout-doubles-11@2026+time-outs-11=1 B: B", ""},
		{"a run cut up", "sideout-doubles-11@2026 A: A AA B AB", "sideout-doubles-11@2026 A: AAABAB"},
		{"the default edition", "sideout-doubles-11 A: A", "sideout-doubles-11@2026 A: A"},
		{"times", "sideout-doubles-11@2026 A: gA1B1@0 A@1200 AB A@9000 B", ""},
		{"corrections", `sideout-doubles-11@2026 A: AAB (amend 2 B) undo (amend 1 - a note \(two\) \\ \xc3\xa9) undo redo (rewind 2)@77 B`, ""},
		{"a position", "sideout-doubles-11@2026 (L2 game=1 won=0:0 score=4-3 opens=0:0 serve=A1@R#1 receive=B2 A=12 B=21 first=A start=A1B1 ends=0 due=- phase=play result=- break=- timeouts=0:1 medical=---- out=---- vw=0:0 tw=1:0 tf=0:0 gf=0:0 wrong=0:0 carry=----): A tB", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := record.ParseNotation(c.text)
			require.NoError(t, err)
			got, err := record.Notation(l)
			require.NoError(t, err)
			if c.joined == "" {
				c.joined = c.text
			}
			require.Equal(t, c.joined, got)
		})
	}
}

func TestRefusedNotation(t *testing.T) {
	const head = "sideout-doubles-11@2026 A:"
	for _, c := range []struct {
		name, text, field string
		at                int
	}{
		{"nothing", "", "format", 0},
		{"no start", "sideout-doubles-11@2026", "start", 23},
		{"an unknown format", "chess A:", "format", 0},
		{"no colon", "sideout-doubles-11@2026 A A", "start", 24},
		{"another start", "sideout-doubles-11@2026 C:", "start", 24},
		{"a position that is none", "sideout-doubles-11@2026 (L1): A", "start", 24},
		{"a position without its colon", "sideout-doubles-11@2026 (L1) A", "start", 24},
		{"a bracket that is not closed", "sideout-doubles-11@2026 (L1 A", "start", 24},
		{"a format that is no object", "([]) A:", "format", 0},
		{"two spaces", head + " A  B", "2", 29},
		{"a space at the end", head + " A ", "1", 27},
		{"no event", head + " AB zz", "3", 30},
		{"a rally too many", head + " AAAAAAAAAAAA", "12", 38},
		{"small letters", head + " ab", "1", 27},
		{"a run with a time", head + " AB@5", "1", 27},
		{"a time that is none", head + " A@x", "1", 27},
		{"a time with a nought", head + " A@01", "1", 27},
		{"a time beyond all", head + " A@99999999999999999999", "1", 27},
		{"brackets for nothing", head + " (A)", "1", 27},
		{"a bracket in a bracket", head + " A (amend 1 - ()", "2", 29},
		{"a printable byte in hexadecimal", head + ` A (amend 1 - \x41)`, "2", 29},
		{"a refused correction", head + " A (amend 5 B)", "2", 29},
		{"a tab", head + "\tA", "start", 24},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := record.ParseNotation(c.text)
			require.Nil(t, l)
			var e *record.Error
			require.ErrorAs(t, err, &e)
			require.Equal(t, c.field, e.Field, e.Error())
			require.Equal(t, int64(c.at), e.Byte, e.Error())
		})
	}
	_, err := record.ParseNotation(strings.Repeat("x", record.MostNotation+1))
	require.Error(t, err)
	_, err = record.ParseNotation("sideout-doubles-11 A: " + strings.Repeat("replay ", record.MostEntries) + "replay")
	var e *record.Error
	require.ErrorAs(t, err, &e)
	require.Equal(t, record.ErrorCode("too-many"), e.Code)
}

// Any log of any named format and any events comes back as it was, from the
// notation and from the record.
func TestAnyLogComesBack(t *testing.T) {
	words := strings.Fields("A B A B A B A:net B:out replay gA1B1 gB2A1 gA2B2 ends tA tB in ref blood dealt mA1 mA1+ mA1- mB1 mB1w vwA twA twB tfB " +
		"undo redo undo A?server,rallyover stop?call,byA B?receiver,served retA gfB sheet abandon resume fcA:defer fcB:end fcA:serve xA lateA:30 eqB1 cB1")
	random := rand.New(rand.NewPCG(11, 26))
	rounds := 300
	if testing.Short() {
		rounds = 50
	}
	shapes := []string{"sideout-doubles-11-of3@2026", "sideout-doubles-11@1999", "sideout-singles-11@2022", "rally-doubles-15-of3@2026",
		"fixed-doubles-21-leader-and-trailer@2025", "swap-doubles-11@2024", "half-court-singles-11@2026", "badminton-doubles-21-of3@badminton-2006"}
	total := 0
	for i := range rounds {
		rules := compile(t, shapes[i%len(shapes)])
		start := rally.State{}
		if i%3 > 0 {
			start = rules.New(rally.Side(i % 2))
		}
		l := rally.NewLog(rules, start)
		for j := range 80 {
			word := words[random.IntN(len(words))]
			if random.IntN(20) == 0 && l.Len() > 0 {
				n := 1 + random.IntN(l.Len())
				word = []string{"amend ", "rewind ", "rule "}[random.IntN(3)] + itoa(n) + []string{"", " A", " -", " B?server,rallyover", " - (a) \\ é"}[random.IntN(5)]
			}
			if _, err := l.Enter(word); err == nil && i%2 == 0 {
				l.Stamp(int64(j) * 100)
			}
		}
		total += l.Len()
		text, err := record.Notation(l)
		require.NoError(t, err)
		require.NotContains(t, text, "\n")
		got, err := record.ParseNotation(text)
		require.NoError(t, err, text)
		same(t, l, got)
		var b bytes.Buffer
		require.NoError(t, record.Write(&b, rally.Setup{}, l))
		rec, err := record.Read(&b)
		require.NoError(t, err)
		same(t, l, rec.Log)
	}
	t.Logf("%d logs, %d entries", rounds, total)
	require.Greater(t, total, rounds*5)
}
