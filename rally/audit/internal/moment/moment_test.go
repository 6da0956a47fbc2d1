package moment_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/audit/internal/moment"
)

func TestRead(t *testing.T) {
	for text, want := range map[string]int64{
		"0": 0, "12000": 12_000, "12000.5": 12_001, "1:02": 62_000, "1:02:03": 3_723_000, "0:01.25": 1_250,
		"18:00:01": 64_801_000, "2026-09-12T18:00:00Z": 1_789_236_000_000, "2026-09-12 18:00:00": 1_789_236_000_000,
	} {
		got, ok := moment.Read(text)
		require.True(t, ok, text)
		require.Equal(t, want, got, text)
	}
	for _, text := range []string{"", "-1", "1:2:3:4", "1:x", ":", "noon", "1:-2", "NaN", "Inf", "1e300"} {
		_, ok := moment.Read(text)
		require.False(t, ok, text)
	}
}
