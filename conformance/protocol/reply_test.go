package protocol

import (
	"bytes"
	"encoding/json"
	"os"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
)

// What the runner cannot read the schema refuses, and what it reads the schema
// takes.
func TestRunnerAndSchemaReadAlike(t *testing.T) {
	schema := replySchema(t, "caseReply")
	line := conformanceLine(t)
	for _, tt := range []struct {
		name, reply string
		good        bool
	}{
		{"an answer", `{"seq":1,"result":{"answers":[{"line":LINE,"call":"0-0-2","effects":[]}]}}`, true},
		{"a refusal", `{"seq":1,"result":{"answers":[{"line":LINE,"refused":"not-due"}]}}`, true},
		{"more than is asked", `{"seq":1,"result":{"answers":[{"line":LINE,"colour":"red"}]},"took":3}`, true},
		{"a skip", `{"seq":1,"skipped":{"reason":"not played"}}`, true},
		{"null for effects", `{"seq":1,"result":{"answers":[{"line":LINE,"effects":null}]}}`, false},
		{"a refusal without a word", `{"seq":1,"result":{"answers":[{"line":LINE,"refused":""}]}}`, false},
		{"null for a refusal", `{"seq":1,"result":{"answers":[{"line":LINE,"refused":null}]}}`, false},
		{"null for a call", `{"seq":1,"result":{"answers":[{"line":LINE,"call":null}]}}`, false},
		{"one effect as text", `{"seq":1,"result":{"answers":[{"line":LINE,"effects":"point"}]}}`, false},
		{"null for answers", `{"seq":1,"result":{"answers":null}}`, false},
		{"nothing", `{"seq":1}`, false},
		{"no seq", `{"skipped":{"reason":"not played"}}`, false},
		{"a seq as text", `{"seq":"1","skipped":{"reason":"not played"}}`, false},
		{"two at once", `{"seq":1,"skipped":{"reason":"a"},"errored":{"message":"b"}}`, false},
		{"an empty address", `{"seq":1,"skipped":{"reason":"a","url":""}}`, false},
		{"help as text", `{"seq":1,"result":{"answers":[{"line":LINE,"help":"yes"}]}}`, false},
	} {
		reply := bytes.Replace([]byte(tt.reply), []byte("LINE"), line, 1)
		var value any
		require.NoError(t, json.Unmarshal(reply, &value), tt.name)
		require.Equal(t, tt.good, schema.Validate(value) == nil, "%s, by the schema", tt.name)
		var into CaseResult
		got := read(reply, 1, &into, false)
		require.Equal(t, tt.good, got.outcome != conformance.Unreadable, "%s, by the runner: %s", tt.name, got.reason)
	}
}

func conformanceLine(t *testing.T) []byte {
	a, err := new(conformance.Builtin).Begin("sideout-doubles-11@2026", conformance.Start{First: "A", Servers: "A1B1"})
	require.NoError(t, err)
	text, err := json.Marshal(a.Line)
	require.NoError(t, err)
	return text
}

func replySchema(t *testing.T, reply string) *jsonschema.Schema {
	data, err := os.ReadFile("../schema/protocol.json")
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("https://evencourt.invalid/schema/protocol.json", bytes.NewReader(data)))
	s, err := c.Compile("https://evencourt.invalid/schema/protocol.json#/$defs/" + reply)
	require.NoError(t, err)
	return s
}
