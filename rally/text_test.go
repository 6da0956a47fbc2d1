package rally_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
)

type enum interface {
	MarshalText() ([]byte, error)
	UnmarshalText([]byte) error
}

// roundTrips checks every value of an enum up to last, and that others have
// neither text nor meaning.
func roundTrips[T ~uint8](t *testing.T, last T, enumOf func(*T) enum) {
	t.Helper()
	seen := map[string]bool{}
	for v := T(0); v <= last; v++ {
		got := v
		text, err := enumOf(&got).MarshalText()
		require.NoError(t, err)
		require.False(t, seen[string(text)], "%s twice", text)
		seen[string(text)] = true
		require.NoError(t, enumOf(&got).UnmarshalText(text))
		require.Equal(t, v, got)
	}
	beyond := last + 1
	_, err := enumOf(&beyond).MarshalText()
	require.Error(t, err)
	var bad *rally.NameError
	require.ErrorAs(t, enumOf(&beyond).UnmarshalText([]byte(strings.Repeat("?", 300))), &bad)
	require.Less(t, len(bad.Error()), 150)
	require.NotContains(t, enumOf(&beyond).UnmarshalText([]byte("a\nb")).Error(), "\n", "an error stays in its line")
}

func TestEnumsRoundTripAsText(t *testing.T) {
	roundTrips(t, rally.ChangeFormat, func(v *rally.Kind) enum { return v })
	roundTrips(t, rally.Closed, func(v *rally.Phase) enum { return v })
	roundTrips(t, rally.IllnessBreak, func(v *rally.Break) enum { return v })
	roundTrips(t, rally.ByAbandonment, func(v *rally.Cause) enum { return v })
	roundTrips(t, rally.ChooseDefer, func(v *rally.Choice) enum { return v })
	roundTrips(t, rally.OtherFault, func(v *rally.Fault) enum { return v })
	roundTrips(t, rally.UnannouncedReceiver, func(v *rally.Mistake) enum { return v })
	roundTrips(t, rally.ThirdShot, func(v *rally.Reach) enum { return v })
	roundTrips(t, rally.AfterSheet, func(v *rally.Since) enum { return v })
	roundTrips(t, rally.ByReferee, func(v *rally.Stopper) enum { return v })
	roundTrips(t, rally.CallSideOut, func(v *rally.ResultWord) enum { return v })
	roundTrips(t, rally.NoMorePoints, func(v *rally.Refusal) enum { return v })
	roundTrips(t, rally.RightHand, func(v *rally.Hand) enum { return v })
	roundTrips(t, rally.NoDepth, func(v *rally.Depth) enum { return v })
	roundTrips(t, rally.MedicalGranted, func(v *rally.Medical) enum { return v })
	roundTrips(t, rally.Concussed, func(v *rally.Absence) enum { return v })
	roundTrips(t, rally.CarriedVerbal|rally.CarriedWarning|rally.CarriedFoul, func(v *rally.Carry) enum { return v })
	roundTrips(t, rally.UnknownGame, func(v *rally.How) enum { return v })
	roundTrips(t, rally.Interval(5), func(v *rally.Interval) enum { return v })
}

func TestEffectsAsText(t *testing.T) {
	all := rally.Point | rally.SideOut | rally.GameWon | rally.SheetClosed
	text, err := all.MarshalText()
	require.NoError(t, err)
	require.Equal(t, "point,side-out,game-won,closed", string(text))
	var got rally.Effects
	require.NoError(t, got.UnmarshalText(text))
	require.Equal(t, all, got)
	require.NoError(t, got.UnmarshalText([]byte("-")))
	require.Zero(t, got)
	for _, bad := range []string{"points", "point,", ",", "point,,closed"} {
		require.Error(t, got.UnmarshalText([]byte(bad)), bad)
	}
	require.Equal(t, "-", rally.Effects(0).String())
}

// The words after a rally: "point", "second server", "side out"; when the serve
// passes, that is what is called, also where the receivers scored.
func TestResultCall(t *testing.T) {
	require.Equal(t, rally.CallPoint, rally.Point.Result())
	require.Equal(t, rally.CallSideOut, (rally.Point | rally.SideOut).Result())
	require.Equal(t, rally.CallSecondServer, (rally.Point | rally.SecondServer).Result())
	require.Equal(t, rally.NoCall, rally.PlayedAgain.Result())
}

func TestScoreCallInParts(t *testing.T) {
	log := begin(t, "sideout-doubles-11@2025")
	_, ok := log.Rules().Call(log.State())
	require.False(t, ok, "nothing is called before the match")
	enter(t, log, "gA1B1")
	c, ok := log.Rules().Call(log.State())
	require.True(t, ok)
	require.Equal(t, rally.Call{Number: 2, Opening: true}, c)
	enter(t, log, words("B A A B B")...) // side-out, second server, side-out, and again
	c, _ = log.Rules().Call(log.State())
	require.False(t, c.Opening, "0-0 again, but not the opening")
	log = begin(t, "rally-singles-11@2026", words("A B B")...)
	c, _ = log.Rules().Call(log.State())
	require.Equal(t, rally.Call{Serving: 2, Receiving: 1}, c)
	// Level far beyond the target the call still fits.
	big := begin(t, "rally-doubles-11@2026")
	enter(t, big, "set L2 game=1 won=0:0 score=254-253 opens=0:0 serve=A1@R#- receive=B2 A=12 B=21 first=A start=A1B1 ends=1m due=- phase=play result=- break=- timeouts=0:0 medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----")
	require.Equal(t, "254-253", call(big))
	singles := rally.MustCompile(mustParse("sideout-singles-11@2025"))
	for n := 1; n <= 255; n++ {
		score, court, place := fmt.Sprintf("%d-%d", n, n-1), "R", "1-"
		if n%2 == 1 {
			court, place = "L", "-1"
		}
		ends := "0"
		if n >= 6 {
			ends = "1m"
		}
		s, err := singles.ParseLine("L2 game=1 won=0:0 score=" + score + " opens=0:0 serve=A1@" + court + "#- receive=B1 A=" + place +
			" B=" + place + " first=A start=A1B1 ends=" + ends +
			" due=- phase=play result=- break=- timeouts=0:0 medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----")
		require.NoError(t, err, score)
		require.Equal(t, score, string(singles.AppendCall(nil, s)))
	}
}
