package record_test

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

var harbour = rally.Setup{
	Match: "Harbour Lane Courts autumn ladder", Court: "2", Referee: "Noor Haddad",
	Sides: [2]rally.Team{
		{Players: [2]rally.Player{{ID: "io", Name: "Imani Okafor", Mark: "band"}, {ID: "tz", Name: "Tomasz Zieliński"}}},
		{Players: [2]rally.Player{{Name: "Priya Raman"}, {Name: "Lars Nyberg", Mark: "green cap <left>"}}},
	},
	Left: rally.B,
}

func compile(t testing.TB, id string) *rally.Rules {
	t.Helper()
	f, err := format.Parse(id)
	require.NoError(t, err)
	return rally.MustCompile(f)
}

// ofTest are the rules of the process that is killed.
func ofTest() *rally.Rules {
	f, err := format.Parse("sideout-doubles-11@2026")
	if err != nil {
		panic(err)
	}
	return rally.MustCompile(f)
}

// own returns a format without an id: eleven points, margin one.
func own(t testing.TB) format.Format {
	t.Helper()
	f, err := format.Parse("sideout-doubles-11-of3@2026")
	require.NoError(t, err)
	f.Shape, f.Game.WinBy, f.Last.WinBy = "", 1, 1
	require.NoError(t, f.Validate())
	return f
}

// played returns a match of the invented scenario with every sort of entry in
// it: breaks, a warning, incidents, all corrections, and rallies by a seed.
func played(t testing.TB, seed uint64) *rally.Log {
	t.Helper()
	return playedOf(t, "sideout-doubles-11-of3", seed)
}

func playedOf(t testing.TB, shape string, seed uint64) *rally.Log {
	t.Helper()
	rules := compile(t, shape+"@2026")
	l := rally.NewLog(rules, rally.State{})
	random := rand.New(rand.NewPCG(seed, 2))
	ms := int64(0)
	enter := func(entries ...string) {
		for _, e := range entries {
			_, err := l.Enter(e)
			require.NoError(t, err, e)
			l.Stamp(ms)
			ms += 1000 + random.Int64N(20000)
		}
	}
	enter("fcA:defer", "fcB:receive", "gA2B1", "A", "A:net", "B", "undo", "redo", "B?server,struck,rallyover",
		"tA", "in", "A", "stop?server,struck,byref", "twB", "mB2", "mB2+", "in", "amend 4 A:out", "amend 12 - a stray (tap)", "B", "rewind 20")
	for i := 0; l.State().Phase() != rally.Over; i++ {
		enter([]string{"A", "B"}[random.IntN(2)])
		if l.State().EndChangeDue() {
			enter("ends")
		}
		if i == 30 {
			enter("format " + shape + "@2025 next Haddad")
		}
		require.Less(t, i, 1000)
	}
	enter("sheet")
	return l
}

func whole(t testing.TB, l *rally.Log) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, record.Write(&b, harbour, l))
	return b.String()
}

func line(l *rally.Log) string { return l.Rules().Line(l.State()) }

// same sees that two logs hold the same entries and times and lead to the same
// line.
func same(t testing.TB, want, got *rally.Log) {
	t.Helper()
	require.Equal(t, want.Len(), got.Len())
	for n := 1; n <= want.Len(); n++ {
		require.Equal(t, want.Entry(n).String(), got.Entry(n).String(), n)
		ms, ok := want.Time(n)
		ms2, ok2 := got.Time(n)
		require.Equal(t, ok, ok2, n)
		require.Equal(t, ms, ms2, n)
	}
	_, start := want.Initial()
	_, start2 := got.Initial()
	require.Equal(t, start, start2)
	require.Equal(t, want.State(), got.State())
	require.Equal(t, line(want), line(got))
	require.Equal(t, want.Rules().Format(), got.Rules().Format())
}

func TestRoundTrip(t *testing.T) {
	ofOwn := own(t)
	taken := func(id, from string, entries ...string) *rally.Log {
		rules := compile(t, id)
		start, err := rules.ParseLine(from)
		require.NoError(t, err)
		l := rally.NewLog(rules, start)
		for _, e := range entries {
			_, err := l.Enter(e)
			require.NoError(t, err)
		}
		return l
	}
	changed := played(t, 9)
	changed = rally.NewLog(compile(t, "sideout-doubles-11-of3@2026"), changed.Rules().New(rally.A))
	_, err := changed.Enter("A")
	require.NoError(t, err)
	_, err = changed.Do(rally.Entry{Kind: rally.ChangeFormat, Format: ofOwn, Next: true, Note: "Haddad"})
	require.NoError(t, err)
	_, err = changed.Do(rally.Entry{Kind: rally.ChangeFormat, Format: ofOwn, Next: false, Note: "Haddad"})
	require.NoError(t, err)
	_, err = changed.Enter("B")
	require.NoError(t, err)
	line := "L2 game=3 won=1:1 score=4-6 opens=0:0 serve=B2@L#2 receive=A1 A=21 B=12 first=A start=A2B1 ends=1m due=- phase=play result=- break=- timeouts=1:2 medical=u--- out=---- vw=1:0 tw=1:0 tf=0:0 gf=0:0 wrong=0:0 carry=----"
	own := rally.MustCompile(ofOwn)
	for _, c := range []struct {
		name string
		log  *rally.Log
	}{
		{"a match with every sort of entry", played(t, 1)},
		{"an empty log", rally.NewLog(own, rally.State{})},
		{"a format of its own", rally.NewLog(own, own.New(rally.B))},
		{"a change to a format of its own", changed},
		{"a match taken up in its last game", taken("sideout-doubles-11-of3@2026", line, "A", "set "+line, "tA", "B")},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := whole(t, c.log)
			got, err := record.Read(strings.NewReader(text))
			require.NoError(t, err)
			same(t, c.log, got.Log)
			require.Equal(t, harbour, got.Setup)
			require.True(t, got.Ended)
			require.Equal(t, text, whole(t, got.Log), "a record is written one way only")

			notation, err := record.Notation(c.log)
			require.NoError(t, err)
			again, err := record.ParseNotation(notation)
			require.NoError(t, err)
			same(t, c.log, again)
		})
	}
}

func TestRoundTripOfEveryFormat(t *testing.T) {
	n := 0
	for _, id := range format.Shapes() {
		for _, e := range format.EditionsOf(id) {
			f, err := format.Named(id, e)
			require.NoError(t, err)
			full, err := record.MarshalFormat(f)
			require.NoError(t, err)
			got, err := record.UnmarshalFormat(full)
			require.NoError(t, err)
			require.Equal(t, f, got)
			n++
		}
	}
	t.Logf("%d pairs of shape and edition", n)
	require.Greater(t, n, 100)
	f := own(t)
	full, err := record.MarshalFormat(f)
	require.NoError(t, err)
	got, err := record.UnmarshalFormat(full)
	require.NoError(t, err)
	require.Equal(t, f, got)
}
