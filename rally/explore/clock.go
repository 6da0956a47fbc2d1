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

// UsualPace returns a pace for examples: eight seconds a rally and sixteen
// between rallies are common practice, not measurements; intervals are the 2026
// text's.
func UsualPace() Pace {
	return Pace{Rally: 8, RallySpread: 6, Between: 16, EndChange: 60, Games: 120, TimeOut: 60, TakeTimeOut: 0.5, WarmUp: 300}
}

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

// TimeLaw is the law of a time, in seconds. It is held on a grid that is fine
// against the spread of the time, so that sums of many have no bias; its mean
// is exact. [MatchModel.TimeLaw] makes one.
type TimeLaw struct {
	step  float64 // seconds; a power of two unless the time comes in steps of its own
	from  int     // steps that the first entry of the law stands for
	law   Law
	exact bool // the time comes in these steps: nothing lies between them
}

// mostClockSteps is the most steps that a law of time may have.
const mostClockSteps = 1 << 16

// finest is how many steps there are to a standard deviation, at least: what
// rounding to the nearest adds to the variance is then below 1 in 12·48².
const finest = 48

// TimeLaw returns the law of the time that a match takes. The number of rallies
// and games has its exact law; the time of that many rallies is taken to be
// normal, and time-outs to be taken independently.
func (m *MatchModel) TimeLaw(r Rates, pace Pace) (TimeLaw, error) {
	if err := pace.validate(); err != nil {
		return TimeLaw{}, err
	}
	length, err := m.Length(r)
	if err != nil {
		return TimeLaw{}, err
	}
	each := pace.Rally + pace.Between
	rallies := math.Sqrt(length.All.Variance()*each*each + length.All.Mean()*pace.RallySpread*pace.RallySpread)
	out := TimeLaw{step: math.Exp2(math.Floor(math.Log2(max(rallies, 1e-3) / finest)))}
	if unit := pace.unit(); pace.RallySpread == 0 && unit > 0 {
		out.step, out.exact = unit, true
	}
	grid := map[int]float64{} // by step
	lowest, highest := math.MaxInt, 0
	add := func(seconds, p float64) {
		at := seconds / out.step
		low := int(math.Floor(at))
		grid[low] += p * (float64(low+1) - at)
		grid[low+1] += p * (at - float64(low))
		lowest, highest = min(lowest, low), max(highest, low+1)
	}
	for games, law := range length.ByGames {
		if len(law) == 0 {
			continue
		}
		fixed, outs := m.pauses(games, pace)
		playing := playing(law, each, pace.RallySpread, out.step)
		longest := fixed + float64(outs)*pace.TimeOut + float64(playing.from+len(playing.law))*out.step
		if longest/out.step > mostClockSteps {
			return TimeLaw{}, &SizeError{"steps of time", uint64(longest / out.step), mostClockSteps}
		}
		for k, q := range binomial(outs, pace.TakeTimeOut) {
			for n, p := range playing.law {
				if w := p * q; w > 1e-15 {
					add(fixed+float64(k)*pace.TimeOut+float64(playing.from+n)*out.step, w)
				}
			}
		}
	}
	out.from, out.law = lowest, make(Law, highest-lowest+1)
	for at, p := range grid {
		out.law[at-lowest] = p
	}
	return out.trimmed(), nil
}

// unit is the longest time of which all times of the pace are multiples, 0
// where they are no whole seconds.
func (p Pace) unit() float64 {
	unit := 0
	for _, v := range []float64{p.Rally + p.Between, p.EndChange, p.Games, p.TimeOut, p.WarmUp} {
		if v != math.Trunc(v) {
			return 0
		}
		for rest := int(v); rest != 0; {
			unit, rest = rest, unit%rest
		}
	}
	return float64(unit)
}

// pauses returns what a match of some games takes besides its rallies, and how
// many time-outs it has.
func (m *MatchModel) pauses(games int, pace Pace) (fixed float64, outs int) {
	fixed = pace.WarmUp + float64(games-1)*pace.Games
	for n := 1; n <= games; n++ {
		if m.format.Of(n).ChangeEndsAt > 0 {
			fixed += pace.EndChange
		}
		outs += 2 * int(m.format.Of(n).TimeOuts)
	}
	return fixed, outs
}

