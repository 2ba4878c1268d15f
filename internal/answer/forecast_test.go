package answer

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

func forecastOf(t *testing.T, lists string, o ForecastOptions) Forecast {
	t.Helper()
	v := viewOf(t, monday, lists)
	f, err := v.Forecast(t.Context(), search(t, v), o)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Where nothing is a matter of luck, every life is the plan.
func TestForecastOfWhatIsSure(t *testing.T) {
	f := forecastOf(t, `"tasks": [{"id": "a", "hours": 3, "cure": {"hours": 2}}, {"id": "b", "hours": 1}], "edges": [{"before": "a", "after": "b"}]`,
		ForecastOptions{Samples: 50, By: &units.When{At: at(t, "2026-03-02T13:59")}})
	end := at(t, "2026-03-02T14:00") // a to 11:00, its cure to 13:00
	if f.Samples != 50 || f.Mean != end || f.P50 != end || f.P80 != end || f.P95 != end || f.PlanFinish != end || f.PlanChance != 1 {
		t.Errorf("%+v, want the end of the plan in every life", f)
	}
	if *f.ByChance != 0 || len(f.Bins) != 1 || f.Bins[0].Count != 50 || len(f.Movers) != 0 {
		t.Errorf("chance %v, bins %+v, movers %+v; want none in time, one bin, nothing that moves", *f.ByChance, f.Bins, f.Movers)
	}
	for _, task := range f.Tasks {
		if task.Criticality != 1 {
			t.Errorf("%+v, want it on the chain in every life", task)
		}
	}
}

// One task from 08:00 on with hours that rise evenly would be done by the middle in half of
// the lives; a PERT-beta of [1, 2, 3] is symmetrical, so its median is 2 (any text on PERT).
func TestForecastOfOneTask(t *testing.T) {
	f := forecastOf(t, `"resources": [{"id": "builder"}], "tasks": [{"id": "a", "hours": [1, 2, 3], "trade": "water"}]`,
		ForecastOptions{Samples: 4000, Seed: 1, By: &units.When{At: at(t, "2026-03-02"), DateOnly: true}})
	if d := f.P50 - at(t, "2026-03-02T10:00"); d < -2 || d > 2 {
		t.Errorf("P50 is %v, want 10:00 to two minutes", f.P50)
	}
	if f.P80 <= f.P50 || f.P95 <= f.P80 || f.P95 > at(t, "2026-03-02T11:00") || *f.ByChance != 1 {
		t.Errorf("P80 %v, P95 %v, chance %v", f.P80, f.P95, *f.ByChance)
	}
	if math.Abs(f.PlanChance-0.5) > 0.03 { // three standard deviations of 4,000 tosses are 0.024
		t.Errorf("the plan is kept in %v of the lives, want about half", f.PlanChance)
	}
	if len(f.Movers) == 0 || f.Movers[0].Kind != "task" && f.Movers[0].Kind != "trade" || f.Movers[0].GainMin < 1 {
		t.Errorf("movers %+v, want the task and its trade", f.Movers)
	}
}

func TestForecastKnowsPartsByTheirLuck(t *testing.T) {
	f := forecastOf(t, `"parts": [{"id": "p", "name": "Window", "lead_days": [1, 2, 30]}, {"id": "q", "arrived": "2026-02-20", "lead_days": [1, 9, 90]}],
		"tasks": [{"id": "a", "hours": 1, "parts": ["p", "q"]}]`, ForecastOptions{Samples: 500, Seed: 2})
	if len(f.Parts) != 1 || f.Parts[0].ID != "p" || f.Parts[0].Criticality != 1 {
		t.Errorf("parts %+v, want p, on which the end waits in every life", f.Parts)
	}
	if len(f.Movers) != 1 || f.Movers[0].Kind != "part" || f.Movers[0].Ref != "p" || f.Movers[0].Text != "Window" {
		t.Errorf("movers %+v, want the window", f.Movers)
	}
	if f.P95 <= f.PlanFinish {
		t.Errorf("P95 %v, the plan ends %v: a lead time of up to 30 days is not felt", f.P95, f.PlanFinish)
	}
}

func TestForecastTakesADueDateWithoutALeadTimeAtItsWord(t *testing.T) {
	f := forecastOf(t, `"parts": [{"id": "p", "due": "2026-03-04"}], "tasks": [{"id": "a", "hours": 1, "parts": ["p"]}]`, ForecastOptions{Samples: 200})
	if end := at(t, "2026-03-05T09:00"); f.Bins[0].Count != 200 || f.P50 != end || f.P95 != end {
		t.Errorf("%+v, want %v in every life", f, end)
	}
}

// A builder who goes on with other work while a part is waited for is done no later.
func TestForecastGoesOn(t *testing.T) {
	lists := `"parts": [{"id": "p", "lead_days": [0, 1, 30]}], "tasks": [{"id": "a", "hours": 8}, {"id": "b", "hours": 8, "parts": ["p"], "not_after": "2026-03-05"},
		{"id": "c", "hours": 24}], "edges": [{"before": "a", "after": "b"}]`
	stays, goes := forecastOf(t, lists, ForecastOptions{Samples: 500, InOrder: true}), forecastOf(t, lists, ForecastOptions{Samples: 500})
	if goes.P80 > stays.P80 || !goes.GoOn {
		t.Errorf("P80 %v for one who goes on, %v for one who waits", goes.P80, stays.P80)
	}
}

const learnt = `"tasks": [{"id": "a", "hours": 4, "trade": "water", "state": "finished", "spent_h": 6}, {"id": "b", "hours": 2, "trade": "water", "state": "finished", "spent_h": 3},
	{"id": "c", "hours": 2, "trade": "wood", "state": "finished"}, {"id": "d", "hours": 2, "trade": "water", "state": "started", "spent_h": 20},
	{"id": "e", "hours": 40, "trade": "water"}, {"id": "f", "hours": 3, "state": "finished", "spent_h": 9}]`

// Two tasks of a trade, both of which took half as long again: the mean is 1.5, and what is
// reckoned with lies between that and nothing learned.
func TestLearned(t *testing.T) {
	v := viewOf(t, monday, learnt)
	l := v.Learned()
	if len(l) != 1 || l[0].Trade != "water" || l[0].Count != 2 || math.Abs(l[0].Raw-1.5) > 1e-9 {
		t.Fatalf("learned %+v, want that water took 1.5 times as long, from two tasks", l)
	}
	if w := l[0]; w.Ratio <= 1 || w.Ratio >= 1.5 || w.Low >= w.Ratio || w.High <= w.Ratio || w.Spread <= 0 {
		t.Errorf("%+v, want a ratio from 1 to 1.5 within its range", w)
	}
	without, with := forecastOf(t, learnt, ForecastOptions{Samples: 500}), forecastOf(t, learnt, ForecastOptions{Samples: 500, Learn: true})
	if with.P50 <= without.P50 || !with.Applied || without.Applied || !slices.Equal(with.Learned, without.Learned) {
		t.Errorf("applied, P50 is %v, else %v; want it later, and the same things learned", with.P50, without.P50)
	}
}

// What remains, by the rule of the build file for likely hours, applied to low and high.
func TestLeftRange(t *testing.T) {
	left := func(h float64) *float64 { return &h }
	hours := units.Estimate{Low: 2, Likely: 4, High: 8}
	for name, tt := range map[string]struct {
		task tasks.Task
		want units.Estimate
	}{
		"to do":              {tasks.Task{Hours: hours}, units.Estimate{Low: 120, Likely: 240, High: 480}},
		"to do, hours spent": {tasks.Task{Hours: hours, SpentH: 1}, units.Estimate{Low: 120, Likely: 240, High: 480}},
		"started":            {tasks.Task{Hours: hours, State: tasks.Started, SpentH: 3}, units.Estimate{Low: 0, Likely: 60, High: 300}},
		"overrun":            {tasks.Task{Hours: hours, State: tasks.Started, SpentH: 5}, units.Estimate{Low: 0, Likely: 0, High: 180}},
		"long overrun":       {tasks.Task{Hours: hours, State: tasks.Started, SpentH: 9}, units.Sure(0)},
		"hours left":         {tasks.Task{Hours: hours, State: tasks.Started, SpentH: 9, LeftH: left(1)}, units.Estimate{Low: 30, Likely: 60, High: 120}},
		"left of nothing":    {tasks.Task{LeftH: left(1)}, units.Sure(60)},
		"a third of an hour": {tasks.Task{Hours: units.Sure(1. / 3)}, units.Sure(20)},
		"half a minute":      {tasks.Task{Hours: units.Sure(0.5 / 60)}, units.Estimate{Low: 0.5, Likely: 1, High: 1}},
	} {
		got := leftRange(tt.task)
		if math.Abs(got.Low-tt.want.Low)+math.Abs(got.Likely-tt.want.Likely)+math.Abs(got.High-tt.want.High) > 1e-9 || !got.Valid() {
			t.Errorf("%s: %v, want %v", name, got, tt.want)
		}
	}
}

func TestForecastOfNothing(t *testing.T) {
	f := forecastOf(t, `"tasks": [{"id": "a", "hours": 1, "state": "finished"}]`, ForecastOptions{Samples: 10})
	if f.P95 != at(t, monday) || f.Tasks == nil || f.Movers == nil || f.Learned == nil || f.Parts == nil {
		t.Errorf("a build that is done: %+v", f)
	}
}

// A task whose last hours there are suffice for its likely work and no more.
func TestForecastThatNeverEnds(t *testing.T) {
	v := viewOf(t, monday, `"resources": [{"id": "builder", "hours": {}, "on": [{"date": "2026-03-02", "hours": ["08:00-11:00"]}]}], "tasks": [{"id": "a", "hours": [1, 2, 9]}]`)
	_, err := v.Forecast(t.Context(), search(t, v), ForecastOptions{Samples: 1000})
	var none *plan.NoSequenceError
	if !errors.As(err, &none) || none.ID != "a" {
		t.Errorf("%v, want that a is never finished in some lives", err)
	}
}

// With every estimate sure and parts that come when they are due, no life ends after the plan,
// and no task later than its row. Cures hold nothing here: with those, a task that moves to the
// left may hold up another.
func TestLawSureLivesAreThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawCrowd(t)
		rows := slices.Clone(v.Build.Tasks.Rows)
		for i := range rows {
			rows[i].Hours = units.Sure(rows[i].Hours.Likely)
			if cure := rows[i].Cure; cure != nil {
				rows[i].Cure = &tasks.Cure{Hours: cure.Hours}
			}
		}
		b := v.Build
		b.Tasks.Rows = rows
		v = New(b, v.Now)
		seq, ok := someOrder(t, v)
		if !ok {
			return
		}
		f, err := v.Forecast(t.Context(), seq, ForecastOptions{Samples: 3})
		if err != nil || f.PlanChance != 1 || f.P95 > seq.Finish {
			t.Fatalf("P95 %v, the plan ends %v (%v)", f.P95, seq.Finish, err)
		}
		planned := rowsByTask(&seq)
		for _, task := range f.Tasks {
			if row, ok := planned[task.ID]; !ok || task.P50Finish > row.Finish {
				t.Fatalf("%+v, planned %+v", task, row)
			}
		}
	})
}
