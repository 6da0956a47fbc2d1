package main

import (
	"math"

	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/words"
)

// The charts that compare and explain share.

func winCurve() lines {
	return lines{Title: tell("lab.chance-of-the-better"),
		About:  tell("lab.the-chance-of-winning"),
		XLabel: tell("lab.more-rallies-won-in"), YLabel: tell("lab.chance-of-the-match")}
}

func (f *figures) winSeries() series {
	var s series
	for _, at := range f.ByEdge {
		s.X, s.Y = append(s.X, 100*at.Edge), append(s.Y, 100*at.Win)
	}
	return s
}

func firstCurve() lines {
	return lines{Title: tell("lab.what-serving-first-is-worth"),
		About:  tell("lab.percentage-points-of-the-match"),
		XLabel: tell("lab.own-serves-won-2"), YLabel: tell("lab.worth-of-serving-first"), Zero: true}
}

func (f *figures) firstSeries() series {
	var s series
	for _, at := range f.ByShare {
		s.X, s.Y = append(s.X, 100*at.Share), append(s.Y, 100*at.First)
	}
	return s
}

// lengthChart shows laws of lengths. Where a score is level only every other
// number of rallies can end a match, so neighbours are taken together, the
// longer the matches the more of them.
func lengthChart(all []*figures) lines {
	span := 0
	for _, f := range all {
		span = max(span, f.Law.Quantile(0.999)-f.Law.Quantile(0.001))
	}
	bin := 2 * max(1, span/100)
	out := lines{Title: tell("lab.how-many-rallies-a"),
		About:  tell("lab.the-share-of-matches-by"),
		XLabel: tell("lab.rallies-of-a-match"), YLabel: tell("lab.matches-for-each-rallies", words.Count("bin", bin)), FromZero: true}
	for _, f := range all {
		out.Series = append(out.Series, series{Name: f.Format}.of(f.Law, bin))
	}
	return out
}

// of returns the series with the shares of a law, some values taken together.
func (s series) of(law explore.Law, bin int) series {
	last := law.Quantile(0.999)
	for n := law.Quantile(0.001) / bin * bin; n <= last; n += bin {
		sum := 0.0
		for _, p := range law[n:min(n+bin, len(law))] {
			sum += p
		}
		s.X, s.Y = append(s.X, float64(n)+float64(bin-1)/2), append(s.Y, 100*sum)
	}
	return s
}

// heat is the chance of the better side by score, in the first game.
func (l *lab) heat(s strength) (heatMap, error) {
	all, err := l.game[0].Positions(s.rates())
	if err != nil {
		return heatMap{}, err
	}
	win, _ := l.byScore(all)
	return heatMap{Title: tell("lab.chance-of-the-better-side-by"),
		About:  tell("lab.the-chance-of-winning-the"),
		XLabel: tell("lab.points-of-the-better"), YLabel: tell("lab.points-of-the-other"), Legend: tell("lab.chance-of-the-game"),
		Cells: win, Min: 0, Max: 100, Scale: twoSided}, nil
}

// byScore returns, for every score below the target, the chance of A and what
// the next rally is worth, in per cent, over who serves there as often as it
// comes; NaN where play never comes.
func (l *lab) byScore(all []explore.PositionFigures) (win, worth [][]float64) {
	top := int(l.game[0].Rules().Format().Last.Target)
	weight := square(top)
	win, worth = square(top), square(top)
	for _, p := range all {
		a, b := p.Score[0], p.Score[1]
		if a >= top || b >= top {
			continue
		}
		weight[a][b] += p.Reached
		win[a][b] += 100 * p.Reached * p.Win
		worth[a][b] += 100 * p.Reached * p.Importance
	}
	for a := range top {
		for b := range top {
			if weight[a][b] == 0 {
				win[a][b], worth[a][b] = math.NaN(), math.NaN()
				continue
			}
			win[a][b] /= weight[a][b]
			worth[a][b] /= weight[a][b]
		}
	}
	return win, worth
}

func square(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
	}
	return out
}
