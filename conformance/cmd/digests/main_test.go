package main

import "testing"

// A command that cannot be run confirms nothing.
func TestDeadCommandConfirmsNothing(t *testing.T) {
	if err := confirm(nil, []string{"/no/such/engine"}); err == nil {
		t.Error("a dead command was taken for an engine")
	}
}
