package problems_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/texts/problems"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/words"
)

// Every sort of broken record is said in words.
func TestEverySortOfBrokenRecord(t *testing.T) {
	f, err := parser.ParseFile(token.NewFileSet(), "../../../rally/record/record.go", nil, 0)
	require.NoError(t, err)
	sorts := 0
	ast.Inspect(f, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		if of, ok := spec.Type.(*ast.Ident); ok && of.Name == "ErrorCode" {
			code, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
			require.NoError(t, err)
			sorts++
			text := problems.Of(&record.Error{Line: 2, Field: "do", Code: record.ErrorCode(code), Reason: "so"})
			if code == "other-writer" {
				require.Equal(t, words.Code("broken."+code), text.Code)
				return true
			}
			require.Equal(t, words.Code("wrong.record-line-field"), text.Code, code)
			require.Equal(t, words.Code("broken."+code), text.Args.Of("what").(words.Text).Code)
		}
		return true
	})
	require.Greater(t, sorts, 15)
}
