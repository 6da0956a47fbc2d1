//go:build unix

package protocol

import (
	"os/exec"
	"syscall"
)

// group puts the engine into a process group of its own, so that what it
// starts ends with it.
func group(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} }

func killGroup(cmd *exec.Cmd) {
	_ = syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL)
}
