package explore

import (
	"math"

	"github.com/evencourt/evencourt/format"
)

// Fairness is how a format treats two sides at one pair of strengths.
type Fairness struct {
	Rates      Rates   `json:"rates"`
	WinFirst   float64 `json:"win_first"`  // A's chance of the match, serving first
	WinSecond  float64 `json:"win_second"` // A's chance, receiving first
	ServeFirst float64 `json:"serve_first"`
	Mean       float64 `json:"mean"`     // rallies of the match, averaged over who serves first
	Spread     float64 `json:"spread"`   // standard deviation of the rallies
	Better     float64 `json:"better"`   // chance of the side with the better rates, averaged over who serves first
	ShutOut    float64 `json:"shut_out"` // chance that the first game is won to nothing
}

// Sweep returns the fairness of a format over a grid of strengths: every pair
// of the shares of own serves won. The report, if there is one, is called
// after each pair with how many are done.
func Sweep(f format.Format, shares []float64, report func(done, all int)) ([]Fairness, error) {
	if len(shares) == 0 || len(shares) > 200 {
		return nil, &InputError{"shares", "must be 1 to 200 chances"}
	}
	for _, p := range shares {
		if err := Equal(p).validate(); err != nil {
			return nil, err
		}
	}
	var m [2]*MatchModel
	var g [2]*GameModel
	for first := A; first <= B; first++ {
		var err error
		if m[first], err = NewMatchModel(f, Opening{First: first}); err != nil {
			return nil, err
		}
		if g[first], err = NewGameModel(f, 1, Opening{First: first}); err != nil {
			return nil, err
		}
	}
	var out []Fairness
	for _, pa := range shares {
		for _, pb := range shares {
			e := Fairness{Rates: Rates{Serve: [2]float64{pa, pb}}}
			var fig [2]MatchFigures
			for first := A; first <= B; first++ {
				var err error
				if fig[first], err = m[first].Figures(e.Rates); err != nil {
					return nil, err
				}
				game, err := g[first].Figures(e.Rates)
				if err != nil {
					return nil, err
				}
				e.ShutOut += (game.ShutOut[A] + game.ShutOut[B]) / 2
			}
			e.WinFirst, e.WinSecond = fig[A].Win, fig[B].Win
			e.ServeFirst = e.WinFirst - e.WinSecond
			e.Mean = (fig[A].Mean + fig[B].Mean) / 2
			d := fig[A].Mean - fig[B].Mean
			e.Spread = math.Sqrt((fig[A].Variance+fig[B].Variance)/2 + d*d/4)
			e.Better = (e.WinFirst + e.WinSecond) / 2
			if pb > pa {
				e.Better = 1 - e.Better - (fig[A].Tie+fig[B].Tie)/2
			}
			out = append(out, e)
			if report != nil {
				report(len(out), len(shares)*len(shares))
			}
		}
	}
	return out, nil
}
