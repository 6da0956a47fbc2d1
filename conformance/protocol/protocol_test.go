package protocol

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/digests"
)

func serve(t testing.TB, requests ...string) []string {
	t.Helper()
	server := Server{Identity: conformance.Identity{Name: "test", Version: "1"}, Engine: new(conformance.Builtin), Position: digests.BuiltinAt}
	var out bytes.Buffer
	require.NoError(t, server.Serve(strings.NewReader(strings.Join(requests, "\n")+"\n"), &out))
	return strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
}

const lineAfterB = "L2 game=1 won=0:0 score=0-0 opens=0:0 serve=B1@R#1 receive=A1 A=12 B=12 first=A start=A1B1 ends=0 due=- phase=play result=- break=- timeouts=0:0 medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----"

func TestServe(t *testing.T) {
	start := `"format":"sideout-doubles-11@2026","start":{"first":"A","servers":"A1B1"}`
	for _, test := range []struct{ name, request, want string }{
		{"start", `{"cmd":"start","seq":1,"version":1}`, `{"seq":1,"result":{"version":1,"engine":{"name":"test","version":"1"},"commands":["case","result","line","tree"]}}`},
		{"unknown fields are ignored", `{"cmd":"stop","seq":7,"mood":"good"}`, `{"seq":7,"result":{}}`},
		{"another version", `{"cmd":"start","seq":1,"version":9}`, `{"seq":1,"errored":{"message":"speaks version 1 of the protocol, not 9"}}`},
		{"a profile", `{"cmd":"profile","seq":2,"profile":"x","formats":["rally-singles-7@2026","chess"]}`, `{"seq":2,"result":{"formats":["rally-singles-7@2026"]}}`},
		{"a profile it cannot play", `{"cmd":"profile","seq":2,"profile":"x","formats":["chess"]}`, `{"seq":2,"skipped":{"reason":"not claimed"}}`},
		{"a line", `{"cmd":"line","seq":3,` + start + `,"events":["B"]}`, `{"seq":3,"result":{"line":"` + lineAfterB + `"}}`},
		{"a line that is refused", `{"cmd":"line","seq":3,` + start + `,"events":["B","ends"]}`, `{"seq":3,"result":{"refused":"not-due","at":2}}`},
		{"a tree behind a refused event", `{"cmd":"tree","seq":4,` + start + `,"events":["ends"],"alphabet":["A"],"depth":1}`, `{"seq":4,"errored":{"message":"event 1 of the path is refused: not-due"}}`},
		{"an unknown command", `{"cmd":"dance","seq":5}`, `{"seq":5,"errored":{"message":"unknown command \"dance\""}}`},
		{"an unknown format", `{"cmd":"case","seq":6,"format":"chess","start":{"first":"A"}}`, `{"seq":6,"errored":{"message":"format: shape: unknown id \"chess\""}}`},
		{"no JSON", `hello`, `{"seq":0,"errored":{"message":"invalid character 'h' looking for beginning of value"}}`},
	} {
		t.Run(test.name, func(t *testing.T) {
			require.Equal(t, []string{test.want}, serve(t, test.request))
		})
	}
}

// The answer to a case is one to the start and one to each event.
func TestServeCase(t *testing.T) {
	got := serve(t, `{"cmd":"case","seq":1,"format":"sideout-doubles-11@2026","start":{"first":"A","servers":"A1B1"},"events":["B","C"]}`)
	var reply Reply
	require.NoError(t, json.Unmarshal([]byte(got[0]), &reply))
	var result CaseResult
	require.NoError(t, json.Unmarshal(reply.Result, &result))
	require.Len(t, result.Answers, 3)
	require.Empty(t, cmp.Diff(conformance.Answer{Line: lineAfterB, Call: "0-0-1", Effects: []string{"side-out"}}, result.Answers[1]))
	require.Empty(t, cmp.Diff(conformance.Answer{Line: lineAfterB, Call: "0-0-1", Refused: "malformed"}, result.Answers[2]))
}

