// Package serviceorder knows who serves, from which court, to whom, and how
// that changes: the whole transition of an order of service after a won, a
// lost or a replayed rally, a side-out, a penalty, an exchange of places.
//
// It knows nothing of who scores or when a game ends: the caller says whether
// a rally scored and what the scores are. A [Turn] is one byte; who stands
// where is read from it together with the scores.
package serviceorder

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
)

// Side is one team or player: A or B.
type Side uint8

// The sides.
const (
	A Side = iota
	B
)

// Other returns the opponents.
func (s Side) Other() Side { return s ^ 1 }

// String returns "A" or "B"; "?" for what is none.
func (s Side) String() string {
	if int(s) < len(sideNames) {
		return sideNames[s]
	}
	return "?"
}

var sideNames = [2]string{"A", "B"}

// MarshalText implements encoding.TextMarshaler.
func (s Side) MarshalText() ([]byte, error) {
	if s > B {
		return nil, &TextError{"side", strconv.Itoa(int(s))}
	}
	return []byte(s.String()), nil
}

// UnmarshalText implements encoding.TextUnmarshaler.
func (s *Side) UnmarshalText(text []byte) error { return unmarshal(s, sideNames[:], "side", text) }

// Person is a player as entered for the whole match.
type Person uint8

// The persons. In singles only A1 and B1 play.
const (
	A1 Person = iota
	A2
	B1
	B2
)

// Side returns the person's side.
func (p Person) Side() Side { return Side(p >> 1 & 1) }

// Partner returns the other player of the side.
func (p Person) Partner() Person { return p ^ 1 }

// PersonOf returns player 1 or 2 of a side.
func PersonOf(s Side, player int) Person { return Person(uint8(s)<<1 | uint8(player-1)&1) }

// Player returns 1 or 2.
func (p Person) Player() int { return int(p&1) + 1 }

// String returns "A1" and so on; "?" for what is none.
func (p Person) String() string {
	if int(p) < len(personNames) {
		return personNames[p]
	}
	return "?"
}

var personNames = [4]string{"A1", "A2", "B1", "B2"}

// MarshalText implements encoding.TextMarshaler.
func (p Person) MarshalText() ([]byte, error) {
	if p > B2 {
		return nil, &TextError{"person", strconv.Itoa(int(p))}
	}
	return []byte(p.String()), nil
}

// UnmarshalText implements encoding.TextUnmarshaler.
func (p *Person) UnmarshalText(text []byte) error {
	return unmarshal(p, personNames[:], "person", text)
}

// Court is a service court: right, which is even, or left, which is odd.
type Court uint8

// The courts.
const (
	Right Court = iota
	Left
	NoCourt // the sport has no service courts, or nobody says in which one somebody is
)

// Other returns the other court.
func (c Court) Other() Court {
	if c >= NoCourt {
		return NoCourt
	}
	return c ^ 1
}

// String returns "R", "L" or "-"; "?" for what is none.
func (c Court) String() string {
	if int(c) < len(courtNames) {
		return courtNames[c]
	}
	return "?"
}

var courtNames = [...]string{"R", "L", "-"}

// MarshalText implements encoding.TextMarshaler.
func (c Court) MarshalText() ([]byte, error) {
	if c > NoCourt {
		return nil, &TextError{"court", strconv.Itoa(int(c))}
	}
	return []byte(c.String()), nil
}

// UnmarshalText implements encoding.TextUnmarshaler.
func (c *Court) UnmarshalText(text []byte) error { return unmarshal(c, courtNames[:], "court", text) }

// TextError reports a side, person or court that does not exist.
type TextError struct {
	Kind string // "side", "person" or "court"
	Text string
}

// Error implements error.
func (e *TextError) Error() string { return "serviceorder: no such " + e.Kind + ": " + e.Text }

func unmarshal[T ~uint8](v *T, names []string, kind string, text []byte) error {
	for i, name := range names {
		if name == string(text) {
			*v = T(i)
			return nil
		}
	}
	return &TextError{kind, format.Quote(string(text))}
}

// Starters says for each side which player is its starting server of a game;
// on fixed courts, who stands right.
type Starters [2]Person

// String returns "A1B1" and so on.
func (s Starters) String() string { return s[A].String() + s[B].String() }

// Turn is the order of service of a game at one moment. Its bits, from the
// lowest: serving side; the server is the partner of the starting server;
// second of two servers; A's and B's partners exchanged (where they swap on own
// serve; where they serve in turn, whether the partner is next; where turns are
// counted, A's alone: the order goes the other way round); B served first in this game; A2, B2 is the starting server.
// Bits that an order has no use for are zero, so equal states are equal.
type Turn uint8

// The bits of a [Turn].
const (
	sideBit Turn = 1 << iota
	partnerBit
	secondBit
	swapABit
	swapBBit
	firstBit
	startABit
	startBBit

	// Moving masks the bits that change within a game; the rest is fixed when
	// the game starts.
	Moving = firstBit - 1
)

// String says the serving side and the number of its server, such as "A#2"; an order
// without numbers has 1 there.
func (s Turn) String() string { return s.Side().String() + "#" + string('0'+rune(s.Number())) }

// Side returns the serving side.
func (s Turn) Side() Side { return Side(s & sideBit) }

// Number returns the server number, 1 or 2; it means nothing where an order has
// none, see [Service.Numbers].
func (s Turn) Number() int { return 1 + int(s/secondBit&1) }

// ByStarter reports whether the starting server of the side serves, where two
// servers take turns.
func (s Turn) ByStarter() bool { return s&partnerBit == 0 }

// First returns the side that served first in this game.
func (s Turn) First() Side { return Side(s / firstBit & 1) }

// Starters returns the starting servers of this game.
func (s Turn) Starters() Starters {
	return Starters{A1 + Person(s/startABit&1), B1 + Person(s/startBBit&1)}
}

func (s Turn) swapped(side Side) Turn { return s >> (3 + side) & 1 }

// Prepare returns the part of a state that is fixed when a game starts.
func Prepare(first Side, st Starters) Turn {
	return Turn(first)*firstBit | Turn(st[A]&1)*startABit | Turn(st[B]&1)*startBBit
}
