//go:build unix && !solaris && !aix

package record

import (
	"errors"
	"os"
	"syscall"
)

// lock keeps a record for one program, until it closes the file or ends. A
// file system that knows no locks keeps it for nobody; then [Writer.Append]
// sees what another program has written.
func lock(file *os.File) error {
	err := syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return failure(otherWriter, "", "another program has the record open")
	}
	return nil
}
