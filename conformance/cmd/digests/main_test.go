package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/digests"
	"github.com/evencourt/evencourt/conformance/protocol"
)

// The test is its own engine.
func TestMain(m *testing.M) {
	if os.Getenv("EVENCOURT_SERVE") == "" {
		os.Exit(m.Run())
	}
	s := protocol.Server{Identity: conformance.Identity{Name: "twin"}, Engine: new(conformance.Builtin), Position: digests.BuiltinAt}
	if err := s.Serve(os.Stdin, os.Stdout); err != nil {
		os.Exit(2)
	}
}

// A command that cannot be run confirms nothing, and one that answers otherwise
// has found something.
func TestExitCodes(t *testing.T) {
	t.Setenv("EVENCOURT_SERVE", "yes")
	const id = "sideout-doubles-11@2026"
	root, err := digests.Builtin(id)
	require.NoError(t, err)
	row, err := digests.Compute(root, digests.Plan{Alphabet: []string{"A", "B"}, WalkDepth: 2, TreeDepth: 3, Bound: 2})
	require.NoError(t, err)
	row.Formats = id
	other := row
	other.Tree = row.Root
	for _, test := range []struct {
		name      string
		row       digests.Row
		engine    string
		code      int
		confirmed []string
	}{
		{"an engine agrees", row, os.Args[0], 0, []string{"twin"}},
		{"an engine disagrees", other, os.Args[0], 1, nil},
		{"a dead command", row, "/no/such/engine", 2, nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			rows := []digests.Row{test.row}
			require.Equal(t, test.code, code(confirm(rows, []string{test.engine})))
			require.Equal(t, test.confirmed, rows[0].Confirmed)
		})
	}
}
