package main

import (
	"math"

	"github.com/evencourt/evencourt/rally/explore"
)

// duration says how long a match lasts, in seconds.
type duration struct {
	Pace    explore.Pace `json:"pace"`
	Mean    float64      `json:"mean"`
	P95     float64      `json:"p95"` // enough with chance 0.95
	Slot    float64      `json:"slot"`
	Matches int          `json:"matches"`
	Overrun float64      `json:"overrun"` // chance that so many matches need more than the slot
}

// mostRallies is the longest match that is followed to its end.
const mostRallies = 20_000

// longest is a number of rallies that no match exceeds, but by a chance too
// small to matter: the tail of a length falls like that of a geometric law.
func longest(f explore.MatchFigures) float64 { return f.Mean + 40*math.Sqrt(f.Variance) }

// clockStep is the step of laws of time, in seconds for each game there can be:
// what is longer need not be known as finely. A law has about mostSteps at most.
const (
	clockStep = 10
	mostSteps = 10_000
)

// duration returns how long a match lasts, whoever serves first.
func (l *lab) duration(o *options) (duration, error) {
	out := duration{Pace: o.pace, Slot: o.slot * 60, Matches: o.matches}
	step, err := l.stepOf(o)
	if err != nil {
		return out, err
	}
	clock := explore.Clock{Step: step}
	for _, m := range l.match {
		c, err := m.Clock(o.strength.rates(), o.pace, step)
		if err != nil {
			return out, err
		}
		clock.Law = mixed(clock.Law, c.Law)
	}
	out.Mean, out.P95 = clock.Mean(), clock.Seconds(0.95)
	if o.matches == 0 || o.slot == 0 {
		return out, nil // nothing was asked about a slot
	}
	court, err := clock.Slot(o.matches, o.slot*60)
	out.Overrun = court.Overrun
	return out, err
}

// stepOf returns the step for the matches of a question.
func (l *lab) stepOf(o *options) (float64, error) {
	step := float64(clockStep * l.Format.Match.Games)
	for _, m := range l.match {
		f, err := m.Figures(o.strength.rates())
		if err != nil {
			return 0, err
		}
		n := longest(f)
		seconds := n*(o.pace.Rally+o.pace.Between) + 8*o.pace.RallySpread*math.Sqrt(n) + o.pace.WarmUp
		for game := 1; game <= int(l.Format.Match.Games); game++ {
			seconds += o.pace.Games + o.pace.EndChange + 2*float64(l.Format.Of(game).TimeOuts)*o.pace.TimeOut
		}
		step = max(step, math.Ceil(seconds/mostSteps/clockStep)*clockStep)
	}
	return min(step, 3600), nil
}
