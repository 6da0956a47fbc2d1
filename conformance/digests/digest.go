package digests

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"hash/fnv"
	"math/big"
	"slices"
	"strconv"
	"strings"
)

// Sum is a digest of a stream of bytes.
type Sum struct {
	SHA256 string `json:"sha256"` // 64 hexadecimal digits
	FNV    string `json:"fnv1a64"`
	Lines  int    `json:"lines"`
	Bytes  int64  `json:"bytes"`
}

type summer struct {
	sha, fnv hash.Hash
	lines    int
	bytes    int64
}

func newSummer() *summer { return &summer{sha: sha256.New(), fnv: fnv.New64a()} }

func (s *summer) add(line []byte) {
	s.sha.Write(line)
	s.fnv.Write(line)
	s.lines++
	s.bytes += int64(len(line))
}

func (s *summer) sum() Sum {
	return Sum{hex.EncodeToString(s.sha.Sum(nil)), hex.EncodeToString(s.fnv.Sum(nil)), s.lines, s.bytes}
}

// Counts are statistics at exactly depth d, for d = 0, 1, …: N accepted
// sequences, TA and TB of them whose last event ended the match for A or B, U
// distinct lines. Ended matches do not count afterwards.
type Counts struct {
	N  []string `json:"n"`
	TA []string `json:"ta"`
	TB []string `json:"tb"`
	U  []int    `json:"u"`
}

// ended reports whether a line is that of an ended match, and who won it.
func ended(line string) (over bool, winner byte) {
	if !strings.Contains(line, " phase=over ") && !strings.Contains(line, " phase=closed ") {
		return false, 0
	}
	_, result, _ := strings.Cut(line, " result=")
	return true, result[0]
}

// Walk computes the WALK digest: depth first, events in the order of the
// alphabet, one line a sequence of at most depth events.
func Walk(root Position, alphabet []string, depth int) (Sum, error) {
	s := newSummer()
	err := WalkLines(root, alphabet, depth, func(line []byte) { s.add(line) })
	return s.sum(), err
}

// WalkLines calls visit with every line of which [Walk] is the digest.
func WalkLines(root Position, alphabet []string, depth int, visit func([]byte)) error {
	if err := check(alphabet, depth); err != nil {
		return err
	}
	var walk func(p Position, path []byte, depth int) error
	var buffer []byte
	walk = func(p Position, path []byte, depth int) error {
		buffer = buffer[:0]
		if len(path) == 0 {
			buffer = append(buffer, '-')
		}
		buffer = append(append(append(append(buffer, path...), ' '), p.Line()...), '\n')
		visit(buffer)
		if depth == 0 {
			return nil
		}
		for _, e := range alphabet {
			next, refused, err := p.Play(e)
			if err != nil {
				return err
			}
			if refused != "" {
				continue
			}
			longer := path
			if len(longer) > 0 {
				longer = append(longer, ',')
			}
			if err := walk(next, append(longer, strings.ReplaceAll(e, ",", ";")...), depth-1); err != nil {
				return err
			}
		}
		return nil
	}
	return walk(root, nil, depth)
}

func check(alphabet []string, depth int) error {
	switch {
	case depth < 0 || depth > MostDepth:
		return errors.New("digests: depth must be 0 to " + strconv.Itoa(MostDepth))
	case len(alphabet) == 0 || len(alphabet) > MostEvents:
		return errors.New("digests: an alphabet has 1 to " + strconv.Itoa(MostEvents) + " events")
	case !slices.IsSorted(alphabet) || len(slices.Compact(slices.Clone(alphabet))) != len(alphabet):
		return errors.New("digests: an alphabet stands in bytewise order, each event once")
	}
	for _, e := range alphabet {
		if e == "" || strings.ContainsAny(e, " \t\r\n;") {
			return fmt.Errorf("digests: %q is no event", e)
		}
	}
	return nil
}

// Bounds of what can be asked for.
const (
	MostDepth  = 1000
	MostEvents = 32
	MostStates = 100_000
)

// Graph holds the transitions of an engine between lines, as far as they were
// asked for. It takes positions with equal lines to be the same: that is the
// promise of the line, and what WALK is there to check.
type Graph struct {
	alphabet []string
	nodes    []*node
	byLine   map[string]*node
}

// Mergeable is a position that remembers how it was reached. Merged is the
// same position taken up from its line, which a graph takes for the same.
type Mergeable interface{ Merged() Position }

type node struct {
	line string
	at   Position
	next []*node  // by event; nil while next is nil, or where refused
	told []string // by event: what was said of it besides the line
	tree [][sha256.Size]byte
}

// NewGraph returns the graph of an engine from a position, over an alphabet in
// bytewise order.
func NewGraph(root Position, alphabet []string) (*Graph, error) {
	if err := check(alphabet, 0); err != nil {
		return nil, err
	}
	g := &Graph{alphabet: alphabet, byLine: map[string]*node{}}
	_, err := g.add(root)
	return g, err
}

func (g *Graph) add(p Position) (*node, error) {
	line := p.Line()
	n := g.byLine[line]
	if n == nil {
		if len(g.nodes) >= MostStates {
			return nil, errors.New("digests: more than " + strconv.Itoa(MostStates) + " states")
		}
		if m, ok := p.(Mergeable); ok {
			p = m.Merged()
		}
		n = &node{line: line, at: p}
		g.byLine[line] = n
		g.nodes = append(g.nodes, n)
	}
	return n, nil
}

