package testkit

import (
	"testing"

	"example.com/vanlog/internal/units"
)

func TestNow(t *testing.T) {
	want, err := units.ParseInstant("2026-03-02T09:00")
	if err != nil || Now != want {
		t.Errorf("Now = %v, want %v (%v)", Now, want, err)
	}
	if year, week := Now.Date().ISOWeek(); year != 2026 || week != 10 || Now.Date().Weekday() != 0 {
		t.Errorf("Now is in week %d of %d, day %d", week, year, Now.Date().Weekday())
	}
}

func TestWorkshopIsSound(t *testing.T) {
	if faults := Workshop().Check(); len(faults) > 0 {
		t.Error(faults)
	}
}

func TestClockStandsStill(t *testing.T) {
	c := NewClock(Now)
	if first, second := c.Now(), c.Now(); first != Now || second != Now {
		t.Error("the clock runs")
	}
	if c.Advance(90); c.Now() != Now+90 {
		t.Errorf("90 minutes on it shows %v", c.Now())
	}
}
