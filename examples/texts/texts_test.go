package texts_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/rally/words"
)

// Every language has every text of the programs, and says it with whatever it is
// given.
func TestEveryLanguage(t *testing.T) {
	for _, tag := range texts.Tags() {
		l, err := texts.Language(tag)
		require.NoError(t, err)
		require.Equal(t, tag, l.Tag())
		for _, e := range texts.Codes() {
			for n := range 3 {
				text := words.New(e.Code)
				for _, p := range e.Params {
					var v words.Value = words.New("list.and")
					switch p.Kind {
					case "name":
						v = words.Plain("Imani Okafor")
					case "number":
						v = words.Number(n)
					case "score":
						v = words.Score{n, 11}
					case "list":
						v = words.List{words.New("list.and"), words.New("list.or")}
					}
					text.Args = append(text.Args, words.Arg{Name: p.Name, Value: v})
				}
				for _, said := range []string{l.Say(text), l.Short(text)} {
					require.NotEmpty(t, said)
					require.False(t, strings.ContainsAny(said, "{}|"), said)
					require.NotContains(t, said, "[list.", e.Code)
				}
			}
		}
	}
	_, err := texts.Language("xx\x1b[2J" + strings.Repeat("y", 100))
	require.ErrorContains(t, err, "there are de, en, x-codes")
	require.Less(t, len(err.Error()), 80)
}

// prose is a string that holds more than one word.
var prose = regexp.MustCompile(`[A-Za-z]{2,}[,.:;]? +[A-Za-z(]`)

// ownTools are the programs whose errors and options stand in English in them: who
// starts these reads a league's tables, tries rules out or runs a server, and what
// they find is said past no catalog either. A referee and a trainee read every
// sentence of theirs in their language.
var ownTools = []string{"board", "courtside", "formatlab", "resultcheck", "serve", "web"}

// The programs say nothing past the catalog: no string of several words is in
// them but, in those of [ownTools], errors and what the command line says of itself.
func TestNothingIsSaidPastTheCatalog(t *testing.T) {
	codes := map[string]bool{}
	for _, e := range append(words.Codes(), texts.Codes()...) {
		codes[string(e.Code)] = true
	}
	files, err := filepath.Glob("../*/*.go")
	require.NoError(t, err)
	for _, parent := range []string{"drill", "program", "texts"} {
		below, err := filepath.Glob("../" + parent + "/*/*.go")
		require.NoError(t, err)
		files = append(files, below...)
	}
	require.Greater(t, len(files), 40)
	used := map[string]bool{}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		fset := token.NewFileSet()
		f, err := parser.ParseFile(fset, file, nil, 0)
		require.NoError(t, err)
		exempt := slices.ContainsFunc(strings.Split(filepath.ToSlash(file), "/"), func(dir string) bool { return slices.Contains(ownTools, dir) })
		var above []ast.Node
		ast.Inspect(f, func(n ast.Node) bool {
			if n == nil {
				above = above[:len(above)-1]
				return true
			}
			above = append(above, n)
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				text, err := strconv.Unquote(lit.Value)
				require.NoError(t, err)
				if prose.MatchString(text) && text[0] != '<' && !slices.Contains(partsOfErrors, text) && !slices.ContainsFunc(above, func(n ast.Node) bool { return isData(n) || exempt && speaksOfItself(n) }) {
					t.Errorf("%s: %q is said past the catalog", fset.Position(lit.Pos()), text)
				}
				used[text] = true
				if family, _, _ := strings.Cut(text, "."); slices.Contains([]string{"lab", "drill", "officiate", "check", "propose", "program", "wrong"}, family) &&
					regexp.MustCompile(`^[a-z]+\.[a-z0-9.-]*[a-z0-9]$`).MatchString(text) && !codes[text] {
					t.Errorf("%s: no code %q", fset.Position(lit.Pos()), text)
				}
			}
			return true
		})
	}
	for _, e := range texts.Codes() {
		built := slices.ContainsFunc(builtFrom, func(family string) bool { return strings.HasPrefix(string(e.Code), family) })
		require.True(t, built || used[string(e.Code)], "%s is never said", e.Code)
	}
}

// builtFrom are families whose codes are made of a name.
var builtFrom = []string{"lab.field.", "lab.format.", "lab.value.", "ranked.", "officiate.outcome.", "officiate.help-", "drill.", "check.", "move.", "sheet.", "courtside.", "program.option-", "officiate.about", "wrong.record", "officiate.option-", "broken."}

// partsOfErrors end up in an error, or are what is typed.
var partsOfErrors = []string{": its servers have numbers, so say which", "first a", "first b", "first A", "first B",
	"side out", "second server", "server two",
	// what the library of command lines says, to be told apart; option of the tools; errors that are never shown
	"flag provided but not defined: ", "flag needs an argument: ", "invalid value ", " for flag ", "`LANGUAGE` of what is said: ",
	"something was found", "it could not be done", "exercise: no progress at line "}

// isData reports whether a node holds what nobody is told: names of the invented
// scenario, tags of fields, paths of packages.
func isData(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.KeyValueExpr:
		key, _ := n.Key.(*ast.Ident)
		return key != nil && slices.Contains([]string{"Name", "Match", "Referee"}, key.Name)
	case *ast.Field, *ast.ImportSpec:
		return true
	}
	return false
}

// speaksOfItself reports whether a node is an error, or what the command line
// says of itself: options, their help, what a command is about.
func speaksOfItself(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.CallExpr:
		name := called(n.Fun)
		return name == "Errorf" || name == "New" && isPackage(n.Fun, "errors") || strings.HasSuffix(name, "Flag") || name == "NewReplacer"
	case *ast.CompositeLit:
		return isPackage(n.Type, "cli") || isPackage(n.Type, "font") || isPackage(n.Type, "pretty")
	case *ast.KeyValueExpr:
		key, _ := n.Key.(*ast.Ident)
		return key != nil && slices.Contains([]string{"about", "takes", "Usage"}, key.Name)
	}
	return false
}

func called(f ast.Expr) string {
	switch f := f.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		return f.Sel.Name
	}
	return ""
}

func isPackage(e ast.Expr, name string) bool {
	s, ok := e.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	x, ok := s.X.(*ast.Ident)
	return ok && x.Name == name
}
