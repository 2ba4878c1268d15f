//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
)

// TestBuildInUse holds the lock of a file, as a program does that has it open.
func TestBuildInUse(t *testing.T) {
	path := filepath.Join(t.TempDir(), "h.van")
	if out, err := exec.Command("vanlog", "new", path, "--name", "Heron").CombinedOutput(); err != nil {
		t.Fatalf("new: %v: %s", err, out)
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("vanlog", "export", "--build", path)
	out, err := cmd.CombinedOutput()
	if code := cmd.ProcessState.ExitCode(); code != 4 || !bytes.Contains(out, []byte("\nhint: close the other vanlog")) {
		t.Errorf("exit code %d, %v: %s; want 4 and a hint", code, err, out)
	}
}
