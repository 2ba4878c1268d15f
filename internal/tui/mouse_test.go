package tui

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/testkit"
)

func (d *driver) point(x, y int) {
	d.send(tea.MouseMsg{X: x, Y: y, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
}

// cursorLine gives the line of the work that has the cursor.
func (d *driver) cursorLine() int {
	y, _ := cursorIn(d.m.top(), d.m.st, d.m.layout())
	return y
}

// Every line that can have the cursor gets it by a click, on every screen, and no click on a
// line changes the build.
func TestClickMovesTheCursor(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {60, 16}} {
		for _, screen := range strings.Split("1 2 3 4 5 6", " ") {
			d := drive(t, testkit.Workshop(), size[0], size[1])
			d.press(screen)
			before, tried := d.load(), 0
			for y := range d.m.layout().bodyH {
				if y == d.cursorLine() {
					continue // that is enter, which may change the build
				}
				want := reachable(d, y)
				if want {
					tried++
				}
				d.point(3, headLines+y)
				if got := d.cursorLine(); want && got != y {
					t.Errorf("%v, screen %s: a click on line %d puts the cursor on line %d:\n%s", size, screen, y, got, d.m.View())
				}
			}
			if tried == 0 && screen != "4" { // which has one line here
				t.Errorf("%v, screen %s: no line was tried", size, screen)
			}
			if !reflect.DeepEqual(before, d.load()) {
				t.Errorf("%v, screen %s: clicks on lines changed the build", size, screen)
			}
		}
	}
}

// reachable reports whether arrow keys bring the cursor to line y of what is seen, by trying
// all of them.
func reachable(d *driver, y int) bool {
	for _, key := range []string{"up", "down"} {
		c := *d
		frame := strings.Split(d.m.top().View(d.m.st, d.m.layout().workW, d.m.layout().bodyH), "\n")
		for range len(frame) {
			c.press(key)
			now := strings.Split(c.m.top().View(c.m.st, c.m.layout().workW, c.m.layout().bodyH), "\n")
			if c.cursorLine() == y && len(now[y]) > 2 && len(frame[y]) > 2 && now[y][2:12] == frame[y][2:12] {
				return true
			}
		}
	}
	return false
}

func TestSecondClickIsEnter(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	y := headLines + d.cursorLine()
	d.point(3, y)
	if d.m.top().Scope() != menuScope {
		t.Errorf("a click on the task under the cursor leads to %q, want its menu", d.m.top().Scope())
	}
}

// The names of screens and the keys of the bottom line are what they say.
func TestClickOnNames(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	for _, tab := range tabs() {
		line := ansi.Strip(strings.Split(d.m.View(), "\n")[1])
		at := strings.Index(line, tab.name)
		d.point(ansi.StringWidth(line[:at]), 1)
		if now := ansi.Strip(strings.Split(d.m.View(), "\n")[1]); !strings.Contains(now, "["+tab.key+" "+tab.name+"]") {
			t.Errorf("a click on %s shows %s", tab.name, now)
		}
	}
	d.press("1")
	lines := strings.Split(ansi.Strip(d.m.View()), "\n")
	d.point(strings.Index(lines[39], "all keys"), 39)
	if d.m.top().Scope() != keysScope {
		t.Errorf("a click on \"all keys\" leads to %q", d.m.top().Scope())
	}
	d.press("esc")
	d.point(strings.Index(lines[39], "entry"), 39)
	if d.m.top().Scope() != formScope {
		t.Errorf("a click on \"entry\" leads to %q", d.m.top().Scope())
	}
}

// In a form, a click on a field's line puts the cursor there, though lines shift.
func TestClickInAForm(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("l")
	for _, label := range []string{"Photos", "Note", "Finished", "Trips in", "How long"} {
		lines := strings.Split(ansi.Strip(d.m.View()), "\n")
		y := slices.IndexFunc(lines, func(s string) bool { return strings.HasPrefix(s[min(2, len(s)):], label) })
		if y < 0 {
			t.Fatalf("no field %s:\n%s", label, d.m.View())
		}
		d.point(4, y)
		if _, text := cursorIn(d.m.top(), d.m.st, d.m.layout()); labelOf(text) != label {
			t.Errorf("a click on %s puts the cursor on %q", label, labelOf(text))
		}
	}
}

func TestWheelMovesTheCursor(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	from := d.cursorLine()
	d.send(tea.MouseMsg{X: 3, Y: 5, Action: tea.MouseActionPress, Button: tea.MouseButtonWheelDown})
	if d.cursorLine() <= from {
		t.Error("the wheel does not move the cursor down")
	}
	d.send(tea.MouseMsg{X: 3, Y: 5, Action: tea.MouseActionPress, Button: tea.MouseButtonWheelUp})
	if d.cursorLine() != from {
		t.Error("the wheel does not move the cursor back up")
	}
}

// The mouse is off until it is asked for.
func TestMouseIsAskedFor(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	if d.m.pointing() != nil {
		t.Error("the mouse is on from the start")
	}
	d.press("M")
	d.see("The mouse works", "shift")
	if d.m.pointing() == nil {
		t.Error("M does not turn the mouse on")
	}
	d.press("M")
	d.see("The mouse is off")
}
