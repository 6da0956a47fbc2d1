// Mutants breaks the rules mechanically, one operator at a time, and says what the hand-written cases of the corpus notice:
//
//	go run .ci/mutants.go            serviceorder, rally, format
//	go run .ci/mutants.go -derived   their derived runs too
//	go run .ci/mutants.go NAME…      only these files, say rally/score
//
// All mutants stand in one program, each behind a number that one run of it takes, so that nothing is built again. It prints
// those that lived, and a table: killed by an answer that a case does not allow, broke (a start refused, a panic, no end), lived,
// and not reached by any case.
package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

const module = "github.com/evencourt/evencourt"

// What rules, and the line. The text of events, logs, views and timing have tests of their own.
var ruling = map[string]string{
	"serviceorder": "order places serviceorder",
	"rally": "apply breaks call changes correct flow fold incident line linefields order penalties position possible repair ruled " +
		"rules score sets state",
	"format": "format rulings shapes",
}

// The program that plays the cases as one mutant; as none it lists those it came by.
const program = `package main

import (
	"os"

	"` + module + `/broken"
	"` + module + `/conformance"
	"` + module + `/format"
)

func main() {
	files, err := conformance.Load()
	if err != nil {
		panic(err)
	}
	engine := new(conformance.Builtin)
	play := func(c conformance.Case, id string) {
		if f := conformance.Run(engine, c, id); f != nil {
			os.Stdout.WriteString(string(f.Outcome))
			os.Exit(1)
		}
	}
	derived := os.Args[1] == "true"
	for i := range files {
		for _, c := range files[i].Cases {
			if c.Generated {
				continue
			}
			for _, entry := range c.Formats {
				ids, err := conformance.Expand(entry)
				if err != nil {
					panic(err)
				}
				for _, id := range ids {
					play(c, id)
					if !derived {
						continue
					}
					f, err := format.Parse(id)
					if err != nil {
						panic(err)
					}
					for _, d := range conformance.Derivations() {
						if more := c.Derive(d, &f); more != nil {
							play(*more, id)
						}
					}
				}
			}
		}
	}
	broken.Report()
}
`

// What stands in the place of an operator.
const switches = `package broken

import (
	"cmp"
	"fmt"
	"os"
	"strconv"
)

type integer interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~uintptr
}

var (
	mutant, _ = strconv.Atoi(os.Getenv("MUTANT"))
	came      [%d]bool
)

// On reports whether mutant k is the one that is played.
func On(k int) bool {
	came[k] = true
	return k == mutant
}

// Report lists the mutants that were come by.
func Report() {
	for k, c := range came {
		if c {
			fmt.Println(k)
		}
	}
}

func And(k int, a bool, b func() bool) bool {
	if On(k) {
		return a || b()
	}
	return a && b()
}

func Or(k int, a bool, b func() bool) bool {
	if On(k) {
		return a && b()
	}
	return a || b()
}

func Less[T cmp.Ordered](k int, a, b T) bool { return a < b || On(k) && a == b }
func AtMost[T cmp.Ordered](k int, a, b T) bool { return a < b || !On(k) && a == b }

func Plus[T integer](k int, a, b T) T { return pick(k, a+b, a-b) }
func Minus[T integer](k int, a, b T) T { return pick(k, a-b, a+b) }
func Times[T integer](k int, a, b T) T { return pick(k, a*b, a/max(b, 1)) }
func Over[T integer](k int, a, b T) T { return pick(k, a/b, a*b) }
func Rest[T integer](k int, a, b T) T { return pick(k, a%%b, a*b) }
func Both[T integer](k int, a, b T) T { return pick(k, a&b, a|b) }
func Either[T integer](k int, a, b T) T { return pick(k, a|b, a&b) }
func One[T integer](k int, a, b T) T { return pick(k, a^b, a&b) }
func Without[T integer](k int, a, b T) T { return pick(k, a&^b, a&b) }
func Left[T, N integer](k int, a T, n N) T { return pick(k, a<<n, a>>n) }
func Right[T, N integer](k int, a T, n N) T { return pick(k, a>>n, a<<n) }

func pick[T any](k int, a, b T) T {
	if On(k) {
		return b
	}
	return a
}
`

