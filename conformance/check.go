package conformance

import (
	"bufio"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/evencourt/evencourt/format"
)

// Options say what is checked. The zero value checks the whole corpus in every
// profile.
type Options struct {
	Files    []File        // default: [Load]
	Profiles []Profile     // default: [Profiles]
	Expected *Expected     // failures that are foreseen
	Only     Selection     // default: all runs
	Limit    time.Duration // after which nothing more is played; 0 for none
	// Progress, if not nil, is told after every run how many are done and how
	// many of those failed.
	Progress func(done, of, failed int)
}

// Verdict sums a report up.
type Verdict string

// The verdicts.
const (
	// Conformant: every case of every profile claimed passed in every format
	// claimed, and at least one did.
	Conformant Verdict = "conformant"
	// Partial: nothing failed but what the manifest foresees, yet something
	// was skipped or foreseen.
	Partial Verdict = "partial"
	// NotConformant: something failed unforeseen, passed though foreseen to
	// fail, or nothing was played at all.
	NotConformant Verdict = "not conformant"
)

// ProfileReport is what became of one profile.
type ProfileReport struct {
	Profile string   `json:"profile"`
	Claimed bool     `json:"claimed"`
	Reason  string   `json:"reason,omitempty"` // why it is not claimed
	Formats []string `json:"formats"`          // claimed
	Offered int      `json:"offered"`          // formats that could have been
	Runs    int      `json:"runs"`
	Passed  int      `json:"passed"`
	Verdict Verdict  `json:"verdict,omitempty"`
}

// Total counts what was run of one feature.
type Total struct {
	Feature string `json:"feature"`
	Cases   int    `json:"cases"`   // written cases of the feature that were run
	Runs    int    `json:"runs"`    // these and derived ones, times the formats of each
	Derived int    `json:"derived"` // runs of derived cases among them
	Passed  int    `json:"passed"`  // runs
	Failed  int    `json:"failed"`  // runs that failed in any way, foreseen or not
	Skipped int    `json:"skipped"` // runs
}

// Cell counts the runs of a feature in an edition.
type Cell struct {
	Feature string         `json:"feature"`
	Edition format.Edition `json:"edition"`
	Runs    int            `json:"runs"`
	Passed  int            `json:"passed"`
}

// Report is what [Check] found.
type Report struct {
	Report   int             `json:"report"` // version of this form
	Corpus   string          `json:"corpus"`
	Engine   Identity        `json:"engine"`
	Command  string          `json:"command,omitempty"` // repeats the run
	Verdict  Verdict         `json:"verdict"`
	Profiles []ProfileReport `json:"profiles"`
	Totals   []Total         `json:"totals"`
	Cells    []Cell          `json:"cells"`
	Selected string          `json:"selected,omitempty"` // which runs alone were played
	Failures []*Failure      `json:"failures"`
	Skips    []*Failure      `json:"skips"`
	Stale    []string        `json:"stale"` // entries of the manifest that did not fail as foreseen
	Seconds  float64         `json:"seconds"`
	runs     []runReport
}

// runReport is one run for the JUnit form, which lists those that passed too.
type runReport struct {
	feature, id, format string
	failure             *Failure
}

// reportVersion is the version of the form of reports.
const reportVersion = 2

// Check has a subject play all that it claims and reports. The error is about
// the corpus, the options, or a subject that cannot be asked what it claims;
// what an engine does wrong stands in the report.
func Check(s Subject, o Options) (*Report, error) {
	began := time.Now()
	all, err := o.jobs()
	if err != nil {
		return nil, err
	}
	c := checking{Report: &Report{Report: reportVersion, Corpus: Version(), Engine: s.Identity(), Selected: o.Only.String(),
		Cells: []Cell{}, Failures: []*Failure{}, Skips: []*Failure{}, Stale: []string{}}, expected: o.Expected,
		unfinished: make([]bool, len(o.Profiles)), unforeseen: make([]bool, len(o.Profiles)), rules: rulesOfJobs(), once: shared()}
	if c.claimed, err = c.claim(s, o.Profiles, all); err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(j job) bool {
		return !slices.ContainsFunc(j.profiles, func(p int) bool { return c.claimed[p][j.format] })
	})
	for i := range all {
		j := &all[i]
		var f *Failure
		if o.Limit > 0 && time.Since(began) > o.Limit {
			f = failure(j.c, j.format, NotReached)
			f.ID, f.Got = j.id(), fmt.Sprintf("the time limit of %v was over", o.Limit)
		} else {
			f = j.play(s)
		}
		c.note(j, f)
		if o.Progress != nil {
			o.Progress(i+1, len(all), len(c.Failures))
		}
	}
	c.Stale = append(c.Stale, o.Expected.stale()...)
	c.judge(c.unfinished, c.unforeseen)
	c.Seconds = time.Since(began).Seconds()
	return c.Report, nil
}

