package conformance

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// Finding is a fault in the form of the corpus.
type Finding struct {
	File    string
	Case    string // id, or empty for the file as a whole
	Rule    string // stable code of the rule that is broken
	Problem string
}

// String puts the finding on one line.
func (f Finding) String() string {
	at := f.File
	if f.Case != "" {
		at += ": " + f.Case
	}
	return at + ": " + f.Problem + " (" + f.Rule + ")"
}

// vocabulary is what the linter holds the cases against.
type vocabulary struct {
	why     map[string]bool
	retired map[string]bool
}

// linter collects findings and what must be unique over all files.
type linter struct {
	vocabulary
	ids, titles, features map[string]string // to where it was seen first
	findings              []Finding
	file                  string
	id                    string
}

// Lint checks what schema/cases.json cannot: that ids and titles stand once,
// that formats exist and clauses stand in them, that calls go with lines, and
// that every case asserts as much as its length demands. What the cases say is
// not its business.
func Lint(files []File) ([]Finding, error) {
	whys, err := Vocabulary()
	if err != nil {
		return nil, err
	}
	v := vocabulary{why: map[string]bool{}}
	for _, w := range whys {
		v.why[w.Word] = true
	}
	if v.retired, err = retired(); err != nil {
		return nil, err
	}
	return lint(files, v), nil
}

func lint(files []File, v vocabulary) []Finding {
	l := &linter{vocabulary: v, ids: map[string]string{}, titles: map[string]string{}, features: map[string]string{}}
	for i := range files {
		l.checkFile(&files[i])
	}
	return l.findings
}

func (l *linter) add(rule, problem string, args ...any) {
	l.findings = append(l.findings, Finding{l.file, l.id, rule, fmt.Sprintf(problem, args...)})
}

// once reports a text that was seen before.
func (l *linter) once(seen map[string]string, rule, text string) {
	if where, again := seen[text]; again {
		l.add(rule, "%q stands already in %s", text, where)
		return
	}
	seen[text] = strings.TrimSuffix(l.file+": "+l.id, ": ")
}

func (l *linter) checkFile(f *File) {
	l.file, l.id = f.Path, ""
	if f.Feature+".json" != f.Path {
		l.add("feature-name", "feature %q is not the name of the file", f.Feature)
	}
	l.once(l.features, "feature-twice", f.Feature)
	for i := range f.Cases {
		l.checkCase(&f.Cases[i])
	}
}

var obligation = regexp.MustCompile(`(?i)\bshould\b`)

func (l *linter) checkCase(c *Case) {
	l.id = c.ID
	if l.retired[c.ID] {
		l.add("id-retired", "the id has been retired")
	}
	l.once(l.ids, "id-twice", c.ID)
	l.once(l.titles, "title-twice", c.Title)
	if obligation.MatchString(c.Title) {
		l.add("title-should", "title says what ought to be; say what is")
	}
	for _, w := range c.Why {
		if !l.why[w] {
			l.add("why", "unknown word %q", w)
		}
	}
	l.formats(c.Formats)
	l.clauses(c)
	l.line("the start", c.opening(), c.Call)
	isLong := c.events() >= long
	for i := range c.Steps {
		l.step(fmt.Sprintf("step %d", i+1), &c.Steps[i], isLong)
	}
}

// clauses checks that a case rests on something wherever it is played.
func (l *linter) clauses(c *Case) {
	for _, entry := range c.Formats {
		ids, _ := Expand(entry) // a bad entry is reported as such
		for _, id := range ids {
			if f, err := format.Parse(id); err == nil && len(c.Rules(&f)) == 0 {
				l.add("clauses", "none of its clauses stands in %s", id)
			}
		}
	}
}

func (l *linter) formats(entries []string) {
	seen := map[string]bool{}
	for _, entry := range entries {
		ids, err := Expand(entry)
		if err != nil {
			l.add("formats", "%v", err)
		}
		for _, id := range ids {
			if seen[id] {
				l.add("formats", "%s is covered twice", id)
			}
			seen[id] = true
		}
	}
}

// line checks a line, and that a call stands beside it just when there is one.
func (l *linter) line(at, line, call string) {
	if fault := lineFault(line); fault != "" {
		l.add("line", "line of %s %s", at, fault)
		return
	}
	if (fieldOf(line, "phase") == "play") != (call != "") {
		l.add("call", "%s has a call just when a game is in play", at)
	}
}

func (l *linter) step(at string, s *Step, isLong bool) {
	if s.Refused != "" {
		return
	}
	switch {
	case !isLong && len(s.events()) != 1:
		l.add("short", "%s: a short case asserts after every event", at)
	case !isLong && s.Effects == nil:
		l.add("short", "%s: a short case asserts the effects", at)
	case isLong && s.Name == "":
		l.add("long", "%s: a checkpoint of a long case has a name", at)
	}
	l.line(at, s.Line, s.Call)
	from := 0
	for _, e := range s.Effects {
		i := slices.Index(effects, e)
		if i < from {
			l.add("effects", "%s: effect %q is unknown or out of order", at, e)
		}
		from = max(from, i+1)
	}
}
