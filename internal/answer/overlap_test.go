package answer

import (
	"fmt"
	"testing"

	"example.com/vanlog/internal/id"
)

// Wiring takes three hours, and clipping may start two hours before it is done. By hand: 08:00 to
// 11:00, and from 09:00 to 12:00 (the builder is there day and night).
const overlap = `"resources": [{"id": "builder", "capacity": 2}],
"tasks": [{"id": "wire", "name": "Wire", "hours": 3}, {"id": "clip", "hours": 3}],
"edges": [{"before": "wire", "after": "clip", "lag_h": -2, "why": "the loom is in"}]`

func TestReasonOfAnOverlap(t *testing.T) {
	seq := search(t, viewOf(t, monday, overlap))
	want := "no sooner than 2h before Wire is done, Mon 2026-03-02 11:00: the loom is in"
	if b := seq.Tasks[1].Because; len(b) != 1 || b[0].Kind != "lag" || b[0].Ref != "wire" || b[0].Text != want {
		t.Errorf("because %+v, want %q", b, want)
	}
}

// Where nothing is left to luck the forecast is the plan, also where tasks overlap and where a part
// takes days and a half.
func TestForecastOfOverlaps(t *testing.T) {
	for _, inOrder := range []bool{false, true} {
		f := forecastOf(t, overlap, ForecastOptions{Samples: 3, InOrder: inOrder})
		if end := at(t, "2026-03-02T12:00"); f.P50 != end || f.P95 != end || f.PlanFinish != end {
			t.Errorf("in order %v: done at %v, the plan ends %v; want 12:00", inOrder, f.P50, f.PlanFinish)
		}
	}
}

func TestForecastOfHalfDays(t *testing.T) {
	for _, ordered := range []string{``, `, "ordered": "2026-03-01"`} {
		f := forecastOf(t, `"parts": [{"id": "p", "lead_days": 2.5`+ordered+`}], "tasks": [{"id": "a", "hours": 1, "parts": ["p"]}]`, ForecastOptions{Samples: 3})
		if f.P50 != f.PlanFinish || f.P95 != f.PlanFinish {
			t.Errorf("%s: done at %v, the plan ends %v", ordered, f.P50, f.PlanFinish)
		}
	}
}

// Sealing has a cure that holds the inside for half a day, and in the plan begins, though nothing is in
// its way before, when the lining is done. In a life it must not begin ahead of that. By hand: the
// builder lines from 18:00 to 21:00, the sealer works from 17:00 to 21:00.
func TestForecastKeepsCuresBehind(t *testing.T) {
	f := forecastOf(t, `"resources": [{"id": "builder", "hours": {"mon": ["18:00-21:00"], "tue": ["18:00-21:00"]}}, {"id": "inside"}],
"tasks": [{"id": "seal", "hours": 4, "uses": {}, "cure": {"hours": 12, "holds": ["inside"]}}, {"id": "line", "hours": 3, "uses": {"builder": 1, "inside": 1}}]`,
		ForecastOptions{Samples: 3})
	if end := at(t, "2026-03-03T09:00"); f.PlanFinish != end || f.P50 != end || f.P95 != end {
		t.Errorf("done at %v, the plan ends %v; want %v", f.P50, f.PlanFinish, end)
	}
}

// A lag of less than nothing lets clipping stand before the wiring that it follows. It is pinned to
// what else is beside it, not against that edge.
func TestNeighboursOfAnOverlap(t *testing.T) {
	v := viewOf(t, monday, `"tasks": [{"id": "wire", "hours": 3}, {"id": "clip", "hours": 1}, {"id": "saw", "hours": 1, "not_before": "2026-03-03"}],
		"edges": [{"before": "wire", "after": "clip", "lag_h": -9}]`)
	row := func(name id.Task, from, to string) Row { return Row{ID: name, Start: at(t, from), Finish: at(t, to)} }
	seq := Sequence{Tasks: []Row{row("clip", monday, "2026-03-02T09:00"), row("wire", "2026-03-02T09:00", "2026-03-02T13:00"), row("saw", "2026-03-03T08:00", "2026-03-03T09:00")}}
	for task, want := range map[id.Task]string{"clip": "[]", "wire": "[before saw]", "saw": "[after wire]"} {
		if got, err := v.Neighbours(task, seq); err != nil || fmt.Sprint(got) != want {
			t.Errorf("%s: %v, %v; want %s", task, got, err, want)
		}
	}
}
