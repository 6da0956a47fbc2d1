package explore

import (
	"math"
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Sample is one recorded game: its format, as a game of its own, and what
// happened, from the start of the game on. Rallies after its end are refused.
type Sample struct {
	Name   string
	Format format.Format
	Events []rally.Event
}

// Share is a share of successes with a 95 % interval by Wilson's score method
// (Wilson 1927), which holds for small counts too.
type Share struct {
	Of   string  `json:"of"`
	Won  int     `json:"won"`
	From int     `json:"from"`
	Rate float64 `json:"rate"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// NewShare returns a share of n with its interval.
func NewShare(of string, won, n int) Share {
	s := Share{Of: of, Won: won, From: n, High: 1}
	if n <= 0 {
		return s
	}
	const z = 1.959963984540054
	x, m := float64(won), float64(n)
	s.Rate = x / m
	centre := (x + z*z/2) / (m + z*z)
	half := z / (m + z*z) * math.Sqrt(x*(m-x)/m+z*z/4)
	s.Low, s.High = max(0, centre-half), min(1, centre+half)
	return s
}

// Test is a test of the model with its p-value: how often chance alone would
// give at least as much of a deviation.
type Test struct {
	Name      string  `json:"name"`
	Statistic float64 `json:"statistic"` // chi-square, or z where Freedom is 0
	Freedom   int     `json:"freedom"`
	P         float64 `json:"p"`
	Says      string  `json:"says"`
	// Sees is the difference between two groups, as a share of rallies, that the
	// test finds at 0.05 in four cases of five; a smaller one it will mostly miss.
	// It is 0 where there are not two groups.
	Sees float64 `json:"sees,omitempty"`
}

// Prediction is the length of games as predicted and as observed.
type Prediction struct {
	Format    string  `json:"format"`
	Games     int     `json:"games"`
	Predicted float64 `json:"predicted"` // mean rallies of a game
	Spread    float64 `json:"spread"`    // standard deviation of one game's rallies, as predicted
	Observed  float64 `json:"observed"`
	Z         float64 `json:"z"` // of the observed mean
	P         float64 `json:"p"`
}

// FitReport says whether the model fits recorded games.
type FitReport struct {
	Games      int          `json:"games"`
	Unfinished int          `json:"unfinished"` // games whose record does not end them; left out of lengths
	Rallies    int          `json:"rallies"`
	Serve      []Share      `json:"serve"`   // by serving side: that of the side serving first, the other
	Players    []Share      `json:"players"` // by server
	Tests      []Test       `json:"tests"`
	Lengths    []Prediction `json:"lengths"`
	Rates      Rates        `json:"rates"` // fitted, by serving side over all games
}

// Fit replays recorded games (A is whoever served first) and compares them with
// the model. It estimates the chance of winning a rally on serve, by side and by
// server, tests whether it changes towards the end of a game, whether one rally
// depends on the one before and whether games are alike, and predicts lengths.
// A game whose events are refused is an [*InputError] that names it.
func Fit(samples []Sample) (FitReport, error) {
	if len(samples) == 0 {
		return FitReport{}, &InputError{"samples", "none given"}
	}
	var t tally
	for n, sample := range samples {
		name := sample.Name
		if name == "" {
			name = strconv.Itoa(n + 1)
		}
		if err := t.game(name, sample); err != nil {
			return FitReport{}, err
		}
	}
	return t.report()
}

// tally counts rallies and those that the server's side won: [rallies, won].
type tally struct {
	games, unfinished, rallies int
	side, late, after          [2][2]int // by serving side; early and late; by whether it won the rally before
	server                     [4][2]int
	perGame                    [][2]int // game by game
	lengths                    map[format.Format][]int
	order                      []format.Format
}

// lateFrom is how many points short of the target a side is when the end of
// the game is near.
const lateFrom = 2

// game replays one recorded game.
func (t *tally) game(name string, sample Sample) error {
	r, err := rally.Compile(sample.Format)
	if err != nil {
		return &InputError{"samples " + name, err.Error()}
	}
	s := r.New(A)
	near := int(sample.Format.Last.Target) - lateFrom
	before := -1 // what the server's side did in the rally before: 1 won, 0 lost
	rallies := 0
	var game [2]int
	for i, e := range sample.Events {
		if e.Kind() == rally.RallyWon && s.Phase() != rally.Playing && s.Phase() != rally.Over {
			first, _ := r.NextFirst(s)
			s, _, _ = r.Apply(s, rally.Start(first, rally.Starters{rally.A1, rally.B1}))
		}
		next, _, refusal := r.Apply(s, e)
		if refusal != rally.NotRefused {
			return &InputError{"samples " + name, "entry " + strconv.Itoa(i+1) + " (" + e.String() + ") is refused: " + refusal.String()}
		}
		if e.Kind() == rally.RallyWon {
			side, _ := s.Serving()
			won, late := 0, 0
			if e.Side() == side {
				won = 1
			}
			if max(s.Score(A), s.Score(B)) >= near {
				late = 1
			}
			groups := []*[2]int{&t.side[side], &t.server[r.Places(s).Server], &t.late[late], &game}
			if before >= 0 {
				groups = append(groups, &t.after[before])
			}
			for _, g := range groups {
				g[0]++
				g[1] += won
			}
			before = won
			rallies++
		}
		s = next
	}
	t.games++
	t.rallies += rallies
	t.perGame = append(t.perGame, game)
	if s.Phase() != rally.Over {
		t.unfinished++
		return nil
	}
	if t.lengths == nil {
		t.lengths = map[format.Format][]int{}
	}
	if len(t.lengths[sample.Format]) == 0 {
		t.order = append(t.order, sample.Format)
	}
	t.lengths[sample.Format] = append(t.lengths[sample.Format], rallies)
	return nil
}

// report draws the conclusions.
func (t *tally) report() (FitReport, error) {
	out := FitReport{Games: t.games, Unfinished: t.unfinished, Rallies: t.rallies}
	if t.rallies == 0 {
		return FitReport{}, &InputError{"samples", "hold no rally"}
	}
	for side, label := range []string{"side that served first", "other side"} {
		out.Serve = append(out.Serve, NewShare(label, t.side[side][1], t.side[side][0]))
		out.Rates.Serve[side] = out.Serve[side].Rate
	}
	for p := rally.A1; p <= rally.B2; p++ {
		if n := t.server[p]; n[0] > 0 {
			out.Players = append(out.Players, NewShare(p.String(), n[1], n[0]))
		}
	}
	out.Tests = []Test{
		homogeneity("one rally does not depend on the one before", t.after[:],
			"rallies on serve after one the server's side won, against after one it lost"),
		homogeneity("servers do as well near the end of a game", t.late[:],
			"rallies with a side within two points of the target, against those before"),
		homogeneity("servers are alike", t.server[:], "by the four servers"),
		homogeneity("games are alike", t.perGame, "share of rallies won on serve, game by game"),
	}
	for _, f := range t.order {
		p, err := predict(f, t.lengths[f], out.Rates)
		if err != nil {
			return FitReport{}, err
		}
		out.Lengths = append(out.Lengths, p)
	}
	return out, nil
}

// predict compares the mean length of finished games with that of the model.
func predict(f format.Format, observed []int, r Rates) (Prediction, error) {
	g, err := NewGameModel(f, 1, Opening{})
	if err != nil {
		return Prediction{}, err
	}
	fig, err := g.Figures(r)
	if err != nil {
		return Prediction{}, err
	}
	name := f.ID()
	if name == "" {
		name = "to " + strconv.Itoa(int(f.Last.Target))
	}
	p := Prediction{Format: name, Games: len(observed), Predicted: fig.Mean, Spread: math.Sqrt(fig.Variance)}
	for _, n := range observed {
		p.Observed += float64(n) / float64(len(observed))
	}
	if p.Spread == 0 { // every rally went the same way, and no other length can be
		if p.Observed == p.Predicted {
			p.P = 1
		}
		return p, nil
	}
	p.Z = (p.Observed - p.Predicted) / (p.Spread / math.Sqrt(float64(len(observed))))
	p.P = math.Erfc(math.Abs(p.Z) / math.Sqrt2)
	return p, nil
}

// homogeneity tests by chi-square whether groups share one chance of success.
// Groups that expect fewer than five successes or failures are put together.
func homogeneity(name string, groups [][2]int, says string) Test {
	n, won := 0, 0
	for _, g := range groups {
		n, won = n+g[0], won+g[1]
	}
	t := Test{Name: name, Says: says, P: 1}
	if won == 0 || won == n {
		return t
	}
	p := float64(won) / float64(n)
	if len(groups) == 2 && groups[0][0] > 0 && groups[1][0] > 0 {
		const z = 1.959963984540054 + 0.8416212335729143 // quantiles of the normal law at 0.975 and 0.8
		t.Sees = z * math.Sqrt(p*(1-p)*(1/float64(groups[0][0])+1/float64(groups[1][0])))
	}
	used := 0
	var small [2]int
	add := func(g [2]int) {
		expected := p * float64(g[0])
		d := float64(g[1]) - expected
		t.Statistic += d*d/expected + d*d/(float64(g[0])-expected)
		used++
	}
	for _, g := range groups {
		small[0], small[1] = small[0]+g[0], small[1]+g[1]
		if float64(small[0])*min(p, 1-p) >= 5 {
			add(small)
			small = [2]int{}
		}
	}
	if small[0] > 0 {
		add(small)
	}
	if t.Freedom = used - 1; t.Freedom > 0 {
		t.P = chiSquareTail(t.Statistic, t.Freedom)
	}
	return t
}

// chiSquareTail is the chance that a chi-square variable of n degrees of
// freedom exceeds x: the regularised upper incomplete gamma function, by its
// series below the mean and its continued fraction above (Abramowitz and
// Stegun 6.5.29 and 6.5.31).
func chiSquareTail(x float64, n int) float64 {
	a, x := float64(n)/2, x/2
	if x <= 0 {
		return 1
	}
	gamma, _ := math.Lgamma(a)
	front := math.Exp(a*math.Log(x) - x - gamma)
	if x < a+1 {
		term, sum := 1/a, 1/a
		for k := 1; k < 10_000 && term > sum*1e-17; k++ {
			term *= x / (a + float64(k))
			sum += term
		}
		return 1 - front*sum
	}
	const tiny = 1e-300
	b := x + 1 - a
	c, d := 1/tiny, 1/b
	h := d
	for k := 1; k < 10_000; k++ {
		an := -float64(k) * (float64(k) - a)
		b += 2
		d = 1 / (an*d + b)
		c = b + an/c
		step := d * c
		h *= step
		if math.Abs(step-1) < 1e-16 {
			break
		}
	}
	return front * h
}
