package main

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/words"
)

// What is asked of one game: a position, penalty points, a bell.

// readPosition reads a position: "4-9,other,2" is four points of the better side
// against nine, the other side serving, by its second server. It is empty for
// an empty text.
func readPosition(text string) (*explore.Position, error) {
	if text == "" {
		return nil, nil
	}
	wrong := fmt.Errorf("-at: %q is no position: want points of the better side, of the other, who serves and which server, such as 4-9,other,2", program.Shorten(text))
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' })
	if len(words) < 2 || len(words) > 3 {
		return nil, wrong
	}
	var p explore.Position
	a, b, ok := strings.Cut(words[0], "-")
	if !ok {
		return nil, wrong
	}
	for i, text := range []string{a, b} {
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n > 255 {
			return nil, wrong
		}
		p.Score[i] = n
	}
	switch words[1] {
	case "better":
	case "other":
		p.Serving = explore.B
	default:
		return nil, wrong
	}
	if len(words) == 3 {
		n, err := strconv.Atoi(words[2])
		if err != nil || n < 1 || n > 2 {
			return nil, wrong
		}
		p.Number = uint8(n)
	}
	return &p, nil
}

// asked is a position that was asked for, with what its penalties cost.
type asked struct {
	explore.PositionFigures
	Even      float64           `json:"even"` // chance of the first side between equal sides
	Penalties []explore.Penalty `json:"penalties"`
}

func (x *explanation) at(l *lab, o *options) func() error {
	return func() error {
		if o.at == nil {
			return nil
		}
		g := l.game[0]
		r := x.Strength.rates()
		at, err := g.At(*o.at, r)
		if err != nil {
			number := ""
			if g.Rules().Format().Last.Servers == 2 && o.at.Number == 0 {
				number = ": its servers have numbers, so say which"
			}
			return fmt.Errorf("-at: %w%s", reason(err), number)
		}
		even, err := g.At(*o.at, explore.Equal(x.Strength.share()))
		if err != nil {
			return err
		}
		x.At = &asked{PositionFigures: at, Even: even.Win}
		for _, p := range x.Penalties {
			if p.Position == at.Position {
				x.At.Penalties = append(x.At.Penalties, p)
			}
		}
		return nil
	}
}

func (x *explanation) atPart() part {
	a := x.At
	t := &table{Head: []string{tell("lab.at-serving", words.Count("score", a.Score[0]), words.Count("score2", a.Score[1]), words.Name("position", servingWords(a.Position))), ""}, Left: 1}
	t.add(tell("lab.the-better-side-wins"), tiny(a.Win))
	t.add(tell("lab.the-other-side-wins"), tiny(1-a.Win))
	t.add(tell("lab.between-equal-sides-the"), tiny(a.Even))
	t.add(tell("lab.the-better-side-wins-it"), tiny(a.IfA))
	t.add("  "+tell("lab.after-losing-it"), tiny(a.IfB))
	t.add(tell("lab.what-the-next-rally"), decimal(100*a.Importance, 2))
	t.add(tell("lab.expected-rallies-left"), decimal(a.Rallies, 1))
	t.add(tell("lab.times-a-game-comes"), decimal(a.Reached, 3))
	for _, p := range a.Penalties {
		t.add(tell("lab.penalty-row", words.Name("what", penaltyWords(p))), decimal(100*p.Cost(), 2))
	}
	return part{Name: "at", Title: tell("lab.at-one-position"), Table: t,
		Notes: []string{tell("lab.the-first-game-which")}}
}

func penaltyWords(p explore.Penalty) string {
	who := tell("lab.the-better-side")
	if p.Against == explore.B {
		who = tell("lab.the-other-side")
	}
	if p.Removed {
		return tell("lab.point-off", words.Name("who", who))
	}
	return tell("lab.point-to", words.Name("who", who))
}

func (x *explanation) penalties(l *lab) func() error {
	return func() (err error) {
		x.Penalties, err = l.game[0].Penalties(explore.Equal(x.Strength.share()))
		if err != nil {
			return err
		}
		x.EvenPenalties = x.Penalties
		x.Penalties, err = l.game[0].Penalties(x.Strength.rates())
		return err
	}
}

