package testkit

import (
	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// Workshop gives a small build, invented: a van that becomes a mobile sharpening shop,
// as it stands at Now.
//
// Frame the bench, run the feed cable and mount the pump, glue the floor, then close the
// bench with its panel. The panel buries the pump, whose clamp torque must be proven
// before. The grinder is still to be delivered; its task waits for it. The bench frame
// is done, the cable begun.
func Workshop() build.Build {
	b := build.Build{
		Head: build.Head{Name: "Sharpening van", Units: "metric", Vehicle: &build.Vehicle{
			WheelbaseMm: 3640, EmptyKg: &build.Axles{Front: 1100, Rear: 850},
			LimitsKg: &build.Limits{Total: 3500, Front: 1850, Rear: 2250},
		}},
		Resources: build.ListOf(calendar.DefaultBuilder(), calendar.Resource{ID: "inside", Name: "Inside of the van", Capacity: 1}),
		Places:    build.ListOf(places()...),
		Items:     build.ListOf(items()...),
		Parts: build.ListOf(
			parts.Part{ID: "p-pump", Name: "Coolant pump", Qty: 1, Cost: "84.00", Arrived: when(Now.Date() - 6)},
			parts.Part{ID: "p-grinder", Name: "Wet grinder", Qty: 1, LeadDays: units.Estimate{Low: 5, Likely: 8, High: 20},
				Ordered: when(Now.Date() - 3), Due: when(Now.Date() + 8), Cost: "410.00"},
		),
		Tasks: build.ListOf(work()...),
		Edges: build.ListOf(
			deps.Edge{Before: "frame-bench", After: "mount-pump", Kind: deps.Must, Why: "the pump hangs on the frame"},
			deps.Edge{Before: "mount-pump", After: "fit-panel", Kind: deps.Must, Why: "the panel closes the bench"},
			deps.Edge{Before: "glue-floor", After: "fit-grinder", Kind: deps.Must, Why: "it stands on the floor"},
			deps.Edge{Before: "run-cable", After: "glue-floor", Kind: deps.Should, ReworkH: 1, Why: "the cable runs below"},
		),
		Days: build.ListOf(
			daybook.Entry{At: Now - 3*units.Day, Task: "frame-bench", Minutes: 250, Visits: 3, Finished: true},
			daybook.Entry{At: Now - 2*units.Day, Task: "run-cable", Minutes: 60, Note: "as far as the step"},
		),
	}
	return b
}

func places() []access.Place {
	return []access.Place{
		{ID: "cabin", Name: "Workroom", Posture: "stand", Ways: []access.Way{{EnterMin: 0.5}}},
		{ID: "bench-bay", Name: "Below the bench", Posture: "kneel", ClosedBy: []id.Item{"bench-panel"},
			Ways: []access.Way{{From: "cabin", Through: []id.Item{"bench-panel"}, EnterMin: 1}}},
		{ID: "roof", Name: "Roof", Posture: "crawl", Ways: []access.Way{{EnterMin: 4, Note: "ladder"}}},
	}
}

func items() []access.Item {
	return []access.Item{
		{ID: "bench-frame", Name: "Bench frame", Place: "cabin", MassKg: 24},
		{ID: "bench-panel", Name: "Bench panel", Place: "cabin", MassKg: 6, Opening: &access.Opening{How: "unscrew",
			OpenMin: 4, RefitMin: 6, Persons: 1, Tools: []string{"T25 driver"},
			Fasteners: []access.Fastener{{What: "M5×16 countersunk", Count: 8, Torque: "3 N·m"}}}},
		{ID: "pump", Name: "Coolant pump", Place: "bench-bay", MassKg: 3.5,
			Service: []access.Service{{What: "rinse the strainer", PerYear: 12, Minutes: 10}}},
		{ID: "floor", Name: "Rubber floor", Place: "cabin", MassKg: 31},
		{ID: "grinder", Name: "Wet grinder", Place: "cabin", MassKg: 42},
	}
}

func work() []tasks.Task {
	return []tasks.Task{
		task("frame-bench", "Frame the bench", "frame", units.Estimate{Low: 3, Likely: 4, High: 7}, func(t *tasks.Task) {
			t.Place, t.Fits = "cabin", []id.Item{"bench-frame"}
			end := Now - 3*units.Day + 250
			t.State, t.SpentH, t.FinishedAt = tasks.Finished, 4.1667, &units.When{At: end}
		}),
		task("run-cable", "Run the feed cable", "electric", units.Estimate{Low: 2, Likely: 3, High: 5}, func(t *tasks.Task) {
			t.Place, t.State, t.SpentH = "cabin", tasks.Started, 1
		}),
		task("mount-pump", "Mount the coolant pump", "water", units.Estimate{Low: 1, Likely: 2, High: 4}, func(t *tasks.Task) {
			t.Place, t.Fits, t.Parts, t.Visits = "bench-bay", []id.Item{"pump"}, []id.Part{"p-pump"}, 4
			t.Checks = []tasks.Check{
				{ID: "clamp-torque", Kind: "torque", What: "Pump clamps torqued", Want: "4 N·m ±10 %", BeforeCover: true},
				{ID: "dry", Kind: "test", What: "No drop after an hour"},
			}
		}),
		task("fit-panel", "Fit the bench panel", "frame", units.Sure(1), func(t *tasks.Task) {
			t.Place, t.Fits = "cabin", []id.Item{"bench-panel"}
		}),
		task("glue-floor", "Glue the floor", "floor", units.Estimate{Low: 2, Likely: 3, High: 4}, func(t *tasks.Task) {
			t.Place, t.Fits, t.Cure = "cabin", []id.Item{"floor"}, &tasks.Cure{Hours: 24, Holds: []id.Resource{"inside"}}
			t.Uses = tasks.Uses{"builder": 1, "inside": 1}
			left := 2.5
			t.LeftH = &left
		}),
		task("fit-grinder", "Fit the grinder", "machines", units.Estimate{Low: 1, Likely: 2, High: 3}, func(t *tasks.Task) {
			t.Place, t.Fits, t.Parts = "cabin", []id.Item{"grinder"}, []id.Part{"p-grinder"}
		}),
	}
}

func task(name id.Task, title, trade string, hours units.Estimate, more func(*tasks.Task)) tasks.Task {
	t := tasks.Task{ID: name, Name: title, Trade: trade, Hours: hours}
	more(&t)
	t.SetDefaults()
	return t
}

func when(d units.Date) *units.When { return &units.When{At: d.Start(), DateOnly: true} }