var instead = map[token.Token]string{token.ADD: "Plus", token.SUB: "Minus", token.MUL: "Times", token.QUO: "Over", token.REM: "Rest", token.AND: "Both",
	token.OR: "Either", token.XOR: "One", token.AND_NOT: "Without", token.SHL: "Left", token.SHR: "Right"}

// A breaker rewrites files so that each operator in them asks whether it is broken.
type breaker struct {
	set     *token.FileSet
	info    *types.Info
	source  []byte // of the file in hand
	base    token.Pos
	own     *types.Package
	loops   map[ast.Node]bool // breaks and continues of loops
	mutants []string          // what each is and where; the first is number 1
}

// raw is the source of a node.
func (b *breaker) raw(n ast.Node) string { return string(b.source[n.Pos()-b.base : n.End()-b.base]) }

// mutant numbers one more mutant.
func (b *breaker) mutant(at token.Pos, what string) int {
	p := b.set.Position(at)
	line := bytes.TrimSpace(bytes.Split(b.source, []byte("\n"))[p.Line-1])
	b.mutants = append(b.mutants, fmt.Sprintf("%s:%d:%d: %s: %s", p.Filename, p.Line, p.Column, what, line))
	return len(b.mutants)
}

// broken is the source of a node with the operators in it broken.
func (b *breaker) broken(n ast.Node) string {
	switch n := n.(type) {
	case *ast.ForStmt:
		if n.Post != nil { // no statement but a simple one can stand there
			body := b.broken(n.Body)
			head := string(b.source[n.Pos()-b.base : n.Body.Pos()-b.base])
			if n.Cond != nil {
				head = string(b.source[n.Pos()-b.base:n.Cond.Pos()-b.base]) + b.broken(n.Cond) + string(b.source[n.Cond.End()-b.base:n.Body.Pos()-b.base])
			}
			return head + body
		}
	case *ast.FuncDecl:
		if n.Body == nil {
			return b.raw(n)
		}
		return string(b.source[n.Pos()-b.base:n.Body.Pos()-b.base]) + b.broken(n.Body)
	case *ast.GenDecl:
		if n.Tok != token.VAR {
			return b.raw(n)
		}
	case *ast.BinaryExpr:
		if out := b.binary(n); out != "" && !b.constant(n) {
			return out
		}
	case *ast.UnaryExpr:
		if n.Op == token.NOT && !b.constant(n) {
			return fmt.Sprintf("(broken.On(%d) == bool(%s))", b.mutant(n.Pos(), "! left out"), b.broken(n.X))
		}
	case *ast.IncDecStmt:
		other := map[token.Token]string{token.INC: "--", token.DEC: "++"}[n.Tok]
		return fmt.Sprintf("if broken.On(%d) { %s%s } else { %s }", b.mutant(n.TokPos, n.Tok.String()+" to "+other), b.raw(n.X), other, b.raw(n))
	case *ast.AssignStmt:
		if out := b.assignment(n); out != "" {
			return out
		}
	case *ast.BranchStmt:
		if other, ok := map[token.Token]string{token.BREAK: "continue", token.CONTINUE: "break"}[n.Tok]; ok && n.Label == nil && b.loops[n] {
			return fmt.Sprintf("if broken.On(%d) { %s }; %s", b.mutant(n.Pos(), n.Tok.String()+" to "+other), other, n.Tok)
		}
	}
	if e, is := n.(ast.Expr); is && b.constant(e) {
		return b.raw(n)
	}
	var out strings.Builder
	at := n.Pos()
	for _, c := range children(n) {
		out.Write(b.source[at-b.base : c.Pos()-b.base])
		out.WriteString(b.broken(c))
		at = c.End()
	}
	out.Write(b.source[at-b.base : n.End()-b.base])
	return out.String()
}

