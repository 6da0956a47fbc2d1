package words_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Every reason that a log states has a code, so that another language says it too.
func TestEveryReasonOfALogHasACode(t *testing.T) {
	files, err := filepath.Glob("../*.go")
	require.NoError(t, err)
	reasons := 0
	german, _ := words.ByTag("de")
	said := func(e ast.Expr, at string) {
		lit, ok := e.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return // a variable, or a text that is put together
		}
		reason, err := strconv.Unquote(lit.Value)
		require.NoError(t, err)
		if reason == "" {
			return
		}
		reasons++
		code := words.Code("correction." + reason)
		signature, known := words.Lookup(code)
		require.True(t, known, "%s: %q", at, reason)
		text := words.Correction(&rally.EntryError{Refusal: rally.NotNow, Reason: rally.EntryReason(reason), Detail: strings.Repeat("x", len(signature.Params))})
		require.NotEqual(t, words.English().Say(text), german.Say(text))
	}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncDecl:
				if of := n.Type.Results; of != nil && gives(of.List[len(of.List)-1], "EntryReason") {
					ast.Inspect(n, func(n ast.Node) bool {
						if r, ok := n.(*ast.ReturnStmt); ok {
							said(r.Results[len(r.Results)-1], file)
						}
						return true
					})
				}
			case *ast.CallExpr:
				if name, ok := n.Fun.(*ast.Ident); ok && (name.Name == "refuse" || name.Name == "tooLate") {
					said(n.Args[len(n.Args)-1], file)
				}
			case *ast.CompositeLit:
				if name, ok := n.Type.(*ast.Ident); ok && name.Name == "EntryError" {
					for _, element := range n.Elts {
						if kv, ok := element.(*ast.KeyValueExpr); ok && kv.Key.(*ast.Ident).Name == "Reason" {
							said(kv.Value, file)
						}
					}
				}
			}
			return true
		})
	}
	require.Greater(t, reasons, 50)
	require.Contains(t, words.English().Say(words.New("correction.note")), strconv.Itoa(rally.MostNote))
}

func gives(field *ast.Field, name string) bool {
	of, ok := field.Type.(*ast.Ident)
	return ok && of.Name == name
}
