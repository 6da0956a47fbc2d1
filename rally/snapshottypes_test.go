package rally_test

import (
	"bytes"
	"encoding"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
)

var update = flag.Bool("update", false, "write the schema and the types of the snapshot anew")

// types collects what a Go value looks like in JSON, for other languages.
type types struct {
	comments map[string]string // by TYPE.FIELD
	seen     map[reflect.Type]bool
	ts       bytes.Buffer
	schema   map[string]any
}

var textMarshaler = reflect.TypeFor[encoding.TextMarshaler]()

// of returns a type in TypeScript and in JSON Schema.
func (y *types) of(t reflect.Type) (string, map[string]any) {
	switch {
	case t.Kind() == reflect.Pointer:
		return y.of(t.Elem())
	case t.Implements(textMarshaler):
		y.named(t)
		return t.Name(), map[string]any{"$ref": "#/$defs/" + t.Name()}
	}
	switch t.Kind() {
	case reflect.Bool:
		return "boolean", map[string]any{"type": "boolean"}
	case reflect.Int, reflect.Int64:
		return "number", map[string]any{"type": "integer"}
	case reflect.String:
		return "string", map[string]any{"type": "string"}
	case reflect.Slice:
		ts, schema := y.of(t.Elem())
		return ts + "[]", map[string]any{"type": "array", "items": schema}
	case reflect.Array:
		ts, schema := y.of(t.Elem())
		return "[" + strings.Repeat(ts+", ", t.Len()-1) + ts + "]", map[string]any{"type": "array", "items": schema, "minItems": t.Len(), "maxItems": t.Len()}
	case reflect.Struct:
		y.object(t)
		return t.Name(), map[string]any{"$ref": "#/$defs/" + t.Name()}
	}
	panic("no type for " + t.String())
}

// named is a value that is text: one of some names, a set of them, or a word.
func (y *types) named(t reflect.Type) {
	if y.seen[t] {
		return
	}
	y.seen[t] = true
	if t.Kind() != reflect.Uint8 {
		fmt.Fprintf(&y.ts, "export type %s = string;\n", t.Name())
		y.schema[t.Name()] = map[string]any{"type": "string"}
		return
	}
	var names, quoted []string
	for n := range 256 {
		v := reflect.New(t).Elem()
		v.SetUint(uint64(n))
		text, err := v.Interface().(encoding.TextMarshaler).MarshalText()
		if back := reflect.New(t); err == nil && back.Interface().(encoding.TextUnmarshaler).UnmarshalText(text) == nil && back.Elem().Uint() == uint64(n) {
			names, quoted = append(names, string(text)), append(quoted, `"`+string(text)+`"`)
		}
	}
	fmt.Fprintf(&y.ts, "export type %s = %s;\n", t.Name(), strings.Join(quoted, " | "))
	y.schema[t.Name()] = map[string]any{"enum": names}
}

func (y *types) object(t reflect.Type) {
	if y.seen[t] {
		return
	}
	y.seen[t] = true
	var ts strings.Builder
	properties, required := map[string]any{}, []string{}
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		is, schema := y.of(f.Type)
		mark := "?"
		if options == "" {
			mark, required = "", append(required, name)
		}
		properties[name] = schema
		comment := y.comments[t.Name()+"."+f.Name]
		if comment != "" {
			comment = " // " + comment
		}
		fmt.Fprintf(&ts, "  %s%s: %s;%s\n", name, mark, is, comment)
	}
	fmt.Fprintf(&y.ts, "\nexport interface %s {\n%s}\n", t.Name(), ts.String())
	y.schema[t.Name()] = map[string]any{"type": "object", "properties": properties, "required": required, "additionalProperties": false}
}

// fieldComments returns what stands behind the fields of the structs of this package.
func fieldComments(t *testing.T) map[string]string {
	out := map[string]string{}
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
		require.NoError(t, err)
		if file.Name.Name != "rally" {
			continue
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if spec, ok := n.(*ast.TypeSpec); ok {
				if s, ok := spec.Type.(*ast.StructType); ok {
					for _, f := range s.Fields.List {
						for _, name := range f.Names {
							out[spec.Name.Name+"."+name.Name] = strings.TrimSpace(f.Comment.Text())
						}
					}
				}
			}
			return true
		})
	}
	return out
}

// TestSnapshotTypesAreCurrent holds the schema and the types of the snapshot to the
// Go type that they are made from.
func TestSnapshotTypesAreCurrent(t *testing.T) {
	y := &types{comments: fieldComments(t), seen: map[reflect.Type]bool{}, schema: map[string]any{}}
	y.ts.WriteString("// What a board draws. Made from the Go types: go test ./rally -run SnapshotTypes -update\n\n")
	y.of(reflect.TypeFor[rally.Snapshot]())
	schema, err := json.MarshalIndent(map[string]any{"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "What a board draws",
		"$ref": "#/$defs/Snapshot", "$defs": y.schema}, "", " ")
	require.NoError(t, err)
	for file, want := range map[string][]byte{"snapshot.d.ts": y.ts.Bytes(), "snapshot.schema.json": append(schema, '\n')} {
		if *update {
			require.NoError(t, os.WriteFile(file, want, 0o644))
		}
		got, err := os.ReadFile(file)
		require.NoError(t, err)
		require.True(t, bytes.Equal(want, got), "%s is not current: go test ./rally -run SnapshotTypes -update", file)
	}
}
