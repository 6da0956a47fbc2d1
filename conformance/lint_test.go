package conformance

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
)

func TestCorpusIsClean(t *testing.T) {
	findings, err := Lint(loadAll(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range findings {
		t.Error(f)
	}
}

// good is a file without a fault.
const good = `{
 "feature": "good", "about": "One case.",
 "cases": [{
  "id": "c0001", "title": "the servers score", "formats": ["sideout-doubles-11@2017.."],
  "clauses": ["holds-serve"], "origin": "quoted", "source": "2021 rulebook, p. 1", "why": ["basic"],
  "start": {"first": "A", "servers": "A1B1", "line": "L2 game=1 won=0:0 score=0-0 opens=0:0 serve=A1@R#2 receive=B1 A=12 B=12 first=A start=A1B1 ends=0 due=- phase=play result=- break=- timeouts=0:0 medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----"},
  "call": "0-0-2",
  "steps": [
   {"do": "A", "line": "L2 game=1 won=0:0 score=1-0 opens=0:0 serve=A1@L#2 receive=B2 A=21 B=12 first=A start=A1B1 ends=0 due=- phase=play result=- break=- timeouts=0:0 medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----",
    "call": "1-0-2", "effects": ["point"]},
   {"do": "in", "refused": "no-break"}]
 }]
}`

// beyondSchema is what no schema can see: what stands in other files or cases, the
// order of editions and of effects, what stands in which edition, and how many
// events there are in a text.
var beyondSchema = []string{"lint: feature-name", "lint: id-retired", "lint: formats", "lint: clauses", "lint: effects", "lint: short"}

// A good file with one fault is refused, by the reader, by the schema or by the
// linter, and by the one that is named. The fault is made at a path into the
// file, ~ taking the value away.
func TestOneFaultIsCaught(t *testing.T) {
	const (
		step   = "cases.0.steps.0."
		second = "cases.0.steps.1."
	)
	line := fieldsOf(t, good)
	for _, tt := range []struct{ name, path, value, by string }{
		{"nothing", "about", `"One more."`, ""},
		{"a field of the file", "abuot", `"x"`, `reader: unknown field "abuot"`},
		{"a field in other letters", "About", `"x"`, `reader: field "About" is "about" here`},
		{"a field of a case", "cases.0.tittle", `"x"`, `reader: case c0001: unknown field "tittle"`},
		{"a field of a step", step + "cal", `"1-0-2"`, `reader: case c0001: unknown field "cal"`},
		{"another type", step + "effects", `"point"`, "reader: case c0001: field steps.effects: want array, not string"},
		{"an unknown clause", "cases.0.clauses", `["holds-the-serve"]`, "reader: case c0001: "},
		{"no about", "about", `""`, "schema"},
		{"no cases", "cases", `[]`, "schema"},
		{"the feature of another file", "feature", `"another"`, "lint: feature-name"},
		{"left out without source", "left_out", `[{"claim": "A claim.", "source": "", "why": "No format."}]`, "schema"},
		{"an id of another form", "cases.0.id", `"c12"`, "schema"},
		{"a retired id", "cases.0.id", `"c9999"`, "lint: id-retired"},
		{"a title with a space", "cases.0.title", `"the servers score "`, "schema"},
		{"a title that is too long", "cases.0.title", `"` + strings.Repeat("score ", 20) + `score"`, "schema"},
		{"a title that is no ASCII", "cases.0.title", `"the servers score 1\u20130"`, "schema"},
		{"a title with a full stop", "cases.0.title", `"the servers score."`, "schema"},
		{"a title that says what ought to be", "cases.0.title", `"the servers should score"`, "schema"},
		{"no formats", "cases.0.formats", `[]`, "schema"},
		{"an unknown shape", "cases.0.formats", `["sideout-doubles-12@2026"]`, "schema"},
		{"an unknown edition", "cases.0.formats", `["sideout-doubles-11@2031"]`, "schema"},
		{"an unknown switch", "cases.0.formats", `["sideout-doubles-11@2026+luck=yes"]`, "lint: formats"},
		{"a shape that its edition has not", "cases.0.formats", `["badminton-singles-21-of3@2026"]`, "lint: formats"},
		{"editions that run backwards", "cases.0.formats", `["sideout-doubles-11@2026..2017"]`, "lint: formats"},
		{"a format twice", "cases.0.formats", `["sideout-doubles-11@2017..", "sideout-doubles-11@2020"]`, "lint: formats"},
		{"no clauses", "cases.0.clauses", `[]`, "schema"},
		{"a clause twice", "cases.0.clauses", `["holds-serve", "holds-serve"]`, "schema"},
		{"a clause that does not stand", "cases.0.clauses", `["penalty-before"]`, "lint: clauses"},
		{"an empty reason", "cases.0.because", `""`, "reader: case c0001: field \"because\" is \"\""},
		{"an unknown origin", "cases.0.origin", `"invented"`, "schema"},
		{"quoted without source", "cases.0.source", `~`, "schema"},
		{"derived with source", "cases.0.origin", `"derived"`, "schema"},
		{"generated though quoted", "cases.0.generated", `true`, "schema"},
		{"no why", "cases.0.why", `[]`, "schema"},
		{"an unknown why", "cases.0.why", `["because"]`, "schema"},
		{"a note with a space", "cases.0.note", `" why"`, "schema"},
		{"start and from", "cases.0.from", `"` + line + `"`, "schema"},
		{"servers though nobody serves first", "cases.0.start.first", `"-"`, "schema"},
		{"a line with a field too few", step + "line", `"` + strings.Replace(line, " due=-", "", 1) + `"`, "schema"},
		{"a line whose fields contradict each other", step + "line", `"` + strings.Replace(line, "A=12", "A=--", 1) + `"`, "schema"},
		{"no call", step + "call", `~`, "schema"},
		{"no call before the first step", "cases.0.call", `~`, "schema"},
		{"a call between games", step + "line", `"` + between(line) + `"`, "schema"},
		{"no steps", "cases.0.steps", `[]`, "schema"},
		{"no event", second + "do", `""`, "reader: case c0001: field \"do\" is \"\""},
		{"an unknown event", second + "do", `"ZZ"`, "schema"},
		{"an unknown fault", second + "do", `"A:kick"`, "schema"},
		{"an unknown error", second + "do", `"stop?serve"`, "schema"},
		{"an entry that is none", second, `{"entry": "swap 1 B", "refused": "no-break"}`, "schema"},
		{"two spaces", second + "do", `"in  in"`, "schema"},
		{"an event and an entry", second + "entry", `"amend 1 B"`, "schema"},
		{"an entry without payload", second, `{"entry": "undo", "refused": "no-break"}`, "schema"},
		{"an unknown effect", step + "effects", `["won"]`, "schema"},
		{"effects out of order", step + "effects", `["game-won", "point"]`, "lint: effects"},
		{"an unknown refusal", second + "refused", `"no-way"`, "schema"},
		{"a refusal with effects", second + "effects", `[]`, "schema"},
		{"a short case without effects", step + "effects", `~`, "schema"},
		{"null for effects", step + "effects", `null`, "reader: case c0001: field \"effects\" is null"},
		{"an empty refusal", second + "refused", `""`, "reader: case c0001: field \"refused\" is \"\""},
		{"null for steps", "cases.0.steps", `null`, "reader: case c0001: field \"steps\" is null"},
		{"a short case that asserts the last event only", step + "do", `"A A"`, "schema"},
		{"a short case that asserts a checkpoint only", step, `{"do": "A A", "name": "two", "line": "` + line + `", "call": "2-0-2", "effects": []}`, "lint: short"},
		{"a long case without checkpoint", step + "do", `"A A A A A A A A A A A A A A A A A A A A A"`, "schema"},
		{"a checkpoint with a space", step + "name", `"a name "`, "schema"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			text := changed(t, good, tt.path, tt.value)
			by := caught(t, text)
			if by != "" && !slices.Contains(beyondSchema, by) {
				require.Error(t, schemaOf(t, "cases.json").Validate(valueOf(t, text)), "only the reader or the linter refuses it")
			}
			require.True(t, tt.by == "" && by == "" || tt.by != "" && strings.HasPrefix(by, tt.by), "caught by %q, want %q", by, tt.by)
		})
	}
	for name, text := range map[string]string{"text after the end": good + "x", "unexpected EOF": good[:len(good)-2], "want object, not array": "[" + good + "]"} {
		require.Contains(t, caught(t, text), "reader: "+name)
	}
	require.Contains(t, caught(t, strings.Replace(good, `"id": "c0001", `, `"x": 1, `, 1)), "reader: case number 1: ")
	require.Contains(t, caught(t, changed(t, good, "cases.1", strings.Replace(casesOf(t, good), "c0001", "c0002", 1))), "lint: title-twice")
	require.Contains(t, caught(t, changed(t, good, "cases.1", strings.Replace(casesOf(t, good), "score", "serve", 1))), "lint: id-twice")
}

// caught says who refuses a case file first, and why.
func caught(t *testing.T, text string) string {
	file, err := readFile("good.json", []byte(text))
	if err != nil {
		return "reader: " + strings.TrimPrefix(err.Error(), "conformance: good.json: ")
	}
	if err := schemaOf(t, "cases.json").Validate(valueOf(t, text)); err != nil {
		return "schema: " + err.Error()
	}
	v := vocabulary{why: map[string]bool{"basic": true}, retired: map[string]bool{"c9999": true}}
	if findings := lint([]File{file}, v); len(findings) > 0 {
		return "lint: " + findings[0].Rule
	}
	return ""
}

func valueOf(t *testing.T, text string) any {
	var value any
	require.NoError(t, json.Unmarshal([]byte(text), &value))
	return value
}

// between is a line in play taken to between games.
func between(line string) string {
	words := strings.Fields(line)
	for i, w := range words {
		for _, now := range []string{"serve=-", "receive=-", "A=--", "B=--", "phase=between"} {
			if name, _, _ := strings.Cut(now, "="); strings.HasPrefix(w, name+"=") {
				words[i] = now
			}
		}
	}
	return strings.Join(words, " ")
}

// changed sets the value at a path, such as cases.0.steps.1.do; a path that ends
// in a dot names the item itself.
func changed(t *testing.T, text, path, value string) string {
	var root any
	require.NoError(t, json.Unmarshal([]byte(text), &root))
	var to any
	if value != "~" {
		require.NoError(t, json.Unmarshal([]byte(value), &to))
	}
	var set func(at any, path []string) any
	set = func(at any, path []string) any {
		if len(path) == 0 || path[0] == "" {
			return to
		}
		switch at := at.(type) {
		case map[string]any:
			if len(path) == 1 && value == "~" {
				delete(at, path[0])
			} else {
				at[path[0]] = set(at[path[0]], path[1:])
			}
			return at
		case []any:
			i, err := strconv.Atoi(path[0])
			require.NoError(t, err)
			if i == len(at) {
				at = append(at, nil)
			}
			at[i] = set(at[i], path[1:])
			return at
		}
		require.Empty(t, path, "no such path")
		return to
	}
	out, err := json.Marshal(set(root, strings.Split(path, ".")))
	require.NoError(t, err)
	return string(out)
}

func casesOf(t *testing.T, text string) string {
	var f struct{ Cases []json.RawMessage }
	require.NoError(t, json.Unmarshal([]byte(text), &f))
	return string(f.Cases[0])
}

func fieldsOf(t *testing.T, text string) string {
	file, err := readFile("good.json", []byte(text))
	require.NoError(t, err)
	return file.Cases[0].Start.Line
}

func TestLintSeesFeaturesTwice(t *testing.T) {
	f, err := readFile("good.json", []byte(good))
	require.NoError(t, err)
	n := 0
	for _, finding := range lint([]File{f, f}, vocabulary{}) {
		if finding.Rule == "feature-twice" {
			n++
		}
	}
	require.Equal(t, 1, n)
}

var schemas = map[string]*jsonschema.Schema{}

// schemaOf compiles one of the schemas.
func schemaOf(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	if s := schemas[name]; s != nil {
		return s
	}
	data, err := content.ReadFile("schema/" + name)
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource(name, bytes.NewReader(data)))
	s, err := c.Compile(name)
	require.NoError(t, err)
	schemas[name] = s
	return s
}

