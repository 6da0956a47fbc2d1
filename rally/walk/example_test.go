package walk_test

import (
	"fmt"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/walk"
)

func ExamplePlan_Walk() {
	r := rules("sideout-doubles-11@2026")
	root, _, _ := r.Apply(r.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
	g, err := walk.Plan{Rules: r, Root: root, Alphabet: walk.Rallies()}.Walk()
	if err != nil {
		fmt.Println(err)
		return
	}
	ends := 0
	for i := range g.Len() {
		if g.State(i).Phase() == rally.Over {
			ends++
		}
	}
	fmt.Println(g.Len(), "states,", ends, "of them ends of the game")
	// Output: 981 states, 24 of them ends of the game
}
