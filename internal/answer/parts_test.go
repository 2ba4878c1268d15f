package answer

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// TestHoldsUpOfTheDemo compares with the table in the plan of the demo build, worked out there by
// another program: the hours of 633.5 that each part blocks while nothing is done yet, and the
// share that can be worked without it, in whole percent.
func TestHoldsUpOfTheDemo(t *testing.T) {
	v := untouched(demo.Build(at(t, "2026-03-04T08:00")), at(t, "2026-03-04T08:00"))
	rows, err := v.PartRows(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	want := map[id.Part][2]float64{"p01": {296.5, 53}, "p02": {275.5, 57}, "p03": {348.5, 45}, "p04": {116.5, 82}, "p05": {112.5, 82},
		"p06": {42.5, 93}, "p07": {296.5, 53}, "p08": {283.5, 55}, "p09": {381.5, 40}, "p10": {348.5, 45}, "p11": {321.5, 49},
		"p12": {114.5, 82}, "p13": {320.5, 49}, "p14": {273.5, 57}, "p15": {91.5, 86}, "p16": {40.5, 94}, "p17": {332.5, 48}}
	for _, r := range rows {
		if got := [2]float64{r.HoldsUp.Hours, math.Round(100 * r.HoldsUp.WorkableShare)}; got != want[r.ID] {
			t.Errorf("%s holds up %v hours, %v %% workable; want %v", r.ID, got[0], got[1], want[r.ID])
		}
	}
	if len(rows) != len(want) {
		t.Errorf("%d parts, want %d", len(rows), len(want))
	}
}

// untouched gives a build in which nothing is done.
func untouched(b build.Build, now units.Instant) *View {
	rows := slices.Clone(b.Tasks.Rows)
	for i := range rows {
		rows[i].State, rows[i].FinishedAt, rows[i].LeftH, rows[i].SpentH = tasks.Todo, nil, nil, 0
	}
	b.Tasks.Rows = rows
	return New(b, now)
}

// One builder, Monday to Friday. The whole Monday is one task, then the pump is fitted and tested,
// three hours; the filter is for a task of Thursday.
const ordering = `
"parts": [{"id": "pump", "lead_days": 3, "ordered": "2026-02-27"}, {"id": "old", "due": "2026-02-27"}, {"id": "in", "due": "2026-02-20", "arrived": "2026-02-20"},
          {"id": "filter", "lead_days": 1}, {"id": "spare", "lead_days": 9}],
"tasks": [{"id": "long", "hours": 8}, {"id": "fit", "hours": 2, "parts": ["pump", "old", "in"], "not_before": "2026-03-03"}, {"id": "test", "hours": 1},
          {"id": "filter", "hours": 1, "parts": ["filter"], "not_before": "2026-03-05"}],
"edges": [{"before": "long", "after": "fit"}, {"before": "fit", "after": "test"}]`

func TestPartRows(t *testing.T) {
	v := viewOf(t, monday, ordering)
	seq, err := v.Sequence(t.Context(), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := v.PartRows(t.Context(), &seq)
	if err != nil {
		t.Fatal(err)
	}
	day := func(s string) *units.Date { d := at(t, s).Date(); return &d }
	days := func(n int) *int { return &n }
	clock := func(s string) *units.Instant { i := at(t, s); return &i }
	// The pump is due on Monday, just in time. With the filter's task last, Thursday 08:00 to 09:00, the
	// three hours from the pump on can begin on Wednesday at 14:00: it may come a day later.
	want := []PartRow{
		{ID: "pump", State: Ordered, Due: day("2026-03-02"), ThereFrom: at(t, "2026-03-03"), NeededBy: clock("2026-03-03T08:00"),
			OrderBy: day("2026-02-27"), OrderByFinish: day("2026-02-28"), SlackDays: days(0), SlackDaysFinish: days(1),
			HoldsUp: HoldsUp{Tasks: []id.Task{"fit", "test"}, Hours: 3, WorkableShare: 0.75}},
		{ID: "old", State: LatePart, Due: day("2026-02-27"), ThereFrom: at(t, "2026-02-28"), NeededBy: clock("2026-03-03T08:00"),
			OrderBy: day("2026-03-02"), OrderByFinish: day("2026-03-03"), SlackDays: days(0), SlackDaysFinish: days(1),
			HoldsUp: HoldsUp{Tasks: []id.Task{"fit", "test"}, Hours: 3, WorkableShare: 0.75}},
		{ID: "in", State: Arrived, Due: day("2026-02-20"), ThereFrom: at(t, monday), HoldsUp: HoldsUp{Tasks: []id.Task{"fit", "test"}, Hours: 3, WorkableShare: 0.75}},
		{ID: "filter", State: NotOrdered, ThereFrom: at(t, "2026-03-04"), NeededBy: clock("2026-03-05T08:00"),
			OrderBy: day("2026-03-03"), OrderByFinish: day("2026-03-03"), SlackDays: days(1), SlackDaysFinish: days(1),
			HoldsUp: HoldsUp{Tasks: []id.Task{"filter"}, Hours: 1, WorkableShare: 11.0 / 12}},
		{ID: "spare", State: NotOrdered, ThereFrom: at(t, "2026-03-12"), HoldsUp: HoldsUp{Tasks: []id.Task{}, WorkableShare: 1}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestPartRowsWithoutAPlan(t *testing.T) {
	rows, err := viewOf(t, monday, ordering).PartRows(t.Context(), nil)
	if err != nil || len(rows) != 5 || rows[0].OrderBy != nil || rows[0].HoldsUp.Hours != 3 {
		t.Errorf("%+v, %v", rows, err)
	}
}

// TestLawOrderBy puts off each part to its last day, and a day beyond, and works through the plan's
// order: to the last day no task that needs it starts later, or the build ends no later; a day
// beyond one does.
func TestLawOrderBy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawParts(t)
		seq, ok := firstOrder(t, v)
		if !ok {
			return
		}
		rows, err := v.PartRows(t.Context(), &seq)
		if err != nil {
			t.Fatal(err)
		}
		for i, r := range rows {
			p := v.Build.Parts.Rows[i]
			if r.OrderBy == nil {
				continue
			}
			lead := units.Date(p.LeadDays.Likely)
			if started(t, v, seq, p, *r.OrderBy+lead, false) || !started(t, v, seq, p, *r.OrderBy+lead+1, false) {
				t.Fatalf("%+v: a task that needs it starts later, or does not a day after", r)
			}
			if started(t, v, seq, p, *r.OrderByFinish+lead, true) || !started(t, v, seq, p, *r.OrderByFinish+lead+1, true) {
				t.Fatalf("%+v: the build ends later, or does not a day after", r)
			}
			if base := max(parts.DueBy(r.ThereFrom), v.Now.Date()); *r.SlackDays != int(*r.OrderBy+lead-base) {
				t.Fatalf("%+v: the slack does not lead from %v to its last day", r, base)
			}
		}
	})
}

// started reports whether a task that needs p starts later than in seq, or the whole ends later,
// with p due on a day and all in the order of seq.
func started(t *rapid.T, v *View, seq Sequence, p parts.Part, due units.Date, finish bool) bool {
	with, err := v.delayed([]Delay{{p.ID, due}})
	if err != nil {
		t.Fatal(err)
	}
	s := newSerial(New(with.Build, v.Now))
	d, ok := s.run(s.inOrder(seq))
	if !ok {
		t.Fatalf("%v is no order", seq)
	}
	if finish {
		return d.finish > seq.Finish
	}
	return slices.ContainsFunc(seq.Tasks, func(r Row) bool {
		task, _ := v.task(r.ID)
		return slices.Contains(task.Parts, p.ID) && d.start[r.ID] > r.Start
	})
}

// The same on the demo, whose tasks run in each other's pauses: with its order kept, a part that comes
// on its last day for the finish does not move it, and one that comes a day later does.
func TestOrderByFinishOfTheDemo(t *testing.T) {
	now := at(t, "2026-03-04T08:00")
	v := New(demo.Build(now), now)
	p, found, err := v.find(t.Context(), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	seq := v.sequence(p, found)
	rows, err := v.PartRows(t.Context(), &seq)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range rows {
		if r.OrderByFinish == nil {
			continue
		}
		due := *r.OrderByFinish + units.Date(v.Build.Parts.Rows[i].LeadDays.Likely)
		if ends := keptFinish(t, v, found, r.ID, due); ends > found.Finish {
			t.Errorf("%s due %v: it ends %v, was %v", r.ID, due, ends, found.Finish)
		}
		if ends := keptFinish(t, v, found, r.ID, due+1); ends <= found.Finish {
			t.Errorf("%s due %v, a day too late: it ends %v, was %v", r.ID, due+1, ends, found.Finish)
		}
	}
}

// keptFinish gives the finish in the order found, with a part due on a day.
func keptFinish(t *testing.T, v *View, found plan.Sequence, part id.Part, due units.Date) units.Instant {
	with, err := v.delayed([]Delay{{part, due}})
	if err != nil {
		t.Fatal(err)
	}
	late, err := with.problem()
	if err != nil {
		t.Fatal(err)
	}
	kept, err := late.search(t.Context(), late.keeping(found.Rows, late.share), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return kept.Finish
}
