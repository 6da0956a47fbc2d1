package explore

import (
	"math"
	"strconv"

	"github.com/evencourt/evencourt/rally"
)

// Rates are the chances of rallies.
type Rates struct {
	// Serve holds for A and B the chance of winning a rally that the side serves.
	Serve [2]float64 `json:"serve"`
	// Pair, if given, replaces Serve: the chance that the server's side wins, by
	// server and receiver (A1 A2 B1 B2). Pairs of one side are not read.
	Pair *[4][4]float64 `json:"pair,omitempty"`
	// End is what the better end is worth in every rally, in log-odds of winning
	// it, to the side that stands there: 0 for nothing, 0.2 turns 50 % into 55 %.
	// A starts the match there unless an [Opening] says otherwise.
	End float64 `json:"end,omitempty"`
}

// Equal are the rates of equal sides that win a share of their own serves; at
// one half every rally is a coin toss.
func Equal(share float64) Rates { return Rates{Serve: [2]float64{share, share}} }

// Swapped returns the rates with A and B exchanged.
func (r Rates) Swapped() Rates {
	out := Rates{Serve: [2]float64{r.Serve[B], r.Serve[A]}, End: -r.End}
	if r.Pair != nil {
		var pair [4][4]float64
		for s := range pair {
			for t := range pair {
				pair[s][t] = r.Pair[s^2][t^2]
			}
		}
		out.Pair = &pair
	}
	return out
}

// validate refuses what is not a chance.
func (r Rates) validate() error {
	if r.Pair == nil {
		for s, p := range r.Serve {
			if !chance(p) {
				return &InputError{"serve[" + strconv.Itoa(s) + "]", "must be a chance from 0 to 1, not " + text(p)}
			}
		}
	} else {
		for s := range r.Pair {
			for t, p := range r.Pair[s] {
				if s>>1 != t>>1 && !chance(p) {
					return &InputError{"pair[" + rally.Person(s).String() + "][" + rally.Person(t).String() + "]",
						"must be a chance from 0 to 1, not " + text(p)}
				}
			}
		}
	}
	if math.IsNaN(r.End) || math.Abs(r.End) > 10 {
		return &InputError{"end", "must be a log-odds from -10 to 10, not " + text(r.End)}
	}
	return nil
}

func chance(p float64) bool { return p >= 0 && p <= 1 }

func text(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

// plain reports whether only the serving side matters.
func (r Rates) plain() bool { return r.Pair == nil && r.End == 0 }

// A situation is what the chance of a rally may depend on, as an index of the
// table of rates. Where only the side matters it is the serving side.
type situation uint8

const situations = 32

// swaps is 1 where the sides have changed ends an odd number of times.
func swaps(s rally.State) int {
	if s.EndsSwapped() {
		return 1
	}
	return 0
}

func situationOf(p rally.Places, ends int) situation {
	return situation(uint8(p.Server)<<3 | uint8(p.Receiver)<<1 | uint8(ends))
}

// odds are the server's chances of winning and of losing the rally in every
// situation. Both are kept: the smaller would lose digits in 1-p.
type odds struct{ win, lose [situations]float64 }

func (r Rates) odds(detailed bool) (o odds) {
	if !detailed {
		for s := A; s <= B; s++ {
			o.win[s], o.lose[s] = r.Serve[s], 1-r.Serve[s]
		}
		return o
	}
	for s := range situation(situations) {
		server, receiver, ends := rally.Person(s>>3), rally.Person(s>>1&3), s&1
		p := r.Serve[server.Side()]
		if r.Pair != nil {
			p = r.Pair[server][receiver]
		}
		shift := r.End
		if (server.Side() == B) != (ends == 1) {
			shift = -shift // the server stands at the worse end
		}
		o.win[s], o.lose[s] = p, 1-p
		if shift != 0 {
			e := math.Exp(shift)
			o.win[s], o.lose[s] = p*e/(p*e+1-p), (1-p)/(p*e+1-p)
		}
	}
	return o
}
