package main

import (
	"fmt"
	"math"

	"github.com/evencourt/evencourt/rally/explore"
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
		return fmt.Sprintf("Equal sides: each wins %s of the rallies it serves.", percent(s.share()))
	}
	return fmt.Sprintf("The better side wins %s of the rallies it serves and %s of those it receives: %.1f rallies in a hundred more than an equal side, which would win %s of its own serves.",
		percent(s.OnServe), percent(s.Receiving), 100*s.edge(), percent(s.share()))
}

// model says what all figures rest on.
const model = "Figures are exact for a model: rallies are independent, and only who serves changes the chance of winning one."
