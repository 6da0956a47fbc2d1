package reference

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/evencourt/evencourt/format"
)

// TestShapesTypedTwice compares every field of every named shape in every
// edition that has it with the table of this package, and the pairs that exist.
func TestShapesTypedTwice(t *testing.T) {
	seen := 0
	for _, shape := range format.Shapes() {
		for _, e := range format.EditionsOf(shape) {
			if !Taught(e) {
				continue
			}
			id := shape + "@" + e.String()
			typed, ok := shapes[id]
			if !ok {
				t.Errorf("%s: not in shapes.txt", id)
				continue
			}
			seen++
			f, err := format.Named(shape, e)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(typed.game, f.Game); d != "" {
				t.Errorf("%s, games (- typed, + format):\n%s", id, d)
			}
			if d := cmp.Diff(typed.last, f.Last); d != "" {
				t.Errorf("%s, last game (- typed, + format):\n%s", id, d)
			}
			if d := cmp.Diff(typed.match, f.Match); d != "" {
				t.Errorf("%s, match (- typed, + format):\n%s", id, d)
			}
			if needed := typed.needed(); needed != int(f.Match.Needed()) {
				t.Errorf("%s: %d games are needed, format has %d", id, needed, f.Match.Needed())
			}
			for n := 1; n <= int(f.Match.Games); n++ {
				if d := cmp.Diff(*typed.of(n), *f.Of(n)); d != "" {
					t.Errorf("%s, game %d (- typed, + format):\n%s", id, n, d)
				}
			}
		}
	}
	if seen != len(shapes) {
		t.Errorf("%d shapes and editions are typed here, %d are in format", len(shapes), seen)
	}
}

// TestEditionsTypedTwice compares every answer of every edition with the
// switches of package format.
func TestEditionsTypedTwice(t *testing.T) {
	for _, d := range format.Documents() {
		for _, e := range format.Editions(d) {
			if !Taught(e) {
				t.Errorf("nobody has typed %s", e)
			}
			if e == format.Default {
				break // a later edition becomes the default only when the model knows it
			}
		}
	}
	var known []string
	for _, s := range format.Switches() {
		known = append(known, s.String())
	}
	for _, edition := range editions {
		var e format.Edition
		if err := e.UnmarshalText([]byte(edition)); err != nil {
			t.Fatal(err)
		}
		r := format.RulingsOf(e)
		for _, s := range format.Switches() {
			typed := answersOf[edition][s.String()]
			if typed == "" {
				typed = "-"
			}
			if answer := r.Text(s); answer != typed {
				t.Errorf("%s in %s: %s is typed here, format has %s", s, edition, typed, answer)
			}
		}
		for name := range answersOf[edition] {
			if !slices.Contains(known, name) {
				t.Errorf("%s in %s: format has no such switch", name, edition)
			}
		}
	}
}
