package tui

import (
	"context"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/testkit"
)

func TestDesignsAreWorkedOutOnceTheyAreSeen(t *testing.T) {
	d := drive(t, goldenBuild(), 120, 40)
	if d.m.data.Burden != nil || d.m.data.Designs != nil {
		t.Error("they were worked out before anybody looked")
	}
	d.press("9")
	d.see("Screws", "Magnets", "access a year", "even after", "Getting at what is serviced: 2h18 a year")
	d.seeNot("Being worked out")
	burden := d.m.data.Burden
	d.press("1", "9")
	if d.m.data.Burden != burden {
		t.Error("they were worked out again, though nothing changed")
	}
	d.press("1", "s")
	if !d.m.data.Compare.Stale {
		t.Error("after a change they are not marked as old")
	}
	d.press("9")
	if d.m.data.Burden == burden || d.m.data.Compare.Stale || d.m.data.Compare.Working {
		t.Error("they are not worked out again after a change")
	}
}

// comparing gives a driver in which a comparison has begun, and the command that works it out.
func comparing(t *testing.T, b build.Build, length time.Duration) (*driver, tea.Cmd) {
	t.Helper()
	d := drive(t, b, 80, 24)
	d.press("9")
	m, cmd := d.m.compareFor(length)
	d.m = m
	batch, ok := cmd().(tea.BatchMsg)
	if !ok {
		batch = tea.BatchMsg{cmd}
	}
	return d, batch[0]
}

func TestAComparisonIsStoppedByAKey(t *testing.T) {
	d, burden := comparing(t, demo.Build(testkit.Now), time.Hour)
	next, designs := d.m.Update(burden())
	d.m = next.(Model)
	d.see("Being worked out", "comparing ░", "x stop")
	d.send(compareBeatMsg{d.m.compare.number})
	d.press("x")
	d.see("Stopped. r works it out again.")
	d.do(designs) // would go on for two hours
	d.see("Stopped. r works it out again.")
	d.press("down", "1", "9")
	d.see("Stopped. r works it out again.")
}

func TestTheProgressOfAComparison(t *testing.T) {
	d, _ := comparing(t, goldenBuild(), time.Second)
	for range 10 {
		d.send(compareBeatMsg{d.m.compare.number})
	}
	d.see("comparing █████░░░░░")
	d.press("1")
	d.see("comparing █████░░░░░")
	d.seeNot("x stop")
	d.send(compareBeatMsg{d.m.compare.number - 1})
	d.see("comparing █████░░░░░")
}

func TestAChangeEndsAComparison(t *testing.T) {
	d, burden := comparing(t, demo.Build(testkit.Now), time.Hour)
	d.press("1", "s")
	d.seeNot("comparing")
	was := d.m.data.Burden
	d.send(burden())
	if d.m.data.Burden != was {
		t.Error("what access costs in an older build was shown")
	}
	d.send(designsMsg{compare: d.m.compare.number - 1, designs: answer.Designs{Choice: "late"}})
	for _, ds := range d.m.data.Designs {
		if ds.Choice == "late" {
			t.Error("the designs of an older build were shown")
		}
	}
	d.seeNot("canceled")
}

func TestWhyDesignsCannotBeComparedIsSaid(t *testing.T) {
	d, burden := comparing(t, goldenBuild(), 0)
	next, _ := d.m.Update(burden())
	d.m = next.(Model)
	d.send(designsMsg{compare: d.m.compare.number, err: context.DeadlineExceeded})
	d.see("deadline exceeded")
	d.press("r")
	d.seeNot("deadline exceeded")
}
