package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/digests"
	"github.com/evencourt/evencourt/conformance/protocol"
)

// runDiff prints, for each format, the shortest sequence of events on which
// two engines differ as a worked example, and which cases of the corpus part
// them. It exits with 0 if they agree on all, 1 if not.
func (s *settings) runDiff(a, b []string) (int, error) {
	if s.format == "" {
		return 0, errors.New("-diff needs -format, such as sideout-doubles-11@2026")
	}
	alphabet := strings.Fields(s.alphabet)
	first, hangUpFirst, err := s.dial(a)
	if err != nil {
		return 0, err
	}
	second, hangUpSecond, err := s.dial(b)
	if err != nil {
		return 0, errors.Join(err, hangUpFirst())
	}
	code := conformant
	for _, id := range strings.Split(s.format, ",") {
		var d *digests.Divergence
		if d, err = s.diverge(first, second, id, alphabet); err != nil {
			break
		}
		if d == nil {
			fmt.Fprintf(s.stdout, "%s: no difference in any sequence of up to %d of the events %s\n", id, s.depth, s.alphabet)
			continue
		}
		code = notConformant
		if err = s.tell(first, second, id, d); err != nil {
			break
		}
	}
	return code, errors.Join(err, hangUpFirst(), hangUpSecond())
}

func (s *settings) diverge(first, second *protocol.Client, id string, alphabet []string) (*digests.Divergence, error) {
	ask := (*protocol.Client).Answerer
	if first.Answers(protocol.CaseCommand) && second.Answers(protocol.CaseCommand) {
		ask = (*protocol.Client).Telling
	}
	x, err := ask(first, id, alphabet)
	if err != nil {
		return nil, err
	}
	y, err := ask(second, id, alphabet)
	if err != nil {
		return nil, err
	}
	return digests.Diverge(x, y, alphabet, s.depth)
}

// tell prints a difference as a worked example.
func (s *settings) tell(first, second *protocol.Client, id string, d *digests.Divergence) error {
	nameA, nameB := first.Identity().Name, second.Identity().Name
	if nameA == nameB {
		nameA, nameB = nameA+" (first)", nameB+" (second)"
	}
	fmt.Fprintf(s.stdout, "%s: %s and %s part after %d event(s); no shorter sequence does it (%d questions)\n\n",
		id, nameA, nameB, len(d.Path), d.Queries)
	root, err := first.Position(id)
	if err != nil {
		return err
	}
	p := root
	fmt.Fprintf(s.stdout, "  %3s %-8s %s\n", "", "start", brief(root.Line()))
	for i, e := range d.Path {
		if i == len(d.Path)-1 {
			break
		}
		next, refused, err := p.Play(e)
		if err != nil || refused != "" {
			return errors.Join(err, fmt.Errorf("event %q is now refused: %s", e, refused))
		}
		p = next
		fmt.Fprintf(s.stdout, "  %3d %-8s %s\n", i+1, e, brief(p.Line()))
	}
	what := "start"
	if n := len(d.Path); n > 0 {
		what = fmt.Sprintf("%3d %s", n, d.Path[n-1])
	}
	w := max(len(nameA), len(nameB))
	fmt.Fprintf(s.stdout, "\n  then %s\n  %-*s %s\n  %-*s %s\n", what, w, nameA, orRefused(d.A, d.RefusedA), w, nameB, orRefused(d.B, d.RefusedB))
	if !d.RefusedA && !d.RefusedB {
		for _, f := range parted(d).Fields() {
			fmt.Fprintf(s.stdout, "  %-*s field %s: %q and %q\n", w, "", f.Name, f.Expected, f.Got)
		}
	}
	return s.clauses(first, second, nameA, nameB, id, d)
}

// brief is what a person follows of a line.
func brief(line string) string {
	var out []string
	for _, w := range strings.Fields(line) {
		switch name, _, _ := strings.Cut(w, "="); name {
		case "score", "serve", "receive", "A", "B", "phase":
			out = append(out, w)
		}
	}
	return strings.Join(out, " ")
}

func orRefused(line string, refused bool) string {
	if refused {
		return "refused"
	}
	return strings.ReplaceAll(line, "\t", " | ")
}

