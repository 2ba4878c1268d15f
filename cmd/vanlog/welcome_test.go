//go:build unix

package main_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// TestFirstRun begins a build with keys alone where there is none: a file that cannot be
// made is refused and asked for again, a build that is gone is said to be.
func TestFirstRun(t *testing.T) {
	vanlog := program(t)
	dir := t.TempDir()
	s := openTerminal(t, 80, 24, dir, "unset VANLOG_BUILD; "+vanlog+" --now 2026-03-02T08:00; echo exit=$?; rm net-van.van; "+vanlog+"; echo exit=$?")
	s.see("How do you want to begin?", "demonstration")
	s.press("Down", "Enter")
	s.see("A new build")
	s.typeText("Net van")
	s.see("net-van.van")
	s.press("Down", "Home")
	s.typeText("no/folder/")
	s.press("C-s")
	s.see("! ", "no/folder")
	for range len("no/folder/") {
		s.press("BSpace")
	}
	s.press("C-s")
	s.see("Net van   not begun", "[1 Bench]", "Workable", "Take out linings")
	if got := exported(t, vanlog, dir, "net-van.van"); got.Name != "Net van" || len(got.Places) < 10 || len(got.Tasks) < 15 {
		t.Errorf("the file has %q with %d places and %d tasks", got.Name, len(got.Places), len(got.Tasks))
	}
	s.press("q")
	s.see("there is no such build", "How do you want to begin?")
	s.press("q")
	s.see("exit=0\nexit=0")
	if _, err := os.Stat(filepath.Join(dir, "net-van.van")); err == nil {
		t.Error("leaving has made a file")
	}
}

// exportedBuild is what a build file says, as far as a test asks.
type exportedBuild struct {
	Name   string
	Places []struct{ ID string }
	Tasks  []struct{ ID string }
	Items  []struct{ ID string }
	Edges  []struct{ Before, After string }
}

func exported(t *testing.T, vanlog, dir, file string) exportedBuild {
	t.Helper()
	cmd := exec.Command(vanlog, "export", "--build", file)
	cmd.Dir, cmd.Env = dir, append(os.Environ(), "XDG_STATE_HOME="+t.TempDir())
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var out exportedBuild
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return out
}
