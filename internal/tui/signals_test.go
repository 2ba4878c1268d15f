//go:build unix

package tui

import (
	"os"
	"syscall"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

func TestSignalsEndTheProgram(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT} {
		s := listen()
		s.kill = func() {}
		if err := syscall.Kill(os.Getpid(), sig); err != nil {
			t.Fatal(err)
		}
		if msg := s.wait(); msg != tea.Quit() {
			t.Errorf("%v gives %v, want to quit", sig, msg)
		}
		if got := s.caught.Load(); got == nil || *got != sig {
			t.Errorf("%v was caught as %v", sig, got)
		}
		s.end()
	}
}

func TestWaitingForSignalsEndsWithTheProgram(t *testing.T) {
	s := listen()
	s.end()
	if msg := s.wait(); msg != nil {
		t.Errorf("after the end wait says %v", msg)
	}
}
