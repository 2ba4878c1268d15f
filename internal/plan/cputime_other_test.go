//go:build !unix

package plan

import (
	"testing"
	"time"
)

// processTime gives the time on the clock, where that of the process is not known.
func processTime(*testing.T) time.Duration { return time.Duration(time.Now().UnixNano()) }
