// Package moment reads times as sources of rallies write them.
package moment

import (
	"strconv"
	"strings"
	"time"
)

// Read returns the milliseconds of a time from any beginning: a number of them,
// a clock such as 1:02:03, or a moment with its date.
func Read(text string) (ms int64, ok bool) {
	if n, err := strconv.ParseFloat(text, 64); err == nil && n >= 0 && n < 1<<53 {
		return int64(n + 0.5), true
	}
	for _, layout := range []string{time.RFC3339, "2006-01-02 15:04:05", "2006-01-02T15:04:05"} {
		if at, err := time.Parse(layout, text); err == nil {
			return at.UnixMilli(), true
		}
	}
	parts := strings.Split(text, ":")
	if len(parts) < 2 || len(parts) > 3 {
		return 0, false
	}
	for _, part := range parts {
		n, err := strconv.ParseFloat(part, 64)
		if err != nil || n < 0 || n >= 1000 {
			return 0, false
		}
		ms = ms*60 + int64(1000*n+0.5)
	}
	return ms, true
}
