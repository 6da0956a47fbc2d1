package rally

import (
	"strconv"
	"unicode/utf8"

	"github.com/evencourt/evencourt/format"
)

// Setup is what is known before the first serve and never affects the score:
// names, marks, and where the sides stand. Everything in it may be supplied or
// changed later.
type Setup struct {
	Match   string `json:"match,omitempty"`   // what the match is called
	Court   string `json:"court,omitempty"`   // where it is played
	Referee string `json:"referee,omitempty"` // who officiates
	// Began is the moment from which the elapsed times of the log are counted, as
	// RFC 3339 with the offset of the place: the time of day of every entry.
	Began string  `json:"began,omitempty"` // RFC 3339: from when the times of the log are counted
	Sides [2]Team `json:"sides"`           // A and B
	// Left is the side on the referee's left, seen from his post, at the first
	// serve of the match.
	Left Side `json:"left"`
	// First is the side that serves first, if that is settled.
	First *Side `json:"first,omitempty"`
}

// Team is one side's names.
type Team struct {
	Name    string    `json:"name,omitempty"`
	Players [2]Player `json:"players"` // the second is empty in singles
}

// Player is one person: an id that identifies him, if there is one, a name,
// and a short mark that tells partners apart from the referee's post.
type Player struct {
	ID   string `json:"id,omitempty"`
	Name string `json:"name,omitempty"`
	Mark string `json:"mark,omitempty"`
}

// SetupError reports an impossible set-up.
type SetupError struct {
	Field  string // dotted path, such as "sides.0.players.1"; "" for all of it
	Reason string
}

// Error implements error.
func (e *SetupError) Error() string {
	if e.Field == "" {
		return "rally: set-up: " + e.Reason
	}
	return "rally: set-up: " + e.Field + ": " + e.Reason
}

// mostSetup is the most bytes that a set-up can have as JSON.
const mostSetup = 30_000

// Validate reports the first field at fault as a [*SetupError]; what it passes, a
// record takes. Names are opaque: equal names are two people unless their ids are
// equal too.
func (r *Rules) Validate(u Setup) error {
	seen := map[string]bool{}
	if field := u.unreadable(); field != "" {
		return &SetupError{field, "holds bytes that are not UTF-8"}
	}
	for side := A; side <= B; side++ {
		for i, p := range u.Sides[side].Players {
			at := playerField(side, i)
			if i == 1 && !r.doubles && p != (Player{}) {
				return &SetupError{at, "singles has one player a side"}
			}
			if p.ID == "" {
				continue
			}
			if seen[p.ID] {
				return &SetupError{at, "the same player twice: " + format.Quote(shorten(p.ID))}
			}
			seen[p.ID] = true
		}
	}
	if u.Left > B {
		return &SetupError{"left", "want side A or B"}
	}
	if u.First != nil && *u.First > B {
		return &SetupError{"first", "want side A or B"}
	}
	if len(appendSetup(nil, &u)) > mostSetup {
		return &SetupError{"", "longer than " + strconv.Itoa(mostSetup) + " bytes"}
	}
	return nil
}

func playerField(side Side, player int) string {
	return "sides." + strconv.Itoa(int(side)) + ".players." + strconv.Itoa(player)
}

// unreadable names the first text that is no UTF-8, and which JSON would change; "" for
// none.
func (u *Setup) unreadable() string {
	texts := []struct{ field, text string }{{"match", u.Match}, {"court", u.Court}, {"referee", u.Referee}, {"began", u.Began}}
	for side := A; side <= B; side++ {
		team := &u.Sides[side]
		texts = append(texts, struct{ field, text string }{"sides." + strconv.Itoa(int(side)) + ".name", team.Name})
		for i, p := range team.Players {
			at := playerField(side, i)
			texts = append(texts, []struct{ field, text string }{{at + ".id", p.ID}, {at + ".name", p.Name}, {at + ".mark", p.Mark}}...)
		}
	}
	for _, t := range texts {
		if !utf8.ValidString(t.text) {
			return t.field
		}
	}
	return ""
}

// Begin returns the state that a set-up begins with.
func (r *Rules) Begin(u Setup) State {
	if u.First == nil {
		return State{}
	}
	return r.New(*u.First)
}

// Name returns what to call a player: his name, or "A1" where none is known.
func (u *Setup) Name(p Person) string {
	if name := u.Sides[p.Side()].Players[p.Player()-1].Name; name != "" {
		return name
	}
	return p.String()
}

// Mark returns a player's distinguishing mark; it may be empty.
func (u *Setup) Mark(p Person) string { return u.Sides[p.Side()].Players[p.Player()-1].Mark }

// SideName returns what to call a side: its name, or its players' names.
func (u *Setup) SideName(s Side, doubles bool) string {
	switch name := u.Sides[s].Name; {
	case name != "":
		return name
	case !doubles:
		return u.Name(Person(s << 1))
	}
	return u.Name(Person(s<<1)) + " / " + u.Name(Person(s<<1|1))
}
