package parts

import (
	"testing"

	"example.com/vanlog/internal/units"
)

func at(t *testing.T, s string) *units.When {
	t.Helper()
	w, err := units.ParseWhen(s)
	if err != nil {
		t.Fatal(err)
	}
	return &w
}

// TestThereFrom holds the rule of the build file: 00:00 of the day after due, at once when arrived,
// the likely lead time where no date is known.
func TestThereFrom(t *testing.T) {
	now := at(t, "2026-03-02T10:30").At
	for _, tt := range []struct {
		name string
		part Part
		want string
	}{
		{"arrived", Part{Arrived: at(t, "2026-02-01"), Due: at(t, "2026-09-01")}, "2026-03-02T10:30"},
		{"due", Part{Due: at(t, "2026-03-05")}, "2026-03-06T00:00"},
		{"due at a time of day", Part{Due: at(t, "2026-03-05T15:00")}, "2026-03-06T00:00"},
		{"overdue", Part{Due: at(t, "2026-02-20")}, "2026-02-21T00:00"},
		{"ordered", Part{Ordered: at(t, "2026-03-01"), LeadDays: units.Estimate{Low: 1, Likely: 10, High: 30}}, "2026-03-12T00:00"},
		{"not ordered", Part{LeadDays: units.Sure(2)}, "2026-03-05T00:00"},
		{"part of a day", Part{LeadDays: units.Sure(2.5)}, "2026-03-05T00:00"},
	} {
		if got := tt.part.ThereFrom(now).String(); got != tt.want {
			t.Errorf("%s: ThereFrom = %s, want %s", tt.name, got, tt.want)
		}
	}
}
