package setup

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Ladder is a match of the Harbour Lane Courts autumn ladder, which is invented: whom
// examples are about.
func Ladder(f format.Format) rally.Setup {
	u := rally.Setup{Match: "Harbour Lane Courts autumn ladder", Referee: "Noor Haddad", Sides: [2]rally.Team{
		{Players: [2]rally.Player{{Name: "Imani Okafor"}, {Name: "Tomasz Zielinski"}}},
		{Players: [2]rally.Player{{Name: "Priya Raman"}, {Name: "Lars Nyberg"}}},
	}}
	if f.Game.Sides == format.Singles {
		u.Sides = [2]rally.Team{
			{Players: [2]rally.Player{{Name: "Mei-Lin Castellanos"}}},
			{Players: [2]rally.Player{{Name: "Rafael Oyelaran"}}},
		}
	}
	return u
}
