//go:build unix

package desk

import (
	"syscall"
	"time"
)

// processorTime gives how long processors have worked for the program so far.
func processorTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
