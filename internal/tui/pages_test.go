package tui

import (
	"errors"
	"strings"
	"testing"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/settings"
	"example.com/vanlog/internal/testkit"
)

// Owed proofs are listed by place; enter gives one.
func TestProofsPage(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("P")
	d.see("Proofs owed: 2", "Below the bench", "Pump clamps torqued", "owed", "Mount the coolant pump")
	d.press("enter")
	d.see("Entry for Mount the coolant pump")
	d.press("esc")
	d.on("Pump clamps torqued")
	d.see("wanted")
	d.press("esc", "l")
	d.see("Entry for")
}

// A reading out of its tolerance is not the same as none.
func TestOutOfToleranceIsSeen(t *testing.T) {
	b := testkit.Workshop()
	b.Days = build.ListOf(append(b.Days.Rows, daybook.Entry{At: testkit.Now - 60, Task: "mount-pump",
		Readings: []daybook.Reading{{Check: "clamp-torque", Value: "9 N·m"}}})...)
	d := drive(t, b, 120, 40)
	d.press("P")
	d.see("out of tolerance")
}

func TestAheadPage(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("A")
	d.see("No work came ahead of its turn.")
	d.press("esc")
	d.on("Fit the bench panel")
	d.press("l", "20", "ctrl+s", "A")
	d.see("Ahead of its turn: 1 entries", "Fit the bench panel", "Mount the coolant pump is not done")
	d.press("enter")
	d.see("[5 Daybook]", "> ")
}

// A fault is noted from anywhere, becomes a task, and is closed.
func TestSnagsPage(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("S")
	d.see("No snag was noted")
	d.press("esc")
	d.on(pumpTask)
	d.press("N")
	d.see("Note a snag", pumpTask)
	d.press("Clip is loose", "ctrl+s")
	d.see("note a snag: Clip is loose")
	d.press("S")
	d.see("Snags: 1 open", "Clip is loose", "Below the bench")
	d.press("enter", "right", "tab", "ctrl+s")
	d.see("a task needs its hours")
	d.press("45m", "ctrl+s")
	d.see("Snags: 1 open", "Mend: Clip is loose")
	if got := taskOf(t, d.load(), "mend-clip-is-loose"); got.Hours.Likely != 0.75 || got.Place != "bench-bay" {
		t.Errorf("the task is %+v", got)
	}
	d.press("enter", "ctrl+s")
	d.see("Snags: 0 open", "closed")
	d.press("u")
	d.see("Snags: 1 open")
}

func TestHoursAndWeeksPages(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("H")
	d.see("By trade", "frame", "By month", "By task", "Frame the bench", "1.04 ±0.00")
	d.press("esc", "W")
	d.see("2026-W09", "5h10 of 40h")
	d.press("enter")
	d.see("[5 Daybook]", "Only from", "2 entries")
}

// Sums answer while they are typed, with their source.
func TestSumsPage(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("C")
	d.on("torque of a bolt")
	d.press("enter")
	d.see("diameter is missing")
	d.press("tab", "8 mm", "tab", "15.921 kN")
	d.see("torque 25.5 N·m", "T = K × d × F", "prevail")
	d.press("esc", "esc")
	d.see("[1 Bench]")
}

// A few letters find what there is and what can be done, and enter goes there.
func TestFindPage(t *testing.T) {
	for query, want := range map[string][]string{
		"grinder fit":   {"[2 Sequence]", "> Fit the grinder"},
		"mount coolant": {"[2 Sequence]", "> Mount the coolant p"},
		"rubber floor":  {"[3 Reach]", "Way in to Rubber floor"},
		"workroom":      {"[3 Reach]", "Way in to Workroom"},
		"p-grinder":     {"[6 Parts]", "Wet grinder"},
		"as far step":   {"[5 Daybook]", "Run the feed cable"},
		"frame-bench":   {"[5 Daybook]", "Only Frame the bench"},
		"weeks daybook": {"Weeks"},
		"forecast":      {},
	} {
		d := drive(t, testkit.Workshop(), 120, 40)
		d.press("/")
		d.see("Find:", "Type a few letters")
		for _, r := range query {
			name := string(r)
			if name == " " {
				name = "space"
			}
			d.press(name)
		}
		d.see("found")
		d.press("enter")
		d.see(want...)
	}
}

func TestFindPageKeepsWhatIsTyped(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("/", "x", "x", "x", "x", "q")
	d.see("0 found", "Nothing has these words")
	d.press("enter", "esc")
	d.see("Type a few letters")
	d.press("esc")
	d.see("[1 Bench]")
	d.press("3", "ctrl+f")
	d.see("Find:")
}

// Every page fills its cells whatever its size and its words.
func TestPagesFillTheirCells(t *testing.T) {
	hostile := func(b build.Build) build.Build {
		text := "a\tb\x1b[31m汉字é" + strings.Repeat("x", 3000)
		b.Tasks.Rows[2].Name, b.Days.Rows[0].Note = text, text
		return b
	}
	for _, size := range [][2]int{{60, 16}, {80, 24}, {120, 40}, {250, 80}} {
		d := driveStore(t, twisted{testkit.NewMemory(testkit.Workshop()), hostile}, size[0], size[1])
		for _, key := range []string{"P", "A", "S", "H", "W", "C", "N", "/"} {
			d.press(key)
			checkSize(t, key, d.m.View(), size[0], size[1])
			d.press("down", "down", "enter")
			checkSize(t, key+" enter", d.m.View(), size[0], size[1])
			for range 4 {
				d.press("esc", "y")
			}
			d.m.pages, d.m.at = nil, benchAt
		}
	}
}

// Settings are asked for, kept, and lived by at once.
func TestSettingsPage(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	var kept settings.Settings
	d.m.wants.keep = func(s settings.Settings) error {
		kept = s
		return nil
	}
	d.press(",")
	d.see("Settings", "theme", "auto", "photo_folder")
	d.on("mouse")
	d.press("right", "tab", "tab", "tab", "/pictures", "ctrl+s")
	d.see("The mouse works")
	if kept.FirstWeekday != "mon" || kept.Mouse != "on" || kept.PhotoFolder != "/pictures" || d.m.photos != "/pictures" || !d.m.pointer {
		t.Errorf("kept are %+v", kept)
	}
	d.m.wants.keep = func(settings.Settings) error { return errors.New("the disk is full") }
	d.press(",", "right", "ctrl+s")
	d.see("the disk is full")
}