// children lists the nodes directly below a node in the order of the source.
func children(n ast.Node) (out []ast.Node) {
	ast.Inspect(n, func(c ast.Node) bool {
		if c != nil && c != n {
			out = append(out, c)
		}
		return c == n
	})
	slices.SortStableFunc(out, func(x, y ast.Node) int { return int(x.Pos() - y.Pos()) })
	return out
}

// constant reports whether an expression is one, or a type.
func (b *breaker) constant(e ast.Expr) bool {
	tv, ok := b.info.Types[e]
	return ok && (tv.Value != nil || tv.IsType())
}

func (b *breaker) integer(e ast.Expr) bool {
	of, ok := b.info.TypeOf(e).Underlying().(*types.Basic)
	return ok && of.Info()&types.IsInteger != 0
}

// assignment breaks an assignment of what an operator makes: another operator, or none.
func (b *breaker) assignment(n *ast.AssignStmt) string {
	op, ok := strings.CutSuffix(n.Tok.String(), "=")
	if !ok || op == "" || op == ":" || !b.integer(n.Lhs[0]) {
		return ""
	}
	other := map[string]string{"+": "-=", "-": "+=", "*": "/=", "/": "*=", "%": "*=", "&": "|=", "|": "&=", "^": "&=", "&^": "&=", "<<": ">>=", ">>": "<<="}[op]
	k, j := b.mutant(n.TokPos, n.Tok.String()+" to "+other), b.mutant(n.TokPos, n.Tok.String()+" to =")
	left, right := b.raw(n.Lhs[0]), b.broken(n.Rhs[0])
	out := fmt.Sprintf("if broken.On(%d) { %s %s %s } else ", k, left, other, right)
	if b.info.TypeOf(n.Lhs[0]) == b.info.TypeOf(n.Rhs[0]) || !strings.Contains("<<>>", op) {
		out += fmt.Sprintf("if broken.On(%d) { %s = %s } else ", j, left, right)
	}
	return out + fmt.Sprintf("{ %s %s %s }", left, n.Tok, right)
}

func (b *breaker) binary(n *ast.BinaryExpr) string {
	op := n.Op.String()
	switch n.Op {
	case token.LAND, token.LOR:
		name, other := "And", "||"
		if n.Op == token.LOR {
			name, other = "Or", "&&"
		}
		return fmt.Sprintf("broken.%s(%d, %s, func() bool { return %s })", name, b.mutant(n.OpPos, op+" to "+other), b.broken(n.X), b.broken(n.Y))
	case token.EQL, token.NEQ:
		return fmt.Sprintf("(broken.On(%d) != (%s %s %s))", b.mutant(n.OpPos, op+" negated"), b.broken(n.X), op, b.broken(n.Y))
	case token.LSS, token.LEQ, token.GTR, token.GEQ: // x > y is y < x
		k, j := b.mutant(n.OpPos, op+" negated"), b.mutant(n.OpPos, op+" by one")
		name, x, y := "Less", n.X, n.Y
		if n.Op == token.LEQ || n.Op == token.GEQ {
			name = "AtMost"
		}
		if n.Op == token.GTR || n.Op == token.GEQ {
			x, y = y, x
		}
		return fmt.Sprintf("(broken.On(%d) != broken.%s(%d, %s, %s))", k, name, j, b.broken(x), b.broken(y))
	}
	name, ok := instead[n.Op]
	if !ok || !b.integer(n) {
		return ""
	}
	x := b.broken(n.X)
	if shift := n.Op == token.SHL || n.Op == token.SHR; shift && b.constant(n.X) { // its type is that of where it stands
		x = fmt.Sprintf("%s(%s)", types.TypeString(b.info.TypeOf(n), func(p *types.Package) string {
			if p == b.own {
				return ""
			}
			return p.Name()
		}), x)
	}
	return fmt.Sprintf("broken.%s(%d, %s, %s)", name, b.mutant(n.OpPos, op+" changed"), x, b.broken(n.Y))
}

