package explore

import (
	"math"
	"strconv"
)

// Pace says how time passes in a match, in seconds.
type Pace struct {
	Rally       float64 `json:"rally"`        // a rally, on average
	RallySpread float64 `json:"rally_spread"` // standard deviation of a rally with the pause after it
	Between     float64 `json:"between"`      // from the end of a rally to the next serve
	EndChange   float64 `json:"end_change"`   // a mid-game change of ends
	Games       float64 `json:"games"`        // from one game to the next
	TimeOut     float64 `json:"time_out"`     // a standard time-out
	TakeTimeOut float64 `json:"take"`         // chance that a side takes each time-out it has in a game
	WarmUp      float64 `json:"warm_up"`      // before the first serve, counted to the match
}

// UsualPace is a pace for examples: eight seconds a rally and sixteen between
// rallies are common practice, not measurements; intervals are the 2026 text's.
var UsualPace = Pace{Rally: 8, RallySpread: 6, Between: 16, EndChange: 60, Games: 120, TimeOut: 60, TakeTimeOut: 0.5, WarmUp: 300}

func (p Pace) validate() error {
	for _, f := range []struct {
		name string
		v    float64
		most float64
	}{{"rally", p.Rally, 3600}, {"rally_spread", p.RallySpread, 3600}, {"between", p.Between, 3600}, {"end_change", p.EndChange, 7200},
		{"games", p.Games, 7200}, {"time_out", p.TimeOut, 7200}, {"take", p.TakeTimeOut, 1}, {"warm_up", p.WarmUp, 7200}} {
		if !(f.v >= 0 && f.v <= f.most) {
			return &InputError{"pace." + f.name, "must be from 0 to " + text(f.most) + ", not " + text(f.v)}
		}
	}
	if p.Rally+p.Between == 0 {
		return &InputError{"pace", "rallies must take time"}
	}
	return nil
}

// Clock is the law of the length of a match in time: entry n is the chance
// that it lasts up to n steps and more than n-1.
type Clock struct {
	Step float64 `json:"step"` // seconds
	Law  Law     `json:"law"`
}

// Seconds returns the time that the match is over by with chance p.
func (c Clock) Seconds(p float64) float64 { return float64(c.Law.Quantile(p)) * c.Step }

// Mean returns the mean time in seconds.
func (c Clock) Mean() float64 { return (c.Law.Mean() - 0.5) * c.Step }

// MostClockSteps is the most steps that a law of time may have.
const MostClockSteps = 1 << 16

// Clock returns the law of the time a match takes, in steps of some seconds.
// The number of rallies and games has its exact law; the time of that many
// rallies is taken to be normal, and time-outs to be taken independently.
func (m *Match) Clock(r Rates, pace Pace, step float64) (Clock, error) {
	if err := pace.validate(); err != nil {
		return Clock{}, err
	}
	if !(step >= 0.5 && step <= 3600) {
		return Clock{}, &InputError{"step", "must be from half a second to an hour"}
	}
	length, err := m.Length(r)
	if err != nil {
		return Clock{}, err
	}
	each := pace.Rally + pace.Between
	var out Law
	for games, law := range length.ByGames {
		if len(law) == 0 {
			continue
		}
		fixed, outs := pace.WarmUp, 0
		for n := 1; n <= games; n++ {
			if n > 1 {
				fixed += pace.Games
			}
			if m.format.Of(n).ChangeEndsAt > 0 {
				fixed += pace.EndChange
			}
			outs += 2 * int(m.format.Of(n).TimeOuts)
		}
		breaks := binomial(outs, pace.TakeTimeOut)
		longest := fixed + float64(outs)*pace.TimeOut + float64(len(law))*each + 8*pace.RallySpread*math.Sqrt(float64(len(law)))
		if longest/step > MostClockSteps {
			return Clock{}, &SizeError{"steps of time", uint64(longest / step), MostClockSteps}
		}
		for k, q := range breaks {
			for n, p := range law {
				if w := p * q; w > 1e-13 {
					out = spread(out, w, fixed+float64(k)*pace.TimeOut+float64(n)*each, pace.RallySpread*math.Sqrt(float64(n)), step)
				}
			}
		}
	}
	return Clock{step, out}, nil
}

func binomial(n int, p float64) Law {
	law := Law{1}
	for range n {
		law = law.plus(Law{1 - p, p})
	}
	return law
}

// spread adds a normal law of weight w, cut at eight deviations and at 0.
func spread(law Law, w, mean, deviation, step float64) Law {
	from, to := int((mean-8*deviation)/step), int((mean+8*deviation)/step)+1
	from = max(from, 0)
	for len(law) <= to {
		law = append(law, 0)
	}
	if deviation == 0 {
		law[int(math.Ceil(mean/step))] += w
		return law
	}
	below := 0.0
	for n := from; n <= to; n++ {
		upto := 1.0
		if n < to {
			upto = 0.5 * math.Erfc((mean-float64(n)*step)/(deviation*math.Sqrt2))
		}
		law[n] += w * (upto - below)
		below = upto
	}
	return law
}

// Court is what a number of matches, one after the other on one court, need.
type Court struct {
	Matches int     `json:"matches"`
	Mean    float64 `json:"mean"`    // seconds
	Overrun float64 `json:"overrun"` // chance of needing more than the slot
	P95     float64 `json:"p95"`     // seconds that are enough with chance 0.95
}

// Slot returns what n such matches need, one after the other, against a slot
// of some seconds. Matches are independent; the warm-up of each is counted.
func (c Clock) Slot(n int, slot float64) (Court, error) {
	switch {
	case n < 1 || n > 100:
		return Court{}, &InputError{"matches", "must be 1 to 100, not " + strconv.Itoa(n)}
	case !(slot > 0):
		return Court{}, &InputError{"slot", "must be seconds above 0"}
	case len(c.Law) == 0:
		return Court{}, &InputError{"clock", "is empty"}
	case uint64(n)*uint64(len(c.Law)) > MostClockSteps*4:
		return Court{}, &SizeError{"steps of time", uint64(n) * uint64(len(c.Law)), MostClockSteps * 4}
	}
	sum := Law{1}
	for range n {
		sum = sum.plus(c.Law).trimmed()
	}
	all := Clock{c.Step, sum}
	return Court{n, float64(n) * c.Mean(), sum.Beyond(int(slot / c.Step)), all.Seconds(0.95)}, nil
}

// trimmed drops an upper tail that holds next to nothing.
func (l Law) trimmed() Law {
	sum := 0.0
	for len(l) > 1 {
		if sum += l[len(l)-1]; sum > 1e-13 {
			break
		}
		l = l[:len(l)-1]
	}
	return l
}
