// Package walk visits every state that a match can be in, breadth first, over
// any alphabet of events from any root.
//
// A [Graph] holds the states, what every event does in each of them, and a
// shortest path to each. A [Table] is the same for single games, compiled to
// one load a rally, for replaying many games of one kind. Both are computed
// from [rally.Rules.Apply] alone; nothing here knows a rule of scoring.
package walk

import (
	"strconv"

	"github.com/evencourt/evencourt/rally"
)

// defaultMost is the most states a walk keeps if its plan does not say.
const defaultMost = 1 << 20

// Plan says what to walk over.
type Plan struct {
	Rules    *rally.Rules
	Root     rally.State
	Alphabet []rally.Event
	// Unfolded keeps all scores apart. A game without a cap then has no end of
	// states, and only Most or Stop ends the walk.
	Unfolded bool
	Most     int // most states to keep; 0 for defaultMost
	// Stop marks states that are kept but not left; nil for none.
	Stop func(rally.State) bool
}

// SizeError reports a walk that would keep more states than its plan allows.
type SizeError struct {
	Most  int    // states allowed
	Bound uint64 // states that there can be at most, by [Plan.Bound]
	Depth int    // length of the shortest paths that could be walked in full
}

// Error implements error.
func (e *SizeError) Error() string {
	return "walk: more than " + strconv.Itoa(e.Most) + " states (at most " + strconv.FormatUint(e.Bound, 10) +
		" are possible); complete to depth " + strconv.Itoa(e.Depth)
}

// PlanError reports a plan that cannot be walked.
type PlanError struct{ Field, Reason string }

// Error implements error.
func (e *PlanError) Error() string { return "walk: " + e.Field + ": " + e.Reason }

// Refused marks an edge that the engine refuses.
const Refused = -1

// Edge is what one event does in one state.
type Edge struct {
	To      int // index of the state after it, or [Refused]
	Did     rally.Effects
	Refusal rally.Refusal
}

// Graph is the outcome of a walk. State 0 is the root; states stand in the
// order of their shortest paths. [Plan.Walk] makes one.
type Graph struct {
	plan   Plan
	fold   folder
	states []rally.State
	index  map[rally.State]int
	edges  []Edge  // by state and letter
	parent []int32 // edge by which a state was first reached
	depth  []int32
}

// Walk visits every reachable state. A plan without rules or letters is a
// [*PlanError]; too many states are a [*SizeError], given before the walk
// keeps the first state too many.
func (p Plan) Walk() (*Graph, error) {
	switch {
	case p.Rules == nil:
		return nil, &PlanError{"rules", "none given"}
	case len(p.Alphabet) == 0:
		return nil, &PlanError{"alphabet", "no letters"}
	case p.Most < 0:
		return nil, &PlanError{"most", "must not be negative"}
	case p.Most == 0:
		p.Most = defaultMost
	}
	g := &Graph{plan: p, index: map[rally.State]int{}, fold: newFolder(p.Rules, p.Alphabet)}
	g.fold.off = p.Unfolded
	g.add(g.fold.state(p.Root), -1, 0)
	for i := 0; i < len(g.states); i++ {
		for k, letter := range p.Alphabet {
			edge := Edge{To: Refused}
			if p.Stop == nil || !p.Stop(g.states[i]) {
				var next rally.State
				next, edge.Did, edge.Refusal = p.Rules.Apply(g.states[i], letter)
				if edge.Refusal == rally.NotRefused {
					next = g.fold.state(next)
					to, seen := g.index[next]
					if !seen {
						if len(g.states) == p.Most {
							return nil, &SizeError{p.Most, p.Bound(), int(g.depth[i])}
						}
						to = g.add(next, int32(i*len(p.Alphabet)+k), g.depth[i]+1)
					}
					edge.To = to
				}
			}
			g.edges = append(g.edges, edge)
		}
	}
	return g, nil
}

func (g *Graph) add(s rally.State, parent, depth int32) int {
	n := len(g.states)
	g.index[s] = n
	g.states = append(g.states, s)
	g.parent = append(g.parent, parent)
	g.depth = append(g.depth, depth)
	return n
}

// Len returns the number of states.
func (g *Graph) Len() int { return len(g.states) }

// Rules returns the rules that were walked.
func (g *Graph) Rules() *rally.Rules { return g.plan.Rules }

// Alphabet returns the letters, in the order of the edges of a state.
func (g *Graph) Alphabet() []rally.Event { return g.plan.Alphabet }

// State returns state i; beyond level one short of the target it stands for
// all that fold into it.
func (g *Graph) State(i int) rally.State { return g.states[i] }

// Index returns the index of a state, or of the one it folds into; false if
// the walk never came there.
func (g *Graph) Index(s rally.State) (int, bool) {
	i, ok := g.index[g.fold.state(s)]
	return i, ok
}

// Edge returns what letter k does in state i. In a state where the walk
// stopped every edge is [Refused] with no refusal.
func (g *Graph) Edge(i, k int) Edge { return g.edges[i*len(g.plan.Alphabet)+k] }

// Depth returns the length of a shortest path from the root to state i.
func (g *Graph) Depth(i int) int { return int(g.depth[i]) }

// Path returns a shortest sequence of events from the root to state i.
func (g *Graph) Path(i int) []rally.Event {
	path := make([]rally.Event, g.depth[i])
	for n := len(path) - 1; n >= 0; n-- {
		e := int(g.parent[i])
		path[n] = g.plan.Alphabet[e%len(g.plan.Alphabet)]
		i = e / len(g.plan.Alphabet)
	}
	return path
}
