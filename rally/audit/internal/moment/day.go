package moment

import "strconv"

// daysOf are the days of each month of a year that is no leap year.
var daysOf = [13]int{0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// ParseDay reads a civil date, YYYY-MM-DD, as days since 1970-01-01.
func ParseDay(s string) (n int, ok bool) {
	if len(s) != 10 || s[4] != '-' || s[7] != '-' {
		return 0, false
	}
	century, ok0 := pair(s[0:2])
	years, ok1 := pair(s[2:4])
	month, ok2 := pair(s[5:7])
	day, ok3 := pair(s[8:10])
	if !ok0 || !ok1 || !ok2 || !ok3 || month < 1 || month > 12 || day < 1 {
		return 0, false
	}
	leap := years%4 == 0 && (years != 0 || century%4 == 0)
	return days(100*century+years, month, day), day <= daysOf[month] || leap && month == 2 && day == 29
}

// pair reads two digits.
func pair(s string) (int, bool) {
	a, b := s[0]-'0', s[1]-'0'
	return 10*int(a) + int(b), a <= 9 && b <= 9
}

// cycle is the days of 400 years, after which leap years come again as they were.
const cycle = 146_097

// days counts the days from 1970-01-01 to another of the years from 0, months
// beginning with March, so that the day of a leap year is its last.
func days(year, month, day int) int {
	year += 400
	if month < 3 {
		year, month = year-1, month+12
	}
	return 365*year + year/4 - year/100 + year/400 + (153*month-457)/5 + day - cycle - 719_469
}

// Date is the date of a day, counted from 1970-01-01, of the years from 0.
func Date(n int) (year, month, day int) {
	for year = max((n+719_528)*400/cycle-1, 0); days(year+1, 1, 1) <= n; year++ {
	}
	for month = 1; month < 12 && days(year, month+1, 1) <= n; month++ {
	}
	return year, month, n - days(year, month, 1) + 1
}

// DayText writes a day as [ParseDay] reads it.
func DayText(n int) string {
	year, month, day := Date(n)
	text := strconv.Itoa(100_000_000 + 10_000*year + 100*month + day)
	return text[1:5] + "-" + text[5:7] + "-" + text[7:]
}
