//go:build unix

package main_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// entriesOf gives the daybook of a build, newest last.
func entriesOf(t *testing.T, vanlog, dir, file string) []loggedEntry {
	t.Helper()
	cmd := exec.Command(vanlog, "export", "--build", file)
	cmd.Dir, cmd.Env = dir, append(os.Environ(), "XDG_STATE_HOME="+t.TempDir())
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var out struct{ Days []loggedEntry }
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return out.Days
}

type loggedEntry struct {
	At       string
	Task     string
	Minutes  int
	Visits   int
	Note     string
	Finished bool
}

// TestSixKeys makes usual entries on the real screens, and counts the keys: the time typed,
// and by the clock with a trip in, finished.
func TestSixKeys(t *testing.T) {
	vanlog := program(t)
	dir := t.TempDir()
	s := openTerminal(t, 80, 24, dir, vanlog+" demo d.van --now 2026-03-02T17:00; echo exit=$?")
	s.see("[1 Bench]", "Workable")
	before := len(entriesOf(t, vanlog, dir, "d.van"))

	typed := []string{"l", "1", "h", "3", "0", "C-s"}
	s.press(typed...)
	s.see("log 1h30 on")
	days := entriesOf(t, vanlog, dir, "d.van")
	if len(days) != before+1 || days[len(days)-1].Minutes != 90 || len(typed) > 6 {
		t.Errorf("%d keys make %d entries, the last %+v", len(typed), len(days)-before, days[len(days)-1])
	}

	clocked := []string{"s", "t", "t", "f"} // start, in twice, finish: that stops the clock
	for _, k := range clocked {
		s.press(k)
		s.see(map[string]string{"s": "start the clock", "t": "trip in", "f": "log 0m on"}[k])
	}
	days = entriesOf(t, vanlog, dir, "d.van")
	if last := days[len(days)-1]; len(days) != before+2 || !last.Finished || last.Visits != 2 || len(clocked) > 6 {
		t.Errorf("%d keys make %d entries, the last %+v", len(clocked), len(days)-before-1, last)
	}
	s.press("q")
	s.see("exit=0")
}

// TestKilledClock kills the program while the clock runs: what it ran is there afterwards, to the minute.
func TestKilledClock(t *testing.T) {
	vanlog := program(t)
	dir := t.TempDir()
	s := openTerminal(t, 80, 24, dir, vanlog+" demo d.van --now 2026-03-02T09:00")
	s.see("[1 Bench]", "Workable")
	s.press("s")
	s.see("start the clock", "clock 0m")
	if out, err := exec.Command("pkill", "-9", "-f", vanlog+" demo d.van").CombinedOutput(); err != nil {
		t.Fatalf("pkill: %v %s", err, out)
	}
	cmd := exec.Command(vanlog, "stop", "--build", "d.van", "--now", "2026-03-02T11:47")
	cmd.Dir, cmd.Env = dir, append(os.Environ(), "XDG_STATE_HOME="+dir)
	out, err := cmd.CombinedOutput()
	if err != nil || !strings.Contains(string(out), "2h47 from Mon 2026-03-02 09:00") {
		t.Errorf("stopped after the kill: %v\n%s", err, out)
	}
}
