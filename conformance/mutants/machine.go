package mutants

import (
	"bytes"
	"cmp"
	_ "embed" // the list of what lived, and the reasons
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

//go:embed machine.json
var machine []byte

//go:embed reasons.json
var reasons []byte

// Machine is what became of the mutants that a program made of the core: an
// operator changed at a time, the hand-written cases alone against it.
type Machine struct {
	Date     string     `json:"date"`
	Tool     string     `json:"tool"`
	Command  string     `json:"command"`
	Packages []Measured `json:"packages"`
	Lived    []Survivor `json:"lived"`
	Unseen   []Unseen   `json:"not_covered"`
}

// Measured counts the mutants of a package.
type Measured struct {
	Package  string   `json:"package"`
	Files    []string `json:"files"`
	Killed   int      `json:"killed"`
	Lived    int      `json:"lived"`
	TimedOut int      `json:"timed_out"`
	Unseen   int      `json:"not_covered"`
	NoBuild  int      `json:"not_viable"`
	NoRule   int      `json:"no_rule"` // in functions that are no rule; not in the other counts
}

// Survivor is a mutant that no hand-written case killed. Line is that of the
// day of the run; what identifies it is the text of the line, and the operator
// by its column in that text.
type Survivor struct {
	File     string `json:"file"`
	Line     int    `json:"line"`
	Function string `json:"function"`
	Source   string `json:"source"`
	Column   int    `json:"column"` // from 1, in Source
	Type     string `json:"type"`
	TimedOut bool   `json:"timed_out,omitempty"`
}

// Unseen is a function with mutants that no hand-written case comes to.
type Unseen struct {
	File     string `json:"file"`
	Function string `json:"function"`
	Mutants  int    `json:"mutants"`
}

// Reasons are kept by hand: why a mutant lives.
type Reasons struct {
	NoRule []Outside `json:"no_rule"` // functions that are no rule of the game
	Lived  []Reason  `json:"lived"`
	Unseen []Outside `json:"not_covered"` // functions in which something is never run
}

// Outside is a function that the corpus does not measure, or not fully, and why.
type Outside struct {
	File     string `json:"file"`
	Function string `json:"function"`
	Why      string `json:"why"`
}

// Reason says why mutants of one line live.
type Reason struct {
	File     string `json:"file"`
	Function string `json:"function"`
	Source   string `json:"source"`
	// Mutants names type and column, such as "INVERT_LOGICAL 12".
	Mutants []string `json:"mutants"`
	Kind    string   `json:"kind"` // one of [Kinds]
	Why     string   `json:"why"`
}

// Kinds are the kinds of reasons why a mutant lives.
var Kinds = []string{
	"equivalent", // no sequence of events in a format with an id tells it from the sound engine
	"no answer",  // every case that comes to it only crashes, or cannot begin
	"no case",    // it differs, in what no clause decides or no line, call or effect shows
	"open",       // a case is wanted
}

// Stored returns what the last run found and the reasons.
func Stored() (Machine, Reasons, error) {
	var m Machine
	var r Reasons
	if err := strictly(machine, &m); err != nil {
		return m, r, fmt.Errorf("mutants: machine.json: %w", err)
	}
	if err := strictly(reasons, &r); err != nil {
		return m, r, fmt.Errorf("mutants: reasons.json: %w", err)
	}
	return m, r, nil
}

func strictly(text []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	return d.Decode(v)
}

// gremlins is the report that the tool writes, as far as it is read here.
type gremlins struct {
	Files []mutated `json:"files"`
}

type mutated struct {
	Name      string     `json:"file_name"`
	Mutations []mutation `json:"mutations"`
}

type mutation struct {
	Type   string `json:"type"`
	Status string `json:"status"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
}

// ReadMachine reads the reports of gremlins that .ci/mutants.sh left in a
// folder, beside the sources that it changed.
func ReadMachine(dir, date string, r Reasons) (Machine, error) {
	m := Machine{Date: date, Tool: "gremlins v0.6.0", Command: ".ci/mutants.sh", Lived: []Survivor{}, Unseen: []Unseen{}}
	for _, name := range []string{"serviceorder", "rally", "format"} {
		text, err := os.ReadFile(filepath.Join(dir, name+".json"))
		if err != nil {
			return m, err
		}
		var g gremlins
		if err := json.Unmarshal(text, &g); err != nil {
			return m, fmt.Errorf("mutants: %s.json: %w", name, err)
		}
		slices.SortFunc(g.Files, func(a, b mutated) int { return strings.Compare(a.Name, b.Name) })
		p := Measured{Package: name}
		for _, f := range g.Files {
			source, err := readSource(filepath.Join(dir, "source", name, path.Base(f.Name)))
			if err != nil {
				return m, err
			}
			file := name + "/" + path.Base(f.Name)
			p.Files = append(p.Files, path.Base(f.Name))
			slices.SortStableFunc(f.Mutations, func(a, b mutation) int { return cmp.Or(a.Line-b.Line, a.Column-b.Column) })
			for _, x := range f.Mutations {
				if x.Line < 1 || x.Line > len(source.lines) {
					return m, fmt.Errorf("mutants: %s has no line %d", file, x.Line)
				}
				function := source.function(x.Line)
				if r.noRule(file, function) {
					p.NoRule++
					continue
				}
				text, indent := source.line(x.Line)
				s := Survivor{file, x.Line, function, text, x.Column - indent, x.Type, x.Status == "TIMED OUT"}
				switch x.Status {
				case "KILLED":
					p.Killed++
				case "LIVED":
					p.Lived++
					m.Lived = append(m.Lived, s)
				case "TIMED OUT":
					p.TimedOut++
					m.Lived = append(m.Lived, s)
				case "NOT COVERED":
					p.Unseen++
					m.unseen(file, function)
				case "NOT VIABLE":
					p.NoBuild++
				default:
					return m, fmt.Errorf("mutants: %s.json: unknown status %q", name, x.Status)
				}
			}
		}
		m.Packages = append(m.Packages, p)
	}
	return m, nil
}

func (m *Machine) unseen(file, function string) {
	for i := range m.Unseen {
		if u := &m.Unseen[i]; u.File == file && u.Function == function {
			u.Mutants++
			return
		}
	}
	m.Unseen = append(m.Unseen, Unseen{file, function, 1})
}

func (r *Reasons) noRule(file, function string) bool {
	return slices.ContainsFunc(r.NoRule, func(o Outside) bool { return o.File == file && o.Function == function })
}

// mutant names the change, as [Reason] does.
func (s *Survivor) mutant() string { return fmt.Sprintf("%s %d", s.Type, s.Column) }

// Of returns the reason why a mutant lives, or nil.
func (r *Reasons) Of(s Survivor) *Reason {
	for i := range r.Lived {
		x := &r.Lived[i]
		if x.File == s.File && x.Function == s.Function && x.Source == s.Source && slices.Contains(x.Mutants, s.mutant()) {
			return x
		}
	}
	return nil
}

// source is a file and where its functions stand.
type source struct {
	lines []string
	funcs []fun
}

type fun struct {
	name     string
	from, to int
}

func readSource(path string) (*source, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	files := token.NewFileSet()
	parsed, err := parser.ParseFile(files, path, text, 0)
	if err != nil {
		return nil, err
	}
	s := &source{lines: strings.Split(string(text), "\n")}
	for _, d := range parsed.Decls {
		if f, ok := d.(*ast.FuncDecl); ok {
			s.funcs = append(s.funcs, fun{name(f), files.Position(f.Pos()).Line, files.Position(f.End()).Line})
		}
	}
	return s, nil
}

// name is Type.method, or the name of a function.
func name(f *ast.FuncDecl) string {
	if f.Recv == nil {
		return f.Name.Name
	}
	t := f.Recv.List[0].Type
	if star, ok := t.(*ast.StarExpr); ok {
		t = star.X
	}
	if id, ok := t.(*ast.Ident); ok {
		return id.Name + "." + f.Name.Name
	}
	return f.Name.Name
}

// function is the one that a line belongs to; "" outside all.
func (s *source) function(line int) string {
	for _, f := range s.funcs {
		if f.from <= line && line <= f.to {
			return f.name
		}
	}
	return ""
}

// line is the text of a line, and how many bytes stand before it.
func (s *source) line(n int) (text string, indent int) {
	whole := s.lines[n-1]
	text = strings.TrimLeft(whole, "\t ")
	return strings.TrimRight(text, "\t "), len(whole) - len(text)
}

// count is what became of the mutants of a package, survivors by reason.
type count struct {
	Measured
	reasons map[string]int
}

func (m *Machine) counts(r *Reasons) []count {
	var out []count
	for _, p := range m.Packages {
		c := count{p, map[string]int{}}
		for _, s := range m.Lived {
			if path.Dir(s.File) != p.Package {
				continue
			}
			kind := "none"
			if x := r.Of(s); x != nil {
				kind = x.Kind
			}
			c.reasons[kind]++
		}
		out = append(out, c)
	}
	return out
}

// MachinePage writes MACHINE.md.
func MachinePage(m Machine, r Reasons) string {
	var b strings.Builder
	fmt.Fprintf(&b, `# Mutants made by a machine

Generated by %[1]sgo run ./conformance/cmd/mutants -machine DIR%[1]s from what %[1]s%[2]s%[1]s left in DIR (%[3]s, %[4]s), and from
[mutants/reasons.json](mutants/reasons.json), which is kept by hand; do not edit. After a change of the reasons alone: %[1]s-page%[1]s.
Test: %[1]sgo test ./conformance/mutants%[1]s.

The tool changes one operator at a time in a copy of the core: comparisons and their bounds, arithmetic, bits, logic, counting,
loops and assignments. The hand-written cases alone are then played, in every format that they name. **A case kills a mutant that
gives an answer the case does not allow.** A mutant that only crashes, or that cannot begin or take up a line, is not killed.
Mutants in the conditions of a switch are made too, though coverage by itself leaves them out. Whoever wrote the cases did not
choose these mutants; whoever read their survivors then wrote more cases.

`, "`", m.Command, m.Tool, m.Date)
	b.WriteString("| package | files | killed | lived | of these: equivalent | no answer | no case | open | timed out | killed of what can be | killed or no answer | not reached | no rule |\n")
	b.WriteString("|---|---|---|---|---|---|---|---|---|---|---|---|---|\n")
	for _, c := range m.counts(&r) {
		could := c.Killed + c.Lived + c.TimedOut - c.reasons["equivalent"]
		fmt.Fprintf(&b, "| %s | %s | %d | %d | %d | %d | %d | %d | %d | %s | %s | %d | %d |\n", c.Package, strings.Join(c.Files, " "),
			c.Killed, c.Lived, c.reasons["equivalent"], c.reasons["no answer"], c.reasons["no case"], c.reasons["open"]+c.reasons["none"],
			c.TimedOut, percent(c.Killed, could), percent(c.Killed+c.reasons["no answer"], could), c.Unseen, c.NoRule)
	}
	b.WriteString(`
* *equivalent*: no sequence of events in any format that has an id tells the mutant from the sound engine.
* *no answer*: every case that comes to it only crashes, or cannot begin.
* *no case*: it differs in what no clause decides, or in what no line, call or effect shows.
* *open*: a case is wanted.
* *killed of what can be*: killed, of all that ran but the equivalent ones. An engine that crashes or cannot begin is not
  conformant either, and the runner says so; but that shows nothing of the cases, so it is counted apart.
* *not reached*: no hand-written case runs the place; *no rule*: in a function that is no rule of the game. Both are listed below.

## What lived

The number of the line is that of the day of the run; the column counts in the text of the line.

| place | line | mutants: kind and column | reason |
|---|---|---|---|
`)
	for i := range r.Lived {
		x := &r.Lived[i]
		fmt.Fprintf(&b, "| %s | %s | %s | *%s*: %s |\n", m.place(x), code(x.Source), strings.Join(x.Mutants, "<br>"), x.Kind, x.Why)
	}
	for _, s := range m.Lived {
		if r.Of(s) == nil {
			fmt.Fprintf(&b, "| %s:%d | %s | %s %d | **no reason yet** |\n", s.File, s.Line, code(s.Source), s.Type, s.Column)
		}
	}
	b.WriteString("\n## Not reached\n\n| function | mutants | why |\n|---|---|---|\n")
	for _, u := range m.Unseen {
		fmt.Fprintf(&b, "| %s %s | %d | %s |\n", u.File, u.Function, u.Mutants, r.unseen(u))
	}
	b.WriteString("\n## No rule\n\n| function | why |\n|---|---|\n")
	for _, o := range r.NoRule {
		fmt.Fprintf(&b, "| %s %s | %s |\n", o.File, o.Function, o.Why)
	}
	return b.String()
}

func percent(n, of int) string {
	if of == 0 {
		return "-"
	}
	return fmt.Sprintf("%.1f %%", 100*float64(n)/float64(of))
}

// place is where a reason's mutants stood on the day of the run.
func (m *Machine) place(r *Reason) string {
	for _, s := range m.Lived {
		if s.File == r.File && s.Function == r.Function && s.Source == r.Source {
			return fmt.Sprintf("%s:%d", s.File, s.Line)
		}
	}
	return r.File
}

func (r *Reasons) unseen(u Unseen) string {
	for _, o := range r.Unseen {
		if o.File == u.File && o.Function == u.Function {
			return o.Why
		}
	}
	return "**no reason yet**"
}

// code is source text in a cell of a table.
func code(text string) string {
	return "`" + strings.ReplaceAll(text, "|", `\|`) + "`"
}
