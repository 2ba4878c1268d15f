package app

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/testkit"
)

func TestClockBecomesAnEntry(t *testing.T) {
	a, clock := workshop()
	if c, err := a.Start(ctx, "run-cable"); err != nil || c.What != "start the clock on Run the feed cable" {
		t.Fatalf("Start = %q, %v", c.What, err)
	}
	if got := brief(taskOf(t, a, "run-cable")); got != "started 1" {
		t.Errorf("while the clock runs the task is %q", got)
	}
	clock.Advance(20)
	for n := range 2 {
		clock.Advance(5)
		if c, err := a.TripIn(ctx); err != nil || c.What != fmt.Sprintf("trip in %d to Run the feed cable", n+1) {
			t.Errorf("TripIn = %q, %v", c.What, err)
		}
	}
	l, err := a.Stop(ctx, LogRequest{Note: "clipped", Visits: 1, Task: "glue-floor"})
	if err != nil {
		t.Fatal(err)
	}
	if l.Task != "run-cable" || l.At != testkit.Now || l.Minutes != 30 || l.Visits != 3 || l.Note != "clipped" {
		t.Errorf("the entry is %+v", l.Entry)
	}
	if got := brief(taskOf(t, a, "run-cable")); got != "started 1.5" || now(t, a).Clock != nil {
		t.Errorf("afterwards the task is %q, the clock %v", got, now(t, a).Clock)
	}
	if _, err := a.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	if c := now(t, a).Clock; c == nil || c.Visits != 2 {
		t.Errorf("with the stop undone the clock is %+v", c)
	}
}

func TestStartStopsAnotherClock(t *testing.T) {
	a, clock := workshop()
	if _, err := a.Start(ctx, "glue-floor"); err != nil {
		t.Fatal(err)
	}
	clock.Advance(65)
	before := now(t, a).Days.Len()
	c, err := a.Start(ctx, "fit-panel")
	if err != nil || c.What != "start the clock on Fit the bench panel, after 1h05 on Glue the floor" {
		t.Fatalf("Start = %q, %v", c.What, err)
	}
	b := now(t, a)
	if b.Days.Len() != before+1 || b.Clock.Task != "fit-panel" || b.Clock.Since != testkit.Now+65 || b.Clock.Visits != 0 {
		t.Errorf("%d entries, clock %+v", b.Days.Len(), b.Clock)
	}
	if got := brief(taskOf(t, a, "glue-floor")); got != "started 1.0833 left 1.4167" {
		t.Errorf("glue-floor is %q", got)
	}
	if _, err := a.Undo(ctx); err != nil { // one action, one change
		t.Fatal(err)
	}
	if b := now(t, a); b.Days.Len() != before || b.Clock.Task != "glue-floor" {
		t.Errorf("undone: %d entries, clock %+v", b.Days.Len(), b.Clock)
	}
}

func TestStopAfterNoTime(t *testing.T) {
	a, _ := workshop()
	if _, err := a.Start(ctx, "glue-floor"); err != nil {
		t.Fatal(err)
	}
	if l, err := a.Stop(ctx, LogRequest{}); err != nil || l.Minutes != 0 || l.Change.What != "log 0m on Glue the floor" {
		t.Errorf("Stop = %+v, %v", l, err)
	}
	if got := brief(taskOf(t, a, "glue-floor")); got != "started 0 left 2.5" {
		t.Errorf("glue-floor is %q; the clock ran on it", got)
	}
}

func TestClockThatWasPutBack(t *testing.T) {
	a, clock := workshop()
	if _, err := a.Start(ctx, "glue-floor"); err != nil {
		t.Fatal(err)
	}
	clock.Advance(-60)
	if l, err := a.Stop(ctx, LogRequest{}); err != nil || l.Minutes != 0 {
		t.Errorf("Stop = %+v, %v; want no time", l, err)
	}
}

func TestForgottenClock(t *testing.T) {
	a, clock := workshop()
	if _, err := a.Start(ctx, "glue-floor"); err != nil {
		t.Fatal(err)
	}
	clock.Advance(31 * 60)
	for _, stop := range []func() error{
		func() error { _, err := a.Stop(ctx, LogRequest{}); return err },
		func() error { _, err := a.Start(ctx, "fit-panel"); return err },
	} {
		if err := stop(); err == nil || !strings.Contains(err.Error(), "that is 31h") {
			t.Errorf("after 31 hours: %v, want a word", err)
		}
	}
	if l, err := a.Stop(ctx, LogRequest{Minutes: 150}); err != nil || l.Minutes != 150 || l.At != testkit.Now {
		t.Errorf("with the true time: %+v, %v", l.Entry, err)
	}
}

// TestClockThatRanOn: the time that the work really took counts, however long the clock ran.
func TestClockThatRanOn(t *testing.T) {
	a, clock := workshop()
	if _, err := a.Start(ctx, "glue-floor"); err != nil {
		t.Fatal(err)
	}
	clock.Advance(16 * 60) // over night
	l, err := a.Stop(ctx, LogRequest{Minutes: 150})
	if err != nil || l.Minutes != 150 || l.At != testkit.Now {
		t.Errorf("Stop = %+v, %v; want 150 minutes", l.Entry, err)
	}
}

func TestClockThatDoesNotRun(t *testing.T) {
	a, _ := workshop()
	if _, err := a.Stop(ctx, LogRequest{}); !errors.Is(err, build.ErrNothing) {
		t.Errorf("Stop = %v, want ErrNothing", err)
	}
	if _, err := a.TripIn(ctx); !errors.Is(err, build.ErrNothing) {
		t.Errorf("TripIn = %v, want ErrNothing", err)
	}
	if _, err := a.Start(ctx, "glue-floor"); err != nil {
		t.Fatal(err)
	}
	if _, err := a.Start(ctx, "glue-floor"); !errors.Is(err, build.ErrNothing) {
		t.Errorf("Start again = %v, want ErrNothing", err)
	}
}
