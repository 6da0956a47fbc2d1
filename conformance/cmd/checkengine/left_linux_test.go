package main

import (
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
)

func leaveGroup(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true} }

// An engine that ends while something it started holds its output has crashed,
// at once and not after the time limit, and what it leaves behind is named.
func TestChildrenLeftBehindAreNamed(t *testing.T) {
	began := time.Now()
	r := runner(t, "leaves a child behind", "-quiet", "-written", "-profile", "plumbing", "-restarts", "1", "-timeout", "600s")
	require.Equal(t, notConformant, r.code, r.stderr)
	require.Equal(t, conformance.Crashed, r.report.Failures[0].Outcome)
	require.Contains(t, r.report.Failures[0].Got, "exit status 4")
	require.Less(t, time.Since(began), 300*time.Second)
	named := regexp.MustCompile(`(?m)^the engine left a process behind: ([0-9]+) sleep 600$`).FindAllStringSubmatch(r.stderr, -1)
	require.Len(t, named, 2, r.stderr)
	for _, m := range named {
		pid, err := strconv.Atoi(m[1])
		require.NoError(t, err)
		require.NoError(t, syscall.Kill(pid, syscall.SIGKILL))
	}
	require.Equal(t, 2, strings.Count(r.stderr, "\n"))
}
