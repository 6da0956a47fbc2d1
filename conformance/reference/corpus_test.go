package reference_test

import (
	"strings"
	"testing"

	"github.com/evencourt/evencourt/conformance"
)

// undecided are cases that rest on a reading which no text settles and which
// this model reads otherwise.
var undecided = map[string]string{
	"c2547": "whether a stated position can be reached is not asked of this model",
}

// unread are cases about lines that say what cannot be: the model takes up lines
// that are sound, and does not ask them.
var unread = map[string]bool{"c2492": true}

// outdated are cases that assert what has been decided otherwise since, and
// why they still do. It is to be empty.
var outdated = map[string]string{}

// TestTwinPlaysTheCorpus: written apart, the model gives the answers that the
// cases state.
func TestTwinPlaysTheCorpus(t *testing.T) {
	files, err := conformance.Load()
	if err != nil {
		t.Fatal(err)
	}
	report, err := conformance.RunAll(&twin{}, files)
	if err != nil {
		t.Fatal(err)
	}
	failed := map[string]bool{}
	for i := range report.Failures {
		f := report.Failures[i]
		id, _, _ := strings.Cut(f.ID, "/")
		if outdated[id] == "" && undecided[id] == "" && !unread[id] {
			t.Errorf("%s", f.String())
		}
		failed[id] = true
	}
	for id := range outdated {
		if !failed[id] {
			t.Logf("%s agrees now: strike it from outdated", id)
		}
	}
	for _, n := range report.Totals {
		t.Logf("%-18s %4d cases %6d runs %6d failed", n.Feature, n.Cases, n.Runs, n.Failed)
	}
}
