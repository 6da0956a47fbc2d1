package digests

import "slices"

// An Asker answers the two questions that finding a difference needs: the line
// after a sequence of events, and the TREE digest from there. It is refused
// where the engine refuses an event of the sequence.
type Asker interface {
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
func Diverge(a, b Asker, alphabet []string, depth int) (*Divergence, error) {
	if err := check(alphabet, depth); err != nil {
		return nil, err
	}
	queries := 0
	differ := func(path []string, d int) (bool, error) {
		queries++
		x, err := a.Tree(path, d)
		if err != nil {
			return false, err
		}
		y, err := b.Tree(path, d)
		return x != y, err
	}
	least, step := -1, 0
	for low := 0; ; step = min(max(1, step*2), depth) {
		yes, err := differ(nil, step)
		if err != nil {
			return nil, err
		}
		if !yes {
			if step == depth {
				return nil, nil
			}
			low = step + 1
			continue
		}
		for high := step; ; {
			if low == high {
				least = high
				break
			}
			middle := (low + high) / 2
			yes, err := differ(nil, middle)
			if err != nil {
				return nil, err
			}
			if yes {
				high = middle
			} else {
				low = middle + 1
			}
		}
		break
	}
	var path []string
	for left := least; ; left-- {
		d := Divergence{Path: path}
		var err error
		queries++
		if d.A, d.RefusedA, err = a.Line(path); err != nil {
			return nil, err
		}
		if d.B, d.RefusedB, err = b.Line(path); err != nil {
			return nil, err
		}
		if d.A != d.B || d.RefusedA != d.RefusedB {
			d.Queries = queries
			return &d, nil
		}
		if left == 0 {
			return nil, errInconsistent
		}
		found := false
		for _, e := range alphabet {
			next := append(slices.Clone(path), e)
			queries++
			x, refusedA, err := a.Line(next)
			if err != nil {
				return nil, err
			}
			y, refusedB, err := b.Line(next)
			if err != nil {
				return nil, err
			}
			yes := refusedA != refusedB || x != y
			if !yes && !refusedA && left > 1 {
				if yes, err = differ(next, left-1); err != nil {
					return nil, err
				}
			}
			if yes {
				path, found = next, true
				break
			}
		}
		if !found {
			return nil, errInconsistent
		}
	}
}

type inconsistent struct{}

func (inconsistent) Error() string {
	return "digests: an engine's tree digests contradict its lines"
}

var errInconsistent = inconsistent{}

// Asking answers the questions from a position.
func Asking(root Position, alphabet []string) Asker {
	return &asking{root, alphabet, map[string]*Graph{}}
}

type asking struct {
	root     Position
	alphabet []string
	graphs   map[string]*Graph // by line
}

func (a *asking) to(path []string) (Position, bool, error) {
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

func (a *asking) Line(path []string) (string, bool, error) {
	p, refused, err := a.to(path)
	if p == nil {
		return "", refused, err
	}
	if said := told(p); said != "" {
		return p.Line() + "\t" + said, false, nil
	}
	return p.Line(), false, nil
}

func (a *asking) Tree(path []string, depth int) (string, error) {
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
