// Package explore looks at every game of a format at once: the exact chances
// and lengths of games and matches, what an end, a first server or a point is
// worth, where losing a rally would pay, what a format asks of its referee, and
// the shortest sequence of events on which two formats disagree.
//
// Everything is computed from [rally.Rules.Apply] by walking it (package
// walk); no rule of scoring is written here a second time. Chances come from
// elimination along the score lattice with a closed form for the endgame, not
// from simulation. A format that is endless, or too large, is said to be so
// before any work is done on it.
//
// Chances are those of a model: rallies are independent, and who wins one
// depends on who serves it (if wanted: on server, receiver and end). [Fit]
// tests that against logs.
package explore

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Side is one team or player: A or B.
type Side = rally.Side

// The sides.
const (
	A = rally.A
	B = rally.B
)

// InputError reports a value that cannot be used, before any work starts.
type InputError struct {
	Field  string // which input, such as "serve[0]"
	Reason string // what is wrong with it
}

// Error implements error.
func (e *InputError) Error() string { return "explore: " + e.Field + ": " + e.Reason }

// SizeError reports a format or an analysis that needs more states than are
// allowed.
type SizeError struct {
	What string // what would have been counted
	Size uint64 // how many there are, or could be
	Most uint64 // how many are allowed
}

// Error implements error.
func (e *SizeError) Error() string {
	return "explore: " + e.What + ": " + strconv.FormatUint(e.Size, 10) + " is more than the " +
		strconv.FormatUint(e.Most, 10) + " allowed"
}

// EndlessError reports a game that may never end, or that cannot be played on.
type EndlessError struct {
	Line   string // canonical line of a position from which nobody can finish
	Reason string
}

// Error implements error.
func (e *EndlessError) Error() string { return "explore: endless: " + e.Reason + ": " + e.Line }

// mostStates is the most states of a game that this package explores. Doubles
// to 21 needs 4 thousand, the largest format that can be written down about a
// million.
const mostStates = 1 << 20

// SingleGame returns one kind of game of a format as a format of its own: a single
// game under the same rulings. Game n counts from 1.
func SingleGame(f format.Format, n int) format.Format {
	g := *f.Of(n)
	if f.Match.Games == 1 {
		return f
	}
	f.Shape = ""
	f.Game, f.Last = g, g
	f.Match.Games, f.Match.PlayAll = 1, false
	return f
}
