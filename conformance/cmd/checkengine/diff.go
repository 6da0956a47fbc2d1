package main

import (
	"errors"
	"fmt"
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
	x, err := first.Asker(id, alphabet)
	if err != nil {
		return nil, err
	}
	y, err := second.Asker(id, alphabet)
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
		f := conformance.Failure{Outcome: conformance.Wrong, What: "line", Expected: d.A, Got: d.B}
		if name, at, want, got := f.Difference(); name != "" {
			fmt.Fprintf(s.stdout, "  %-*s %s^ field %s: %q and %q\n", w, "", strings.Repeat(" ", at), name, want, got)
		}
	}
	return s.clauses(first, second, nameA, nameB, id)
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
	return line
}

// clauses names the cases of the corpus that one engine passes and the other
// does not, with what decides them.
func (s *settings) clauses(first, second *protocol.Client, nameA, nameB, id string) error {
	files, err := conformance.Load()
	if err != nil {
		return err
	}
	told := 0
	for i := range files {
		for _, c := range files[i].Cases {
			if told == 3 || !plays(&c, id) {
				continue
			}
			x, y := conformance.RunSubject(first, c, id), conformance.RunSubject(second, c, id)
			if (x == nil) == (y == nil) || x != nil && x.Outcome != conformance.Wrong || y != nil && y.Outcome != conformance.Wrong {
				continue // who skips a case has not got it wrong
			}
			if told == 0 {
				fmt.Fprintf(s.stdout, "\n  the corpus decides between them:\n")
			}
			told++
			right := nameA
			if y == nil {
				right = nameB
			}
			fmt.Fprintf(s.stdout, "  %s %s: %s has it right\n       %s %s %s (%s): %s\n", c.ID, c.Title, right,
				c.Clause.Document, c.Clause.Edition, c.Clause.Rule, c.Clause.Mark, c.Clause.Claim)
		}
	}
	if told == 0 {
		fmt.Fprintf(s.stdout, "\n  no case of the corpus decides between them\n")
	}
	return nil
}

func plays(c *conformance.Case, id string) bool {
	for _, entry := range c.Formats {
		ids, err := conformance.Expand(entry)
		for _, one := range ids {
			if err == nil && one == id {
				return true
			}
		}
	}
	return false
}
