package answer

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// alike adds a choice of two or three options to a build that differ in nothing.
func alike(b build.Build, options ...id.Option) build.Build {
	rows := slices.Clone(b.Options.Rows)
	for i, o := range options {
		rows = append(rows, build.Option{ID: o, Choice: "colour", Chosen: i == 0})
	}
	b.Options = build.ListOf(rows...)
	return b
}

// Options that differ in nothing compare equal, whatever the search of each came upon: it ends by
// the clock, and finds another order every time.
func TestDesignsThatDifferInNothing(t *testing.T) {
	now := at(t, "2026-03-04T08:00")
	v := New(alike(demo.Build(now), "red", "green"), now)
	for _, search := range []time.Duration{0, 40 * time.Millisecond} {
		got, err := v.Designs(t.Context(), "colour", plan.Options{Time: search})
		if err != nil || len(got.BreakEven) != 1 {
			t.Fatalf("%+v, %v", got, err)
		}
		for _, e := range got.BreakEven {
			if e.MoreMin != 0 || e.SavedPerYear != 0 || e.Years == nil || *e.Years != 0 {
				t.Errorf("after %v they differ: %+v", search, e)
			}
		}
		for _, d := range got.Options[1:] {
			if d.Finish != got.Options[0].Finish {
				t.Errorf("after %v %s ends %v, %s %v", search, d.ID, d.Finish, got.Options[0].ID, got.Options[0].Finish)
			}
		}
	}
}

// Nor do options compare unequal whose tasks differ in their names alone.
func TestDesignsOfTwins(t *testing.T) {
	now := at(t, "2026-03-04T08:00")
	b := alike(demo.Build(now), "red", "green")
	rows := slices.Clone(b.Tasks.Rows)
	for _, o := range []id.Option{"red", "green"} {
		twin := tasks.Task{ID: id.Task("paint-" + o), Hours: units.Sure(3), Option: o}
		twin.SetDefaults()
		rows = append(rows, twin)
	}
	b.Tasks = build.ListOf(rows...)
	got, err := New(b, now).Designs(t.Context(), "colour", plan.Options{Time: 50 * time.Millisecond})
	if err != nil || len(got.BreakEven) != 1 || got.BreakEven[0].MoreMin != 0 {
		t.Errorf("%+v, %v", got.BreakEven, err)
	}
}

// An order that was found for one design is passed on: here by hand, a poor one and a good one.
func TestEven(t *testing.T) {
	v := New(alike(viewOf(t, monday, hose).Build, "red", "green"), at(t, monday))
	p, good, err := v.find(t.Context(), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	poor, err := p.search(t.Context(), []pair{{before: p.job["close"], after: p.job["fill"]}}, plan.Options{})
	if err != nil || poor.Work != good.Work+5 {
		t.Fatalf("the poor order takes %d minutes, the good one %d, %v", poor.Work, good.Work, err)
	}
	red, green := &drawn{p: p}, &drawn{p: p}
	red.take(poor)
	green.take(good)
	if err := even(t.Context(), []*drawn{red, green}, plan.Options{}); err != nil || red.WorkMin != good.Work || red.Finish != good.Finish || green.WorkMin != good.Work {
		t.Errorf("red %d minutes, green %d, want %d, %v", red.WorkMin, green.WorkMin, good.Work, err)
	}
}

// An order that is kept is no worse than it was, and an order of fewer tasks still leads to one of all.
func TestLawKeptOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		seq, ok := firstOrder(t, v)
		if !ok {
			return
		}
		p, err := v.problem()
		if err != nil {
			t.Fatal(err)
		}
		rows := p.rowsOf(seq.Tasks)
		again, err := p.search(t.Context(), p.keeping(rows, p.all), plan.Options{})
		if err != nil && len(rows) > 0 || again.Finish > seq.Finish || again.Finish == seq.Finish && again.Work > seq.WorkMin {
			t.Fatalf("kept, it ends %v with %d minutes, %v; it ended %v with %d", again.Finish, again.Work, err, seq.Finish, seq.WorkMin)
		}
		for i, r := range again.Rows {
			if r.Job != rows[i].Job {
				t.Fatalf("the order is another: %v, was %v", again.Rows, rows)
			}
		}
	})
}
