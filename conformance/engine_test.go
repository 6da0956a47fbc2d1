package conformance_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
)

// The library's own engine passes every case of its own corpus.
func TestOwnEngine(t *testing.T) { conformance.Test(t, new(conformance.Builtin)) }

// Besides what is compared, the engine says what a correction changed, and
// calls help first.
func TestOwnEngineSaysMore(t *testing.T) {
	var own conformance.Builtin
	_, err := own.Begin("sideout-doubles-11@2026", conformance.Start{First: "A", Servers: "A1B1"})
	require.NoError(t, err)
	own.Do("A")
	own.Do("B")
	a := own.Do("amend 2 -")
	require.Equal(t, []conformance.Change{{N: 2, Before: &conformance.Did{Effects: []string{"point"}, Score: "1-0"}}}, a.Changes)
	require.True(t, own.Do("mA1").Help)
	own.Do("mA1+")
	own.Do("in")
	a = own.Do("mA1")
	require.Equal(t, "medical-used", a.Refused)
	require.True(t, a.Help)
	require.NotEmpty(t, a.Instead)
	require.Empty(t, own.Do("B").Changes)
}
