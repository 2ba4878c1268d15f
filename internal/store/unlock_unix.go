//go:build unix && !solaris && !aix

package store

import (
	"os"
	"syscall"
)

// unlock lets go of the lock that bbolt holds on file. Closing it would not do: a mapping
// that a panic left behind keeps the lock.
func unlock(file *os.File) { _ = syscall.Flock(int(file.Fd()), syscall.LOCK_UN) }
