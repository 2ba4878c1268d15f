//go:build !unix || solaris || aix

package store

import "os"

// unlock has nothing to do where closing a file frees its lock.
func unlock(*os.File) {}