// The tree by fast positions is the tree by playing everything again.
func TestTreeByReplay(t *testing.T) {
	request := `{"cmd":"tree","seq":1,"format":"rally-doubles-7@2026","start":{"first":"A","servers":"A1B1"},"events":["A"],"alphabet":["A","B","tA"],"depth":5}`
	fast := serve(t, request)
	server := Server{Identity: conformance.Identity{Name: "slow"}, Engine: new(conformance.Builtin)}
	var slow bytes.Buffer
	require.NoError(t, server.Serve(strings.NewReader(request+"\n"), &slow))
	require.Equal(t, fast[0]+"\n", slow.String())
	require.Regexp(t, `"digest":"[0-9a-f]{64}"`, fast[0])
}

// Every message of the dialogue in PROTOCOL.md is one that both ends read.
func TestDialogueOfThePage(t *testing.T) {
	page, err := os.ReadFile("../PROTOCOL.md")
	require.NoError(t, err)
	asked, answered := 0, 0
	var q Request
	for _, text := range strings.Split(string(page), "\n") {
		if request, ok := strings.CutPrefix(text, "→ "); ok {
			q = Request{}
			d := json.NewDecoder(strings.NewReader(request))
			d.DisallowUnknownFields()
			require.NoError(t, d.Decode(&q), text)
			asked++
		}
		if reply, ok := strings.CutPrefix(text, "← "); ok {
			result := map[string]any{StartCommand: new(StartResult), ProfileCommand: new(ProfileResult), CaseCommand: new(CaseResult),
				LineCommand: new(LineResult), StopCommand: new(struct{})}[q.Cmd]
			got := read([]byte(reply), q.Seq, result, true)
			require.False(t, got.broken(), "%s: %s", got.reason, text)
			answered++
		}
	}
	require.Equal(t, asked, answered)
	require.Greater(t, asked, 8)
}

func TestReadLineIsBounded(t *testing.T) {
	server := Server{Engine: new(conformance.Builtin)}
	err := server.Serve(strings.NewReader(strings.Repeat("x", MostLine+1)), new(bytes.Buffer))
	require.ErrorIs(t, err, errTooLong)
}

// Whatever is asked, there is one reply a line, and it is one that the runner
// reads.
func FuzzServe(f *testing.F) {
	f.Add(`{"cmd":"start","seq":1,"version":1}`)
	f.Add(`{"cmd":"case","seq":1,"format":"sideout-doubles-11@2026","start":{"first":"A","servers":"A1B1"},"events":["B","undo","amend 1 A","set L1"]}`)
	f.Add(`{"cmd":"case","seq":2,"format":"rally-singles-7@2025","start":{"from":"` + lineAfterB + `"},"events":["A"]}`)
	f.Add(`{"cmd":"line","seq":3,"format":"fixed-doubles-21@2026","start":{"first":"-"},"events":["fcA:defer"]}`)
	f.Add(`{"cmd":"case","seq":4,"format":"rally-singles-7@2025","start":{"first":"A","servers":"x"},"events":[]}`)
	f.Add(`{"cmd":"profile","seq":5,"profile":"p","formats":["a@b..c"]}`)
	f.Fuzz(func(t *testing.T, request string) {
		if strings.ContainsAny(request, "\n\r") || strings.TrimSpace(request) == "" || strings.Contains(request, "tree") {
			return
		}
		replies := serve(t, request)
		require.Len(t, replies, 1)
		var reply Reply
		require.NoError(t, json.Unmarshal([]byte(replies[0]), &reply))
		result := new(json.RawMessage)
		require.False(t, read([]byte(replies[0]), reply.Seq, result, true).broken(), replies[0])
	})
}

// Whatever an engine writes, reading it gives an outcome.
func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"seq":1,"result":{"answers":[{"line":"L1","call":"","effects":[]}]}}`))
	f.Add([]byte(`{"seq":1,"skipped":{"reason":"r"}}`))
	f.Add([]byte(`{"seq":1,"errored":{"message":"m"},"result":{}}`))
	f.Add([]byte("\xff"))
	f.Fuzz(func(t *testing.T, text []byte) {
		var result CaseResult
		got := read(text, 1, &result, false)
		require.NotEmpty(t, got.outcome)
		if got.outcome != conformance.Passed {
			require.NotEmpty(t, got.reason)
		}
	})
}
