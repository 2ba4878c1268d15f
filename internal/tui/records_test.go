package tui

import (
	"strings"
	"testing"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/testkit"
)

// find presses down until the row under the cursor has a text.
func (d *driver) find(text string) {
	d.t.Helper()
	for range 50 {
		for _, line := range strings.Split(d.m.View(), "\n") {
			if strings.HasPrefix(line, "> ") && strings.Contains(line, text) {
				return
			}
		}
		d.press("down")
	}
	d.t.Fatalf("no row %q:\n%s", text, d.m.View())
}

func TestARecordIsEdited(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("e", "enter")
	d.find("Glue the floor")
	d.press("enter")
	d.see("glue-floor", "(fixed)")
	d.press(" down")
	d.press("ctrl+s")
	d.see("undo: ctrl+b")
	if got := taskOf(t, d.load(), "glue-floor").Name; got != "Glue the floor down" {
		t.Errorf("the task is called %q", got)
	}
	d.press("ctrl+b")
	if got := taskOf(t, d.load(), "glue-floor").Name; got != "Glue the floor" {
		t.Errorf("after undo the task is called %q", got)
	}
}

func TestARecordIsRemovedAfterAQuestion(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("e", "enter")
	d.find("Fit the grinder")
	d.press("ctrl+d")
	d.see("Remove task", "goes too", "glue-floor -> fit-grinder")
	d.press("esc")
	if n := d.load().Tasks.Len(); n != 6 {
		t.Fatalf("after no there are %d tasks", n)
	}
	d.press("ctrl+d", "y")
	b := d.load()
	if b.Tasks.Len() != 5 || b.Edges.Len() != 3 {
		t.Errorf("%d tasks and %d edges are left, want 5 and 3", b.Tasks.Len(), b.Edges.Len())
	}
}

func TestARecordThatIsNeededStays(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("e", "enter")
	d.find("Frame the bench")
	d.press("ctrl+d")
	d.see("is still needed by the daybook entry")
}

func TestWaysAreEditedOneByOne(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("e")
	d.find("way into a place")
	d.press("enter")
	d.see("Into Workroom", "from outside", "from cabin through bench-panel", "+ new way into Roof")
	d.find("from cabin through bench-panel")
	d.press("ctrl+d")
	d.see("Remove the way into Below the bench")
	d.press("y")
	if n := len(d.load().Places.Rows[1].Ways); n != 0 {
		t.Errorf("%d ways are left", n)
	}
}

func TestTheSelectedThingIsEditedAtOnce(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("E")
	d.see("glue-floor")
	d.press("esc", "3", "pump", "enter", "E")
	d.see("pump", "Coolant pump")
}

func TestAnEdgeThatClosesALoopIsRefusedWithTheLoop(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("e")
	d.find("what comes before what")
	d.press("enter", "ctrl+n")
	d.press("enter", "fit-panel", "enter") // before: picked by name
	d.press("enter", "mount-pump", "enter")
	d.see("fit-panel", "mount-pump")
	d.press("ctrl+s")
	frame := d.m.View()
	if !strings.Contains(frame, "fit-panel") || !strings.Contains(frame, "!") {
		t.Fatalf("the loop is not shown:\n%s", frame)
	}
	if n := d.load().Edges.Len(); n != 4 {
		t.Errorf("there are %d edges, want the 4 there were", n)
	}
}

func TestTheBuildItselfIsOneRecord(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("e", "end", "enter")
	d.see("> Sharpening van")
	d.seeNot("+ new")
	d.press("ctrl+d")
	d.see("the build itself cannot be removed")
	d.press("enter")
	d.see("Sharpening van", "metric")
}

func TestWhatTheStoreRefusesIsShownInFull(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	m, cmd := d.m.run(saveRecord{build.EdgeKind, 0, deps.Edge{Before: "fit-panel", After: "mount-pump", Kind: deps.Must, Why: "no"}})
	d.m = m
	d.do(cmd)
	d.see("! ", "tasks wait for each other", "mount-pump ->", "fit-panel -> (no) mount-pump")
	d.press("down")
	d.seeNot("tasks wait for each other")
}
