package moment_test

import (
	"testing"
	"time"

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

// Moments with a date are read as package time reads them, and nothing else is.
func FuzzMoments(f *testing.F) {
	for _, text := range []string{
		"2026-09-12T18:00:00Z", "2026-09-12T18:00:00+02:00", "2026-09-12T18:00:00-11:30", "2026-09-12T18:00:00.25Z", "2026-09-12T18:00:00,123456789012+01:00", "2026-09-12T18:00:00",
		"2026-09-12 18:00:00", "2026-09-12   8:00:00.5", "2026-09-12T8:00:00", "2026-09-12T 18:00:00", "2026-09-12 18:00:00Z", "2026-09-12T18:00:00.", "2026-09-12T18:00:00.Z", "2026-09-12T18:00:00.+1Z",
		"2026-09-12T24:00:00Z", "2026-09-12T18:60:00Z", "2026-09-12T18:00:60Z", "2026-02-29T00:00:00", "2024-02-29T00:00:00", "1900-02-29T00:00:00", "2000-02-29 23:59:59", "0000-01-01T00:00:00Z",
		"0000-02-29T00:00:00Z", "9999-12-31T23:59:59.999Z", "2026-13-01T00:00:00Z", "2026-09-12t18:00:00z", "2026-09-12T18:00Z", "2026-09-12T18:00:00+2:00", "2026-09-12T18:00:00 +02:00", "2026-09-12",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		want, known := int64(0), false
		for _, layout := range []string{time.RFC3339, "2006-01-02 15:04:05", "2006-01-02T15:04:05"} {
			if at, err := time.Parse(layout, text); err == nil && !known {
				want, known = at.UnixMilli(), true
			}
		}
		got, ok := moment.Read(text)
		if len(text) < len(time.DateOnly) || text[4] != '-' || text[7] != '-' {
			require.False(t, known, text)
			return // a number or a clock, or neither
		}
		require.Equal(t, known, ok, text)
		require.Equal(t, want, got, text)
	})
}

// Every day of four hundred years, after which all comes again, is that of package
// time, and is read as it is written.
func TestDays(t *testing.T) {
	begin := time.Date(1799, 12, 31, 0, 0, 0, 0, time.UTC)
	for n := range 146_097 + 2 {
		at := begin.AddDate(0, 0, n)
		day := int(at.Unix() / 86_400)
		text := at.Format(time.DateOnly)
		got, ok := moment.ParseDay(text)
		require.True(t, ok, text)
		require.Equal(t, day, got, text)
		require.Equal(t, text, moment.DayText(day))
	}
	for _, text := range []string{"0000-01-01", "0000-02-29", "0000-03-01", "9999-12-31"} {
		day, ok := moment.ParseDay(text)
		require.True(t, ok, text)
		require.Equal(t, text, moment.DayText(day))
		at, err := time.Parse(time.DateOnly, text)
		require.NoError(t, err)
		require.Equal(t, at.Unix(), 86_400*int64(day))
	}
	for _, text := range []string{"", "2026-9-12", "2026-02-29", "1900-02-29", "2026-00-01", "2026-13-01", "2026-01-00", "2026-04-31", "2026/04/30", "2026-04-3x", "+026-04-30"} {
		_, ok := moment.ParseDay(text)
		require.False(t, ok, text)
	}
}
