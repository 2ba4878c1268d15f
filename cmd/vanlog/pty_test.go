//go:build unix

package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

// TestVersionDoesNotAskTheTerminal runs a command on a terminal that answers nothing. The
// import of Bubble Tea v1 asks the terminal for its colours in an init function and waits
// five seconds for the answer; package termguard keeps it from that. This is the one test
// that measures time: a second is far from both.
func TestVersionDoesNotAskTheTerminal(t *testing.T) {
	cmd := exec.Command("vanlog", "version") // TestMain puts the program on the PATH
	cmd.Env = slices.DeleteFunc(os.Environ(), func(v string) bool {
		return strings.HasPrefix(v, "CI=") || strings.HasPrefix(v, "TERM=") || strings.HasPrefix(v, "COLORFGBG=")
	})
	// A program with the race detector sleeps for a second before it ends, unless told not to.
	cmd.Env = append(cmd.Env, "TERM=xterm-256color", "GORACE=atexit_sleep_ms=0")
	start := time.Now()
	tty, err := pty.Start(cmd)
	if err != nil {
		t.Fatal(err)
	}
	defer tty.Close()
	out, err := io.ReadAll(tty)
	if err != nil && !errors.Is(err, syscall.EIO) { // what Linux says when the other end has gone
		t.Fatal(err)
	}
	if err := cmd.Wait(); err != nil {
		t.Fatalf("vanlog version: %v: %q", err, out)
	}
	if took := time.Since(start); took > time.Second {
		t.Errorf("vanlog version took %v on a terminal that answers nothing", took)
	}
	if bytes.ContainsRune(out, 0x1b) || !bytes.HasPrefix(out, []byte("vanlog ")) {
		t.Errorf("vanlog version wrote %q to the terminal", out)
	}
}