// jobs are the runs that the options ask for, of the corpus and of all profiles
// where they name none.
func (o *Options) jobs() (all []job, err error) {
	if o.Files == nil {
		if o.Files, err = Load(); err != nil {
			return nil, err
		}
	}
	profiles, err := Profiles()
	if err != nil {
		return nil, err
	}
	if o.Profiles == nil {
		o.Profiles = profiles
	}
	if all, err = jobs(o.Files, o.Profiles, o.Only); err != nil {
		return nil, err
	}
	if err = o.Expected.check(o.Files); err == nil && (o.Only.String() != "" || len(o.Profiles) < len(profiles)) {
		o.Expected.among(all)
	}
	return all, err
}

// checking is a report being made, run by run.
type checking struct {
	*Report
	expected   *Expected
	claimed    []map[string]bool // by profile: the formats that the engine plays
	unfinished []bool            // by profile: something of it did not pass
	unforeseen []bool            // by profile: and nobody foresaw it
	last       *Case             // the one that was run last
	told       int               // bytes of the engine's own words that are kept
	rules      func(*job) []Rule
	once       func(*Case, string) string
}

// note enters what became of a run; nil if it passed.
func (c *checking) note(j *job, f *Failure) {
	if f != nil {
		f.Rules = c.rules(j)
		f.ID, f.Expected, f.Got = c.once(j.c, f.ID), c.once(j.c, f.Expected), c.once(j.c, f.Got)
	}
	foreseen := c.expected.note(j.id(), j.format, f)
	if f != nil {
		f.Feature, f.Foreseen = j.file.Feature, foreseen
		if f.Outcome != Wrong {
			if c.told += len(f.Got); c.told > mostTold {
				f.Got = strings.Clone(f.Got[:min(len(f.Got), mostLater)])
			}
		}
	}
	c.count(j, f)
	c.runs = append(c.runs, runReport{j.file.Feature, c.once(j.c, j.id()), j.format, f})
	for _, p := range j.profiles {
		if !c.claimed[p][j.format] {
			continue
		}
		c.Profiles[p].Runs++
		switch {
		case f == nil:
			c.Profiles[p].Passed++
		case f.Outcome != Skipped && !f.Foreseen:
			c.unforeseen[p] = true
		default:
			c.unfinished[p] = true
		}
	}
}

// count adds a run to the totals of its feature, to the cell of its edition and to
// the failures or skips.
func (c *checking) count(j *job, f *Failure) {
	if len(c.Totals) == 0 || c.Totals[len(c.Totals)-1].Feature != j.file.Feature {
		c.Totals = append(c.Totals, Total{Feature: j.file.Feature})
	}
	t, cell := &c.Totals[len(c.Totals)-1], c.cell(j.file.Feature, j.parsed.Edition)
	if j.c != c.last {
		t.Cases++
		c.last = j.c
	}
	t.Runs++
	cell.Runs++
	if j.derivation != "" {
		t.Derived++
	}
	switch {
	case f == nil:
		t.Passed++
		cell.Passed++
	case f.Outcome == Skipped:
		t.Skipped++
		c.Skips = append(c.Skips, f)
	default:
		t.Failed++
		c.Failures = append(c.Failures, f)
	}
}

// cell returns the count of a feature in an edition; features come one after
// the other.
func (r *Report) cell(feature string, e format.Edition) *Cell {
	for i := len(r.Cells) - 1; i >= 0 && r.Cells[i].Feature == feature; i-- {
		if r.Cells[i].Edition == e {
			return &r.Cells[i]
		}
	}
	r.Cells = append(r.Cells, Cell{Feature: feature, Edition: e})
	return &r.Cells[len(r.Cells)-1]
}

// rulesOfJobs returns a function that gives the rules of a run and makes them
// once for all derived runs of a case in a format.
func rulesOfJobs() func(*job) []Rule {
	var of *Case
	var made map[string][]Rule
	return func(j *job) []Rule {
		if of != j.c {
			of, made = j.c, map[string][]Rule{}
		}
		out, known := made[j.format]
		if !known {
			out = j.c.Rules(j.parsed)
			made[j.format] = out
		}
		return out
	}
}

