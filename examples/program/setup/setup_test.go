package setup_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program/setup"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

func TestSet(t *testing.T) {
	var got rally.Setup
	for _, f := range [][2]string{{"match", "round 3"}, {"court", "2"}, {"referee", "Noor Haddad"}, {"began", "2026-10-03T10:00:00+02:00"},
		{"left", "B"}, {"first", "A"}, {"A", "Harbour"}, {"A1", "Imani Okafor"}, {"A2.name", "Tomasz Zielinski"}, {"B2.mark", "green cap"}, {"B1.id", "p7"}} {
		require.True(t, setup.Set(&got, f[0], f[1]), f[0])
	}
	first := rally.A
	want := rally.Setup{Match: "round 3", Court: "2", Referee: "Noor Haddad", Began: "2026-10-03T10:00:00+02:00", Left: rally.B, First: &first}
	want.Sides[rally.A] = rally.Team{Name: "Harbour", Players: [2]rally.Player{{Name: "Imani Okafor"}, {Name: "Tomasz Zielinski"}}}
	want.Sides[rally.B].Players = [2]rally.Player{{ID: "p7"}, {Mark: "green cap"}}
	require.Equal(t, want, got)
	for _, f := range [][2]string{{"", "x"}, {"left", "C"}, {"first", ""}, {"A3", "x"}, {"A1.age", "x"}, {"C1", "x"}, {"A1.", "x"}, {"umpire", "x"}} {
		require.False(t, setup.Set(&got, f[0], f[1]), f[0])
	}
	require.Equal(t, want, got, "what is refused changes nothing")
}

func TestLadder(t *testing.T) {
	for _, id := range []string{"sideout-doubles-11@2026", "rally-singles-11@2026"} {
		f, err := format.Parse(id)
		require.NoError(t, err)
		require.NoError(t, rally.MustCompile(f).Validate(setup.Ladder(f)), id)
	}
}
