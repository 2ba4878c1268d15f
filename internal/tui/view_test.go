package tui

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/google/go-cmp/cmp"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

var update = flag.Bool("update", false, "write the golden files anew")

// hostile is what people paste into names: tabs, line ends, a colour, letters two columns
// wide, letters of several characters, signs that turn the direction, and no end.
const hostile = "a\tb\x1b[31mred\x1b[0m\r\n日本語の名前 é́́ e\u0301 \u202eturned \x07 👩‍👧 " +
	"and so on and so forth and so on and so forth and so on and so forth and so on"

func hostileBuild(b build.Build) build.Build {
	b.Head.Name = hostile
	vehicle := *b.Head.Vehicle
	b.Head.Vehicle = &vehicle
	vehicle.InsideMm = &access.Box{900, -890, 0, 5200, 890, 2000}
	for i := range b.Tasks.Rows {
		b.Tasks.Rows[i].Name = hostile
		for k := range b.Tasks.Rows[i].Checks {
			b.Tasks.Rows[i].Checks[k].What = hostile
		}
	}
	for i := range b.Places.Rows {
		b.Places.Rows[i].Name, b.Places.Rows[i].Posture = hostile, hostile
		b.Places.Rows[i].Box = &access.Box{1000, -800, 0, 3000, 800, 900}
	}
	for i := range b.Items.Rows {
		b.Items.Rows[i].Name = hostile
		for k := range b.Items.Rows[i].Service {
			b.Items.Rows[i].Service[k].What = hostile
		}
		if o := b.Items.Rows[i].Opening; o != nil {
			o.How, o.Tools = hostile, []string{hostile}
			o.Fasteners = []access.Fastener{{What: hostile, Count: 2, Torque: "3 N·m"}}
		}
	}
	for i := range b.Options.Rows {
		b.Options.Rows[i].Name, b.Options.Rows[i].Choice = hostile, hostile
	}
	for i := range b.Resources.Rows {
		b.Resources.Rows[i].Name = hostile
	}
	for i := range b.Parts.Rows {
		b.Parts.Rows[i].Name = hostile
	}
	for i := range b.Edges.Rows {
		b.Edges.Rows[i].Why = hostile
	}
	for i := range b.Days.Rows {
		b.Days.Rows[i].Note, b.Days.Rows[i].Photos = hostile, []string{hostile}
	}
	return b
}

// states brings the screens and every page up, one after another.
var states = []struct {
	name string
	keys []string
}{
	{"bench", []string{"1"}},
	{"bench on a task that waits", []string{"1", "end"}},
	{"sequence", []string{"2"}},
	{"sequence, finest scale", []string{"2", "+", "+", "+", "+", "down", "right"}},
	{"sequence, coarsest scale", []string{"2", "-", "-", "-", "-", "-", "-", "left", "left"}},
	{"reach", []string{"3"}},
	{"reach, searching", []string{"3", "bench"}},
	{"reach, two taken", []string{"3", "space", "down", "space"}},
	{"way", []string{"3", "down", "down", "enter"}},
	{"way, finished", []string{"3", "down", "down", "enter", "f"}},
	{"way, further", []string{"3", "pump", "enter", "f", "+", "pgdown"}},
	{"close-in", []string{"4"}},
	{"close-in, searching", []string{"4", "bench"}},
	{"behind", []string{"4", "enter"}},
	{"behind, scrolled", []string{"4", "enter", "pgdown"}},
	{"behind, the van", []string{"4", "enter", "v"}},
	{"daybook", []string{"5", "down"}},
	{"bench, two hours at hand", []string{"1", "a", "a", "p"}},
	{"moving", []string{"2", "m", "down", "down"}},
	{"moving, refused", []string{"2", "end", "m", "home", "enter"}},
	{"pinned", []string{"2", "down", "p"}},
	{"idle", []string{"2", "i", "down"}},
	{"forecast", []string{"2", "f", "right", "+", "l"}},
	{"forecast, scrolled", []string{"2", "f", "pgdown"}},
	{"parts", []string{"6"}},
	{"parts, searching", []string{"6", "wet"}},
	{"late", []string{"6", "enter", "+", "right"}},
	{"late, scrolled", []string{"6", "enter", "-", "pgdown", "down"}},
	{"late, written", []string{"6", "enter", "d"}},
	{"late, from the sequence", []string{"2", "end", "l"}},
	{"designs", []string{"9"}},
	{"designs, the last option", []string{"9", "right", "right", "right"}},
	{"designs, refused", []string{"9", "c"}},
	{"van", []string{"1", "v"}},
	{"keys", []string{"1", "?"}},
	{"menu", []string{"1", "enter"}},
	{"changes", []string{"1", "h"}},
	{"entry", []string{"1", "end", "l", "x", "tab"}},
	{"leaving an entry", []string{"1", "l", "x", "esc"}},
	{"kinds", []string{"1", "e"}},
	{"tasks", []string{"1", "e", "enter"}},
	{"editor", []string{"1", "E"}},
	{"removal", []string{"1", "e", "down", "down", "enter", "down", "ctrl+d"}},
	{"error", []string{"1", "u"}},
	{"clock", []string{"1", "s", "t"}},
	{"proofs", []string{"1", "P", "down"}},
	{"ahead", []string{"1", "A"}},
	{"snags", []string{"1", "N", "it drips", "ctrl+s", "S"}},
	{"a snag", []string{"1", "N", "it drips", "ctrl+s", "S", "enter"}},
	{"hours", []string{"1", "H", "down", "down"}},
	{"weeks", []string{"1", "W"}},
	{"sums", []string{"1", "C"}},
	{"a sum", []string{"1", "C", "end", "enter", "x"}},
	{"found", []string{"1", "/", "p", "u"}},
	{"settings", []string{"1", ","}},
	{"a list of tasks", []string{"1", "L", "Sweep 2h"}},
	{"comes after", []string{"2", ">"}},
	{"note", []string{"1", "n", "x"}},
	{"photo", []string{"1", "o"}},
	{"correction", []string{"5", "c", "x"}},
	{"split", []string{"5", "b"}},
	{"strike", []string{"5", "ctrl+d"}},
	{"which entries", []string{"5", "w", "tab", "enter"}},
	{"only some entries", []string{"5", "w", "the", "ctrl+s"}},
	{"a copy", []string{"1", "e", "enter", "down", "ctrl+y"}},
	{"a spot", []string{"1", "e", "down", "down", "down", "down", "enter", "enter", "tab", "tab", "tab", "tab", "tab", "ctrl+o"}},
	{"a box", []string{"1", "e", "down", "down", "enter", "down", "enter", "tab", "tab", "tab", "ctrl+o"}},
	{"calendar", []string{"5", "w", "end", "ctrl+p"}},
}

