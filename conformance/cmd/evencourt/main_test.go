package main

import (
	"os/exec"
	"strings"
	"testing"
)

// The engine speaks the protocol on its standard streams.
func TestEngineOnItsStandardStreams(t *testing.T) {
	cmd := exec.Command("go", "run", ".")
	cmd.Stdin = strings.NewReader(`{"cmd":"start","seq":1,"version":1}` + "\n" +
		`{"cmd":"line","seq":2,"format":"sideout-doubles-11@2025","start":{"first":"A","servers":"A1B1"},"events":["A","B"]}` + "\n" +
		`{"cmd":"stop","seq":3}` + "\n")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(out), "score=1-0") || !strings.Contains(string(out), "serve=B1@R#1") {
		t.Errorf("%s", out)
	}
}
