package explore_test

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
)

func match(t testing.TB, id string, first rally.Side) *explore.MatchModel {
	m, err := explore.NewMatchModel(mustParse(id), explore.Opening{First: first})
	require.NoError(t, err)
	return m
}

// eitherFirst is the law of the time of a match, whoever serves first.
func eitherFirst(t testing.TB, id string, r explore.Rates, pace explore.Pace) explore.TimeLaw {
	var of []explore.TimeLaw
	for first := explore.A; first <= explore.B; first++ {
		c, err := match(t, id, first).TimeLaw(r, pace)
		require.NoError(t, err)
		of = append(of, c)
	}
	return explore.MixedTimeLaw(of...)
}

func TestClock(t *testing.T) {
	m := match(t, "sideout-doubles-11-of3@2026", explore.A)
	r := serve(0.45, 0.42)
	f, err := m.Figures(r)
	require.NoError(t, err)
	pace := explore.Pace{Rally: 8, Between: 16, RallySpread: 5}
	c, err := m.TimeLaw(r, pace)
	require.NoError(t, err)
	require.InEpsilon(t, f.Mean*24, c.Mean(), 1e-9)
	require.InEpsilon(t, math.Sqrt(f.Variance*24*24+f.Mean*25), c.Deviation(), 1e-4)
	pace.Games, pace.TimeOut, pace.TakeTimeOut = 120, 60, 0.5
	with, err := m.TimeLaw(r, pace)
	require.NoError(t, err)
	require.InEpsilon(t, c.Mean()+120*(f.Games-1)+f.Games*4*30, with.Mean(), 1e-9)

	_, err = m.TimeLaw(r, explore.Pace{Rally: -1})
	require.ErrorContains(t, err, "pace.rally")
	_, err = m.TimeLaw(r, explore.Pace{})
	require.ErrorContains(t, err, "take time")
	for name, ask := range map[string]func() error{
		"no match":      func() error { _, err := c.Slot(0, 60); return err },
		"no time":       func() error { _, err := c.Slot(1, 0); return err },
		"no court":      func() error { _, err := c.Day(0, 4, 60); return err },
		"courts idle":   func() error { _, err := c.Day(5, 4, 60); return err },
		"too many":      func() error { _, err := c.Slot(101, 60); return err },
		"an empty law":  func() error { _, err := explore.TimeLaw{}.Slot(1, 60); return err },
		"a day of none": func() error { _, err := explore.TimeLaw{}.Day(2, 2, 60); return err },
	} {
		require.Error(t, ask(), name)
	}
	require.Nil(t, c.Law(0))
}

// Without a spread of rallies the time comes in steps, and every chance is
// that of a number of rallies.
func TestClockOfEvenRalliesIsTheLawOfTheirNumber(t *testing.T) {
	m := match(t, "rally-doubles-11@2026", explore.A)
	r := serve(0.45, 0.42)
	length, err := m.Length(r)
	require.NoError(t, err)
	c, err := m.TimeLaw(r, explore.Pace{Rally: 8, Between: 16, WarmUp: 96})
	require.NoError(t, err)
	for _, n := range []int{15, 18, 21, 30} {
		require.InDelta(t, length.All.Beyond(n), c.Beyond(float64(96+24*n)), 1e-12, "%d rallies", n)
		require.InDelta(t, length.All.Beyond(n), c.Beyond(float64(96+24*n)+23), 1e-12, "%d rallies", n)
	}
	require.InDelta(t, float64(96+24*length.All.Quantile(0.95)), c.Seconds(0.95), 1e-9)
}