// Every file of the corpus is as its schema says.
func TestSchemas(t *testing.T) {
	cases := schemaOf(t, "cases.json")
	names, err := fs.Glob(content, "cases/*.json")
	require.NoError(t, err)
	for _, name := range append(names, "profiles.json") {
		schema := cases
		if base := path.Base(name); base == "why.json" || base == "profiles.json" {
			schema = schemaOf(t, base)
		}
		data, err := content.ReadFile(name)
		require.NoError(t, err)
		var value any
		require.NoError(t, json.Unmarshal(data, &value))
		require.NoError(t, schema.Validate(value), name)
	}
}

// The words of the schema are those of this package.
func TestSchemaHasTheWords(t *testing.T) {
	data, err := content.ReadFile("schema/cases.json")
	require.NoError(t, err)
	var s struct {
		Properties struct {
			Cases struct {
				Items struct {
					Properties struct {
						Why   struct{ Items struct{ Enum []string } }
						Steps struct {
							Items struct {
								Properties struct {
									Effects struct{ Items struct{ Enum []string } }
									Refused struct{ Enum []string }
								}
							}
						}
					}
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal(data, &s))
	words := s.Properties.Cases.Items.Properties
	require.Equal(t, Effects(), words.Steps.Items.Properties.Effects.Items.Enum)
	require.Equal(t, Refusals(), words.Steps.Items.Properties.Refused.Enum)
	whys, err := Vocabulary()
	require.NoError(t, err)
	require.Len(t, words.Why.Items.Enum, len(whys))
	for i, w := range whys {
		require.Equal(t, w.Word, words.Why.Items.Enum[i])
	}
}

// Every named shape is played to the end of a game, and into the next where
// there is one.
func TestEveryShapeIsCovered(t *testing.T) {
	type cover struct{ won, next bool }
	covered := map[string]*cover{}
	for _, f := range loadAll(t) {
		for _, c := range f.Cases {
			var seen cover
			for _, s := range c.Steps {
				for _, e := range s.Effects {
					seen.won = seen.won || e == "game-won"
					seen.next = seen.next || e == "game-started" && fieldOf(s.Line, "game") != "1"
				}
				seen.next = seen.next || fieldOf(s.Line, "game") > "1"
			}
			for _, entry := range c.Formats {
				shape, _, _ := strings.Cut(entry, "@")
				if covered[shape] == nil {
					covered[shape] = &cover{}
				}
				covered[shape].won = covered[shape].won || seen.won
				covered[shape].next = covered[shape].next || seen.next
			}
		}
	}
	for _, shape := range format.Shapes() {
		games := strings.Contains(shape, "-of")
		if c := covered[shape]; c == nil || !c.won || games && !c.next {
			t.Errorf("%s: %+v", shape, c)
		}
	}
}

func TestLineFault(t *testing.T) {
	good := "L2 game=1 won=0:0 score=4-3 opens=0:0 serve=A1@R#1 receive=B2 A=12 B=21 first=A start=A1B1 ends=0 due=- phase=play result=- break=- timeouts=0:1 medical=---- out=---- vw=0:0 tw=1:0 tf=0:0 gf=0:0 wrong=0:0 carry=----"
	if fault := lineFault(good); fault != "" {
		t.Fatal(fault)
	}
	for _, c := range [][3]string{
		{"L2", "L3", "L2"},
		{" game=1", "", "fields"},
		{"game=1", "game=01", "game"},
		{"serve=A1@R#1", "serve=A1@R", "serve"},
		{"serve=A1@R#1", "serve=-", "phase"},
		{"A=12", "A=--", "phase"},
		{"receive=B2", "receive=-", "phase"},
		{"serve=A1@R#1", "serve=A1@-#1", "phase"},
		{"phase=play", "phase=playing", "phase"},
		{"won=0:0 score=4-3", "score=4-3 won=0:0", "score"},
		{"carry=----", "carry=---- ", "fields"},
		{"ends=0", "ends=2", "ends"},
	} {
		bad := strings.Replace(good, c[0], c[1], 1)
		if fault := lineFault(bad); !strings.Contains(fault, c[2]) {
			t.Errorf("%s: got %q, want something about %s", bad, fault, c[2])
		}
	}
}