// penaltyPart says what a penalty point costs at level scores, by who serves.
func (x *explanation) penaltyPart(l *lab) part {
	t := &table{Head: []string{tell("lab.between-equals-at"), tell("lab.serving-a-point-to"), tell("lab.serving-a-point-off"), tell("lab.receiving-a-point-to"), tell("lab.receiving-a-point-off")}, Left: 1}
	rows := map[string][]string{}
	var order []string
	top := int(l.game[0].Rules().Format().Last.Target)
	grid := square(top)
	for a := range grid {
		for b := range grid {
			grid[a][b] = math.NaN()
		}
	}
	most := 0.0
	sums, weight := square(top), square(top)
	reached := map[explore.Position]float64{}
	for _, p := range x.Positions {
		reached[p.Position] = p.Reached
	}
	for _, p := range x.EvenPenalties {
		a, b := p.Score[0], p.Score[1]
		if a >= top || b >= top {
			continue
		}
		if p.Against == explore.A && !p.Removed {
			sums[a][b] += 100 * p.Cost() * reached[p.Position]
			weight[a][b] += reached[p.Position]
		}
		if a != b || p.Serving != explore.A {
			continue
		}
		name := fmt.Sprintf("%d-%d", a, b)
		if p.Number != 0 {
			name = tell("lab.with-number", words.Name("who", name), words.Count("number", int(p.Number)))
		}
		if rows[name] == nil {
			rows[name] = []string{name, "-", "-", "-", "-"}
			order = append(order, name)
		}
		column := 1
		if p.Against != p.Serving {
			column = 3
		}
		if p.Removed {
			column++
		}
		rows[name][column] = decimal(100*p.Cost(), 1)
	}
	for _, name := range order {
		t.add(rows[name]...)
	}
	for a := range grid {
		for b := range grid {
			if weight[a][b] > 0 {
				grid[a][b] = sums[a][b] / weight[a][b]
				most = max(most, grid[a][b])
			}
		}
	}
	return part{Name: "penalty", Title: tell("lab.what-a-penalty-point"), Table: t,
		Notes: []string{tell("lab.percentage-points-of-the")},
		Charts: []chart{heatMap{Title: tell("lab.what-a-point-to"),
			About:  tell("lab.percentage-points-of-the-first"),
			XLabel: tell("lab.own-points"), YLabel: tell("lab.points-of-the-opponents"), Legend: tell("lab.cost-percentage-points"),
			Cells: grid, Min: 0, Max: max(10, math.Ceil(most/10)*10), Scale: oneSided}}}
}

// rung are the figures of a first game that a bell may end.
type rung struct {
	Minutes float64              `json:"minutes"`
	Draw    explore.BellFigures  `json:"draw"`       // level at the bell: nobody wins
	Point   explore.BellFigures  `json:"next_point"` // level at the bell: the next point decides
	Without explore.MatchFigures `json:"without"`    // of a match, without a bell
}

func (x *explanation) bell(l *lab, o *options) func() error {
	return func() error {
		if o.bell == 0 {
			return nil
		}
		x.Bell = &rung{Minutes: o.bell}
		for _, g := range l.game {
			for into, draw := range map[*explore.BellFigures]bool{&x.Bell.Draw: true, &x.Bell.Point: false} {
				f, err := g.Bell(x.Strength.rates(), o.pace, explore.Bell{Seconds: o.bell * 60, Draw: draw})
				if err != nil {
					return fmt.Errorf("-bell: %w", reason(err))
				}
				into.Win += f.Win / 2
				into.Tie += f.Tie / 2
				into.Rung += f.Rung / 2
				into.Level += f.Level / 2
				into.Rallies += f.Rallies / 2
			}
		}
		return nil
	}
}

func (x *explanation) bellPart(l *lab) (part, error) {
	b := x.Bell
	t := &table{Head: []string{tell("lab.level-at-the-bell"), tell("lab.nobody-wins"), tell("lab.the-next-point-decides")}, Left: 1}
	t.add(tell("lab.the-better-side-wins"), percent(b.Draw.Win), percent(b.Point.Win))
	t.add(tell("lab.nobody-wins-it"), percent(b.Draw.Tie), percent(b.Point.Tie))
	t.add(tell("lab.the-bell-ends-the"), percent(b.Draw.Rung), percent(b.Point.Rung))
	t.add(tell("lab.level-when-it-has"), percent(b.Draw.Level), percent(b.Point.Level))
	t.add(tell("lab.expected-rallies"), decimal(b.Draw.Rallies, 1), decimal(b.Point.Rallies, 1))
	whole := 0.0
	for _, g := range l.game {
		f, err := g.Figures(x.Strength.rates())
		if err != nil {
			return part{}, err
		}
		whole += f.Win / 2
	}
	return part{Name: "bell", Title: tell("lab.a-first-game-against"), Table: t,
		Notes: []string{tell("lab.after-minutes-of-play", words.Name("minutes", fmt.Sprintf("%g", b.Minutes)))},
		Then:  []string{tell("lab.without-a-bell-the", words.Name("whole", percent(whole)))}}, nil
}

// unlike are strengths at which partners serve unlike: the first of each side
// better by some gap, at every pair of shares that allows it.
func unlike(o *options, gap float64) []explore.Rates {
	var out []explore.Rates
	for _, r := range pairs(o) {
		if pair, possible := withGap(r, gap); possible {
			out = append(out, pair)
		}
	}
	return out
}

// withGap makes player 1 of each side a better server than player 2.
func withGap(r explore.Rates, gap float64) (explore.Rates, bool) {
	var pair [4][4]float64
	for s := range pair {
		p := r.Serve[s>>1] + gap/2
		if s&1 == 1 {
			p -= gap
		}
		if p < -1e-9 || p > 1+1e-9 {
			return r, false
		}
		for t := range pair[s] {
			pair[s][t] = min(max(p, 0), 1) // decimals
		}
	}
	return explore.Rates{Serve: r.Serve, Pair: &pair}, true
}

var errNoGap = errors.New("-servers: no strength of -p and -shares allows partners so far apart")
