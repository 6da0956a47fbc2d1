package explore_test

import (
	"fmt"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
)

func ExampleGameModel_Figures() {
	f, _ := format.Parse("sideout-doubles-11@2026")
	g, err := explore.NewGameModel(f, 1, explore.Opening{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fig, err := g.Figures(explore.Rates{Serve: [2]float64{0.45, 0.42}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("A wins %.4f, %.1f rallies\n", fig.Win, fig.Mean)
	// Output: A wins 0.5862, 40.6 rallies
}

func ExampleCompare() {
	x, _ := format.Parse("rally-doubles-11@2025")
	y, _ := format.Parse("rally-doubles-11@2026")
	got, err := explore.Compare(x, y, explore.Alphabets()[0])
	if err != nil {
		fmt.Println(err)
		return
	}
	d := got.Difference
	fmt.Println(len(d.Events), "rallies;", d.Clauses[0].Field, d.Clauses[0].Values)
	fmt.Println(d.Outcomes[0].Did, "or", d.Outcomes[1].Did)
	// Output:
	// 12 rallies; game.freeze [win-on-serve none]
	// side-out,withheld or point,game-won,match-won
}

// Partners on fixed courts may exchange from an end change until the next
// rally, so that each of the 630 positions past the midpoint is there twice once
// the change has been made.
func ExampleProve() {
	f, _ := format.Parse("fixed-doubles-21-leader-and-trailer")
	proof, err := explore.Prove(f, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(proof.States, "states,", len(proof.Checked), "invariants,", len(proof.Broken), "broken,", len(proof.Dead), "dead rules")
	// Output: 2177 states, 11 invariants, 0 broken, 0 dead rules
}

func ExampleIncentives() {
	f, _ := format.Parse("rally-doubles-11@2026")
	got, err := explore.Incentives(f, []explore.Rates{explore.Equal(0.4), {Serve: [2]float64{0.5, 0.35}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(got.Moments, "choices compared; found:", len(got.Found))
	// Output: 7040 choices compared; found: 0
}

// How long a match takes, and how often four of them overrun a court that was
// booked for two hours.
func ExampleMatchModel_TimeLaw() {
	f, _ := format.Parse("sideout-doubles-11@2026")
	m, err := explore.NewMatchModel(f, explore.Opening{})
	if err != nil {
		fmt.Println(err)
		return
	}
	clock, err := m.TimeLaw(explore.Equal(0.42), explore.UsualPace())
	if err != nil {
		fmt.Println(err)
		return
	}
	court, err := clock.Slot(4, 2*60*60)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %.0f min, nine in ten within %.0f min; four overrun two hours: %.3f\n", clock.Mean()/60, clock.Seconds(0.9)/60, court.Overrun)
	// Output: mean 25 min, nine in ten within 31 min; four overrun two hours: 0.017
}

func ExampleBurdenOf() {
	f, _ := format.Parse("sideout-doubles-11@2026")
	b, err := explore.BurdenOf(f, 1, explore.Opening{}, explore.Equal(0.42))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("the serve passes to another player %.1f times a game, to the other side %.1f times\n", b.Turns, b.SideOuts)
	// Output: the serve passes to another player 24.5 times a game, to the other side 12.5 times
}

func ExampleFit() {
	f, _ := format.Parse("sideout-singles-11@2026")
	var events []rally.Event
	for _, winner := range "AABBABAAABBBABAAAABAAAAA" {
		events = append(events, rally.RallyTo(rally.Side(winner-'A')))
	}
	report, err := explore.Fit([]explore.Sample{{Name: "court 1", Format: f, Events: events}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range report.Serve {
		fmt.Printf("%s: %d of %d, between %.2f and %.2f\n", s.Of, s.Won, s.From, s.Low, s.High)
	}
	// Output:
	// side that served first: 11 of 16, between 0.44 and 0.86
	// other side: 3 of 8, between 0.14 and 0.69
}