// shared returns a function that keeps each text of the runs of a case only
// once: an engine that is wrong is wrong alike in one edition after the other.
func shared() func(*Case, string) string {
	var of *Case
	kept := map[string]string{}
	return func(c *Case, text string) string {
		if of != c {
			of = c
			clear(kept)
		}
		if _, known := kept[text]; !known {
			kept[text] = text
		}
		return kept[text]
	}
}

// What is kept of an engine's reasons: once a report holds mostTold bytes of
// them, only the first of every further text.
const (
	mostTold  = 6 << 20
	mostLater = 40
)

// claim asks the subject about every profile and returns which formats of
// each it plays.
func (r *Report) claim(s Subject, profiles []Profile, all []job) ([]map[string]bool, error) {
	claimed := make([]map[string]bool, len(profiles))
	for p := range profiles {
		var offered []string
		seen := map[string]bool{}
		for _, j := range all {
			if slices.Contains(j.profiles, p) && !seen[j.format] {
				seen[j.format] = true
				offered = append(offered, j.format)
			}
		}
		pr := ProfileReport{Profile: profiles[p].Name, Formats: []string{}, Offered: len(offered)}
		if len(offered) == 0 {
			pr.Reason = "nothing of it was to be played"
			r.Profiles = append(r.Profiles, pr)
			continue
		}
		formats, reason, err := s.Claim(profiles[p], offered)
		if err != nil {
			return nil, err
		}
		pr.Reason = Printable(reason)
		claimed[p] = map[string]bool{}
		for _, id := range formats {
			if !seen[id] {
				return nil, fmt.Errorf("the engine claims format %s, which profile %s did not offer", Printable(id), pr.Profile)
			}
			if reason == "" && !claimed[p][id] {
				claimed[p][id] = true
				pr.Formats = append(pr.Formats, id)
			}
		}
		pr.Claimed = len(pr.Formats) > 0
		if !pr.Claimed && pr.Reason == "" {
			pr.Reason = "no format claimed"
		}
		r.Profiles = append(r.Profiles, pr)
	}
	return claimed, nil
}

// judge gives the verdicts.
func (r *Report) judge(unfinished, unforeseen []bool) {
	r.Verdict = NotConformant
	anything, partial, bad := false, len(r.Skips) > 0, len(r.Stale) > 0
	for p := range r.Profiles {
		pr := &r.Profiles[p]
		if !pr.Claimed {
			continue
		}
		anything = true
		switch {
		case unforeseen[p]:
			pr.Verdict = NotConformant
		case unfinished[p]:
			pr.Verdict = Partial
		default:
			pr.Verdict = Conformant
		}
	}
	for _, f := range r.Failures {
		bad = bad || !f.Foreseen
		partial = true
	}
	switch {
	case bad || !anything:
	case partial:
		r.Verdict = Partial
	default:
		r.Verdict = Conformant
	}
}

// AsForeseen reports whether everything went as the manifest of expected
// failures says: nothing else failed, and nothing in it passed.
func (r *Report) AsForeseen() bool { return r.Verdict != NotConformant }

