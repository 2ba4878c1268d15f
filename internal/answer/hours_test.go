package answer

import (
	"math"
	"testing"

	"example.com/vanlog/internal/units"
)

const workedWeeks = `"resources": [{"id": "builder", "hours": {"mon": ["08:00-12:00"], "sat": ["08:00-10:00"]}}],
	"tasks": [{"id": "a", "trade": "water", "hours": [1, 2, 4], "state": "finished", "spent_h": 3, "finished_at": "2026-02-20T12:00"},
		{"id": "b", "trade": "water", "hours": [1, 2, 2.5], "state": "finished", "spent_h": 3, "visits": 2, "finished_at": "2026-03-01T12:00"},
		{"id": "c", "trade": "wood", "hours": 4, "state": "finished", "spent_h": 2, "finished_at": "2026-02-19T12:00"},
		{"id": "d", "trade": "wood", "hours": 4, "spent_h": 2, "state": "started"},
		{"id": "e", "hours": 1, "state": "finished"}],
	"days": [{"at": "2026-02-16T08:00", "task": "c", "minutes": 120, "visits": 3, "finished": true},
		{"at": "2026-02-22T23:00", "task": "b", "minutes": 120, "visits": 4, "photos": ["b.jpg"]},
		{"at": "2026-03-01T09:00", "task": "b", "minutes": 60, "finished": true}]`

func TestHours(t *testing.T) {
	h := viewOf(t, monday, workedWeeks).Hours()
	var names []string
	for _, x := range h.Tasks {
		names = append(names, string(x.Task))
	}
	if len(names) != 3 || names[0] != "c" || names[1] != "a" || names[2] != "b" {
		t.Errorf("finished are %q, want c, a and b by when", names)
	}
	if a, b := h.Tasks[1], h.Tasks[2]; !a.Within || b.Within || a.Ratio != 1.5 || b.Trips != 4 || b.TripsPlanned != 2 {
		t.Errorf("a is %+v, b is %+v", a, b)
	}
	water := h.Trades[0]
	if water.Name != "water" || water.Count != 2 || water.Ratio != 1.5 || water.Spread != 0 || water.Within != 1 || water.Mean != 1.5 {
		t.Errorf("water is %+v", water)
	}
	if h.All.SpentH != 8 || h.All.LikelyH != 8 || h.All.Ratio != 1 || h.All.Least != 0.5 || h.All.Most != 1.5 {
		t.Errorf("all is %+v", h.All)
	}
	if len(h.Months) != 2 || h.Months[0].Name != "2026-02" || h.Months[0].Count != 2 || h.Months[1].Name != "2026-03" {
		t.Errorf("the months are %+v", h.Months)
	}
	if h.TripsPerHour != 7/4.0 || h.TripHours != 4 {
		t.Errorf("%v trips an hour in %v hours, want 7 in 4", h.TripsPerHour, h.TripHours)
	}
}

func TestHoursOfNothing(t *testing.T) {
	h := viewOf(t, monday, `"tasks": [{"id": "a", "hours": 1}]`).Hours()
	if len(h.Tasks)+len(h.Trades)+len(h.Months) != 0 || h.All.Ratio != 0 || h.All.Least != 0 || h.TripsPerHour != 0 {
		t.Errorf("%+v", h)
	}
}

// The example of the standard deviation that textbooks give: 2, 4, 4, 4, 5, 5, 7, 9 have the mean 5 and,
// over n, the deviation 2 (from memory); so over n - 1 it is √(32 / 7).
func TestMeanAndSpread(t *testing.T) {
	mean, spread := meanAndSpread([]float64{2, 4, 4, 4, 5, 5, 7, 9})
	if mean != 5 || math.Abs(spread-math.Sqrt(32.0/7)) > 1e-12 {
		t.Errorf("mean %v, spread %v", mean, spread)
	}
}

func TestWeeks(t *testing.T) {
	v := viewOf(t, monday, workedWeeks)
	weeks := v.Weeks()
	if len(weeks) != 2 || weeks[0].Week != "2026-W08" || weeks[1].Week != "2026-W09" {
		t.Fatalf("the weeks are %+v", weeks)
	}
	a, b := weeks[0], weeks[1]
	if a.Minutes != 180 || b.Minutes != 120 || a.Entries != 2 || b.Entries != 1 || a.Trips != 7 || a.Photos != 1 {
		t.Errorf("an entry over midnight of Sunday: %+v, %+v", a, b)
	}
	if a.ThereMin != 360 || len(a.Finished) != 1 || a.Finished[0] != "c" || a.Trades[0] != (TradeMinutes{"wood", 120}) || a.Trades[1].Minutes != 60 {
		t.Errorf("the first week is %+v", a)
	}
	if w := v.WeekFrom(units.Date(0)); w.Week != "1970-W01" || w.Entries != 0 || w.From.String() != "1969-12-29" {
		t.Errorf("an empty week is %+v", w)
	}
}
