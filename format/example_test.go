package format_test

import (
	"fmt"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
)

// A format has two coordinates: what is played, and the edition in force.
func ExampleNamed() {
	f, err := format.Named("rally-doubles-15", format.E2025)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Game.Target, f.Game.Freeze, f.ID())
	_, err = format.Named("rally-doubles-15", format.E2024)
	fmt.Println(err)
	// Output:
	// 15 win-on-serve rally-doubles-15@2025
	// format: edition: shape rally-doubles-15 does not exist in edition 2024
}

// Every value of an edition knows where it comes from.
func ExampleOrigin() {
	e, _ := format.EditionOn(format.Pickleball, 2023, 8, 20)
	r := format.RulingsOf(e)
	s := format.Clause(clause.OrderReplay).Switch()
	source, _ := format.Origin(e, s)
	fmt.Println(e, r.Text(s), source.Rule, source.Mark)
	// Output: 2023-08 replay-if-stopped 4.B.9.a read
}

// A reading of an open point is part of the format's id.
func ExampleParse() {
	f, _ := format.Parse("sideout-doubles-11@2025+removed-point-wins=yes")
	fmt.Println(f.Rulings.Text(format.Clause(clause.RemovedPointEndsNot).Switch()), f.ID())
	// Output: yes sideout-doubles-11@2025+removed-point-wins=yes
}

// A club's own game: to 13 by one, at most 15, under the rulings of 2026.
func ExampleCustom() {
	f := format.Custom(format.E2026, format.Game{Sides: format.Doubles, Scorer: format.ServingSide, Servers: 2, Order: format.ByParity,
		Target: 13, WinBy: 1, Cap: 15}, format.Series{Games: 1, NextServe: format.OtherSide})
	fmt.Println(f.ID(), f.Validate())
	fmt.Println(f.Game.TimeOuts, "time-outs, ends change at", f.Game.ChangeEndsAt)
	// Output:
	// sideout-doubles-11@2026+target=13+win-by=1+cap=15 <nil>
	// 2 time-outs, ends change at 7
}

// What a club plays otherwise than the edition.
func ExampleFormat_Deviations() {
	book, _ := format.Parse("sideout-doubles-11@2026")
	club, _ := format.Parse("sideout-doubles-11@2026+target=9+change-ends-at=5+foul-value=award")
	for _, d := range book.Deviations(club) {
		fmt.Println(d.Field, d.Was, "->", d.Is)
	}
	// Output:
	// target 11 -> 9
	// change-ends-at 6 -> 5
	// foul-value remove -> award
}
