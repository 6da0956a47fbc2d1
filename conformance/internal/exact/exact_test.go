package exact

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCheck(t *testing.T) {
	type inner struct {
		Call    string   `json:"call"`
		Effects []string `json:"effects,omitempty"`
		Refused string   `json:"refused,omitempty"`
	}
	type outer struct {
		Seq   *int    `json:"seq"`
		List  []inner `json:"list"`
		inner         // its fields are those of outer
	}
	for _, tt := range []struct{ name, json, says string }{
		{"as they are", `{"seq":1,"list":[{"call":""}],"call":"","more":{}}`, ""},
		{"at the top", `{"SEQ":1}`, `field "SEQ" is "seq" here`},
		{"in a list", `{"list":[{"call":""},{"Call":""}]}`, `field "Call" is "call" here`},
		{"of what is embedded", `{"calL":""}`, `field "calL" is "call" here`},
		{"both", `{"seq":1,"Seq":2}`, `field "Seq" is "seq" here`},
		{"with space and escapes", " { \"other\" : [ {} , [ ] , \"\\\\\\\"}\" , -1e3,null ] ,\n\t\"s\\u0065Q\" : 1 } ", `field "seQ" is "seq" here`},
		{"within what is not known", `{"other":{"LIST":[{"Call":1}],"x":null},"list":[]}`, ""},
		{"after a nested list", `{"list":[{"more":[[],[{}]]}],"List":[]}`, `field "List" is "list" here`},
		{"null", `{"list":[{"effects":null}]}`, `field "effects" is null: leave it out`},
		{"null of what stands always", `{"call": null}`, `field "call" is null: leave it out`},
		{"empty where it is left out", `{"refused": ""}`, `field "refused" is "": leave it out`},
		{"an empty list", `{"effects":[]}`, ""},
		{"no object", `[1]`, ""},
		{"a number", `1`, ""},
		{"torn", `{"SEQ":`, ""},
	} {
		err := Check([]byte(tt.json), &outer{})
		if tt.says == "" {
			require.NoError(t, err, tt.name)
		} else {
			require.EqualError(t, err, tt.says, tt.name)
		}
	}
}