// inLoops finds the breaks and continues of loops; the break of a switch is none.
func inLoops(file *ast.File) map[ast.Node]bool {
	out := map[ast.Node]bool{}
	ast.PreorderStack(file, nil, func(n ast.Node, stack []ast.Node) bool {
		branch, ok := n.(*ast.BranchStmt)
		for i := len(stack); ok && i > 0; i-- {
			switch stack[i-1].(type) {
			case *ast.ForStmt, *ast.RangeStmt:
				out[n] = true
				return true
			case *ast.FuncLit, *ast.FuncDecl, *ast.SelectStmt:
				return true
			case *ast.SwitchStmt, *ast.TypeSwitchStmt:
				if branch.Tok == token.BREAK {
					return true
				}
			}
		}
		return true
	})
	return out
}

// breakFiles rewrites the files that rule, in the order in which packages need each other.
func breakFiles(root string, only []string) ([]string, error) {
	set := token.NewFileSet()
	known := map[string]*types.Package{}
	std := importer.ForCompiler(set, "source", nil)
	b := &breaker{set: set}
	for _, dir := range []string{"format/clause", "format", "rally/internal/names", "serviceorder", "rally"} {
		paths, err := filepath.Glob(filepath.Join(root, dir, "*.go"))
		if err != nil {
			return nil, err
		}
		var files []*ast.File
		var sources [][]byte
		for _, path := range paths {
			source, err := os.ReadFile(path)
			if err != nil {
				return nil, err
			}
			name, _ := filepath.Rel(root, path)
			file, err := parser.ParseFile(set, filepath.ToSlash(name), source, parser.SkipObjectResolution)
			if err != nil {
				return nil, err
			}
			files, sources = append(files, file), append(sources, source)
		}
		b.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}}
		config := types.Config{Importer: importing(func(path string) (*types.Package, error) {
			if p := known[strings.TrimPrefix(path, module+"/")]; p != nil {
				return p, nil
			}
			return std.Import(path)
		})}
		if b.own, err = config.Check(module+"/"+dir, set, files, b.info); err != nil {
			return nil, err
		}
		known[dir] = b.own
		for i, file := range files {
			name := set.Position(file.Package).Filename
			rules := slices.Contains(strings.Fields(ruling[dir]), strings.TrimSuffix(filepath.Base(name), ".go"))
			if len(only) > 0 && !slices.Contains(only, strings.TrimSuffix(name, ".go")) || !rules {
				continue
			}
			b.source, b.base, b.loops = sources[i], file.FileStart, inLoops(file)
			head := file.Name.End()
			out := string(b.source[:head-b.base]) + "\n\nimport broken \"" + module + "/broken\"\n"
			at := head
			for _, d := range file.Decls {
				out += string(b.source[at-b.base:d.Pos()-b.base]) + b.broken(d)
				at = d.End()
			}
			out += string(b.source[at-b.base:]) + "\n\nvar _ = broken.On\n"
			if err := os.WriteFile(filepath.Join(root, filepath.FromSlash(name)), []byte(out), 0o600); err != nil {
				return nil, err
			}
		}
	}
	return b.mutants, nil
}

type importing func(path string) (*types.Package, error)

func (i importing) Import(path string) (*types.Package, error) { return i(path) }

