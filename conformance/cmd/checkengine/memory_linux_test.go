package main

import (
	"os"
	"syscall"
)

// megabytes is the most memory that a process has had at once.
func megabytes(ended *os.ProcessState) int64 {
	return int64(ended.SysUsage().(*syscall.Rusage).Maxrss) / 1024
}
