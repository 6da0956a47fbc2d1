package digests

import (
	"bytes"
	_ "embed" // the published digests
	"encoding/json"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
)

//go:embed published.json
var published []byte

// Row is what is published of one shape over one alphabet, for all editions
// that share it. The unit is the match; the root is game 1 opened by side A,
// A1 and B1 starting; readings are the defaults.
type Row struct {
	Formats   string   `json:"formats"` // as in a case: SHAPE@FROM..TO
	Alphabet  []string `json:"alphabet"`
	Root      string   `json:"root"`
	WalkDepth int      `json:"walk_depth"`
	Walk      Sum      `json:"walk"`
	Bound     int      `json:"table_bound"`
	Table     Sum      `json:"table"`
	TreeDepth int      `json:"tree_depth"`
	Tree      string   `json:"tree"`
	AtWalk    Figures  `json:"at_walk_depth"`
	AtTree    Figures  `json:"at_tree_depth"`
	Computed  []string `json:"computed_by"`
	Confirmed []string `json:"confirmed_by"`
}

// Figures are the statistics at one depth: see [Counts]. C also counts the
// sequences that ended before.
type Figures struct {
	N  string `json:"n"`
	TA string `json:"ta"`
	TB string `json:"tb"`
	U  int    `json:"u"`
	C  string `json:"c"`
}

// Same reports whether two rows have equal digests.
func (r *Row) Same(o *Row) bool {
	return slices.Equal(r.Alphabet, o.Alphabet) && r.Root == o.Root && r.WalkDepth == o.WalkDepth && r.Walk == o.Walk &&
		r.Bound == o.Bound && r.Table == o.Table && r.TreeDepth == o.TreeDepth && r.Tree == o.Tree
}

// Published returns the published rows.
func Published() ([]Row, error) {
	var out []Row
	d := json.NewDecoder(bytes.NewReader(published))
	d.DisallowUnknownFields()
	if err := d.Decode(&out); err != nil {
		return nil, fmt.Errorf("digests: published.json: %w", err)
	}
	return out, nil
}

// Covering returns the published rows of a format.
func Covering(rows []Row, formatID string) []Row {
	var out []Row
	for _, r := range rows {
		if ids, err := conformance.Expand(r.Formats); err == nil && slices.Contains(ids, formatID) {
			out = append(out, r)
		}
	}
	return out
}

// Plan says what is computed of a format.
type Plan struct {
	Alphabet  []string
	WalkDepth int
	TreeDepth int
	Bound     int
}

// Plans returns what is published of a format: rallies for all; rallies with
// time-outs where the tables stay small enough.
func Plans(f *format.Format) []Plan {
	bound := 2 * int(f.Last.Target)
	out := []Plan{{[]string{"A", "B"}, 12, 64, bound}}
	if withTimeOuts(f) {
		out = append(out, Plan{[]string{"A", "B", "tA", "tB"}, 6, 24, int(f.Last.Target) + 2})
	}
	return out
}

// withTimeOuts picks single games below 21 points and, of the rally option,
// which two editions have, also those to 21, where a side has three, and the
// best of three to 7, where every game has its own.
func withTimeOuts(f *format.Format) bool {
	option := f.Edition == format.E2025 || f.Edition == format.E2026
	option = option && f.Game.Scorer == format.EitherSide && f.Game.Order == format.ByParity
	switch f.Match.Games {
	case 1:
		return f.Last.Target < 21 || option
	case 3:
		return f.Last.Target == 7 && option
	}
	return false
}

// Plan returns what was computed of a published row.
func (r *Row) Plan() Plan { return Plan{r.Alphabet, r.WalkDepth, r.TreeDepth, r.Bound} }

// Compute computes the digests and figures of an engine from its root.
func Compute(root Position, p Plan) (Row, error) {
	r, g, err := compute(root, p)
	if err != nil {
		return r, err
	}
	counts, err := g.Count(p.TreeDepth)
	r.AtWalk, r.AtTree = counts.at(p.WalkDepth), counts.at(p.TreeDepth)
	return r, err
}

// Digests is [Compute] without the figures.
func Digests(root Position, p Plan) (Row, error) {
	r, _, err := compute(root, p)
	return r, err
}

func compute(root Position, p Plan) (r Row, g *Graph, err error) {
	r = Row{Alphabet: p.Alphabet, Root: root.Line(), WalkDepth: p.WalkDepth, Bound: p.Bound, TreeDepth: p.TreeDepth}
	if r.Walk, err = Walk(root, p.Alphabet, p.WalkDepth); err != nil {
		return r, nil, err
	}
	if g, err = NewGraph(root, p.Alphabet); err != nil {
		return r, nil, err
	}
	if r.Table, err = g.Table(p.Bound); err != nil {
		return r, nil, err
	}
	r.Tree, err = g.Tree(p.TreeDepth)
	return r, g, err
}

// at returns the figures at a depth; none where the count stopped before.
func (c *Counts) at(d int) Figures {
	if d >= len(c.N) {
		return Figures{}
	}
	sum, _ := new(big.Int).SetString(c.N[d], 10)
	for k := 0; k < d; k++ {
		for _, text := range []string{c.TA[k], c.TB[k]} {
			n, _ := new(big.Int).SetString(text, 10)
			sum.Add(sum, n)
		}
	}
	return Figures{c.N[d], c.TA[d], c.TB[d], c.U[d], sum.String()}
}

// Differences names what differs between two rows, for a report.
func (r *Row) Differences(o *Row) string {
	var out []string
	for _, d := range []struct {
		name string
		same bool
	}{
		{"root line", r.Root == o.Root},
		{fmt.Sprintf("WALK to depth %d", r.WalkDepth), r.Walk == o.Walk},
		{fmt.Sprintf("TABLE to %d points", r.Bound), r.Table == o.Table},
		{fmt.Sprintf("TREE to depth %d", r.TreeDepth), r.Tree == o.Tree},
	} {
		if !d.same {
			out = append(out, d.name)
		}
	}
	return strings.Join(out, ", ")
}
