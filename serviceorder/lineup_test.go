package serviceorder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	so "github.com/evencourt/evencourt/serviceorder"
)

// Four a side, a new player every four rallies (team leagues, from memory),
// against people who come and go.
func TestLineUp(t *testing.T) {
	l := so.LineUp{Members: 4, Rallies: 4}
	bench := []int{0, 1, 2, 3}
	played := 0
	for points := range 60 {
		member, left, ok := l.Plays(points)
		require.True(t, ok)
		require.Equal(t, bench[0], member, "after %d points", points)
		require.Equal(t, 4-played, left, "after %d points", points)
		if played++; played == 4 {
			bench, played = append(bench[1:], bench[0]), 0
		}
	}
	for _, l := range []so.LineUp{{0, 4}, {4, 0}, {-1, 4}} {
		_, _, ok := l.Plays(3)
		require.False(t, ok)
	}
	_, _, ok := l.Plays(-1)
	require.False(t, ok)
}

func ExampleLineUp_Plays() {
	member, left, _ := so.LineUp{Members: 4, Rallies: 4}.Plays(14 + 11)
	fmt.Printf("member %d plays, %d rallies left\n", member+1, left)
	// Output: member 3 plays, 3 rallies left
}
