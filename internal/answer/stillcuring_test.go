package answer

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
)

const wet = `"resources": [{"id": "builder"}, {"id": "inside", "name": "Inside", "capacity": %d}],
"tasks": [{"id": "seal", "name": "Seal", "hours": 1, "state": "finished", "finished_at": "2026-03-02T07:00", "cure": {"hours": 5, "holds": ["inside"]}},
          {"id": "prime", "name": "Prime", "hours": 1, "state": "finished", "finished_at": "2026-03-02T07:00", "cure": {"hours": 7, "holds": ["inside"]}},
          {"id": "line", "hours": 1, "uses": {"inside": 1}}]`

// A cure goes on holding what it holds when its task is done: the order of work, its reasons, the
// forecast and today all wait for its end. With room for two the first of two cures to end makes
// room. Dates know no resources.
func TestCuresOfWhatIsDone(t *testing.T) {
	for _, tt := range []struct {
		capacity    int
		start, hold string
	}{{1, "2026-03-02T14:00", "Prime"}, {2, "2026-03-02T12:00", "Seal"}, {3, monday, ""}} {
		v := viewOf(t, monday, fmt.Sprintf(wet, tt.capacity))
		seq := search(t, v)
		row := seq.Tasks[0]
		if row.Start != at(t, tt.start) {
			t.Errorf("room for %d: the lining starts %v, want %s", tt.capacity, row.Start, tt.start)
		}
		if tt.hold != "" && (len(row.Because) != 1 || row.Because[0].Kind != "resource" || !strings.HasPrefix(row.Because[0].Text, "Inside: taken while "+tt.hold)) {
			t.Errorf("room for %d: because %+v, want that %s cures", tt.capacity, row.Because, tt.hold)
		}
		today := v.Today(&seq, TodayOptions{})
		if can := slices.Contains(canOf(today), "line"); can != (tt.hold == "") {
			t.Errorf("room for %d: today it can be lined: %v", tt.capacity, can)
		}
		f, err := v.Forecast(t.Context(), seq, ForecastOptions{Samples: 3})
		if err != nil || f.P50 != seq.Finish {
			t.Errorf("room for %d: forecast %v, %v; the plan ends %v", tt.capacity, f.P50, err, seq.Finish)
		}
		d, err := v.Dates()
		if err != nil || d.Tasks[0].EarlyStart != at(t, monday) {
			t.Errorf("room for %d: dates %+v, %v; want the lining at 08:00", tt.capacity, d.Tasks, err)
		}
	}
}

func TestACureThatNeverEndsHoldsForGood(t *testing.T) {
	v := viewOf(t, monday, `"resources": [{"id": "builder"}, {"id": "inside"}, {"id": "warm", "hours": {}}],
"tasks": [{"id": "seal", "hours": 1, "state": "finished", "finished_at": "2026-03-02T07:00", "cure": {"hours": 5, "while": "warm", "holds": ["inside"]}},
          {"id": "line", "hours": 1, "uses": {"inside": 1}}]`)
	_, err := v.Sequence(t.Context(), plan.Options{})
	if none, ok := err.(*plan.NoSequenceError); !ok || none.ID != id.Task("line") || !none.Sure {
		t.Errorf("%v, want no order because of line", err)
	}
	if got := waitsOf(v.Today(nil, TodayOptions{}), "line"); !slices.Equal(got, []string{"cure seal never"}) {
		t.Errorf("line waits for %v", got)
	}
}
