package peerpy

import (
	"os/exec"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/protocol"
)

// The engine in Python, which was written from the pages and data of the corpus
// alone, is conformant in what it claims.
func TestPeerInPython(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("no python3 here")
	}
	client, err := protocol.Dial([]string{python, "engine.py"}, protocol.Options{Timeout: 30 * time.Second, Strict: true})
	require.NoError(t, err)
	defer client.Close()
	report, err := conformance.Check(client, conformance.Options{Only: conformance.Selection{Written: testing.Short()}})
	require.NoError(t, err)
	require.Equal(t, conformance.Conformant, report.Verdict, report.Summary())
	claimed := map[string]int{}
	for _, p := range report.Profiles {
		if p.Claimed {
			claimed[p.Profile] = p.Passed
		}
	}
	require.Len(t, claimed, 5)
	require.Empty(t, client.Left())
	t.Log(claimed)
}
