package answer

import (
	"errors"
	"slices"
	"testing"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/units"
)

const fewDays = `"places": [{"id": "bay"}, {"id": "roof"}],
	"items": [{"id": "pump", "place": "bay"}, {"id": "fan", "place": "roof"}],
	"tasks": [{"id": "mount", "name": "Mount the Pump", "hours": 1, "place": "bay", "fits": ["pump"], "checks": [{"id": "clamps", "kind": "torque", "what": "c"}]},
		{"id": "vent", "hours": 1, "fits": ["fan"]}, {"id": "sweep", "hours": 1}],
	"days": [{"at": "2026-02-20T08:00", "task": "mount", "minutes": 60, "note": "HOSE short"},
		{"at": "2026-02-23T08:00", "task": "vent", "minutes": 60, "photos": ["fan-1.jpg"]},
		{"at": "2026-02-23T10:00", "task": "mount", "minutes": 5, "readings": [{"check": "clamps", "value": "4 N·m"}]},
		{"at": "2026-02-27T23:50", "task": "sweep", "minutes": 60}]`

func TestDaybook(t *testing.T) {
	v := viewOf(t, monday, fewDays)
	day := func(s string) *units.Date {
		d, err := units.ParseDate(s)
		if err != nil {
			t.Fatal(err)
		}
		return &d
	}
	for _, tt := range []struct {
		name   string
		filter DayFilter
		want   []build.Key
	}{
		{"all", DayFilter{}, []build.Key{1, 2, 3, 4}},
		{"a task", DayFilter{Task: "mount"}, []build.Key{1, 3}},
		{"a place, by the task or its item", DayFilter{Place: "roof"}, []build.Key{2}},
		{"an item", DayFilter{Item: "pump"}, []build.Key{1, 3}},
		{"from a day", DayFilter{From: day("2026-02-23")}, []build.Key{2, 3, 4}},
		{"up to a day", DayFilter{To: day("2026-02-20")}, []build.Key{1}},
		{"an entry over midnight counts where it begins", DayFilter{From: day("2026-02-28")}, nil},
		{"words of the note", DayFilter{Words: "short hose"}, []build.Key{1}},
		{"of the title", DayFilter{Words: "pump"}, []build.Key{1, 3}},
		{"of photos and readings", DayFilter{Words: "4 N·M clamps"}, []build.Key{3}},
		{"all together", DayFilter{Task: "mount", From: day("2026-02-21"), Words: "clamps"}, []build.Key{3}},
		{"none", DayFilter{Task: "mount", Item: "fan"}, nil},
	} {
		rows, err := v.Daybook(tt.filter)
		var got []build.Key
		for _, r := range rows {
			got = append(got, r.Number)
		}
		if err != nil || !slices.Equal(got, tt.want) {
			t.Errorf("%s: entries %v, %v, want %v", tt.name, got, err, tt.want)
		}
	}
}

func TestDaybookOfNothing(t *testing.T) {
	v := viewOf(t, monday, fewDays)
	first, last := units.Date(3), units.Date(2)
	for _, f := range []DayFilter{{Task: "mont"}, {Place: "bai"}, {Item: "pum"}} {
		var unknown *NameError
		if _, err := v.Daybook(f); !errors.As(err, &unknown) || len(unknown.Near) != 1 {
			t.Errorf("%+v: %v", f, err)
		}
	}
	if _, err := v.Daybook(DayFilter{From: &first, To: &last}); err == nil {
		t.Error("days from the third to the second are some")
	}
}