func (g *Graph) expand(n *node) error {
	if n.next != nil {
		return nil
	}
	next, said := make([]*node, len(g.alphabet)), make([]string, len(g.alphabet))
	for i, e := range g.alphabet {
		p, refused, err := n.at.Play(e)
		if err != nil {
			return err
		}
		if refused != "" {
			continue
		}
		said[i] = told(p)
		if next[i], err = g.add(p); err != nil {
			return err
		}
	}
	n.next, n.told = next, said
	return nil
}

// Tree computes the TREE digest of the root: a tree of hashes over every
// sequence of at most depth events.
func (g *Graph) Tree(depth int) (string, error) {
	if err := check(g.alphabet, depth); err != nil {
		return "", err
	}
	sum, err := g.tree(g.nodes[0], depth)
	return hex.EncodeToString(sum[:]), err
}

func (g *Graph) tree(n *node, depth int) (out [sha256.Size]byte, err error) {
	// Smaller depths first, so that the recursion stays one level deep a state.
	if len(n.tree) > depth {
		return n.tree[depth], nil
	}
	text := append([]byte(n.line), '\n')
	if depth > 0 {
		if err := g.expand(n); err != nil {
			return out, err
		}
		for i, e := range g.alphabet {
			text = append(append(text, e...), ' ')
			if n.next[i] == nil {
				text = append(text, "!\n"...)
				continue
			}
			child, err := g.tree(n.next[i], depth-1)
			if err != nil {
				return out, err
			}
			text = hex.AppendEncode(text, child[:])
			if said := n.told[i]; said != "" {
				text = append(append(text, ' '), said...)
			}
			text = append(text, '\n')
		}
	}
	out = sha256.Sum256(text)
	if len(n.tree) == depth {
		n.tree = append(n.tree, out)
	} else {
		// Asked for out of order: fill up from below.
		for len(n.tree) < depth {
			if _, err := g.tree(n, len(n.tree)); err != nil {
				return out, err
			}
		}
		n.tree = append(n.tree, out)
	}
	return out, nil
}

// Table computes the TABLE digest: every transition between the lines that can
// be reached while no side of a live game has bound points or more.
func (g *Graph) Table(bound int) (Sum, error) {
	rows, err := g.TableRows(bound)
	if err != nil {
		return Sum{}, err
	}
	s := newSummer()
	for _, row := range rows {
		s.add([]byte(row))
	}
	return s.sum(), nil
}

// TableRows returns the rows of which [Graph.Table] is the digest, sorted.
func (g *Graph) TableRows(bound int) ([]string, error) {
	var rows []string
	queue := []*node{g.nodes[0]}
	seen := map[*node]bool{g.nodes[0]: true}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		beyond, err := reaches(n.line, bound)
		if err != nil {
			return nil, err
		}
		if !beyond {
			if err := g.expand(n); err != nil {
				return nil, err
			}
		}
		for i, e := range g.alphabet {
			result := "!"
			switch {
			case beyond:
				result = "#bound"
			case n.next[i] != nil:
				result = n.next[i].line
				if !seen[n.next[i]] {
					seen[n.next[i]] = true
					queue = append(queue, n.next[i])
				}
			}
			rows = append(rows, n.line+"\t"+e+"\t"+result+"\n")
		}
	}
	slices.Sort(rows)
	return rows, nil
}

// reaches reports whether a game is in play in which a side has bound points.
func reaches(line string, bound int) (bool, error) {
	if !strings.Contains(line, " phase=play ") {
		return false, nil
	}
	_, rest, _ := strings.Cut(line, " score=")
	score, _, _ := strings.Cut(rest, " ")
	a, b, _ := strings.Cut(score, "-")
	m, errA := strconv.Atoi(a)
	n, errB := strconv.Atoi(b)
	if errA != nil || errB != nil {
		return false, fmt.Errorf("digests: no score in the line %.120q", line)
	}
	return m >= bound || n >= bound, nil
}

// Count computes the statistics for every depth up to depth.
func (g *Graph) Count(depth int) (Counts, error) {
	var c Counts
	if err := check(g.alphabet, depth); err != nil {
		return c, err
	}
	level := map[*node]*big.Int{g.nodes[0]: big.NewInt(1)}
	for d := 0; ; d++ {
		n, ta, tb := new(big.Int), new(big.Int), new(big.Int)
		for at, ways := range level {
			n.Add(n, ways)
			if over, winner := ended(at.line); over && winner == 'A' {
				ta.Add(ta, ways)
			} else if over && winner == 'B' {
				tb.Add(tb, ways)
			}
		}
		c.N, c.TA, c.TB = append(c.N, n.String()), append(c.TA, ta.String()), append(c.TB, tb.String())
		c.U = append(c.U, len(level))
		if d == depth {
			return c, nil
		}
		next := map[*node]*big.Int{}
		for at, ways := range level {
			if over, _ := ended(at.line); over {
				continue
			}
			if err := g.expand(at); err != nil {
				return c, err
			}
			for _, to := range at.next {
				if to == nil {
					continue
				}
				if next[to] == nil {
					next[to] = new(big.Int)
				}
				next[to].Add(next[to], ways)
			}
		}
		level = next
	}
}
