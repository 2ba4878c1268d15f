//go:build unix

package plan

import (
	"syscall"
	"testing"
	"time"
)

// processTime gives the time that this process has worked.
func processTime(t *testing.T) time.Duration {
	t.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
