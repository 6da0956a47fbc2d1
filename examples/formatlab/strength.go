package main

import (
	"fmt"
	"math"

	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/words"
)

// strength is how good two sides are against each other: the chance of the
// better one, which is A throughout, to win a rally.
type strength struct {
	OnServe   float64 `json:"on_serve"`  // that it serves
	Receiving float64 `json:"receiving"` // that it receives
}

// strengthOf returns the strength of sides that differ by an edge, where equal
// ones would win a share of their own serves.
func strengthOf(share, edge float64) strength { return strength{share + edge, 1 - share + edge} }

func (s strength) rates() explore.Rates {
	return explore.Rates{Serve: [2]float64{s.OnServe, 1 - s.Receiving}}
}

// share is what equal sides would win of their own serves.
func (s strength) share() float64 { return (s.OnServe + 1 - s.Receiving) / 2 }

// edge is how many rallies more than equal sides the better side wins, served
// or received, as a share.
func (s strength) edge() float64 {
	e := (s.OnServe + s.Receiving - 1) / 2
	if math.Abs(e) < 1e-12 {
		return 0 // decimal chances that sum to 1
	}
	return e
}

// possible reports whether both are chances.
func (s strength) possible() bool {
	return s.OnServe >= 0 && s.OnServe <= 1 && s.Receiving >= 0 && s.Receiving <= 1
}

// about says in words what the strength means.
func (s strength) about() string {
	if s.edge() == 0 {
		return tell("lab.equal-sides-each-wins", words.Name("share", percent(s.share())))
	}
	return tell("lab.the-better-side-wins-of", words.Name("on-serve", percent(s.OnServe)), words.Name("receiving", percent(s.Receiving)), words.Name("edge", fmt.Sprintf("%.1f", 100*s.edge())), words.Name("share", percent(s.share())))
}
