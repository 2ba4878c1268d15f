//go:build unix

package main_test

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// TestScreens drives the real program as a person would: open the demonstration build, find
// the way to an item, look behind another, choose another design and take it back, move a task once
// its price is seen and take it back, see what a late part means and write its day, log 1h30 on a
// task, take it back, leave. It looks at the screen
// only, and at the terminal that is left behind.
func TestScreens(t *testing.T) {
	vanlog := program(t)
	for _, size := range [][2]int{{80, 24}, {120, 40}} {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			s := openTerminal(t, size[0], size[1], dir,
				"stty -a >before; "+vanlog+" demo dipper.van --now 2026-03-02T17:00; echo exit=$?; stty -a >after")
			s.see("DIPPER", "[1 Bench]", "Workable")
			findTheWay(s)
			lookBehind(s)
			chooseAndTakeBack(s)
			moveAndTakeBack(s)
			makeAPartLate(s)
			logAndTakeBack(s)
			s.press("q")
			s.see("exit=0")
			s.left(dir)
			if got := changes(t, vanlog, dir); !undoneOf(got, "log 1h30") || got[len(got)-1].Undone {
				t.Errorf("history = %+v, want the entry, undone, and the making of the build", got)
			}
		})
	}
}

func findTheWay(s terminal) {
	s.t.Helper()
	s.press("3")
	s.see("Search:")
	s.typeText("water pump")
	s.see("> ", "Water pump")
	s.press("Enter")
	s.see("Way in to Water pump")
	s.press("f")
	s.see("Hatch to pump and valves", "no way round this", "no way is cheaper")
}

// lookBehind finds an item that will close work in, and what is behind it.
func lookBehind(s terminal) {
	s.t.Helper()
	s.press("4")
	s.see("[4 Close-in]", "Will be fitted, in the order of the plan", "unproven")
	s.typeText("ceiling panels")
	s.see("> Ceiling panels")
	s.press("Enter")
	s.see("Behind Ceiling panels", "Fitted by:", "to be in before it is fitted")
	s.press("f")
	s.see("Finish all the same?")
	s.press("Escape")
	s.see("Behind Ceiling panels")
}

// chooseAndTakeBack chooses the other option of a choice while the comparison still runs.
func chooseAndTakeBack(s terminal) {
	s.t.Helper()
	s.press("9")
	s.see("[9 Designs]", "Choice 1 of 1", "> Captive screws", "Getting at what is serviced:")
	s.press("Right")
	s.see("> Bonded")
	s.press("c")
	s.see("choose Bonded", "undo: u")
	s.press("u")
	s.see("taken back: choose Bonded")
}

// moveAndTakeBack moves a task once its price is shown; moves that an edge forbids are refused, and
// which those are depends on the order that was found.
func moveAndTakeBack(s terminal) {
	s.t.Helper()
	s.press("2")
	s.see("[2 Sequence]", "plan ends", "float", "expected ", "P50 to P80")
	s.press("Home", "m", "End")
	s.see("moving", "refused ")
	s.press("Escape")
	s.see("m move")
	s.press("Home")
	for refused := true; refused; {
		s.press("Down", "m", "Up")
		s.see("moving")
		refused = s.seeOneOf("refused ", "finish  ") == "refused "
		if refused {
			s.press("Escape")
			s.see("m move")
			s.press("Down")
		}
	}
	s.see("hours  ")
	s.press("Enter")
	s.see("move ", "undo: u", "pinned")
	s.press("u")
	s.see("taken back: move ")
}

// makeAPartLate dials another day for a part, sees the three choices, and writes the day.
func makeAPartLate(s terminal) {
	s.t.Helper()
	s.press("6")
	s.see("[6 Parts]", "Ordered (")
	s.typeText("windows")
	s.see("> ", "Windows: lab", "holds up")
	s.press("Enter")
	s.see("What if it comes on", "hold", "carry on", "trips in")
	s.press("+", "Right")
	s.see("hold", "later")
	s.press("d")
	s.see(": due ", "undo: u")
	s.press("u")
	s.see("taken back: change ")
	s.press("Escape")
	s.see("Search: windows") // two escapes at once would be another key
	s.press("Escape")
	s.see("Search: type a few letters")
}

func logAndTakeBack(s terminal) {
	s.t.Helper()
	s.press("1")
	s.see("Workable", "> Set threaded inserts")
	s.press("l")
	s.see("Entry for Set threaded inserts", "How long")
	s.typeText("1h30")
	s.press("C-s")
	s.see("log 1h30 on", "undo: u", "today 1h30")
	s.press("u")
	s.see("taken back", "today 0m")
}

// left checks that the terminal is as it was: the shell's screen, its cursor, no mouse, the
// same settings of the line.
func (s terminal) left(dir string) {
	s.t.Helper()
	for flag, want := range map[string]string{"alternate_on": "0", "cursor_flag": "1", "mouse_any_flag": "0"} {
		if got := s.flag(flag); got != want {
			s.t.Errorf("%s = %q after leaving, want %q", flag, got, want)
		}
	}
	before, err := os.ReadFile(filepath.Join(dir, "before"))
	after, err2 := os.ReadFile(filepath.Join(dir, "after"))
	if err != nil || err2 != nil || string(before) != string(after) {
		s.t.Errorf("stty before: %s %v\nafter: %s %v", before, err, after, err2)
	}
}

