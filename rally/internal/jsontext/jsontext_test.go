package jsontext_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/internal/jsontext"
)

// read makes of a value what encoding/json makes of it.
func read(v jsontext.Value) any {
	switch v.Kind() {
	case jsontext.Object:
		out := map[string]any{}
		for _, f := range v.Fields() {
			out[f.Name] = read(f.Value)
		}
		return out
	case jsontext.Array:
		out := []any{}
		for _, inner := range v.Items() {
			out = append(out, read(inner))
		}
		return out
	case jsontext.String:
		return v.Text()
	case jsontext.Bool:
		return v.True()
	case jsontext.Null:
		return nil
	}
	return json.Number(v.Raw())
}

// agrees holds the reader to encoding/json, which is another reader of the same
// texts: both take a text or neither, and make the same of it.
func agrees(t *testing.T, text []byte) {
	v, rest, err := jsontext.Read(text)
	require.Equal(t, json.Valid(text), err == nil && len(rest) == 0, "%q: %v", text, err)
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	var want any
	if err := d.Decode(&want); err != nil {
		return // torn, or followed by what is no JSON
	}
	require.NoError(t, err, "%q", text)
	require.Empty(t, cmp.Diff(want, read(v)), "%q", text)
	require.True(t, bytes.HasPrefix(text[v.At():], []byte(v.Raw())))
}

var samples = []string{
	`{}`, `[]`, ` [ ] `, `{"a":1}`, ` { "a" : [ 1 , -2.5e+3 , "x" ] , "b" : { "c" : null , "d" : true , "e" : false } } `, `"é\u00e9\ud83d\ude00\/\\\"\b\f\n\r\t"`,
	`"\ud800"`, `"\udc00\ud800x"`, `"\ud800\u0041"`, "\"\xff\xfe\"", "\"\xed\xa0\x80\"", `0`, `-0`, `01`, `1.`, `1.5`, `.5`, `1e`, `1e5`, `1E-5`, `-`, `+1`, `--1`, `tru`, `true`, `nulL`, `falsey`,
	`{"a":1,"a":2}`, `{"a":1,}`, `{,}`, `[1,]`, `[,1]`, `[1 2]`, `{"a" 1}`, `{"a":}`, `{a:1}`, `{"a":1`, `[[1,2`, `"abc`, `"\x"`, `"\u12g4"`, "\"a\nb\"", "\"a\tb\"", ``, ` `, `1 2`, `{}{}`, `[1]x`, "\ufeff{}", "\x00", `"\u0000"`,
}

func TestReadsAsEncodingJSON(t *testing.T) {
	for _, text := range samples {
		agrees(t, []byte(text))
		for cut := range text {
			agrees(t, []byte(text[:cut]))
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, text := range samples {
		f.Add([]byte(text))
	}
	f.Fuzz(agrees)
}

// What is no JSON is said with its place; however deep a text nests, it is read or
// refused.
func TestErrors(t *testing.T) {
	for _, test := range []struct {
		name, text string
		want       jsontext.Error
	}{
		{"nothing", "  ", jsontext.Error{At: 2, Reason: "unexpected end"}},
		{"torn", `{"a":[1,`, jsontext.Error{At: 8, Reason: "unexpected end"}},
		{"no value", `{"a":}`, jsontext.Error{At: 5, Reason: "unexpected '}' at byte 6"}},
		{"no text", "é", jsontext.Error{At: 0, Reason: "unexpected 'é' at byte 1"}},
		{"a word with another letter", "trae", jsontext.Error{At: 2, Reason: "unexpected 'a' at byte 3"}},
		{"deep", strings.Repeat("[", 1<<20), jsontext.Error{At: 10_001, Reason: "nested too deeply"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, _, err := jsontext.Read([]byte(test.text))
			require.Equal(t, &test.want, err)
			require.EqualError(t, err, test.want.Reason)
		})
	}
	v, _, err := jsontext.Read([]byte(`[9223372036854775807,9223372036854775808,1.0,"1"]`))
	require.NoError(t, err)
	var whole []bool
	for _, item := range v.Items() {
		_, ok := item.Int()
		whole = append(whole, ok)
	}
	require.Equal(t, []bool{true, false, false, false}, whole)
}