// playing is the time of the rallies alone, given the law of their number.
func playing(rallies Law, each, spread, step float64) TimeLaw {
	most := float64(len(rallies))
	out := TimeLaw{step: step, law: make(Law, int((most*each+8*spread*math.Sqrt(most))/step)+3)}
	for n, p := range rallies {
		if p < 1e-15 {
			continue
		}
		mean, deviation := float64(n)*each, spread*math.Sqrt(float64(n))
		if deviation < step/8 {
			at := mean / step
			low := int(at)
			out.law[low] += p * (float64(low+1) - at)
			out.law[low+1] += p * (at - float64(low))
			continue
		}
		// Each step takes what is nearer to it than to its neighbours; what a
		// normal law has below 0 is at 0.
		below := 0.0
		for k, last := max(0, int((mean-8*deviation)/step)), int((mean+8*deviation)/step)+1; k <= last; k++ {
			upto := 1.0
			if k < last {
				upto = 0.5 * math.Erfc((mean-(float64(k)+0.5)*step)/(deviation*math.Sqrt2))
			}
			out.law[k] += p * (upto - below)
			below = upto
		}
	}
	return out
}

func binomial(n int, p float64) Law {
	law := Law{1}
	for range n {
		law = law.plus(Law{1 - p, p})
	}
	return law
}

// trimmed drops what lies at either end and holds next to nothing.
func (c TimeLaw) trimmed() TimeLaw {
	low, high := 0, len(c.law)
	for sum := 0.0; low < high-1; low++ {
		if sum += c.law[low]; sum > 1e-13 {
			break
		}
	}
	for sum := 0.0; high > low+1; high-- {
		if sum += c.law[high-1]; sum > 1e-13 {
			break
		}
	}
	c.from, c.law = c.from+low, c.law[low:high]
	return c
}

// Mean returns the mean in seconds.
func (c TimeLaw) Mean() float64 { return (float64(c.from) + c.law.Mean()) * c.step }

// Deviation returns the standard deviation in seconds.
func (c TimeLaw) Deviation() float64 { return math.Sqrt(c.law.Variance()) * c.step }

// upTo returns the chance of at most some seconds.
func (c TimeLaw) upTo(seconds float64) float64 {
	at := seconds/c.step - float64(c.from)
	if !c.exact {
		at += 0.5 // a step holds what is nearest to it
	}
	whole := math.Floor(at + 1e-9)
	sum := 0.0
	for n, p := range c.law {
		if float64(n) < whole || c.exact && float64(n) <= whole {
			sum += p
		} else if float64(n) == whole {
			sum += p * max(0, at-whole)
		}
	}
	return min(sum, 1)
}

// Beyond returns the chance of more than some seconds.
func (c TimeLaw) Beyond(seconds float64) float64 { return max(0, 1-c.upTo(seconds)) }

// Seconds returns the time that is not exceeded with chance p.
func (c TimeLaw) Seconds(p float64) float64 {
	sum := 0.0
	for n, q := range c.law {
		if sum+q >= p && q > 0 {
			if c.exact {
				return float64(c.from+n) * c.step
			}
			return (float64(c.from+n) - 0.5 + max(0, p-sum)/q) * c.step
		}
		sum += q
	}
	return float64(c.from+len(c.law)-1) * c.step
}

// Law returns the law in steps of some seconds: entry n is the chance of more
// than n-1 and at most n steps. It is nil where there would be too many.
func (c TimeLaw) Law(step float64) Law {
	top := float64(c.from+len(c.law)) * c.step
	if !(step > 0) || len(c.law) == 0 || top/step > mostClockSteps {
		return nil
	}
	var out Law
	for before, n := 0.0, 0; ; n++ {
		upto := c.upTo(float64(n) * step)
		out = append(out, upto-before)
		if before = upto; float64(n)*step >= top {
			return out
		}
	}
}

// MixedTimeLaw is the law of a time that is each of some with equal chances, as a
// match is whoever serves first.
func MixedTimeLaw(of ...TimeLaw) TimeLaw {
	out := TimeLaw{exact: true}
	low, high := math.MaxInt, math.MinInt
	for _, c := range of {
		out.step = max(out.step, c.step)
		out.exact = out.exact && c.exact
	}
	for _, c := range of {
		scale := c.step / out.step
		low = min(low, int(math.Floor(float64(c.from)*scale)))
		high = max(high, int(math.Ceil(float64(c.from+len(c.law))*scale))+1)
	}
	if len(of) == 0 {
		return out
	}
	out.from, out.law = low, make(Law, high-low+1)
	for _, c := range of {
		for n, p := range c.law {
			at := float64(c.from+n)*c.step/out.step - float64(low)
			k := int(at)
			out.law[k] += p * (float64(k+1) - at) / float64(len(of))
			out.law[k+1] += p * (at - float64(k)) / float64(len(of))
		}
	}
	return out.trimmed()
}

