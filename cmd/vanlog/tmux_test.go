//go:build unix

package main_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// patience is how long a screen may take to show something before a test gives up.
// It is no measure of speed: machines are noisy.
const patience = 30 * time.Second

var binary = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "vanlog-bin")
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "vanlog")
	out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("go build: %w\n%s", err, out)
	}
	return path, nil
})

// program gives the path of the real program, built once.
func program(t *testing.T) string {
	t.Helper()
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// terminal is a tmux session of its own server.
type terminal struct {
	t      *testing.T
	socket string
}

// openTerminal runs a shell command in a terminal of w × h. It skips where there is no
// tmux, unless VANLOG_E2E says that there must be one.
func openTerminal(t *testing.T, w, h int, dir, command string) terminal {
	t.Helper()
	if _, err := exec.LookPath("tmux"); err != nil {
		if os.Getenv("VANLOG_E2E") == "must" {
			t.Fatal("VANLOG_E2E=must, but there is no tmux")
		}
		t.Skip("no tmux on this machine: the screens are not driven")
	}
	term := terminal{t, filepath.Join(t.TempDir(), "tmux")}
	term.tmux("-f", "/dev/null", "new-session", "-d", "-x", fmt.Sprint(w), "-y", fmt.Sprint(h), "-c", dir,
		"env -u CI -u NO_COLOR TERM=screen-256color XDG_STATE_HOME="+dir+" sh -c '"+command+"; exec sleep 600'")
	t.Cleanup(func() { exec.Command("tmux", "-S", term.socket, "kill-server").Run() })
	return term
}

func (s terminal) tmux(args ...string) string {
	s.t.Helper()
	out, err := exec.Command("tmux", append([]string{"-S", s.socket}, args...)...).CombinedOutput()
	if err != nil {
		s.t.Fatalf("tmux %v: %v\n%s", args, err, out)
	}
	return string(out)
}

// press sends keys one at a time, by their tmux names.
func (s terminal) press(keys ...string) {
	s.t.Helper()
	for _, k := range keys {
		s.tmux("send-keys", k)
	}
}

func (s terminal) typeText(text string) {
	s.t.Helper()
	s.tmux("send-keys", "-l", text)
}

func (s terminal) screen() string { return s.tmux("capture-pane", "-p") }

// see waits until the screen shows every one of the texts.
func (s terminal) see(texts ...string) string {
	s.t.Helper()
	deadline := time.Now().Add(patience)
	for {
		shown := s.screen()
		if missing := firstMissing(shown, texts); missing == "" {
			return shown
		} else if time.Now().After(deadline) {
			s.t.Fatalf("the screen never showed %q:\n%s", missing, shown)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// seeOneOf waits until the screen shows one of the texts, and gives it.
func (s terminal) seeOneOf(texts ...string) string {
	s.t.Helper()
	deadline := time.Now().Add(patience)
	for {
		shown := s.screen()
		for _, text := range texts {
			if strings.Contains(shown, text) {
				return text
			}
		}
		if time.Now().After(deadline) {
			s.t.Fatalf("the screen never showed one of %q:\n%s", texts, shown)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

func firstMissing(shown string, texts []string) string {
	for _, text := range texts {
		if !strings.Contains(shown, text) {
			return text
		}
	}
	return ""
}

// flag asks tmux for something it knows of the terminal, such as alternate_on.
func (s terminal) flag(name string) string {
	return strings.TrimSpace(s.tmux("display-message", "-p", "#{"+name+"}"))
}