// What a law of time says does not hang on how it is asked: quantiles and
// chances are each other's reverse, and a law in steps sums to one.
func TestClockIsConsistent(t *testing.T) {
	c := eitherFirst(t, "sideout-doubles-11@2026", serve(0.45, 0.39), explore.UsualPace())
	for _, p := range []float64{0.05, 0.25, 0.5, 0.75, 0.95, 0.99} {
		require.InDelta(t, 1-p, c.Beyond(c.Seconds(p)), 1e-6)
	}
	for _, step := range []float64{0.5, 1, 7, 10, 30, 60, 600, 3600} {
		law := c.Law(step)
		sum := 0.0
		for n, p := range law {
			sum += p
			require.InDelta(t, 1-sum, c.Beyond(float64(n)*step), 1e-9)
		}
		require.InDelta(t, 1, sum, 1e-9)
	}
	// Two courts of one match each are over when the longer one is.
	two, err := c.Day(2, 2, 1500)
	require.NoError(t, err)
	within := 1 - c.Beyond(1500)
	require.InDelta(t, 1-within*within, two.Overrun, 2e-5)
	// Three matches on two courts: two on one of them, and hardly ever later than that.
	three, err := c.Day(2, 3, 3000)
	require.NoError(t, err)
	pair, err := c.Slot(2, 3000)
	require.NoError(t, err)
	require.InDelta(t, 1-(1-pair.Overrun)*(1-c.Beyond(3000)), three.Overrun, 2e-5)
	require.Greater(t, three.Mean, pair.Mean)
}

// The chance that a row of matches needs more than its slot, against a
// simulation of rallies written apart (a million matches or more a figure,
// better side at 45 % of its serves and 61 % of those it receives): chance and
// standard error, in per cent.
func TestSlotsAgreeWithSimulation(t *testing.T) {
	r := serve(0.45, 0.39)
	for _, row := range []struct {
		id             string
		matches        int
		minutes        float64
		chance, within float64
	}{
		{"rally-doubles-21@2026", 1, 25, 31.32, 0.05},
		{"rally-doubles-21@2026", 5, 125, 16.66, 0.06},
		{"rally-doubles-21@2026", 10, 250, 9.15, 0.06},
		{"rally-doubles-21@2026", 20, 500, 3.21, 0.06},
		{"sideout-doubles-11@2026", 20, 500, 35.71, 0.20},
		{"sideout-doubles-11-of3@2026", 8, 480, 9.54, 0.12},
		{"rally-doubles-21-of5@2026", 4, 360, 22.45, 0.17},
	} {
		got, err := eitherFirst(t, row.id, r, explore.UsualPace()).Slot(row.matches, row.minutes*60)
		require.NoError(t, err)
		t.Logf("%s, %d in %g min: %.2f, simulated %.2f +- %.2f", row.id, row.matches, row.minutes, 100*got.Overrun, row.chance, row.within)
		require.InDelta(t, row.chance, 100*got.Overrun, 2*row.within, "%s, %d matches", row.id, row.matches)
	}
}

// The same from 1 to 20 matches against days drawn here, rally by rally of each
// match's own number of them.
func TestSlotHasNoBias(t *testing.T) {
	days := 100_000
	if testing.Short() {
		days = 5_000
	}
	pace := explore.UsualPace()
	r := serve(0.45, 0.39)
	m := match(t, "rally-doubles-11@2026", explore.A)
	length, err := m.Length(r)
	require.NoError(t, err)
	outs := 2 * int(m.Format().Game.TimeOuts)
	var below []float64
	sum := 0.0
	for _, p := range length.All {
		sum += p
		below = append(below, sum)
	}
	c, err := m.TimeLaw(r, pace)
	require.NoError(t, err)
	random := rand.New(rand.NewPCG(17, 1))
	over := make([]int, 21)
	slots := make([]float64, 21)
	for n := range slots {
		slots[n] = float64(n)*c.Mean() + 1.2*math.Sqrt(float64(n))*c.Deviation()
	}
	for range days {
		total := 0.0
		for n := 1; n <= 20; n++ {
			rallies := min(sort.SearchFloat64s(below, random.Float64()), len(below)-1)
			total += pace.WarmUp + pace.EndChange + float64(rallies)*(pace.Rally+pace.Between) + pace.RallySpread*math.Sqrt(float64(rallies))*random.NormFloat64()
			for range outs {
				if random.Float64() < pace.TakeTimeOut {
					total += pace.TimeOut
				}
			}
			if total > slots[n] {
				over[n]++
			}
		}
	}
	for n := 1; n <= 20; n++ {
		got, err := c.Slot(n, slots[n])
		require.NoError(t, err)
		seen := float64(over[n]) / float64(days)
		deviation := math.Sqrt(got.Overrun * (1 - got.Overrun) / float64(days))
		require.InDelta(t, seen, got.Overrun, 3.5*deviation, "%d matches: %.4f against %.4f", n, got.Overrun, seen)
	}
}