// build makes a copy of the module in a folder, breaks it and builds the program; it returns its path and the mutants.
func build(work string, only []string) (string, []string, error) {
	for _, dir := range []string{"format", "format/clause", "serviceorder", "rally", "rally/internal/names", "conformance", "conformance/internal/exact"} {
		paths, err := filepath.Glob(dir + "/*")
		if err != nil {
			return "", nil, err
		}
		if err := os.MkdirAll(filepath.Join(work, dir), 0o700); err != nil {
			return "", nil, err
		}
		for _, path := range paths {
			if info, err := os.Stat(path); err != nil || info.IsDir() || strings.HasSuffix(path, "_test.go") {
				continue
			}
			text, err := os.ReadFile(path)
			if err != nil {
				return "", nil, err
			}
			if err := os.WriteFile(filepath.Join(work, path), text, 0o600); err != nil {
				return "", nil, err
			}
		}
	}
	for _, dir := range []string{"conformance/cases", "conformance/schema"} {
		if err := os.CopyFS(filepath.Join(work, dir), os.DirFS(dir)); err != nil {
			return "", nil, err
		}
	}
	mutants, err := breakFiles(work, only)
	if err != nil {
		return "", nil, err
	}
	for path, text := range map[string]string{"go.mod": "module " + module + "\n\ngo 1.25.0\n", "main.go": program, "broken/broken.go": fmt.Sprintf(switches, len(mutants)+1)} {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(work, path)), 0o700); err != nil {
			return "", nil, err
		}
		if err := os.WriteFile(filepath.Join(work, path), []byte(text), 0o600); err != nil {
			return "", nil, err
		}
	}
	command := exec.Command("go", "build", "-o", "play", ".")
	command.Dir, command.Env = work, append(os.Environ(), "GOWORK=off", "GOFLAGS=-mod=mod")
	if out, err := command.CombinedOutput(); err != nil {
		return "", nil, fmt.Errorf("%w: %s", err, out)
	}
	return filepath.Join(work, "play"), mutants, nil
}

func main() {
	derived := flag.Bool("derived", false, "play the derived runs of the cases too")
	flag.Parse()
	work, err := os.MkdirTemp("", "mutants")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(work)
	path, mutants, err := build(work, flag.Args())
	if err != nil {
		log.Fatal(err)
	}
	play := func(k int, limit time.Duration) (string, error) {
		ctx, cancel := context.WithTimeout(context.Background(), limit)
		defer cancel()
		command := exec.CommandContext(ctx, path, strconv.FormatBool(*derived))
		command.Env = append(os.Environ(), "MUTANT="+strconv.Itoa(k))
		out, err := command.Output()
		return string(out), err
	}
	began := time.Now()
	out, err := play(0, 10*time.Minute)
	if err != nil {
		log.Fatal("the engine as it is: ", err, out)
	}
	limit := 20*time.Since(began) + 10*time.Second
	came := map[int]bool{}
	for _, k := range strings.Fields(out) {
		n, _ := strconv.Atoi(k)
		came[n] = true
	}

	became := make([]string, len(mutants)+1)
	numbers := make(chan int)
	var group sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for k := range numbers {
				switch out, err := play(k, limit); {
				case err == nil:
					became[k] = "lived"
				case out == "wrong":
					became[k] = "killed"
				default:
					became[k] = "broke"
				}
			}
		})
	}
	for k := 1; k < len(became); k++ {
		if came[k] {
			numbers <- k
		} else {
			became[k] = "not reached"
		}
	}
	close(numbers)
	group.Wait()

	counts := map[string]map[string]int{}
	for i, what := range mutants {
		dir, how := filepath.Dir(strings.SplitN(what, ":", 2)[0]), became[i+1]
		if counts[dir] == nil {
			counts[dir] = map[string]int{}
		}
		counts[dir][how]++
		if how == "lived" || how == "not reached" {
			fmt.Println(how+":", what)
		}
	}
	fmt.Printf("\n%-14s %8s %8s %8s %12s\n", "package", "killed", "broke", "lived", "not reached")
	for _, dir := range []string{"serviceorder", "rally", "format"} {
		c := counts[dir]
		fmt.Printf("%-14s %8d %8d %8d %12d\n", dir, c["killed"], c["broke"], c["lived"], c["not reached"])
	}
}
