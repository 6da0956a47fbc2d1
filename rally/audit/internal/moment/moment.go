// Package moment reads times and days as sources write them. Package time does so
// too, and makes a browser build larger by a tenth of an empty program.
package moment

import (
	"strconv"
	"strings"
)

// Read returns the milliseconds of a time from any beginning: a number of them,
// a clock such as 1:02:03, or a moment with its date.
func Read(text string) (ms int64, ok bool) {
	if n, err := strconv.ParseFloat(text, 64); err == nil && n >= 0 && n < 1<<53 {
		return int64(n + 0.5), true
	}
	if ms, ok := dated(text); ok {
		return ms, true
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

// dated reads a moment such as 2006-01-02T15:04:05.999+07:00 or, of no zone,
// 2006-01-02 15:04:05, in milliseconds since 1970.
func dated(text string) (ms int64, ok bool) {
	if len(text) < len("2006-01-02T1:04:05") {
		return 0, false
	}
	day, ok := ParseDay(text[:10])
	clock := text[11:]
	switch text[10] {
	case ' ':
		clock = strings.TrimLeft(clock, " ")
	case 'T':
		if zone := strings.IndexAny(clock, "Z+-"); zone >= 0 {
			east, known := offset(clock[zone:])
			clock, ms, ok = clock[:zone], -east, ok && known
		}
	default:
		return 0, false
	}
	if strings.IndexByte(clock, ':') == 1 {
		clock = "0" + clock
	}
	if len(clock) < len("15:04:05") || clock[5] != ':' {
		return 0, false
	}
	minutes, ok1 := minutesOf(clock[:5])
	second, ok2 := pair(clock[6:8])
	part, ok3 := thousandths(clock[8:])
	ms += 1000*(86_400*int64(day)+60*int64(minutes)+int64(second)) + part
	return ms, ok && ok1 && ok2 && ok3 && second < 60
}

// minutesOf reads hours and minutes, 15:04.
func minutesOf(s string) (int, bool) {
	if len(s) != 5 || s[2] != ':' {
		return 0, false
	}
	hours, ok1 := pair(s[:2])
	minutes, ok2 := pair(s[3:])
	return 60*hours + minutes, ok1 && ok2 && hours < 24 && minutes < 60
}

// offset reads a zone, Z or +07:00, in milliseconds.
func offset(s string) (int64, bool) {
	if s == "Z" {
		return 0, true
	}
	minutes, ok := minutesOf(s[1:])
	if s[0] == '-' {
		minutes = -minutes
	}
	return 60_000 * int64(minutes), ok && s[0] != 'Z'
}

// thousandths reads the part of a second, .999 or longer; none where nothing is.
func thousandths(s string) (int64, bool) {
	if s == "" {
		return 0, true
	}
	digits := s[1:]
	n, err := strconv.ParseInt((digits + "000")[:3], 10, 64)
	return n, err == nil && (s[0] == '.' || s[0] == ',') && digits != "" && strings.Trim(digits, "0123456789") == ""
}
