package rally_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Only the call that opens a game is its opening call: the second server of a
// later turn at the same score is another person (rule 4.B.6 of 2021 and 2022).
func TestOpeningCall(t *testing.T) {
	log := begin(t, "sideout-doubles-11@2025", "gA1B1")
	for _, c := range []struct {
		entry   string
		call    string
		opening bool
	}{
		{"replay", "0-0-2", true},
		{"B", "0-0-1", false},
		{"A", "0-0-2", false},
		{"A", "0-0-1", false},
		{"B", "0-0-2", false},
	} {
		enter(t, log, c.entry)
		got, ok := log.Rules().Call(log.State())
		require.True(t, ok)
		require.Equal(t, c.call, call(log), c.entry)
		require.Equal(t, c.opening, got.Opening, c.call)
	}
}
