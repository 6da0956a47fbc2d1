package main

import (
	"fmt"
	"math"

	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/words"
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
	name   words.Code
}{
	{0.05, "lab.over-within-5"},
	{0.25, "lab.over-within-25"},
	{0.5, "lab.over-within-50"},
	{0.75, "lab.over-within-75"},
	{0.9, "lab.over-within-90"},
	{0.95, "lab.over-within-95"},
	{0.99, "lab.over-within-99"},
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
	var of []explore.TimeLaw
	for _, m := range l.match {
		c, err := m.TimeLaw(o.strength.rates(), o.pace)
		if err != nil {
			return out, err
		}
		of = append(of, c)
	}
	clock := explore.MixedTimeLaw(of...)
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
	t := c.columns(tell("lab.time-of-a-match"))
	c.row(t, tell("lab.expected"), func(f *figures) string { return minutes(f.Time.Mean) })
	c.row(t, tell("lab.spread-standard-deviation"), func(f *figures) string { return minutes(f.Time.Spread) })
	for i, q := range quantileNames {
		c.row(t, tell(q.name), func(f *figures) string { return minutes(f.Time.Quantiles[i].Seconds) })
	}
	if o.slot > 0 {
		c.row(t, slotWords(o), func(f *figures) string { return percent(*f.Time.Overrun) })
		if o.matches > 1 {
			c.row(t, tell("lab.nineteen-days-of-twenty"), func(f *figures) string { return minutes(*f.Time.Enough) })
		}
	}
	p := part{Name: "time", Title: tell("lab.time"), Notes: []string{paceWords(o.pace)}, Table: t, Charts: []chart{timeChart(c.Formats)}}
	if o.courts > 1 && o.slot > 0 {
		p.Notes = append(p.Notes, tell("lab.the-matches-are-dealt"))
	}
	return p
}

func slotWords(o *options) string {
	switch {
	case o.courts > 1:
		return tell("lab.matches-on-courts-need", words.Count("matches", o.matches), words.Count("courts", o.courts), words.Name("slot", fmt.Sprintf("%g", o.slot)))
	case o.matches == 1:
		return tell("lab.needs-more-than-min", words.Name("slot", fmt.Sprintf("%g", o.slot)))
	}
	return tell("lab.matches-need-more-than", words.Count("matches", o.matches), words.Name("slot", fmt.Sprintf("%g", o.slot)))
}

func paceWords(p explore.Pace) string {
	return tell("lab.stated-not-measured-s", words.Name("rally", fmt.Sprintf("%g", p.Rally)), words.Name("rally-spread", fmt.Sprintf("%g", p.RallySpread)), words.Name("between", fmt.Sprintf("%g", p.Between)), words.Name("end-change", fmt.Sprintf("%g", p.EndChange)), words.Name("games", fmt.Sprintf("%g", p.Games)), words.Name("time-out", fmt.Sprintf("%g", p.TimeOut)), words.Name("take-time-out", percent(p.TakeTimeOut)), words.Name("warm-up", fmt.Sprintf("%g", p.WarmUp)))
}

// timeChart shows laws of minutes.
func timeChart(all []*figures) lines {
	out := lines{Title: tell("lab.how-many-minutes-a"),
		About:  tell("lab.the-share-of-matches"),
		XLabel: tell("lab.minutes-of-a-match"), FromZero: true}
	span := 0
	for _, f := range all {
		span = max(span, f.Time.Law.Quantile(0.999)-f.Time.Law.Quantile(0.001))
	}
	bin := max(1, span/50)
	out.YLabel = tell("lab.matches-for-each-minutes", words.Count("bin", bin))
	if bin == 1 {
		out.YLabel = tell("lab.matches-for-each-minute")
	}
	for _, f := range all {
		out.Series = append(out.Series, series{Name: f.Format}.of(f.Time.Law, bin))
	}
	return out
}
