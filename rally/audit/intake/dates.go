package intake

import (
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"
)

// order is how the parts of a date stand.
type order uint8

const (
	dayFirst order = iota
	monthFirst
)

// months are the beginnings of the names of months in the languages of the
// vocabulary, folded.
var months = func() map[string]int {
	out := map[string]int{}
	for i, list := range []string{"jan january janvier januar enero gennaio gen ene styczen stycznia janeiro januari", "feb fev february fevrier februar febrero febbraio luty lutego fevereiro februari",
		"mar mrz maerz marz march mars marzo marca marzec marco maart mrt", "apr avr avril april abril aprile abr kwi kwiecien kwietnia", "may mai mayo mag maggio maj maja maio mei",
		"jun juin june juni junio giu giugno cze czerwiec czerwca junho", "jul juil juillet july juli julio lug luglio lip lipiec lipca julho", "aug aou aout august agosto ago sie sierpien sierpnia augustus",
		"sep sept september septembre septiembre settembre set wrz wrzesien wrzesnia setembro", "oct okt october octobre oktober octubre ottobre ott paz pazdziernik pazdziernika out outubro",
		"nov november novembre noviembre lis listopad listopada novembro", "dec dez dic december decembre dezember diciembre dicembre gru grudzien grudnia dezembro"} {
		for word := range strings.FieldsSeq(list) {
			out[word] = i + 1
		}
	}
	return out
}()

// weekdays need no list: a word that is no month and stands before the first
// number is passed over.

// parts of a date: year, and two numbers of which one is the month; month is
// not 0 where it is written as a word.
type dateParts struct {
	year, first, second, month int
}

// partsOf takes a date apart; a time of day after it is left out.
func partsOf(text string) (dateParts, bool) {
	var p dateParts
	s := fold(cutTime(text))
	if n, err := strconv.ParseFloat(strings.TrimSpace(text), 64); err == nil && n >= 30000 && n < 60001 {
		// The days since 1899-12-30 that a workbook holds, with the time of day.
		d := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC).AddDate(0, 0, int(n))
		return dateParts{year: d.Year(), first: d.Day(), month: int(d.Month())}, true
	}
	if n, err := strconv.Atoi(s); err == nil && len(s) == 8 && n >= 19000101 && n < 21000000 {
		return dateParts{year: n / 10000, first: n % 100, month: n / 100 % 100}, true
	}
	var numbers []string
	for w := range strings.FieldsSeq(s) {
		for _, end := range []string{"st", "nd", "rd", "th"} {
			if len(w) <= 4 && w[0] >= '0' && w[0] <= '9' {
				w = strings.TrimSuffix(w, end)
			}
		}
		if _, err := strconv.Atoi(w); err == nil && len(w) <= 4 {
			numbers = append(numbers, w)
			continue
		}
		if m := months[w]; m != 0 && p.month == 0 {
			p.month = m
			continue
		}
		if _, filler := vocabulary[w]; len(numbers) > 0 && !filler {
			return p, false
		}
	}
	n := func(i int) int { v, _ := strconv.Atoi(numbers[i]); return v }
	switch {
	case p.month != 0 && len(numbers) == 2 && len(numbers[0]) == 4:
		p.year, p.first = n(0), n(1)
	case p.month != 0 && len(numbers) == 2:
		p.year, p.first = n(1), n(0)
	case p.month == 0 && len(numbers) == 3 && len(numbers[0]) == 4:
		p.year, p.month, p.first = n(0), n(1), n(2)
	case p.month == 0 && len(numbers) == 3:
		p.year, p.first, p.second = n(2), n(0), n(1)
	default:
		return p, false
	}
	if p.year < 100 {
		p.year += 2000
	}
	return p, p.year >= 1900 && p.year < 2100
}

// dateBeside is a date before or after something else. Its year has four digits
// where a score that is spelt wrong could look like it.
var dateBeside = sync.OnceValue(func() *regexp.Regexp {
	const date = `\(?(\d{4}-\d\d?-\d\d?|\d\d?[./-]\d\d?[./-]\d{4}|\d\d?\.\d\d?\.\d\d|\d\d?\.? ?\pL{3,9}\.?,? \d{4}|\pL{3,9}\.? \d\d?,? \d{4})\)?`
	return regexp.MustCompile(`^` + date + `[:,;]? |[ ,;]` + date + `$`)
})

// cutDate cuts a date off that stands before or after something else.
func cutDate(text string) (date, rest string) {
	at := dateBeside().FindStringSubmatchIndex(text)
	if at == nil {
		return "", text
	}
	in := at[2:4]
	if in[0] < 0 {
		in = at[4:6]
	}
	return text[in[0]:in[1]], text[:at[0]] + text[at[1]:]
}

// cutTime cuts a time of day off.
func cutTime(text string) string {
	s := strings.TrimSpace(text)
	if len(s) > 10 && s[10] == 'T' {
		return s[:10]
	}
	if i := strings.IndexByte(s, ':'); i > 0 {
		if k := strings.LastIndexAny(s[:i], " ,"); k > 0 {
			return strings.TrimRight(s[:k], " ,")
		}
	}
	return s
}

// date writes the parts as a civil date in an order; false if there is none.
func (p dateParts) date(o order) (string, bool) {
	day, month := p.first, p.month
	if month == 0 {
		day, month = p.first, p.second
		if o == monthFirst {
			day, month = month, day
		}
	}
	d := time.Date(p.year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	if month < 1 || month > 12 || d.Day() != day {
		return "", false
	}
	return d.Format(time.DateOnly), true
}

// orderOf finds the order of day and month that the dates of a file have, and
// how sure that is: a number above twelve tells; otherwise the order in which
// more of the dates come one after the other; otherwise dots mean that the day
// is first.
func orderOf(cells []string) (o order, open, told bool) {
	var day, month int
	var dates [2][]string
	dots := false
	for _, cell := range cells {
		p, ok := partsOf(cell)
		if !ok || p.month != 0 {
			continue
		}
		open = true
		dots = dots || strings.Contains(cell, ".")
		if p.first > 12 {
			day++
		}
		if p.second > 12 {
			month++
		}
		for k := range dates {
			if d, ok := p.date(order(k)); ok {
				dates[k] = append(dates[k], d)
			}
		}
	}
	switch {
	case day > month:
		return dayFirst, open, true
	case month > day:
		return monthFirst, open, true
	case dots:
		return dayFirst, open, true
	}
	// Dates of a season lie close together when they are read aright.
	span := func(k int) int {
		if len(dates[k]) < 2 {
			return 0
		}
		low, high := dates[k][0], dates[k][0]
		for _, d := range dates[k] {
			low, high = min(low, d), max(high, d)
		}
		a, _ := time.Parse(time.DateOnly, low)
		b, _ := time.Parse(time.DateOnly, high)
		return int(b.Sub(a).Hours() / 24)
	}
	if x, y := span(0), span(1); x != y && max(x, y) > 3*min(x, y)+30 {
		if x < y {
			return dayFirst, open, true
		}
		return monthFirst, open, true
	}
	return dayFirst, open, !open
}
