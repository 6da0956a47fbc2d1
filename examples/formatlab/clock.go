package main

import (
	"fmt"
	"math"

	"github.com/evencourt/evencourt/rally/explore"
)

// duration says how long a match lasts, in seconds.
type duration struct {
	Pace      explore.Pace `json:"pace"`
	Mean      float64      `json:"mean"`
	Spread    float64      `json:"spread"` // standard deviation
	Quantiles []quantile   `json:"quantiles"`
	Law       explore.Law  `json:"law"` // by whole minutes: entry n is the chance of more than n-1 and at most n minutes
	Slot      float64      `json:"slot,omitempty"`
	Matches   int          `json:"matches,omitempty"`
	Courts    int          `json:"courts,omitempty"`
	Overrun   *float64     `json:"overrun,omitempty"` // chance that so many matches need more than the slot
	Enough    *float64     `json:"enough,omitempty"`  // seconds in which so many matches are over with chance 0.95
}

// quantile is a time that so many matches do not exceed.
type quantile struct {
	Chance  float64 `json:"chance"`
	Seconds float64 `json:"seconds"`
}

// quantileNames are the quantiles that are printed.
var quantileNames = []struct {
	chance float64
	name   string
}{
	{0.05, "one match in twenty is over within"},
	{0.25, "one match in four is over within"},
	{0.5, "every other match is over within"},
	{0.75, "three of four are over within"},
	{0.9, "nine of ten are over within"},
	{0.95, "nineteen of twenty are over within"},
	{0.99, "99 of a hundred are over within"},
}

// at returns one of the quantiles.
func (d *duration) at(chance float64) float64 {
	for _, q := range d.Quantiles {
		if q.Chance == chance {
			return q.Seconds
		}
	}
	return math.NaN()
}

// overrun writes the chance of needing more than the slot.
func (d *duration) overrun() string {
	if d.Overrun == nil {
		return "-"
	}
	return percent(*d.Overrun)
}

// mostRallies is the longest match that is followed to its end.
const mostRallies = 20_000

// longest is a number of rallies that no match exceeds, but by a chance too
// small to matter: the tail of a length falls like that of a geometric law.
func longest(f explore.MatchFigures) float64 { return f.Mean + 40*math.Sqrt(f.Variance) }

// duration returns how long a match lasts, whoever serves first.
func (l *lab) duration(o *options) (duration, error) {
	out := duration{Pace: o.pace}
	var of []explore.Clock
	for _, m := range l.match {
		c, err := m.Clock(o.strength.rates(), o.pace)
		if err != nil {
			return out, err
		}
		of = append(of, c)
	}
	clock := explore.MixedClock(of...)
	out.Mean, out.Spread = clock.Mean(), clock.Deviation()
	for _, q := range quantileNames {
		out.Quantiles = append(out.Quantiles, quantile{q.chance, clock.Seconds(q.chance)})
	}
	out.Law = clock.Law(60)
	if o.matches == 0 || o.slot == 0 {
		return out, nil // nothing was asked about a slot
	}
	day, err := clock.Day(o.courts, o.matches, o.slot*60)
	out.Slot, out.Matches, out.Courts, out.Overrun, out.Enough = o.slot*60, o.matches, o.courts, &day.Overrun, &day.P95
	return out, err
}

func (c *comparison) time(o *options) part {
	t := c.columns("time of a match, warm-up included")
	c.row(t, "expected", func(f *figures) string { return minutes(f.Time.Mean) })
	c.row(t, "spread (standard deviation)", func(f *figures) string { return minutes(f.Time.Spread) })
	for i, q := range quantileNames {
		c.row(t, q.name, func(f *figures) string { return minutes(f.Time.Quantiles[i].Seconds) })
	}
	if o.slot > 0 {
		c.row(t, slotWords(o), func(f *figures) string { return percent(*f.Time.Overrun) })
		if o.matches > 1 {
			c.row(t, "nineteen days of twenty are over within", func(f *figures) string { return minutes(*f.Time.Enough) })
		}
	}
	p := part{Name: "time", Title: "Time", Notes: []string{paceWords(o.pace)}, Table: t, Charts: []chart{timeChart(c.Formats)}}
	if o.courts > 1 && o.slot > 0 {
		p.Notes = append(p.Notes, "The matches are dealt out to the courts beforehand, as evenly as can be; the day is over when the last court is.")
	}
	return p
}

func slotWords(o *options) string {
	switch {
	case o.courts > 1:
		return fmt.Sprintf("%d matches on %d courts need more than %g min", o.matches, o.courts, o.slot)
	case o.matches == 1:
		return fmt.Sprintf("needs more than %g min", o.slot)
	}
	return fmt.Sprintf("%d matches need more than %g min", o.matches, o.slot)
}

func paceWords(p explore.Pace) string {
	return fmt.Sprintf("Stated, not measured: %g s a rally (with the pause after it, spread %g s), %g s between rallies, %g s a change of ends, %g s between games, %g s a time-out of which %s are taken, %g s of warm-up.",
		p.Rally, p.RallySpread, p.Between, p.EndChange, p.Games, p.TimeOut, percent(p.TakeTimeOut), p.WarmUp)
}

// timeChart shows laws of minutes.
func timeChart(all []*figures) lines {
	out := lines{Title: "How many minutes a match takes",
		About:  "The share of matches by their whole minutes; the thousandth of matches at either end is left out.",
		XLabel: "minutes of a match", FromZero: true}
	span := 0
	for _, f := range all {
		span = max(span, f.Time.Law.Quantile(0.999)-f.Time.Law.Quantile(0.001))
	}
	bin := max(1, span/50)
	out.YLabel = fmt.Sprintf("matches for each %d minutes (%%)", bin)
	if bin == 1 {
		out.YLabel = "matches for each minute (%)"
	}
	for _, f := range all {
		out.Series = append(out.Series, series{Name: f.Format}.of(f.Time.Law, bin))
	}
	return out
}
