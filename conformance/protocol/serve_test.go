package protocol_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/protocol"
)

// dialogue gives requests to the library's own engine and returns its replies.
func dialogue(t *testing.T, requests ...string) []map[string]any {
	t.Helper()
	server := protocol.Server{Identity: conformance.Identity{Name: "own", Version: "1", Language: "Go"}, Engine: new(conformance.Builtin)}
	var out bytes.Buffer
	if err := server.Serve(strings.NewReader(strings.Join(requests, "\n")+"\n"), &out); err != nil {
		t.Fatal(err)
	}
	var replies []map[string]any
	for _, line := range strings.Split(strings.TrimSpace(out.String()), "\n") {
		var reply map[string]any
		if err := json.Unmarshal([]byte(line), &reply); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		replies = append(replies, reply)
	}
	return replies
}

// A case is answered with the line, call and effects after each event.
func TestServePlaysACase(t *testing.T) {
	replies := dialogue(t, `{"cmd":"start","seq":1,"version":1}`,
		`{"cmd":"case","seq":2,"case":"c0001","format":"sideout-doubles-11@2025","start":{"first":"A","servers":"A1B1"},"events":["B"]}`,
		`{"cmd":"stop","seq":3}`)
	if len(replies) < 2 || replies[1]["seq"] != float64(2) {
		t.Fatalf("%v", replies)
	}
	text, err := json.Marshal(replies[1])
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"serve=B1@R#1", "side-out", "0-0-1"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("no %s in %s", want, text)
		}
	}
}

// What is no request is answered with errored, and the dialogue goes on.
func TestServeGoesOnAfterBadRequests(t *testing.T) {
	replies := dialogue(t, `{"cmd":"start","seq":1,"version":1}`, `{"cmd":"dance","seq":2}`, `{"cmd":"line","seq":4,"format":"triples"}`)
	if len(replies) != 3 {
		t.Fatalf("%v", replies)
	}
	for _, reply := range replies[1:] {
		if _, plain := reply["result"]; plain {
			t.Errorf("a bad request got a result: %v", reply)
		}
	}
}
