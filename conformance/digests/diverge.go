package digests

import "slices"

// An Answerer answers the two questions that finding a difference needs: the line
// after a sequence of events, and the TREE digest from there. It is refused
// where the engine refuses an event of the sequence.
type Answerer interface {
	Line(path []string) (line string, refused bool, err error)
	Tree(path []string, depth int) (digest string, err error)
}

// Divergence is the shortest sequence on which two engines differ; among
// several the first in the order of the alphabet.
type Divergence struct {
	Path     []string // the last event is the one that they answer differently
	A, B     string   // the lines after it, and behind a tab what a [Teller] told; empty where the event is refused
	RefusedA bool
	RefusedB bool
	Queries  int // questions asked of each engine
}

// Diverge finds the shortest sequence of at most depth events after which two
// engines give different lines, or of which only one accepts the last event.
// It returns nil if there is none. Equal digests are equal trees, and unequal
// ones stay unequal at every greater depth, so the least depth is found by
// bisection and the sequence by walking down.
func Diverge(a, b Answerer, alphabet []string, depth int) (*Divergence, error) {
	if err := check(alphabet, depth); err != nil {
		return nil, err
	}
	p := pair{a: a, b: b}
	least, err := p.least(depth)
	if err != nil || least < 0 {
		return nil, err
	}
	d, err := p.descend(alphabet, least)
	if err != nil {
		return nil, err
	}
	d.Queries = p.queries
	return d, nil
}

// A pair is two engines that are asked the same.
type pair struct {
	a, b    Answerer
	queries int
}

// differ reports whether the trees of a depth after a sequence are two.
func (p *pair) differ(path []string, depth int) (bool, error) {
	p.queries++
	x, err := p.a.Tree(path, depth)
	if err != nil {
		return false, err
	}
	y, err := p.b.Tree(path, depth)
	return x != y, err
}

// lines asks both for the line after a sequence.
func (p *pair) lines(path []string) (d Divergence, err error) {
	p.queries++
	d.Path = path
	if d.A, d.RefusedA, err = p.a.Line(path); err != nil {
		return d, err
	}
	d.B, d.RefusedB, err = p.b.Line(path)
	return d, err
}

// differ reports whether the answers are two.
func (d *Divergence) differ() bool { return d.A != d.B || d.RefusedA != d.RefusedB }

// least returns the least depth up to depth at which the trees differ, -1 for none:
// in steps that double, then by bisection.
func (p *pair) least(depth int) (int, error) {
	low, high := 0, 0
	for step := 0; ; step = min(max(1, step*2), depth) {
		yes, err := p.differ(nil, step)
		if err != nil {
			return 0, err
		}
		if yes {
			high = step
			break
		}
		if step == depth {
			return -1, nil
		}
		low = step + 1
	}
	for low < high {
		middle := (low + high) / 2
		yes, err := p.differ(nil, middle)
		if err != nil {
			return 0, err
		}
		if yes {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return high, nil
}

// descend follows the first event after which the trees still differ, down to the
// lines that do. The trees are known to differ at a depth.
func (p *pair) descend(alphabet []string, depth int) (*Divergence, error) {
	at, err := p.lines(nil)
	for left := depth; ; left-- {
		switch {
		case err != nil:
			return nil, err
		case at.differ():
			return &at, nil
		case left == 0:
			return nil, errInconsistent
		}
		if at, err = p.next(at.Path, alphabet, left); err == nil && at.Path == nil {
			return nil, errInconsistent
		}
	}
}

// next is the first event after a sequence with which the lines differ, or the trees
// that go as many events deeper as are left; none has no path.
func (p *pair) next(path, alphabet []string, left int) (Divergence, error) {
	for _, e := range alphabet {
		d, err := p.lines(append(slices.Clone(path), e))
		if err != nil {
			return d, err
		}
		yes := d.differ()
		if !yes && !d.RefusedA && left > 1 {
			if yes, err = p.differ(d.Path, left-1); err != nil {
				return d, err
			}
		}
		if yes {
			return d, nil
		}
	}
	return Divergence{}, nil
}

type inconsistent struct{}

func (inconsistent) Error() string {
	return "digests: an engine's tree digests contradict its lines"
}

var errInconsistent = inconsistent{}

// Answering answers the questions from a position.
func Answering(root Position, alphabet []string) Answerer {
	return &answering{root, alphabet, map[string]*Graph{}}
}

type answering struct {
	root     Position
	alphabet []string
	graphs   map[string]*Graph // by line
}

func (a *answering) to(path []string) (Position, bool, error) {
	p := a.root
	for _, e := range path {
		next, refused, err := p.Play(e)
		if err != nil || refused != "" {
			return nil, refused != "", err
		}
		p = next
	}
	return p, false, nil
}

func (a *answering) Line(path []string) (string, bool, error) {
	p, refused, err := a.to(path)
	if p == nil {
		return "", refused, err
	}
	if said := told(p); said != "" {
		return p.Line() + "\t" + said, false, nil
	}
	return p.Line(), false, nil
}

func (a *answering) Tree(path []string, depth int) (string, error) {
	p, refused, err := a.to(path)
	if p == nil {
		if refused {
			err = errInconsistent
		}
		return "", err
	}
	g := a.graphs[p.Line()]
	if g == nil {
		if g, err = NewGraph(p, a.alphabet); err != nil {
			return "", err
		}
		a.graphs[p.Line()] = g
	}
	return g.Tree(depth)
}
