package answer

import (
	"testing"

	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/units"
)

// Hours are those of a builder who names none: Monday to Friday, 08:00-12:00 and 13:00-17:00.
func TestForgotten(t *testing.T) {
	instant := func(s string) units.Instant {
		i, err := units.ParseInstant(s)
		if err != nil {
			t.Fatal(err)
		}
		return i
	}
	for _, tt := range []struct {
		since, now, end string
		forgotten       bool
	}{
		{"2026-03-02T09:00", "2026-03-02T12:40", "2026-03-02T17:00", false}, // the break at noon is no end
		{"2026-03-02T09:00", "2026-03-02T17:30", "2026-03-02T17:00", false},
		{"2026-03-02T09:00", "2026-03-02T17:31", "2026-03-02T17:00", true},
		{"2026-03-02T09:00", "2026-03-03T07:00", "2026-03-02T17:00", true},
		{"2026-03-02T20:00", "2026-03-02T23:00", "2026-03-03T17:00", false}, // an evening's work
		{"2026-03-06T16:59", "2026-03-06T17:31", "2026-03-06T17:00", true},
		{"2026-03-07T10:00", "2026-03-07T19:00", "2026-03-09T17:00", false}, // a Saturday
	} {
		v := viewOf(t, tt.now, `"tasks": [{"id": "a", "hours": 1}]`)
		v.Build.Clock = &daybook.Clock{Task: "a", Since: instant(tt.since)}
		if end, forgotten := v.Forgotten(v.Now); forgotten != tt.forgotten || end != instant(tt.end) {
			t.Errorf("since %s, at %s: %v, %v, want %s, %v", tt.since, tt.now, end, forgotten, tt.end, tt.forgotten)
		}
	}
	if _, forgotten := viewOf(t, monday, `"tasks": [{"id": "a", "hours": 1}]`).Forgotten(0); forgotten {
		t.Error("no clock is forgotten")
	}
}