// Summary lists totals, profiles and verdict for people to read.
func (r *Report) Summary() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s against corpus %s\n\n", Printable(r.Engine.Name), Printable(r.Engine.Version), r.Corpus)
	fmt.Fprintf(&b, "%-20s %6s %7s %8s %7s %7s %7s\n", "feature", "cases", "runs", "derived", "passed", "failed", "skipped")
	var sum Total
	for _, t := range r.Totals {
		fmt.Fprintf(&b, "%-20s %6d %7d %8d %7d %7d %7d\n", t.Feature, t.Cases, t.Runs, t.Derived, t.Passed, t.Failed, t.Skipped)
		sum.Cases, sum.Runs, sum.Derived, sum.Passed = sum.Cases+t.Cases, sum.Runs+t.Runs, sum.Derived+t.Derived, sum.Passed+t.Passed
		sum.Failed, sum.Skipped = sum.Failed+t.Failed, sum.Skipped+t.Skipped
	}
	fmt.Fprintf(&b, "%-20s %6d %7d %8d %7d %7d %7d\n\n", "all", sum.Cases, sum.Runs, sum.Derived, sum.Passed, sum.Failed, sum.Skipped)
	b.WriteString(r.byField())
	byOutcome := map[Outcome]int{}
	for _, f := range r.Failures {
		byOutcome[f.Outcome]++
	}
	for _, o := range []Outcome{Wrong, Errored, Crashed, TimedOut, Unreadable, NotReached} {
		if byOutcome[o] > 0 {
			fmt.Fprintf(&b, "%-20s %6d\n", o, byOutcome[o])
		}
	}
	for _, p := range r.Profiles {
		if p.Claimed {
			fmt.Fprintf(&b, "profile %-18s %-14s %5d of %5d runs passed, in %d of %d formats\n", p.Profile, p.Verdict, p.Passed, p.Runs, len(p.Formats), p.Offered)
		} else if p.Offered > 0 {
			fmt.Fprintf(&b, "profile %-18s not claimed: %s\n", p.Profile, p.Reason)
		}
	}
	for _, s := range r.Stale {
		fmt.Fprintf(&b, "unexpected: %s\n", s)
	}
	var claimed []string
	for _, p := range r.Profiles {
		if p.Claimed {
			claimed = append(claimed, p.Profile)
		}
	}
	fmt.Fprintf(&b, "\n%s, claiming %s (%.1f s)\n", r.Verdict, orNone(strings.Join(claimed, ", ")), r.Seconds)
	if r.Selected != "" {
		fmt.Fprintf(&b, "of a selection alone: %s\n", r.Selected)
	}
	return b.String()
}

// byField counts in which field of the line, or in what else, cases went wrong
// first.
func (r *Report) byField() string {
	type count struct {
		cases map[string]bool
		runs  int
	}
	by := map[string]*count{}
	for _, f := range r.Failures {
		name := f.Differs()
		if name == "" {
			continue
		}
		if by[name] == nil {
			by[name] = &count{cases: map[string]bool{}}
		}
		by[name].cases[base(f.ID)] = true
		by[name].runs++
	}
	names := slices.Collect(maps.Keys(by))
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(len(by[b].cases)-len(by[a].cases), by[b].runs-by[a].runs, strings.Compare(a, b))
	})
	var b strings.Builder
	for _, name := range names {
		fmt.Fprintf(&b, "%s differs first in %d case(s), %d run(s)\n", name, len(by[name].cases), by[name].runs)
	}
	if len(names) > 0 {
		b.WriteString("\n")
	}
	return b.String()
}

// FailuresByCase tells the failures that nobody foresaw, one text a case and at
// most so many; more is how many cases are left out.
func (r *Report) FailuresByCase(most int) (texts []string, more int) {
	all := groups(slices.DeleteFunc(slices.Clone(r.Failures), func(f *Failure) bool { return f.Foreseen }))
	for _, g := range all[:min(most, len(all))] {
		texts = append(texts, g.String())
	}
	return texts, max(0, len(all)-most)
}

// SkipsByCase does the same for what was skipped, a line a case.
func (r *Report) SkipsByCase(most int) (lines []string, more int) {
	all := groups(r.Skips)
	for _, g := range all[:min(most, len(all))] {
		line := fmt.Sprintf("%s in %s", g.first.ID, g.first.Format)
		if n := len(g.more); n > 0 {
			line += fmt.Sprintf(" and %d more runs", n)
		}
		lines = append(lines, strings.TrimSpace(line+" skipped: "+g.first.Got+" "+g.first.URL))
	}
	return lines, max(0, len(all)-most)
}

// WriteJSON writes the report, a failure a line.
func (r *Report) WriteJSON(w io.Writer) error {
	head := *r
	head.Failures, head.Skips = []*Failure{}, []*Failure{}
	text, err := json.Marshal(head)
	if err != nil {
		return err
	}
	// The lists are written one by one: a report of an engine that fails
	// everything is never held as a whole.
	out := bufio.NewWriter(w)
	rest := string(text)
	for _, list := range []struct {
		name string
		of   []*Failure
	}{{"failures", r.Failures}, {"skips", r.Skips}} {
		before, after, _ := strings.Cut(rest, `"`+list.name+`":[`)
		rest = after
		fmt.Fprintf(out, "%s\n%q:[", before, list.name)
		for i, f := range list.of {
			text, err := json.Marshal(f)
			if err != nil {
				return err
			}
			if i > 0 {
				out.WriteByte(',')
			}
			out.WriteByte('\n')
			out.Write(text)
		}
	}
	out.WriteString(rest)
	out.WriteByte('\n')
	return out.Flush()
}
