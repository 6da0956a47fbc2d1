package conformance

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// Expected is a manifest of failures that an engine's authors know of. What it
// lists must fail, and as it says: an unexpected pass is a failure too.
type Expected struct {
	Corpus string          `json:"corpus"` // version it was written against
	Engine string          `json:"engine"` // name of the engine
	Cases  []ExpectedEntry `json:"expected"`
	passed []string        // first format in which it did not
	runs   []int
	of     map[string][]int // entries by case
	asked  []bool           // of which something was to be played; nil where all was
}

// ExpectedEntry foresees one failure, or skip.
type ExpectedEntry struct {
	Case    string   `json:"case"`
	Formats []string `json:"formats,omitempty"` // empty for all
	Outcome Outcome  `json:"outcome"`
	Reason  string   `json:"reason"`
	URL     string   `json:"url,omitempty"`
}

// ReadExpected reads a manifest, strictly.
func ReadExpected(data []byte) (*Expected, error) {
	var e Expected
	if err := strict(data, &e); err != nil {
		return nil, fmt.Errorf("manifest of expected failures: %w", err)
	}
	for i, entry := range e.Cases {
		known := []Outcome{Wrong, Skipped, Errored, Crashed, TimedOut, Unreadable, NotReached}
		switch {
		case entry.Reason == "":
			return nil, fmt.Errorf("manifest of expected failures: entry %d: field reason: say why case %s fails", i+1, Printable(entry.Case))
		case !slices.Contains(known, entry.Outcome):
			return nil, fmt.Errorf("manifest of expected failures: entry %d: field outcome: want one of %v, not %q", i+1, known, Printable(string(entry.Outcome)))
		}
	}
	return &e, nil
}

// check refuses a manifest that names cases that do not exist.
func (e *Expected) check(files []File) error {
	if e == nil {
		return nil
	}
	ids := map[string]bool{}
	for i := range files {
		for j := range files[i].Cases {
			ids[files[i].Cases[j].ID] = true
		}
	}
	for i, entry := range e.Cases {
		if _, d, derived := strings.Cut(entry.Case, "/"); !ids[base(entry.Case)] || derived && !slices.Contains(Derivations(), d) {
			return fmt.Errorf("manifest of expected failures: entry %d: no case %q in corpus %s", i+1, Printable(entry.Case), Version())
		}
	}
	e.passed, e.runs, e.of, e.asked = make([]string, len(e.Cases)), make([]int, len(e.Cases)), map[string][]int{}, nil
	for i, entry := range e.Cases {
		e.of[entry.Case] = append(e.of[entry.Case], i)
	}
	return nil
}

// note records what became of a run and returns whether that was foreseen.
func (e *Expected) note(id, formatID string, f *Failure) (foreseen bool) {
	if e == nil {
		return false
	}
	for _, i := range e.of[id] {
		entry := &e.Cases[i]
		if !entry.speaksOf(formatID) {
			continue
		}
		e.runs[i]++
		if f != nil && f.Outcome == entry.Outcome {
			foreseen = true
		} else if e.passed[i] == "" {
			e.passed[i] = formatID
		}
	}
	return foreseen
}

// among says that these runs alone are to be played: what is not among them was
// left out, and is not gone.
func (e *Expected) among(all []job) {
	if e == nil {
		return
	}
	e.asked = make([]bool, len(e.Cases))
	for _, j := range all {
		for _, i := range e.of[j.id()] {
			e.asked[i] = e.asked[i] || e.Cases[i].speaksOf(j.format)
		}
	}
}

func (e *ExpectedEntry) speaksOf(formatID string) bool {
	return len(e.Formats) == 0 || slices.Contains(e.Formats, formatID)
}

// stale lists the entries that did not fail as foreseen.
func (e *Expected) stale() []string {
	if e == nil {
		return nil
	}
	var out []string
	for i, entry := range e.Cases {
		switch {
		case e.runs[i] == 0 && e.asked != nil && !e.asked[i]:
		case e.runs[i] == 0:
			out = append(out, fmt.Sprintf("case %s is foreseen as %s but was not run", entry.Case, entry.Outcome))
		case e.passed[i] != "":
			out = append(out, fmt.Sprintf("case %s is foreseen as %s but is not in format %s", entry.Case, entry.Outcome, e.passed[i]))
		}
	}
	return out
}

// Manifest writes the manifest of expected failures that foresees just what the report found.
func (r *Report) Manifest() ([]byte, error) {
	e := Expected{Corpus: r.Corpus, Engine: r.Engine.Name, Cases: []ExpectedEntry{}}
	of := map[string]int{} // runs of a case
	for _, n := range r.runs {
		of[n.id]++
	}
	type key struct {
		id string
		o  Outcome
	}
	at := map[key]int{}
	for _, f := range append(slices.Clone(r.Failures), r.Skips...) {
		k := key{f.ID, f.Outcome}
		i, seen := at[k]
		if !seen {
			i = len(e.Cases)
			at[k] = i
			reason := f.Got
			if f.Outcome == Wrong {
				reason = fmt.Sprintf("%s differs at event %d", f.What, f.Event)
			}
			if reason == "" {
				reason = "no reason given"
			}
			e.Cases = append(e.Cases, ExpectedEntry{Case: f.ID, Outcome: f.Outcome, Reason: reason, URL: f.URL})
		}
		e.Cases[i].Formats = append(e.Cases[i].Formats, f.Format)
	}
	for i := range e.Cases {
		if len(e.Cases[i].Formats) == of[e.Cases[i].Case] {
			e.Cases[i].Formats = nil // all
		}
	}
	out, err := json.MarshalIndent(&e, "", "  ")
	return append(out, '\n'), err
}