// undoneOf reports whether the newest change is one that begins so, and was taken back.
func undoneOf(all []change, what string) bool {
	return len(all) > 1 && strings.HasPrefix(all[0].What, what) && all[0].Undone
}

type change struct {
	Seq    int
	What   string
	Undone bool
}

func changes(t *testing.T, vanlog, dir string) []change {
	t.Helper()
	cmd := exec.Command(vanlog, "--build", filepath.Join(dir, "dipper.van"), "history", "--json")
	out, err := cmd.Output()
	var got struct{ Changes []change }
	if err == nil {
		err = json.Unmarshal(out, &got)
	}
	if err != nil {
		t.Fatalf("vanlog history: %v\n%s", err, out)
	}
	return got.Changes
}

// TestResize: the screens follow the terminal, and say so where it is too small.
func TestResize(t *testing.T) {
	vanlog := program(t)
	s := openTerminal(t, 120, 40, t.TempDir(), vanlog+" demo dipper.van")
	s.see("[1 Bench]", "Workable")
	s.tmux("resize-window", "-x", "50", "-y", "10")
	s.see("60")
	s.tmux("resize-window", "-x", "80", "-y", "24")
	s.see("[1 Bench]", "Workable", "all keys")
}

// TestKilledScreensLeaveTheTerminal: on SIGTERM and SIGHUP the screens put the terminal back.
func TestKilledScreensLeaveTheTerminal(t *testing.T) {
	vanlog := program(t)
	for _, signal := range []string{"TERM", "HUP"} {
		t.Run(signal, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			s := openTerminal(t, 80, 24, dir, "stty -a >before; "+vanlog+" demo dipper.van; echo exit=$?; stty -a >after")
			s.see("[1 Bench]", "Workable")
			kill := exec.Command("pkill", "-"+signal, "-f", "demo dipper.van$", "--parent", childShell(t, s))
			if out, err := kill.CombinedOutput(); err != nil {
				t.Fatalf("pkill: %v %s", err, out)
			}
			s.see("exit=1")
			s.left(dir)
		})
	}
}

func childShell(t *testing.T, s terminal) string {
	t.Helper()
	return s.flag("pane_pid")
}

// TestParallelWriters: four commands write at once, again and again, while the screens are open on
// the same build. Nothing is lost, and the screens show the end of it.
func TestParallelWriters(t *testing.T) {
	vanlog, dir := program(t), t.TempDir()
	s := openTerminal(t, 80, 24, dir, vanlog+" demo dipper.van")
	s.see("[1 Bench]", "Workable")
	written := writeInParallel(t, vanlog, filepath.Join(dir, "dipper.van"), 4, writingTime())
	if len(written) < 4 {
		t.Fatalf("only %d entries were written", len(written))
	}
	t.Logf("%d entries written by 4 processes in %v", len(written), writingTime())
	kept := notes(t, vanlog, filepath.Join(dir, "dipper.van"))
	for _, note := range written {
		if !kept[note] {
			t.Errorf("entry %q is lost", note)
		}
	}
	if got := changes(t, vanlog, dir); len(got) != len(written)+1 {
		t.Errorf("%d changes in the journal, want %d and the making of the build", len(got), len(written))
	}
	s.press("5")
	s.see("writer ")
}

// writingTime is short where the test runs with all others; VANLOG_WRITING=20s runs it as long as
// the acceptance of the store asks.
func writingTime() time.Duration {
	if d, err := time.ParseDuration(os.Getenv("VANLOG_WRITING")); err == nil {
		return d
	}
	return 5 * time.Second
}

// writeInParallel logs entries with notes of their own from several processes at once and
// gives the notes of those that were confirmed.
func writeInParallel(t *testing.T, vanlog, file string, writers int, howLong time.Duration) []string {
	t.Helper()
	var mu sync.Mutex
	var written []string
	var all sync.WaitGroup
	end := time.Now().Add(howLong)
	for w := range writers {
		all.Go(func() {
			for n := 0; time.Now().Before(end); n++ {
				note := fmt.Sprintf("writer %d entry %d", w, n)
				out, err := exec.Command(vanlog, "--build", file, "log", "i02", "1", note).CombinedOutput()
				if err != nil {
					t.Errorf("%s: %v\n%s", note, err, out)
					return
				}
				mu.Lock()
				written = append(written, note)
				mu.Unlock()
			}
		})
	}
	all.Wait()
	return written
}

// notes gives the notes of the daybook.
func notes(t *testing.T, vanlog, file string) map[string]bool {
	t.Helper()
	out, err := exec.Command(vanlog, "--build", file, "export").Output()
	var got struct{ Days []struct{ Note string } }
	if err == nil {
		err = json.Unmarshal(out, &got)
	}
	if err != nil {
		t.Fatalf("vanlog export: %v", err)
	}
	kept := map[string]bool{}
	for _, d := range got.Days {
		kept[strings.TrimSpace(d.Note)] = true
	}
	return kept
}
