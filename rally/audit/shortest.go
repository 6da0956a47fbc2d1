package audit

import "github.com/evencourt/evencourt/rally"

// Shortest returns a shortest sequence of rallies that plays these games, each
// of them legal, from the start of the match, and the side that serves first
// in it. It is found by going through the step function and so proves that the
// final can be reached. The error is an [*InputError] that names the game.
func (f *Finals) Shortest(games []Score) (first rally.Side, events []rally.Event, err error) {
	if f.rules == nil {
		return rally.A, nil, &InputError{Field: "format", Reason: "a scoring has no rallies"}
	}
	if len(games) == 0 {
		return rally.A, nil, &InputError{Field: "games", Reason: "no games"}
	}
	best := -1
	for _, side := range []rally.Side{rally.A, rally.B} {
		got, fault := f.shortest(f.rules.New(side), games)
		if fault != nil {
			err = fault
			continue
		}
		if best < 0 || len(got) < best {
			best, first, events = len(got), side, got
		}
	}
	if best < 0 {
		return rally.A, nil, err
	}
	return first, events, nil
}

func (f *Finals) shortest(s rally.State, games []Score) ([]rally.Event, error) {
	var out []rally.Event
	for i, g := range games {
		field := "games." + itoa(i)
		if code := f.Game(i+1, g); code != NoCode {
			return nil, &InputError{Field: field, Reason: string(code)}
		}
		path, end, ok := f.shortestGame(s, g)
		if !ok {
			return nil, &InputError{Field: field, Reason: "no sequence of rallies reaches it"}
		}
		out, s = append(out, path...), end
	}
	return out, nil
}

// shortestGame goes breadth-first through one game. The choice of rallies that
// ends soonest may leave either side to serve next only where the format says
// so by the winner, so game by game is shortest on the whole.
func (f *Finals) shortestGame(start rally.State, g Score) ([]rally.Event, rally.State, bool) {
	type step struct {
		state rally.State
		from  int
		side  rally.Side
	}
	steps := []step{{state: start, from: -1}}
	seen := map[rally.State]bool{start: true}
	for i := 0; i < len(steps); i++ {
		for side := rally.A; side <= rally.B; side++ {
			next, did, refusal := f.rules.Apply(steps[i].state, rally.RallyTo(side))
			if refusal != rally.NotRefused || seen[next] {
				continue
			}
			a, b := next.Score(rally.A), next.Score(rally.B)
			if a > g[0] || b > g[1] {
				continue
			}
			ended := did.Has(rally.GameWon)
			if ended != (a == g[0] && b == g[1]) {
				continue
			}
			seen[next] = true
			steps = append(steps, step{next, i, side})
			if !ended {
				continue
			}
			var path []rally.Event
			for k := len(steps) - 1; k > 0; k = steps[k].from {
				path = append(path, rally.RallyTo(steps[k].side))
			}
			for l, r := 0, len(path)-1; l < r; l, r = l+1, r-1 {
				path[l], path[r] = path[r], path[l]
			}
			return path, next, true
		}
	}
	return nil, start, false
}
