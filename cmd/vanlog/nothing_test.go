//go:build unix

package main_test

import (
	"strings"
	"testing"
	"time"
)

// cursor gives the line under the cursor; empty where there is none.
func (s terminal) cursor() string {
	for _, line := range strings.Split(s.screen(), "\n") {
		if rest, ok := strings.CutPrefix(line, "> "); ok {
			return rest
		}
	}
	return ""
}

// on presses down until the line under the cursor begins with a text. It waits after each press
// until the cursor has moved.
func (s terminal) on(text string) {
	s.t.Helper()
	for range 60 {
		line := s.cursor()
		if strings.HasPrefix(line, text) {
			return
		}
		s.press("Down")
		for deadline := time.Now().Add(time.Second); s.cursor() == line && time.Now().Before(deadline); {
			time.Sleep(10 * time.Millisecond)
		}
	}
	s.t.Fatalf("the cursor never came to %q:\n%s", text, s.screen())
}

// pick picks something by some letters in a field; enter takes it, and where several can be taken, once
// more is done.
func (s terminal) pick(field, letters string, several bool) {
	s.t.Helper()
	s.on(field)
	s.press("Enter")
	s.see("Search:")
	s.typeText(letters)
	s.see("Search: "+letters, "1 found")
	s.press("Enter")
	if several {
		s.see("[x]")
		s.press("Enter")
	}
	s.see("ctrl+s save")
}

// TestFromNothing builds a small van with keys alone: the vehicle, three places, four items, six
// tasks and their edges. Then it asks for the order of work and for the way to an item.
func TestFromNothing(t *testing.T) {
	vanlog := program(t)
	dir := t.TempDir()
	s := openTerminal(t, 80, 24, dir, "unset VANLOG_BUILD; "+vanlog+" --now 2026-03-02T08:00; echo exit=$?")
	s.see("How do you want to begin?")
	s.press("Down", "Enter")
	s.see("A new build")
	s.typeText("Small van")
	s.on("Places of the van")
	s.press("n")
	s.on("First list of work")
	s.press("n", "C-s")
	s.see("Small van   not begun", "no tasks yet")
	s.makePlaces()
	s.makeItems()
	s.closeTheBay()
	s.makeTasks()
	s.makeEdges()

	s.press("2")
	shown := s.see("[2 Sequence]", "Frame the bench", "Mount the pump", "Fit the bench panel")
	if !inOrder(shown, "Frame the bench", "Mount the pump", "Fit the bench panel") {
		t.Errorf("the order of work is wrong:\n%s", shown)
	}
	s.press("3")
	s.see("Search:")
	s.typeText("pump")
	s.see("> ", "Pump", "1 found")
	s.press("Enter")
	s.see("Way in to Pump")
	s.press("f")
	s.see("Bench panel", "no way is cheaper", "11 min")
	s.press("q")
	s.see("exit=0")
	if b := exported(t, vanlog, dir, "small-van.van"); len(b.Places) != 3 || len(b.Items) != 4 || len(b.Tasks) != 6 || len(b.Edges) != 4 {
		t.Errorf("the file has %d places, %d items, %d tasks, %d edges", len(b.Places), len(b.Items), len(b.Tasks), len(b.Edges))
	}
}

func (s terminal) makePlaces() {
	s.t.Helper()
	s.press("e")
	s.see("Edit which records?")
	s.on("place")
	s.press("Enter")
	for _, name := range []string{"Cabin", "Roof", "Bench bay"} {
		s.press("C-n")
		s.see("New place")
		s.typeText(name)
		s.press("C-s")
		s.see("add place " + name)
	}
}

func (s terminal) makeItems() {
	s.t.Helper()
	s.press("Escape")
	s.see("Edit which records?")
	s.on("item")
	s.press("Enter")
	for _, x := range [][2]string{{"Bench frame", "cabin"}, {"Bench panel", "cabin"}, {"Pump", "bay"}, {"Fan", "roof"}} {
		s.press("C-n")
		s.see("New item")
		s.typeText(x[0])
		s.pick("Place", x[1], false)
		if x[0] == "Bench panel" {
			s.on("Can be opened")
			s.press("y")
			s.on("Minutes to open")
			s.typeText("4")
			s.on("Minutes to refit")
			s.typeText("6")
		}
		s.press("C-s")
		s.see("add item " + x[0])
	}
}

// closeTheBay says that the panel closes the bay, which is entered from the cabin through it.
func (s terminal) closeTheBay() {
	s.t.Helper()
	s.press("Escape")
	s.see("Edit which records?")
	s.press("Home")
	s.on("place")
	s.press("Enter")
	s.see("Records: place")
	s.on("Bench bay")
	s.press("Enter")
	s.see("place: Bench bay")
	s.pick("Closed by", "panel", true)
	s.on("Ways")
	s.typeText("cabin; bench-panel; 1")
	s.press("C-s")
	s.see("change place Bench bay")
	s.leaveRecords()
	s.see("no tasks yet")
}

// leaveRecords goes back to the Bench from the records of a kind.
func (s terminal) leaveRecords() {
	s.t.Helper()
	s.press("Escape")
	s.see("Edit which records?")
	s.press("Escape")
	for deadline := time.Now().Add(patience); strings.Contains(s.screen(), "Edit which records?"); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(deadline) {
			s.t.Fatalf("the records never closed:\n%s", s.screen())
		}
	}
}

func (s terminal) makeTasks() {
	s.t.Helper()
	s.press("L")
	s.see("Many tasks from a list")
	for i, line := range []string{"Frame the bench 4h", "Mount the pump 2h", "Fit the bench panel 1h", "Fit the fan 3h", "Test the pump 30m", "Sweep out 20m"} {
		if i > 0 {
			s.press("Enter")
		}
		s.typeText(line)
	}
	s.see("6 tasks")
	s.press("C-s")
	s.see("add 6 tasks")
	s.press("e")
	s.see("Edit which records?")
	s.on("task")
	s.press("Enter")
	for _, x := range [][3]string{{"Frame the bench", "cabin", "frame"}, {"Mount the pump", "bay", "pump"}, {"Fit the bench panel", "cabin", "panel"}, {"Fit the fan", "roof", "fan"}} {
		s.press("Home")
		s.on(x[0])
		s.press("Enter")
		s.see("task: " + x[0])
		s.pick("Place", x[1], false)
		s.pick("Fits", x[2], true)
		s.press("C-s")
		s.see("change task " + x[0])
	}
	s.leaveRecords()
	s.see("[1 Bench]", "Frame the bench")
}

func (s terminal) makeEdges() {
	s.t.Helper()
	for _, e := range [][2]string{{"Mount the pump", "frame the"}, {"Fit the bench panel", "mount the"}, {"Test the pump", "mount the"}, {"Sweep out", "fit the fan"}} {
		s.press("Home")
		s.on(e[0])
		s.press(">")
		s.see("New what comes before what")
		s.pick("First", e[1], false)
		s.press("C-s")
		s.see("add edge")
	}
}

// inOrder reports whether texts stand in a screen one after another.
func inOrder(shown string, texts ...string) bool {
	at := 0
	for _, text := range texts {
		i := strings.Index(shown[at:], text)
		if i < 0 {
			return false
		}
		at += i
	}
	return true
}
