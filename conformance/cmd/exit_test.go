// Package cmd_test holds what the programs of the corpus do alike.
package cmd_test

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Exit codes mean the same in every program: 0 nothing was found, 1 something was,
// 2 it could not be done. No program writes anything on the command lines here.
func TestExitCodes(t *testing.T) {
	if testing.Short() {
		t.Skip("builds all programs")
	}
	dir := t.TempDir()
	out, err := exec.Command("go", "build", "-o", dir+string(filepath.Separator), "./...").CombinedOutput()
	require.NoError(t, err, "%s", out)
	engine := filepath.Join(dir, "evencourt")
	for _, test := range []struct {
		line string
		in   string
		code int
	}{
		{"evencourt", "", 0},
		{"evencourt", `{"cmd":"start","seq":1,"version":1}` + "\n" + `{"cmd":"stop","seq":2}` + "\n", 0},
		{"evencourt -nonsense", "", 2},
		{"checkengine -quiet -case c0005 " + engine, "", 0},
		{"checkengine -quiet -case c0005 " + filepath.Join(dir, "reportpage"), "", 2}, // no engine: it ends at once
		{"checkengine", "", 2},
		{"publish -nonsense", "", 2},
		{"publish", "", 2}, // not in the root of the repository
		{"mutants -nonsense", "", 2},
		{"digests -nonsense", "", 2},
		{"reportpage -out " + dir, "", 2},
		{"reportpage -out " + dir + " missing.json", "", 2},
	} {
		fields := strings.Fields(test.line)
		cmd := exec.Command(filepath.Join(dir, fields[0]), fields[1:]...)
		cmd.Dir, cmd.Stdin = t.TempDir(), strings.NewReader(test.in)
		said, _ := cmd.CombinedOutput()
		require.Equal(t, test.code, cmd.ProcessState.ExitCode(), "%s: %s", test.line, said)
		require.True(t, test.code == 0 || len(said) > 0, "%s says nothing", test.line)
	}
}
