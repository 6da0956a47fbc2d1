package mutants

import (
	"slices"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/walk"
)

// Prove looks at the rules that neither a case nor the walk has shown broken,
// and finds those that are none: they change no named format, or in every state
// of a short game of singles and doubles by each edition that they change they do
// with every event what the sound rules do.
func (s *Systematic) Prove() error {
	for i := range s.rules {
		if s.showsAnywhere(i) || slices.ContainsFunc(s.killed[i][:], func(values map[string]bool) bool { return len(values) > 0 }) {
			continue
		}
		equal, seen := true, map[string]bool{}
		for _, shape := range format.Shapes() {
			for _, e := range format.EditionsOf(shape) {
				f, err := format.Parse(shape + "@" + e.String())
				if err != nil {
					return err
				}
				g := f
				s.rules[i].change(&g)
				if of := f.Game.Sides.String() + e.String(); g == f || seen[of] {
					continue
				} else {
					seen[of] = true
				}
				same, err := alike(f, s.rules[i].change)
				if err != nil {
					return err
				}
				equal = equal && same
			}
		}
		s.equal[i] = equal
	}
	return nil
}

// short is a format of one game so short that all of it can be visited.
func short(f format.Format) format.Format {
	g := &f.Last
	g.Target, g.Cap, g.ChangeEndsAt, g.TimeOuts = 3, 0, min(g.ChangeEndsAt, 2), 1
	f.Shape, f.Match.Games, f.Game = "", 1, *g
	return f
}

// alike visits every state of a short game over each alphabet and asks whether
// rules that are changed in one of several ways do the same with every event there.
func alike(f format.Format, changes ...func(*format.Format)) (bool, error) {
	f = short(f)
	sound, err := rally.Compile(f)
	if err != nil {
		return false, err
	}
	var broken []*rally.Rules
	for _, change := range changes {
		g := f
		if change(&g); g == f {
			return false, nil // nothing of it is left in a short game
		}
		rules, err := rally.Compile(g)
		if err != nil {
			return false, nil // no format: a rule of which nothing is proved
		}
		broken = append(broken, rules)
	}
	// After plain play every event is tried, in breaks and under penalties those
	// that lead further into them.
	every := slices.Concat(walk.Play(), walk.Breaks(), walk.Penalties(), walk.Openings(), walk.Incidents())
	// Those who break are one player and the other side, one side has penalties, and
	// only in plain play one player brings some: all at once have millions of states.
	ofOne := slices.DeleteFunc(walk.Breaks(), func(e rally.Event) bool {
		return strings.ContainsAny(e.String(), "2") || strings.Contains(e.String(), "B1")
	})
	carried := func(e rally.Event) bool { return e.Kind() >= rally.CarryVerbal && e.Kind() <= rally.CarrySameFoul }
	brought := slices.DeleteFunc(walk.Openings(), func(e rally.Event) bool { return carried(e) && e.Person() != rally.A1 })
	openings := slices.DeleteFunc(walk.Openings(), carried)
	ofA := slices.DeleteFunc(walk.Penalties(), func(e rally.Event) bool { return e.Side() != rally.A })
	for _, w := range []struct{ over, try []rally.Event }{
		{brought, every}, {slices.Concat(openings, ofOne), ofOne}, {slices.Concat(openings, ofA), walk.Penalties()},
	} {
		for _, root := range []rally.State{{}, sound.New(rally.A)} {
			events := slices.Concat(walk.Play(), w.over)
			graph, err := walk.Plan{Rules: sound, Root: root, Alphabet: events, Most: 1 << 21}.Walk()
			if err != nil {
				return false, nil // too many states: nothing is proved
			}
			for n := range graph.Len() {
				for _, e := range w.try {
					next, did, refusal := sound.Apply(graph.State(n), e)
					for _, rules := range broken {
						if m, d, r := rules.Apply(graph.State(n), e); m != next || d != did || r != refusal {
							return false, nil
						}
					}
				}
			}
		}
	}
	return true, nil
}