// plus returns the law of the sum of two independent times of one step.
func (c TimeLaw) plus(d TimeLaw) TimeLaw {
	c.from, c.law = c.from+d.from, c.law.plus(d.law)
	return c.trimmed()
}

// mostMatches is how many matches a day of one court can have.
const mostMatches = 100

// Times returns the time that n such matches take, one after the other.
// Matches are independent; the warm-up of each is counted.
func (c TimeLaw) Times(n int) (TimeLaw, error) {
	switch {
	case n < 1 || n > mostMatches:
		return TimeLaw{}, &InputError{"matches", "must be 1 to " + strconv.Itoa(mostMatches) + ", not " + strconv.Itoa(n)}
	case len(c.law) == 0:
		return TimeLaw{}, &InputError{"clock", "is empty"}
	}
	sum := TimeLaw{step: c.step, law: Law{1}, exact: c.exact}
	for twice := c; ; twice = twice.plus(twice) {
		if len(twice.law) > mostClockSteps {
			return TimeLaw{}, &SizeError{"steps of time", uint64(len(twice.law)), mostClockSteps}
		}
		if n&1 == 1 {
			sum = sum.plus(twice)
		}
		if n >>= 1; n == 0 {
			return sum, nil
		}
	}
}

// CourtNeed is what a number of matches on a number of courts need.
type CourtNeed struct {
	Courts  int     `json:"courts"`
	Matches int     `json:"matches"`
	Mean    float64 `json:"mean"`    // seconds until the last match is over
	Overrun float64 `json:"overrun"` // chance of needing more than the slot
	P95     float64 `json:"p95"`     // seconds that are enough with chance 0.95
}

// Slot returns what n such matches need, one after the other, against a slot
// of some seconds.
func (c TimeLaw) Slot(n int, slot float64) (CourtNeed, error) { return c.Day(1, n, slot) }

// Day returns what n such matches on some courts need, against a slot of some
// seconds. The matches are dealt out beforehand, as evenly as can be; each
// court plays its own one after the other.
func (c TimeLaw) Day(courts, n int, slot float64) (CourtNeed, error) {
	if !(slot > 0) {
		return CourtNeed{}, &InputError{"slot", "must be seconds above 0"}
	}
	all, err := c.LastOf(courts, n)
	if err != nil {
		return CourtNeed{}, err
	}
	return CourtNeed{courts, n, all.Mean(), all.Beyond(slot), all.Seconds(0.95)}, nil
}

// LastOf returns the time until the last of n matches on some courts is over.
func (c TimeLaw) LastOf(courts, n int) (TimeLaw, error) {
	if courts < 1 || courts > n {
		return TimeLaw{}, &InputError{"courts", "must be 1 to the number of matches, not " + strconv.Itoa(courts)}
	}
	longer := n % courts // so many courts have one match more
	most, err := c.Times((n + courts - 1) / courts)
	if err != nil || courts == 1 {
		return most, err
	}
	if longer == 0 {
		return latest(most, courts, TimeLaw{}, 0), nil
	}
	fewer, err := c.Times(n / courts)
	return latest(most, longer, fewer, courts-longer), err
}

// latest is the law of the latest of k times of one law and m of another.
func latest(c TimeLaw, k int, d TimeLaw, m int) TimeLaw {
	from, to := c.from, c.from+len(c.law)
	if m > 0 {
		to = max(to, d.from+len(d.law))
	}
	out := TimeLaw{step: c.step, from: from, law: make(Law, to-from), exact: c.exact}
	x, y, before := 0.0, 0.0, 0.0
	for n := range d.law {
		if d.from+n < from {
			y += d.law[n]
		}
	}
	for n := range out.law {
		x += at(c, from+n)
		y += at(d, from+n)
		upto := math.Pow(min(x, 1), float64(k)) * math.Pow(min(y, 1), float64(m))
		out.law[n], before = upto-before, upto
	}
	return out.trimmed()
}

func at(c TimeLaw, step int) float64 {
	if n := step - c.from; n >= 0 && n < len(c.law) {
		return c.law[n]
	}
	return 0
}