func TestViewIsExactlyAsLargeAsTheTerminal(t *testing.T) {
	sizes := [][2]int{{1, 1}, {20, 5}, {40, 10}, {59, 16}, {60, 15}, {60, 16}, {80, 24}, {99, 30}, {100, 20}, {100, 19}, {120, 40}, {200, 60}, {250, 80}}
	for _, s := range states {
		d := driveStore(t, twisted{testkit.NewMemory(goldenBuild()), hostileBuild}, 80, 24)
		d.press(s.keys...)
		for _, size := range sizes {
			d.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
			view := d.m.View()
			checkSize(t, s.name, view, size[0], size[1])
			if strings.ContainsAny(view, "\x1b\t\r\x07") {
				t.Errorf("%s at %v lets control characters through", s.name, size)
			}
		}
	}
}

// Screens and pages keep to their cells also by themselves, in a grid of sizes.
func TestEveryPageKeepsToItsCells(t *testing.T) {
	for _, s := range states {
		d := driveStore(t, twisted{testkit.NewMemory(goldenBuild()), hostileBuild}, 80, 24)
		d.press(s.keys...)
		for _, w := range []int{20, 33, 60, 97, 250} {
			for _, h := range []int{5, 8, 13, 24, 80} {
				checkSize(t, s.name+" by itself", d.m.top().View(d.m.st, w, h), w, h)
			}
		}
	}
}

// TestColoursTakeNoRoom: the same frames as without colours, with colours taken out.
func TestColoursTakeNoRoom(t *testing.T) {
	for _, s := range states {
		d := drive(t, goldenBuild(), 120, 40)
		d.press(s.keys...)
		plain := d.m.View()
		c := drive(t, goldenBuild(), 120, 40)
		c.m.st = colourful()
		c.m.side = side{}
		c.press(s.keys...)
		coloured := c.m.View()
		if coloured == plain {
			t.Errorf("%s has no colours", s.name)
		}
		if got := ansi.Strip(coloured); got != plain {
			t.Errorf("%s differs from its frame without colours:\n%s\n%s", s.name, got, plain)
		}
	}
}

func TestViewBeforeAnythingIsKnown(t *testing.T) {
	m := drive(t, testkit.Workshop(), 80, 24).m
	fresh := newModel(m.world, m.st)
	if got := fresh.View(); got != "…" {
		t.Errorf("before the size is known the view is %q", got)
	}
	for at := range fresh.screens {
		fresh.at, fresh.w, fresh.h = at, 80, 24
		checkSize(t, "before the build is read", fresh.View(), 80, 24)
	}
}

func TestAnEmptyBuildSaysWhatToDo(t *testing.T) {
	d := drive(t, build.Build{}, 80, 24)
	d.see("There are no tasks yet. Press e to make the first one.", "a build without a name", "not begun", "all done")
	for _, k := range []string{"2", "3", "4", "9", "6", "5"} {
		d.press(k)
		checkSize(t, "empty build, screen "+k, d.m.View(), 80, 24)
	}
	d.see("Nothing is logged yet")
	d.press("2", "m", "down", "enter", "p", "l", "i", "esc", "f", "right", "esc", "6", "enter", "space", "esc")
	d.press("1", "a", "p", "s", "t", "l", "f", "enter", "E")
	checkSize(t, "empty build", d.m.View(), 80, 24)
}