// A decider is a case that one of two engines fails.
type decider struct {
	c       *conformance.Case
	right   string // name of the engine that passes
	failure *conformance.Failure
}

// clauses names the cases of the corpus that one engine passes and the other
// does not, the most direct first, with what decides them: in this format; if
// none does, in another edition of the shape; then in any format.
func (s *settings) clauses(first, second *protocol.Client, nameA, nameB, id string, d *digests.Divergence) error {
	files, err := conformance.Load()
	if err != nil {
		return err
	}
	var found []decider
	for far := 0; far <= 2 && len(found) == 0; far++ {
		for i := range files {
			for j := range files[i].Cases {
				c := &files[i].Cases[j]
				in, how := nearest(c, id)
				if how != far {
					continue
				}
				x, y := conformance.RunSubject(first, *c, in), conformance.RunSubject(second, *c, in)
				if (x == nil) == (y == nil) || x != nil && x.Outcome != conformance.Wrong || y != nil && y.Outcome != conformance.Wrong {
					continue // who skips a case has not got it wrong
				}
				if x == nil {
					found = append(found, decider{c, nameA, y})
				} else {
					found = append(found, decider{c, nameB, x})
				}
			}
		}
	}
	if len(found) == 0 {
		fmt.Fprintf(s.stdout, "\n  no case of the corpus decides between them\n")
		return nil
	}
	slices.SortStableFunc(found, func(a, b decider) int { return cmp.Or(a.detour(d)-b.detour(d), a.events()-b.events()) })
	fmt.Fprintf(s.stdout, "\n  the corpus decides between them:\n")
	for _, f := range found[:min(3, len(found))] {
		c := f.c
		fmt.Fprintf(s.stdout, "  %s %s: %s has it right\n", c.ID, c.Title, f.right)
		for _, rule := range f.failure.Rules {
			fmt.Fprintf(s.stdout, "       %s\n", rule.String())
		}
	}
	return nil
}

// parted is the difference as a failure of the second engine by the first.
func parted(d *digests.Divergence) *conformance.Failure {
	f := &conformance.Failure{Outcome: conformance.Wrong, What: "line"}
	var saidA, saidB string
	f.Expected, saidA, _ = strings.Cut(d.A, "\t")
	f.Got, saidB, _ = strings.Cut(d.B, "\t")
	if f.Expected == f.Got {
		effectsA, _, _ := strings.Cut(saidA, " ")
		effectsB, _, _ := strings.Cut(saidB, " ")
		f.What = "call"
		if effectsA != effectsB {
			f.What = "effects"
		}
	}
	return f
}

// detour says how far a case is from the difference: 0 if it fails in one of
// the fields in which the engines part, at the same event; 1 if at another; 2
// if it fails in other fields.
func (d *decider) detour(at *digests.Divergence) int {
	parting := parted(at)
	same := parting.What != "line" && d.failure.What == parting.What
	if at.RefusedA || at.RefusedB {
		same = d.failure.What == "refused"
	}
	for _, f := range parting.Fields() {
		same = same || slices.ContainsFunc(d.failure.Fields(), func(g conformance.Field) bool { return g.Name == f.Name })
	}
	switch n := len(at.Path); {
	case !same:
		return 2
	case n > 0 && d.failure.Entry != at.Path[n-1]:
		return 1
	}
	return 0
}

// events is how many events of the case come before its failure shows, and
// after those how long it is.
func (d *decider) events() int {
	all := 0
	for i := range d.c.Steps {
		all += 1 + strings.Count(d.c.Steps[i].Do, " ")
	}
	return d.failure.Event<<16 + all
}

// nearest is the format of a case that is most like the one asked for, and how
// far it is from it: 0 the same, 1 another edition of the shape, 2 another shape.
func nearest(c *conformance.Case, id string) (in string, far int) {
	shape, _, _ := strings.Cut(id, "@")
	far = 3
	for _, entry := range c.Formats {
		ids, err := conformance.Expand(entry)
		if err != nil {
			continue
		}
		for _, one := range ids {
			n := 2
			if one == id {
				n = 0
			} else if strings.HasPrefix(one, shape+"@") {
				n = 1
			}
			if n < far {
				in, far = one, n
			}
		}
	}
	return in, far
}
