package audit

import (
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/rally/audit/internal/moment"
)

var months = []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}

// scoresOfDate returns the scores that a spreadsheet can have turned into the
// date in a cell, in either order of day and month: 11-Sep, Sep-11, 9. Nov,
// 2024-11-09, 11/9/2024, 09.11.24, with or without a time of day, and the
// number of days since 1900 that such a cell holds inside; the first of a month
// of 2000 can be a score to nothing as well. It returns none for a text that is
// no such date. Which of the scores it was is not decided here.
func scoresOfDate(text string) []Score {
	s := strings.ToLower(strings.TrimSpace(text))
	if len(s) > 40 {
		return nil
	}
	if day, rest, ok := strings.Cut(s, "t"); ok && len(day) == 10 && rest != "" {
		s = day
	}
	if i := strings.IndexByte(s, ' '); i == 10 || i > 0 && strings.Contains(s[i:], ":") {
		s = s[:i]
	}
	if n, err := strconv.Atoi(s); err == nil {
		// Days since 1899-12-30, as spreadsheets count; from 1982 to 2064.
		if n < 30000 || n > 60000 {
			return nil
		}
		begin, _ := moment.ParseDay("1899-12-30")
		year, month, day := moment.Date(begin + n)
		return withNothing(bothWays(month, day), year)
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("-–/. ,", r) })
	numbers, month, ok := dateParts(parts)
	switch {
	case !ok:
		return nil
	case month != 0 && len(numbers) >= 1:
		return ofMonth(month, numbers)
	case month == 0 && len(numbers) == 3:
		return ofNumbers(parts, numbers)
	}
	return nil
}

// dateParts reads the two or three parts of a date: numbers, and at most one name
// of a month.
func dateParts(parts []string) (numbers []int, month int, ok bool) {
	if len(parts) < 2 || len(parts) > 3 {
		return nil, 0, false
	}
	for _, p := range parts {
		if n, err := strconv.Atoi(p); err == nil && n >= 0 && len(p) <= 4 {
			numbers = append(numbers, n)
			continue
		}
		if len(p) < 3 || month != 0 {
			return nil, 0, false
		}
		for k, name := range months {
			if strings.HasPrefix(p, name) && len(p) <= 9 {
				month = k + 1
			}
		}
		if month == 0 {
			return nil, 0, false
		}
	}
	return numbers, month, true
}

// ofMonth are the scores of a date with the name of its month. With two numbers
// the year is the last, or the first of four digits.
func ofMonth(month int, numbers []int) []Score {
	day := numbers[0]
	if len(numbers) == 2 && day > 31 {
		day = numbers[1]
	}
	if day >= 1900 && len(numbers) == 1 {
		day %= 100 // 2-30 read as February 1930
	}
	if day > 31 {
		return nil
	}
	return bothWays(month, day)
}

// ofNumbers are the scores of a date in numbers, its year first or last.
func ofNumbers(parts []string, numbers []int) []Score {
	a, b, year := numbers[0], numbers[1], numbers[2]
	if len(parts[0]) == 4 {
		year, a, b = numbers[0], numbers[1], numbers[2]
	} else if len(parts[2]) != 4 && len(parts[2]) != 2 {
		return nil
	}
	if min(a, b) < 1 || min(a, b) > 12 || max(a, b) > 31 {
		return nil
	}
	return withNothing(bothWays(a, b), year)
}

// withNothing adds the scores to nothing that the first of a month of 2000 can
// have been: a spreadsheet reads 11-0 as November of the year 00.
func withNothing(scores []Score, year int) []Score {
	if year%2000 != 0 {
		return scores
	}
	for _, s := range scores {
		if s[1] == 1 && s[0] <= 12 {
			return append(scores, Score{s[0], 0}, Score{0, s[0]})
		}
	}
	return scores
}

func bothWays(a, b int) []Score {
	if a == b {
		return []Score{{a, b}}
	}
	return []Score{{a, b}, {b, a}}
}