func TestTooSmallATerminalIsToldHowLargeItMustBe(t *testing.T) {
	d := drive(t, testkit.Workshop(), 59, 24)
	d.see("at least 60 columns and 16 lines")
	d.send(tea.WindowSizeMsg{Width: 60, Height: 16})
	d.see("Glue the floor")
}

func TestGolden(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}} {
		for _, g := range []struct {
			name string
			keys []string
		}{
			{"bench", []string{"1"}}, {"sequence", []string{"2"}}, {"reach", []string{"3"}}, {"way", []string{"3", "pump", "enter", "f"}},
			{"closein", []string{"4"}}, {"behind", []string{"4", "enter"}}, {"daybook", []string{"5"}}, {"designs", []string{"9", "right"}},
			{"athand", []string{"1", "a", "a", "p"}}, {"moving", []string{"2", "down", "m", "down"}}, {"idle", []string{"2", "i"}},
			{"proofs", []string{"P"}}, {"ahead", []string{"A"}}, {"snags", []string{"S"}}, {"hours", []string{"H"}}, {"weeks", []string{"W"}},
			{"sums", []string{"C"}}, {"sum", []string{"C", "down", "enter"}}, {"find", []string{"/", "p", "u", "m"}}, {"note", []string{"n"}},
			{"correct", []string{"5", "c"}}, {"split", []string{"5", "b"}}, {"which", []string{"5", "w"}}, {"settings", []string{","}},
			{"list", []string{"L"}}, {"after", []string{"2", ">"}}, {"entry", []string{"l"}}, {"records", []string{"e", "enter"}},
			{"forecast", []string{"2", "f", "right"}}, {"parts", []string{"6"}}, {"late", []string{"6", "enter", "+", "+"}},
		} {
			t.Run(fmt.Sprintf("%s-%dx%d", g.name, size[0], size[1]), func(t *testing.T) {
				d := drive(t, goldenBuild(), size[0], size[1])
				d.press(g.keys...)
				golden(t, d.m.View())
			})
		}
	}
}

// goldenBuild is the workshop with a few boxes, so that there is something to draw.
func goldenBuild() build.Build {
	b := testkit.Workshop()
	b.Head.Vehicle.InsideMm = &access.Box{900, -890, 0, 4300, 890, 1900}
	boxes := []access.Box{{900, -890, 0, 4300, 890, 1900}, {2600, -890, 0, 4200, -200, 850}, {900, -890, 1900, 4300, 890, 2000}}
	for i := range b.Places.Rows {
		b.Places.Rows[i].Box = &boxes[i]
	}
	b.Items.Rows[2].At = &access.Point{3200, -600, 200}
	return withDesign(b)
}

// withDesign adds a choice: the panel on screws, or on magnets that take longer to fit and
// are opened in no time. The pump, which is fitted, is serviced.
func withDesign(b build.Build) build.Build {
	b.Options = build.ListOf(build.Option{ID: "screws", Choice: "how the panel is held", Name: "Screws", Chosen: true},
		build.Option{ID: "magnets", Choice: "how the panel is held", Name: "Magnets"})
	panel := b.Items.Rows[1]
	panel.ID, panel.Name, panel.Option, panel.MassKg = "panel-magnets", "Bench panel on magnets", "magnets", 7.5
	panel.Opening = &access.Opening{How: "pull off", OpenMin: 0.5, RefitMin: 0.5, Persons: 1}
	b.Items.Rows[1].Option = "screws"
	b.Items = build.ListOf(append(slices.Clone(b.Items.Rows), panel)...)
	bay := &b.Places.Rows[1]
	bay.ClosedBy = []id.Item{"bench-panel", "panel-magnets"}
	bay.Ways = append(slices.Clone(bay.Ways), access.Way{From: "cabin", Through: []id.Item{"panel-magnets"}, EnterMin: 1})
	for i, t := range b.Tasks.Rows {
		if t.ID == "fit-panel" {
			b.Tasks.Rows[i].Option = "screws"
			t.ID, t.Name, t.Option, t.Fits = "fit-magnets", "Fit the panel on magnets", "magnets", []id.Item{"panel-magnets"}
			t.Hours = units.Sure(t.Hours.Likely + 2)
			b.Tasks = build.ListOf(append(slices.Clone(b.Tasks.Rows), t)...)
			break
		}
	}
	return b
}

func golden(t *testing.T, got string) {
	t.Helper()
	path := filepath.Join("testdata", filepath.Base(t.Name())+".golden")
	if *update {
		if err := os.WriteFile(path, []byte(got+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got+"\n", "\n")); diff != "" {
		t.Errorf("%s has changed (-update writes it anew):\n%s", path, diff)
	}
}
