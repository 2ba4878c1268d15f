package answer

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// Small random builds, for laws: places behind places, items that cover items and stand in
// ways, tasks that fit and reach them, proofs that are in or not.

const most = 6 // of each kind of record

func drawView(t *rapid.T) *View {
	start, err := units.ParseInstant(monday)
	if err != nil {
		t.Fatal(err)
	}
	b := build.Build{Head: build.Head{Name: "random", Units: "metric"}}
	places := rapid.IntRange(1, most).Draw(t, "places")
	items := rapid.IntRange(1, most).Draw(t, "items")
	b.Places = build.ListOf(drawEach(t, places, items, drawPlace)...)
	b.Items = build.ListOf(drawEach(t, items, places, drawItem)...)
	d := &taskDrawer{places: places, items: items, start: start}
	b.Tasks = build.ListOf(drawEach(t, rapid.IntRange(1, most).Draw(t, "tasks"), 0, d.draw)...)
	b.Days = build.ListOf(d.days...)
	b.Edges = build.ListOf(drawEdges(t, len(b.Tasks.Rows))...)
	if faults := b.Check(); len(faults) > 0 {
		t.Fatalf("the random build is at fault: %v", faults)
	}
	return New(b, start)
}

func drawEach[T any](t *rapid.T, n, others int, one func(*rapid.T, int, int) T) []T {
	var out []T
	for i := range n {
		out = append(out, one(t, i, others))
	}
	return out
}

// name gives the id of a thing, or none.
func name[S ~string](t *rapid.T, kind string, below int) S {
	if n := rapid.IntRange(-1, below-1).Draw(t, kind); n >= 0 {
		return S(fmt.Sprint(kind, n))
	}
	return ""
}

func names[S ~string](t *rapid.T, kind string, below int) []S {
	var out []S
	for n := range below {
		if rapid.IntRange(0, 3).Draw(t, kind) == 0 {
			out = append(out, S(fmt.Sprint(kind, n)))
		}
	}
	return out
}

// minutes are halves, so that sums of them are exact.
func minutes(t *rapid.T) float64 { return float64(rapid.IntRange(0, 8).Draw(t, "halves")) / 2 }

func drawPlace(t *rapid.T, n, items int) access.Place {
	p := access.Place{ID: id.Place(fmt.Sprint("place", n)), ClosedBy: names[id.Item](t, "item", items)}
	for range rapid.IntRange(0, 2).Draw(t, "ways") {
		p.Ways = append(p.Ways, access.Way{From: name[id.Place](t, "place", n), Through: names[id.Item](t, "item", items), EnterMin: minutes(t)})
	}
	return p
}

func drawItem(t *rapid.T, n, places int) access.Item {
	x := access.Item{ID: id.Item(fmt.Sprint("item", n)), Place: name[id.Place](t, "place", places),
		Covers: names[id.Item](t, "item", n), Fitted: rapid.Bool().Draw(t, "fitted")}
	if rapid.IntRange(0, 4).Draw(t, "opens") > 0 {
		x.Opening = &access.Opening{OpenMin: minutes(t), RefitMin: minutes(t), Persons: 1}
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "services") {
		x.Service = append(x.Service, access.Service{What: fmt.Sprint("service ", i), PerYear: float64(i + 1), Minutes: minutes(t)})
	}
	return x
}

// drawEdges draws edges that lead from a task to a later one, so that there is no loop.
func drawEdges(t *rapid.T, n int) []deps.Edge {
	var out []deps.Edge
	for after := range n {
		before := rapid.IntRange(-2, after-1).Draw(t, "edge from")
		if before < 0 {
			continue
		}
		e := deps.Edge{Before: id.Task(fmt.Sprint("task", before)), After: id.Task(fmt.Sprint("task", after)), Kind: deps.Must}
		switch rapid.IntRange(0, 2).Draw(t, "edge kind") {
		case 0:
			e.Kind, e.ReworkH = deps.Should, 0.5
		case 1:
			lag := minutes(t)
			e.LagH = &lag
		}
		out = append(out, e)
	}
	return out
}

// taskDrawer draws tasks, and what the daybook says of them.
type taskDrawer struct {
	places, items int
	start         units.Instant
	days          []daybook.Entry
}

func (d *taskDrawer) draw(t *rapid.T, n, _ int) tasks.Task {
	task := tasks.Task{ID: id.Task(fmt.Sprint("task", n)), Place: name[id.Place](t, "place", d.places),
		Fits: names[id.Item](t, "item", d.items), Reaches: names[id.Item](t, "item", d.items),
		Visits: tasks.Visits(rapid.IntRange(1, 3).Draw(t, "visits")),
		State:  rapid.SampledFrom([]tasks.State{tasks.Todo, tasks.Started, tasks.Finished}).Draw(t, "state")}
	task.Hours.Low, task.Hours.Likely, task.Hours.High = 1, 1, 1
	task.SetDefaults()
	if rapid.IntRange(0, 2).Draw(t, "waits") == 0 {
		task.NotBefore = &units.When{At: d.start + units.Instant(60*rapid.IntRange(1, 5).Draw(t, "hours"))}
	}
	if rapid.IntRange(0, 3).Draw(t, "owes") > 0 {
		task.Checks = []tasks.Check{{ID: "leak", Kind: "test", BeforeCover: rapid.IntRange(0, 3).Draw(t, "before cover") > 0}}
	}
	if task.State == tasks.Finished {
		d.finish(t, &task)
	}
	return task
}

// finish enters that the task was finished at some hour before the start.
func (d *taskDrawer) finish(t *rapid.T, task *tasks.Task) {
	e := daybook.Entry{At: d.start - units.Instant(60*rapid.IntRange(1, 5).Draw(t, "hours ago")), Task: task.ID, Finished: true}
	if len(task.Checks) > 0 && rapid.Bool().Draw(t, "proven") {
		e.Readings = []daybook.Reading{{Check: "leak", Value: "dry"}}
	}
	task.FinishedAt = &units.When{At: e.End()}
	d.days = append(d.days, e)
}

// The laws that are checked on random builds would hold of builds in which nothing is dearer,
// barred, saved or unproven as well.
func TestRandomBuildsHaveSomethingToSay(t *testing.T) {
	seen := map[string]int{}
	count := func(what string, is bool) {
		if is {
			seen[what]++
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		for _, d := range v.DerivedEdges(FittedNow) {
			count("for good", d.AfterMin == nil)
			count("service", d.Service != "")
			count("dearer", d.ExtraMin != nil)
		}
		count("unproven", len(v.BuriesUnproven()) > 0)
		w, err := v.WhileOpen(t.Context(), []string{string(v.Live.Places[0].ID)}, FittedNow, 99)
		count("saved", err == nil && len(w) > 0)
	})
	for _, what := range []string{"for good", "service", "dearer", "unproven", "saved"} {
		if seen[what] == 0 {
			t.Errorf("no random build has anything that is %s", what)
		}
	}
}
