package conformance

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
)

const before = "L2 game=1 won=0:0 score=4-3 opens=0:0 serve=A1@R#1 receive=B2 A=12 B=21 first=A start=A1B1 ends=0 due=- phase=play result=- break=tA timeouts=1:0 medical=u--- out=--x- vw=1:0 tw=0:2 tf=0:0 gf=0:0 wrong=0:0 carry=----"

// What each derivation makes of a line and of events, word by word.
func TestDerive(t *testing.T) {
	f, err := format.Parse("sideout-doubles-11-of3@2026")
	require.NoError(t, err)
	c := &Case{ID: "c0001", From: before, Call: "4-3-1", Steps: []Step{{Do: "A:net tB gA1B2 mA2+"}, {Entry: "amend 3 B?side,byA"}, {Entry: "set " + before}}}
	for _, tt := range []struct{ derivation, line, do, amend string }{
		{mirrored,
			"L2 game=1 won=0:0 score=3-4 opens=0:0 serve=B1@R#1 receive=A2 A=21 B=12 first=B start=A1B1 ends=0 due=- phase=play result=- break=tB timeouts=0:1 medical=--u- out=x--- vw=0:1 tw=2:0 tf=0:0 gf=0:0 wrong=0:0 carry=----",
			"B:net tA gB1A2 mB2+", "amend 3 A?side,byB"},
		{relabelled,
			"L2 game=1 won=0:0 score=4-3 opens=0:0 serve=A2@R#1 receive=B1 A=21 B=12 first=A start=A2B2 ends=0 due=- phase=play result=- break=tA timeouts=1:0 medical=-u-- out=---x vw=1:0 tw=0:2 tf=0:0 gf=0:0 wrong=0:0 carry=----",
			"A:net tB gA2B1 mA1+", "amend 3 B?side,byA"},
		{inGame2,
			"L2 game=2 won=1:0 score=4-3 opens=0:0 serve=A1@R#1 receive=B2 A=12 B=21 first=A start=A1B1 ends=1 due=- phase=play result=- break=tA timeouts=1:0 medical=u--- out=--x- vw=1:0 tw=0:2 tf=0:0 gf=0:0 wrong=0:0 carry=----",
			"A:net tB gA1B2 mA2+", "amend 3 B?side,byA"},
		{inLastGame,
			"L2 game=3 won=1:1 score=4-3 opens=0:0 serve=A1@R#1 receive=B2 A=12 B=21 first=A start=A1B1 ends=0 due=- phase=play result=- break=tA timeouts=1:0 medical=u--- out=--x- vw=1:0 tw=0:2 tf=0:0 gf=0:0 wrong=0:0 carry=----",
			"A:net tB gA1B2 mA2+", "amend 3 B?side,byA"},
	} {
		d := c.Derive(tt.derivation, &f)
		require.NotNil(t, d, tt.derivation)
		require.Equal(t, "c0001/"+tt.derivation, d.ID)
		require.Equal(t, tt.line, d.From)
		require.Equal(t, tt.do, d.Steps[0].Do)
		require.Equal(t, tt.amend, d.Steps[1].Entry)
		require.Equal(t, "set "+tt.line, d.Steps[2].Entry)
		require.Equal(t, c.Call, d.Call)
	}
	require.Equal(t, before, c.From, "the written case is left alone")
}

// A derivation that would make another case of it makes none.
func TestDeriveDeclines(t *testing.T) {
	of3, err := format.Parse("sideout-doubles-11-of3@2026")
	require.NoError(t, err)
	single, err := format.Parse("sideout-doubles-11@2026")
	require.NoError(t, err)
	singles, err := format.Parse("sideout-singles-11-of3@2026")
	require.NoError(t, err)
	later := editLine(before, func(name, value string, _ func(string) string) string {
		if name == "score" {
			return "6-3"
		}
		return value
	})
	for _, tt := range []struct {
		name, derivation string
		c                Case
		f                *format.Format
	}{
		{"partners in singles", relabelled, Case{From: before}, &singles},
		{"starters that nobody named", relabelled, Case{Start: &Start{First: "A", Line: "L2 phase=before"}}, &of3},
		{"game 2 of one game", inGame2, Case{From: before}, &single},
		{"a game won", inGame2, Case{From: before, Steps: []Step{{Do: "A", Line: "L2 game=1 won=1:0 phase=between"}}}, &of3},
		{"corrections that count a start", inGame2, Case{Start: &Start{First: "A", Servers: "A1B1", Line: before}, Steps: []Step{{Entry: "amend 2 B"}}}, &of3},
		{"across the end change of the last game", inLastGame, Case{From: before, Steps: []Step{{Do: "A", Line: later}}}, &of3},
		{"a change of format", inGame2, Case{From: before, Steps: []Step{{Entry: "format swap-doubles-11@2026 next TD"}}}, &of3},
	} {
		require.Nil(t, tt.c.Derive(tt.derivation, tt.f), tt.name)
	}
	past := (&Case{From: later}).Derive(inLastGame, &of3)
	require.NotNil(t, past)
	require.Equal(t, "1m", fieldOf(past.From, "ends"), "past the end change it has been made")
}
