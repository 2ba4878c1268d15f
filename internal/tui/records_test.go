package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

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
	d.see("glue-floor")
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

// Another id is carried through everything that names the record, as one change.
func TestARenameIsCarriedThrough(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("e", "enter")
	d.find("Glue the floor")
	d.press("enter", "tab", "end", "-2", "ctrl+s")
	d.see("rename task Glue the floor, in 2 other records too")
	b := d.load()
	if b.Edges.Rows[2].Before != "glue-floor-2" || b.Edges.Rows[3].After != "glue-floor-2" {
		t.Errorf("the edges are %+v", b.Edges.Rows)
	}
	d.press("ctrl+b")
	if b := d.load(); b.Edges.Rows[2].Before != "glue-floor" {
		t.Errorf("after undo the edges are %+v", b.Edges.Rows)
	}
}

func TestARecordIsCopied(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("e", "enter")
	d.find("Mount the coolant pump")
	d.press("ctrl+y")
	d.see("A copy of task", "mount-pump-2")
	d.press("ctrl+s")
	got := taskOf(t, d.load(), "mount-pump-2")
	if got.Place != "bench-bay" || len(got.Checks) != 2 || got.Hours.Likely != 2 {
		t.Errorf("the copy is %+v", got)
	}
}

// A pasted list makes tasks, after a look at what it would make.
func TestTasksOfAList(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("L")
	d.see("Many tasks from a list")
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("- Hang the rack 3h\n- Sand 2-4-8 h\n- …")})
	d.see("line 3", "makes", "2 tasks", "hang-the-rack")
	d.press("ctrl+s")
	d.see("! line 3")
	d.press("backspace", "Oil", "ctrl+s")
	d.see("add 3 tasks")
	b := d.load()
	if n := b.Tasks.Len(); n != 9 || taskOf(t, b, "sand").Hours.High != 8 || taskOf(t, b, "oil").Hours.Likely != 1 {
		t.Errorf("%d tasks: %+v", n, b.Tasks.Rows[6:])
	}
	d.press("u")
	if n := d.load().Tasks.Len(); n != 6 {
		t.Errorf("after undo there are %d tasks", n)
	}
}

// "Comes after" asks only what and why, and shows at once the loop that a choice would close.
func TestComesAfter(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.on("Mount the coolant pump")
	d.press(">")
	d.see("New what comes before what", "Mount the coolant pump")
	d.press("enter", "fit the bench panel", "enter")
	d.see("this closes a loop", "the panel closes the bench")
	d.press("ctrl+s")
	if n := d.load().Edges.Len(); n != 4 {
		t.Errorf("an edge that closes a loop was made: %d edges", n)
	}
	d.press("up", "up", "enter", "run the feed", "enter", "ctrl+s")
	b := d.load()
	if e := b.Edges.Rows[b.Edges.Len()-1]; b.Edges.Len() != 5 || e.Before != "run-cable" || e.After != "mount-pump" {
		t.Errorf("the edge is %+v", e)
	}
}

// A day is picked from a calendar, which opens on the day that is typed, or on today.
func TestADayIsPickedFromACalendar(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("e", "down", "down", "down", "down", "down", "enter")
	d.find("Wet grinder")
	d.press("enter")
	d.on("Due")
	d.press("ctrl+p")
	d.see("March 2026   2026-03-10", "[10]", "Mo  Tu")
	d.press("down", "right", "enter")
	d.see("2026-03-18")
	d.on("Arrived")
	d.press("ctrl+p")
	d.see("March 2026   2026-03-02")
	d.press("esc", "ctrl+s")
	for _, p := range d.load().Parts.Rows {
		if p.ID == "p-grinder" && (p.Due == nil || p.Due.String() != "2026-03-18" || p.Arrived != nil) {
			t.Errorf("the part is %+v", p)
		}
	}
}

// A position is set on the drawing with the arrow keys, from above and from the side, coarse and fine.
func TestASpotIsSetOnTheDrawing(t *testing.T) {
	d := drive(t, goldenBuild(), 120, 40)
	d.press("e", "down", "down", "down", "down", "enter")
	d.find("Bench panel")
	d.press("enter")
	d.on("Position")
	before := d.m.top().(editorPage).editor
	d.press("ctrl+o")
	d.see("Position, seen from above", "moves by 100")
	start := d.m.top().(spotPage).from
	d.press("right", "right", "up", "-", "down", "tab")
	d.see("seen from the left side", "moves by 10")
	d.press("up", "enter", "ctrl+s")
	d.see("undo: ctrl+b")
	want := [3]float64{start[0] + 200, start[1] + 100 - 10, start[2] + 10}
	for _, x := range d.load().Items.Rows {
		if x.ID == "bench-panel" && (x.At == nil || [3]float64(*x.At) != want) {
			t.Errorf("it is at %v, want %v", x.At, want)
		}
	}
	if before.Changed() {
		t.Error("the editor below was changed")
	}
}

// A box is moved whole, or by its corners, which stay the right way round; esc leaves it alone.
func TestABoxIsSetOnTheDrawing(t *testing.T) {
	d := drive(t, goldenBuild(), 80, 24)
	d.press("e", "down", "down", "enter")
	d.find("Workroom")
	d.press("enter")
	d.on("Box")
	d.press("ctrl+o")
	p := d.m.top().(spotPage)
	d.press("right", "space", "right", "space", "left")
	d.see("the second corner moves by 100")
	q := d.m.top().(spotPage)
	if q.from[0] != p.from[0]+200 || q.to[0] != p.to[0] || q.from[1] != p.from[1] {
		t.Errorf("from %v to %v became %v to %v", p.from, p.to, q.from, q.to)
	}
	d.press("+", "left", "left", "left", "left", "left", "left", "left")
	if q = d.m.top().(spotPage); q.to[0] < q.from[0] {
		t.Errorf("the corners have crossed: %v to %v", q.from, q.to)
	}
	d.press("esc", "esc")
	d.see("Records: place")
}
