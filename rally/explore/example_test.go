package explore_test

import (
	"fmt"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/explore"
)

func ExampleGame_Figures() {
	f, _ := format.Parse("sideout-doubles-11@2026")
	g, err := explore.NewGame(f, 1, explore.Opening{})
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
