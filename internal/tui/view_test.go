package tui

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/google/go-cmp/cmp"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/testkit"
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
		if o := b.Items.Rows[i].Opening; o != nil {
			o.How, o.Tools, o.Fasteners[0].What = hostile, []string{hostile}, hostile
		}
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
	{"daybook", []string{"4", "down"}},
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
}

func TestViewIsExactlyAsLargeAsTheTerminal(t *testing.T) {
	sizes := [][2]int{{1, 1}, {20, 5}, {40, 10}, {59, 16}, {60, 15}, {60, 16}, {80, 24}, {99, 30}, {100, 20}, {100, 19}, {120, 40}, {200, 60}, {250, 80}}
	for _, s := range states {
		d := driveStore(t, twisted{testkit.NewMemory(testkit.Workshop()), hostileBuild}, 80, 24)
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
	for _, k := range []string{"2", "3", "4"} {
		d.press(k)
		checkSize(t, "empty build, screen "+k, d.m.View(), 80, 24)
	}
	d.see("Nothing is logged yet")
	d.press("1", "s", "t", "l", "f", "enter", "E")
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
		for i, name := range []string{"bench", "sequence", "reach", "daybook", "way"} {
			t.Run(fmt.Sprintf("%s-%dx%d", name, size[0], size[1]), func(t *testing.T) {
				d := drive(t, goldenBuild(), size[0], size[1])
				if name == "way" {
					d.press("3", "pump", "enter", "f")
				} else {
					d.press(fmt.Sprint(i + 1))
				}
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
