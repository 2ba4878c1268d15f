package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

// A planning time that was given counts for the day of the build as it does for the plan,
// whatever the clock says.
func TestAGivenPlanningTimeIsTheDayOfTheBuild(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	before := d.m.dayOfBuild()
	w := d.m.world
	w.app = app.NewAt(d.store, testkit.Now+10*24*60)
	d.m = newModel(w, plainStyles())
	d.do(d.m.Init())
	d.send(tea.WindowSizeMsg{Width: 120, Height: 40})
	if got := d.m.dayOfBuild(); got == before || !strings.HasPrefix(got, "day ") {
		t.Errorf("ten days later it is %q, at first it was %q", got, before)
	}
}

// An entry that runs over midnight counts for both days with what it has of each.
func TestTodayCountsWhatFallsOnTheDay(t *testing.T) {
	late := daybook.Entry{At: testkit.Now.Date().Start() - 60, Minutes: 90, Task: "board"}
	for d, want := range map[units.Date]int{-1: 60, 0: 30, 1: 0} {
		if got := logged([]daybook.Entry{late}, testkit.Now.Date()+d); got != want {
			t.Errorf("day %+d: %d minutes, want %d", d, got, want)
		}
	}
}
