package protocol

import (
	"bytes"
	"fmt"
	"os"
	"strconv"

	"github.com/evencourt/evencourt/conformance"
)

// leftBehind lists the processes that have a variable in their environment.
func leftBehind(variable string) []string {
	entries, err := os.ReadDir("/proc")
	if err != nil {
		return nil
	}
	var out []string
	for _, e := range entries {
		if _, err := strconv.Atoi(e.Name()); err != nil {
			continue
		}
		environment, err := os.ReadFile("/proc/" + e.Name() + "/environ")
		if err != nil || !bytes.Contains(environment, []byte(variable+"\x00")) {
			continue // ended, or somebody else's
		}
		command, _ := os.ReadFile("/proc/" + e.Name() + "/cmdline")
		command = bytes.ReplaceAll(bytes.TrimRight(command, "\x00"), []byte{0}, []byte{' '})
		if len(command) > 0 { // a zombie has none
			out = append(out, fmt.Sprintf("%s %.80s", e.Name(), conformance.Printable(string(command))))
		}
	}
	return out
}
