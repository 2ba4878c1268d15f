package parts

import (
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/units"
)

func TestDueDate(t *testing.T) {
	lead := units.Sure(10)
	for _, tt := range []struct {
		name  string
		part  Part
		want  string
		known bool
	}{
		{"typed", Part{Due: at(t, "2026-03-05"), Ordered: at(t, "2026-01-01"), LeadDays: lead}, "2026-03-05", true},
		{"ordered", Part{Ordered: at(t, "2026-03-01"), LeadDays: lead}, "2026-03-11", true},
		{"not ordered", Part{LeadDays: lead}, "1970-01-01", false},
	} {
		if got, known := tt.part.DueDate(); got.String() != tt.want || known != tt.known {
			t.Errorf("%s: DueDate = %v, %v; want %s, %v", tt.name, got, known, tt.want, tt.known)
		}
	}
}

// TestOrderBy holds the days against ThereFrom: ordered on the last day it is there in time, ordered
// a day later it is not.
func TestOrderBy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Part{LeadDays: units.Sure(float64(rapid.IntRange(0, 80).Draw(t, "halves")) / 2)}
		wanted := units.Instant(rapid.Int64Range(29_000_000, 30_000_000).Draw(t, "wanted"))
		by := p.OrderBy(DueBy(wanted))
		there := func(ordered units.Date) units.Instant {
			p.Ordered = &units.When{At: ordered.Start(), DateOnly: true}
			return p.ThereFrom(0)
		}
		if there(by) > wanted || there(by+1) <= wanted {
			t.Fatalf("wanted at %v: ordered %v it is there at %v, a day later at %v", wanted, by, there(by), there(by+1))
		}
		if due := DueBy(wanted); due.Start()+units.Day > wanted || (due+1).Start()+units.Day <= wanted {
			t.Fatalf("wanted at %v, due by %v", wanted, due)
		}
	})
}
