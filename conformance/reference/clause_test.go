package reference

import (
	"strings"
	"testing"

	"github.com/evencourt/evencourt/format"
)

// TestClausesAreKnown: every row of every table names a clause that there is.
func TestClausesAreKnown(t *testing.T) {
	named := map[string]bool{}
	for _, r := range troubles {
		named[r.clause] = true
	}
	for _, r := range refusals {
		named[r.clause] = true
	}
	for _, r := range ladder {
		named[r.clause] = true
	}
	for _, r := range reports {
		named[r.clause] = true
	}
	for id := range named {
		if _, err := format.ClauseNamed(id); err != nil {
			t.Errorf("%s: %v", id, err)
		}
	}
}

// TestRulingsStandInTheirEdition: what becomes of a rally is decided by a
// clause that stands in the edition by which the match is played.
func TestRulingsStandInTheirEdition(t *testing.T) {
	var rallies []string
	for _, error := range append(strings.Fields("server,receiver"), errorWords...) {
		for _, reach := range append([]string{""}, reachWords...) {
			for _, by := range byWords {
				for _, asked := range []string{"", ",asked"} {
					rallies = append(rallies, strings.ReplaceAll("stop?"+error+","+reach+","+by+asked, ",,", ","))
				}
			}
		}
		for _, since := range append([]string{""}, sinceWords...) {
			for _, by := range append([]string{""}, byWords...) {
				rallies = append(rallies, strings.TrimRight(strings.ReplaceAll("A?"+error+","+since+","+by, ",,", ","), ","))
			}
		}
	}
	seen, asked := map[string]bool{}, 0
	for _, edition := range editions {
		f, err := format.Parse("sideout-doubles-11@" + edition)
		if err != nil {
			continue // badminton has no such shape
		}
		m, err := New(f, "A", [2]int{1, 1})
		if err != nil {
			t.Fatal(err)
		}
		m.Do("gA1B1")
		for _, text := range rallies {
			o, ok := read(text)
			if !ok {
				t.Fatalf("%s is no event", text)
			}
			r := m.rule(o)
			c, err := format.ClauseNamed(r.clause)
			if err != nil {
				t.Fatal(err)
			}
			if asked++; !c.In(f.Edition) && !seen[edition+r.clause] {
				seen[edition+r.clause] = true
				t.Errorf("%s in %s: %s by %s, which does not stand there", text, edition, r.verdict, r.clause)
			}
		}
	}
	t.Logf("%d rulings", asked)
}
