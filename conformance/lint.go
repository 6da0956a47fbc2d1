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

// Lint checks the form of case files: that ids, titles, clauses, origins and
// words are what they may be, that formats exist, and that every case asserts
// as much as its length demands. What the cases say is not its business.
func Lint(files []File) ([]Finding, error) {
	whys, err := Whys()
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
	l.prose("about", f.About)
	if len(f.Cases) == 0 {
		l.add("feature-empty", "has no cases")
	}
	for _, o := range f.LeftOut {
		l.prose("left-out", o.Claim)
		l.prose("left-out", o.Source)
		l.prose("left-out", o.Why)
	}
	for i := range f.Cases {
		l.checkCase(&f.Cases[i])
	}
}

var idForm = regexp.MustCompile(`^c[0-9]{4}$`)

func (l *linter) checkCase(c *Case) {
	l.id = c.ID
	if !idForm.MatchString(c.ID) {
		l.add("id-form", "id %q is not c and four digits", c.ID)
	}
	if l.retired[c.ID] {
		l.add("id-retired", "the id has been retired")
	}
	l.once(l.ids, "id-twice", c.ID)
	l.title(c.Title)
	if c.Note != "" {
		l.prose("note", c.Note)
	}
	l.clause(&c.Clause)
	if !slices.Contains(origins, c.Origin) {
		l.add("origin", "unknown origin %q", c.Origin)
	}
	if (c.Origin == "published" || c.Origin == "quoted") && c.Clause.Source == "derived" {
		l.add("origin-source", "origin %s needs the source that was read", c.Origin)
	}
	if c.Generated != (c.Origin == "generated") {
		l.add("generated", "generated and origin contradict each other")
	}
	l.whys(c.Why)
	l.formats(c.Formats)
	l.start(c)
	if len(c.Steps) == 0 {
		l.add("steps", "has no steps")
	}
	isLong := c.events() >= long
	for i := range c.Steps {
		l.step(i+1, &c.Steps[i], isLong)
	}
}

const longestTitle = 99

var obligation = regexp.MustCompile(`(?i)\bshould\b`)

func (l *linter) title(title string) {
	l.prose("title", title)
	l.once(l.titles, "title-twice", title)
	if len(title) > longestTitle {
		l.add("title-length", "title has %d characters, at most %d may stand", len(title), longestTitle)
	}
	if obligation.MatchString(title) {
		l.add("title-should", "title says what ought to be; say what is")
	}
	if strings.HasSuffix(title, ".") {
		l.add("title-stop", "title ends in a full stop")
	}
}

// prose checks a text that people read.
func (l *linter) prose(rule, text string) {
	if text == "" || text != strings.TrimSpace(text) {
		l.add(rule, "%s is empty, or has a space at an end", rule)
	}
	for _, r := range text {
		if r < ' ' || r > '~' {
			l.add(rule+"-ascii", "%s has %q, which is not printable ASCII", rule, r)
			return
		}
	}
}

var year = regexp.MustCompile(`^[0-9]{4}$`)

// clubDocument stands for all local rules: no text of theirs has editions.
const clubDocument = "club"

func (l *linter) clause(c *Clause) {
	l.prose("clause-claim", c.Claim)
	l.prose("clause-source", c.Source)
	var d format.Document
	var e format.Edition
	var m format.Mark
	switch {
	case c.Document == clubDocument:
		if c.Edition != "-" && !year.MatchString(c.Edition) {
			l.add("clause-edition", "a club rule has a year or -, not %q", c.Edition)
		}
	case d.UnmarshalText([]byte(c.Document)) != nil:
		l.add("clause-document", "unknown document %q", c.Document)
	case e.UnmarshalText([]byte(c.Edition)) != nil || e.Document() != d:
		l.add("clause-edition", "%s has no edition %q", c.Document, c.Edition)
	}
	if m.UnmarshalText([]byte(c.Mark)) != nil {
		l.add("clause-mark", "unknown mark %q", c.Mark)
	}
	if c.Rule == "" && m != format.Derived {
		l.add("clause-rule", "only a derived claim goes without a rule")
	}
}

func (l *linter) whys(words []string) {
	if len(words) == 0 {
		l.add("why", "does not say why it exists")
	}
	seen := map[string]bool{}
	for _, w := range words {
		if !l.why[w] {
			l.add("why", "unknown word %q", w)
		}
		if seen[w] {
			l.add("why", "%q stands twice", w)
		}
		seen[w] = true
	}
}

func (l *linter) formats(entries []string) {
	if len(entries) == 0 {
		l.add("formats", "names no format")
	}
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

var (
	firstForm   = regexp.MustCompile(`^[AB-]$`)
	serversForm = regexp.MustCompile(`^A[12]B[12]$`)
)

func (l *linter) start(c *Case) {
	if (c.Start == nil) == (c.From == "") {
		l.add("start", "needs either start or from")
		return
	}
	if s := c.Start; s != nil {
		if !firstForm.MatchString(s.First) {
			l.add("start", "first is A, B or -, not %q", s.First)
		}
		if s.Servers != "" && (!serversForm.MatchString(s.Servers) || s.First == "-") {
			l.add("start", "servers %q do not stand like A1B1, or nobody serves first", s.Servers)
		}
	}
	l.line("the start", c.opening(), c.Call)
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
	if call != "" && !callForm.MatchString(call) {
		l.add("call", "call %q of %s is not numbers with - between", call, at)
	}
}

var callForm = regexp.MustCompile(`^[0-9]+-[0-9]+(-[12])?$`)

func (l *linter) step(n int, s *Step, isLong bool) {
	at := fmt.Sprintf("step %d", n)
	switch text := s.Do + s.Entry; {
	case s.Do != "" && s.Entry != "":
		l.add("entry", "%s has events and a log entry", at)
	case text == "" || strings.Join(strings.Fields(text), " ") != text:
		l.add("do", "%s has no event, or white space other than one space between two", at)
	case s.Entry != "" && !strings.Contains(s.Entry, " "):
		l.add("entry", "%s has a log entry without payload, which is an event like any other", at)
	}
	if s.Name != "" {
		l.prose("step-name", s.Name)
	}
	if s.Refused != "" {
		l.refused(at, s)
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
		switch {
		case i < 0:
			l.add("effects", "%s: unknown effect %q", at, e)
		case i < from:
			l.add("effects", "%s: effect %q is out of order or stands twice", at, e)
		}
		from = max(from, i+1)
	}
}

func (l *linter) refused(at string, s *Step) {
	if !slices.Contains(refusals, s.Refused) {
		l.add("refused", "%s: unknown refusal %q", at, s.Refused)
	}
	if len(s.events()) != 1 || s.Line != "" || s.Call != "" || s.Effects != nil {
		l.add("refused", "%s: a refusal is of one event and changes nothing, so it asserts nothing else", at)
	}
}
