package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

func (d *driver) lastEntry() daybook.Entry {
	d.t.Helper()
	days := d.load().Days
	last := 0
	for i, k := range days.Keys {
		if k > days.Keys[last] {
			last = i
		}
	}
	return days.Rows[last]
}

// on moves the cursor down to the line with a text.
func (d *driver) on(text string) {
	d.t.Helper()
	for range 50 {
		if _, line := cursorIn(d.m.top(), d.m.st, d.m.layout()); strings.Contains(line, text) {
			return
		}
		d.press("down")
	}
	d.t.Fatalf("the cursor never comes to %q:\n%s", text, d.m.View())
}

const pumpTask = "Mount the coolant pump"

// While the clock runs, note and reading go to its task, whatever is under the cursor.
func TestNotesAndReadingsGoToTheClock(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.on(pumpTask)
	d.press("s", "up", "n")
	d.see("Note on Mount the coolant pump")
	d.press("tight", "enter")
	if e := d.lastEntry(); e.Task != "mount-pump" || e.Note != "tight" || e.Minutes != 0 {
		t.Errorf("the note is %+v", e)
	}
	d.press("r")
	d.see("Readings for Mount the coolant pump", "Pump clamps torqued", "wanted: 4 N·m ±10 %")
	d.press("4", "down")
	d.see("! ") // a bare number is no torque
	d.press("up", "backspace", "4.1 N·m", "ctrl+s")
	if e := d.lastEntry(); len(e.Readings) != 1 || e.Readings[0] != (daybook.Reading{Check: "clamp-torque", Value: "4.1 N·m"}) {
		t.Errorf("the reading is %+v", e)
	}
	if d.load().Clock == nil {
		t.Error("the clock no longer runs")
	}
}

// A task that owes nothing that is read says so.
func TestNoReadingOwed(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.on("Run the feed cable")
	d.press("r")
	d.see("owes no reading")
}

// The newest picture of the folder is one key; taken twice it is refused.
func TestNewestPhoto(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, minutes int) {
		path := filepath.Join(dir, name)
		at := time.Date(2026, 3, 2, 9, minutes, 0, 0, time.UTC)
		if err := os.WriteFile(path, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, at, at); err != nil {
			t.Fatal(err)
		}
	}
	d := drive(t, testkit.Workshop(), 120, 40)
	d.m.photos = dir
	d.on(pumpTask)
	d.press("o")
	d.see("there is no picture in")
	write("a.jpg", 1)
	write("b.jpg", 2)
	d.press("o")
	d.see("enter a photo on Mount the coolant pump: b.jpg")
	if e := d.lastEntry(); len(e.Photos) != 1 || e.Photos[0] != filepath.Join(dir, "b.jpg") {
		t.Errorf("the photo is %+v", e)
	}
	d.press("o")
	d.see("the newest picture, b.jpg, is in the daybook already")
}

// Without a folder a path is asked for.
func TestPhotoByPath(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.on(pumpTask)
	d.press("o")
	d.see("Photo of Mount the coolant pump", "photo_folder")
	d.press("pump.jpg", "enter")
	if e := d.lastEntry(); len(e.Photos) != 1 || e.Photos[0] != "pump.jpg" {
		t.Errorf("the photo is %+v", e)
	}
}

// A clock that ran past the end of the day asks how long the work was, and proposes until then.
func TestForgottenClockAsks(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("down", "s")
	d.clock.Advance(14 * 60) // from 09:00 to 23:00
	d.send(tickMsg{})
	d.see("past your hours")
	d.press("s")
	d.see("Entry for", "past your hours", "> How long  8h")
	if d.load().Clock == nil {
		t.Fatal("the clock was stopped unasked")
	}
	d.press("ctrl+s")
	if e := d.lastEntry(); e.Minutes != 8*60 || e.At != testkit.Now || d.load().Clock != nil {
		t.Errorf("the entry is %+v", e)
	}
}

// From when to when: the form takes the begin from it.
func TestEntryByClockTimes(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("l", "7:10-8:45", "ctrl+s")
	if e := d.lastEntry(); e.Minutes != 95 || e.At != testkit.Now.Date().Start()+7*60+10 {
		t.Errorf("the entry is %+v", e)
	}
	d.press("l", "8:45-7:10", "enter")
	d.see("runs over midnight")
}

// Correct, split, strike out: each is one change, and the task follows.
func TestEntriesAreCorrected(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.on(pumpTask)
	d.press("l", "60", "ctrl+s", "5", "home", "c")
	d.see("Correct an entry for Mount the coolant pump", "Began", "2026-03-02T08:00")
	d.press("end", "backspace", "backspace", "1h30", "tab", "slow", "ctrl+s")
	if e := d.lastEntry(); e.Minutes != 90 || e.Note != "slow" {
		t.Fatalf("the entry is %+v\n%s", e, d.m.View())
	}
	if got := taskOf(t, d.load(), "mount-pump"); got.SpentH != 1.5 || got.State != tasks.Started {
		t.Errorf("the task is %+v", got)
	}
	d.press("b", "30", "tab", "enter", "fit the bench panel", "enter", "ctrl+s")
	if a, b := taskOf(t, d.load(), "mount-pump"), taskOf(t, d.load(), "fit-panel"); a.SpentH != 1 || b.SpentH != 0.5 {
		t.Fatalf("split: %v h and %v h\n%s", a.SpentH, b.SpentH, d.m.View())
	}
	d.press("home", "ctrl+d")
	d.see("Strike out 30m on Fit the bench panel")
	d.press("y")
	if b := taskOf(t, d.load(), "fit-panel"); b.SpentH != 0 || b.State != tasks.Todo {
		t.Errorf("struck out: %+v", b)
	}
	d.press("u", "u", "u", "u")
	if got := d.load(); got.Days.Len() != testkit.Workshop().Days.Len() || taskOf(t, got, "mount-pump").State != tasks.Todo {
		t.Errorf("taken back there are %d entries", got.Days.Len())
	}
}

// The daybook shows only what is asked for; esc shows all again.
func TestDaybookFilter(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("5")
	d.see("Frame the bench", "Run the feed cable: as far")
	d.press("w", "STEP", "ctrl+s")
	d.see(`Only "STEP": 1 entry, 1h. Esc shows all.`, "Run the feed cable: as far")
	d.seeNot("Frame the bench")
	d.press("w", "tab", "tab", "tab", "tab", "2026-02-30", "enter")
	d.see("! ")
	d.press("esc", "y", "esc")
	d.see("Frame the bench")
	d.press("w", "tab", "tab", "tab", "tab", (testkit.Now.Date() + 1).String(), "ctrl+s")
	d.see("0 entries")
	d.press("esc")
	d.see("Frame the bench")
}

// Six keys make a usual entry: l, the time in four, save.
func TestUsualEntryTakesSixKeys(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	keys := []string{"l", "1", "h", "3", "0", "ctrl+s"}
	d.press(keys...)
	if e := d.lastEntry(); len(keys) > 6 || e.Minutes != 90 || e.At != testkit.Now-90*units.Instant(1) {
		t.Errorf("%d keys make %+v", len(keys), e)
	}
}
