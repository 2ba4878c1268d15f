package plan

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"testing"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// world is a small build in the form of the build file, made at random.
type world struct {
	Resources []calendar.Resource `json:"resources"`
	Places    []access.Place      `json:"places,omitempty"`
	Items     []access.Item       `json:"items,omitempty"`
	Tasks     []tasks.Task        `json:"tasks"`
	Edges     []worldEdge         `json:"edges,omitempty"`
}

type worldEdge struct {
	Before  id.Task  `json:"before"`
	After   id.Task  `json:"after"`
	Kind    string   `json:"kind"`
	LagH    *float64 `json:"lag_h,omitempty"`
	ReworkH float64  `json:"rework_h,omitempty"`
}

// worldNow is a Monday.
const worldNow = "2026-03-02T08:00"

// kind says what a random world has in it.
type kind struct {
	jobs      int
	grain     int // minutes: all times are multiples of it
	calendars bool
	access    bool
	cures     bool
	deadlines bool
}

func pick[T any](r *rand.Rand, from ...T) T { return from[r.IntN(len(from))] }

func newWorld(r *rand.Rand, k kind) world {
	w := world{Resources: []calendar.Resource{
		{ID: "builder", Capacity: pick(r, calendar.Capacity(1), 1, 1, 2)},
		{ID: "helper", Capacity: 1}, {ID: "inside", Capacity: pick(r, calendar.Capacity(1), 1, 3)}, {ID: "warm", Capacity: 1},
	}}
	if k.calendars {
		w.addHours(r, k)
	}
	if k.access {
		w.addVan(r)
	}
	for i := range k.jobs {
		w.Tasks = append(w.Tasks, w.newTask(r, k, i))
	}
	for i := range k.jobs {
		for j := i + 1; j < k.jobs; j++ {
			if r.IntN(2+k.jobs) < 2 {
				w.Edges = append(w.Edges, w.newEdge(r, k, i, j))
			}
		}
	}
	return w
}

func (w *world) addHours(r *rand.Rand, k kind) {
	builder := calendar.DefaultBuilder()
	w.Resources[0].Hours = builder.Hours
	w.Resources[1].Hours = &calendar.Week{0: {span(600, 780)}, 1: {span(480, 720), span(840, 1080)}, 3: {span(0, 1440)}}
	w.Resources[3].Hours = &calendar.Week{}
	for d := range 7 {
		if r.IntN(4) > 0 {
			w.Resources[3].Hours[d] = []calendar.Span{span(pick(r, 420, 480, 540), pick(r, 720, 1080))}
		}
	}
	monday := units.Date(instantOf(worldNow).Date())
	w.Resources[0].Off = []calendar.Off{{From: monday + 1, To: monday + units.Date(r.IntN(2))}}
	w.Resources[0].On = []calendar.On{{Date: monday + units.Date(r.IntN(7)), Hours: []calendar.Span{span(600, 840)}}}
}

func span(from, to int) calendar.Span { return calendar.Span{From: from, To: to} }

func instantOf(s string) units.Instant {
	at, err := units.ParseInstant(s)
	if err != nil {
		panic(err)
	}
	return at
}

func (w *world) addVan(r *rand.Rand) {
	for i := range 5 {
		item := access.Item{ID: id.Item(fmt.Sprintf("i%d", i)), Fitted: r.IntN(5) == 0}
		if r.IntN(2) == 0 {
			item.Place = id.Place(fmt.Sprintf("p%d", r.IntN(2)))
		}
		if r.IntN(4) > 0 {
			item.Opening = &access.Opening{OpenMin: float64(r.IntN(40)) / 4, RefitMin: float64(r.IntN(20)), Persons: 1}
		}
		for j := range i {
			if r.IntN(3) == 0 {
				item.Covers = append(item.Covers, id.Item(fmt.Sprintf("i%d", j)))
			}
		}
		w.Items = append(w.Items, item)
	}
	w.Places = []access.Place{
		{ID: "p0", Ways: []access.Way{{Through: []id.Item{"i0"}, EnterMin: 3.5}, {From: "p1", EnterMin: 1}}},
		{ID: "p1", ClosedBy: []id.Item{"i1", "i2"}, Ways: []access.Way{{Through: []id.Item{"i3"}, EnterMin: 2}}},
	}
}

func (w *world) newTask(r *rand.Rand, k kind, i int) tasks.Task {
	t := tasks.Task{ID: id.Task(fmt.Sprintf("t%d", i)), Visits: tasks.Visits(1 + r.IntN(3)), State: tasks.Todo}
	n := r.IntN(6) * k.grain
	if r.IntN(5) == 0 {
		n = 0
	}
	t.Hours = units.Estimate{Low: float64(n) / 60, Likely: float64(n) / 60, High: float64(n) / 60}
	t.Uses = pick(r, tasks.Uses{"builder": 1}, tasks.Uses{"builder": 1}, tasks.Uses{"builder": 1, "inside": 1},
		tasks.Uses{"builder": 1, "helper": 1}, tasks.Uses{"helper": 1, "inside": 1}, tasks.Uses{"builder": 1, "warm": 1}, tasks.Uses{})
	if r.IntN(3) == 0 {
		before := units.When{At: instantOf(worldNow) + units.Instant(r.IntN(20)*k.grain)}
		t.NotBefore = &before
	}
	if k.deadlines && r.IntN(3) == 0 {
		after := units.When{At: instantOf(worldNow) + units.Instant(k.jobs*k.grain*(1+r.IntN(6)))}
		t.NotAfter = &after
	}
	if k.cures && r.IntN(3) == 0 {
		t.Cure = &tasks.Cure{Hours: float64(r.IntN(10)*k.grain) / 60}
		if r.IntN(2) == 0 {
			t.Cure.While = "warm"
		}
		if r.IntN(2) == 0 {
			t.Cure.Holds = []id.Resource{pick(r, id.Resource("inside"), "helper", "builder")}
		}
	}
	if k.access {
		if r.IntN(2) == 0 {
			t.Fits = []id.Item{id.Item(fmt.Sprintf("i%d", i%5))}
		}
		if r.IntN(2) == 0 {
			t.Reaches = []id.Item{id.Item(fmt.Sprintf("i%d", r.IntN(5)))}
		}
		t.Place = pick(r, id.Place(""), "p0", "p1")
	}
	if r.IntN(8) == 0 {
		t.State = tasks.Started
	}
	return t
}

func (w *world) newEdge(r *rand.Rand, k kind, i, j int) worldEdge {
	e := worldEdge{Before: w.Tasks[i].ID, After: w.Tasks[j].ID, Kind: "must"}
	if r.IntN(2) == 0 {
		e.Kind, e.ReworkH = "should", float64(r.IntN(3)*k.grain)/60
		if r.IntN(2) == 0 {
			e.Before, e.After = e.After, e.Before
		}
	} else if r.IntN(3) == 0 {
		lag := float64(r.IntN(8)*k.grain) / 60
		e.LagH = &lag
	}
	return e
}

func (w *world) json(t testing.TB) json.RawMessage {
	t.Helper()
	b, err := json.Marshal(w)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// problem gives the world as package plan sees it.
func (w *world) problem() Problem {
	cal := calendar.Compile(w.Resources)
	solver := access.NewSolver(w.Places, w.Items)
	p := Problem{Now: instantOf(worldNow)}
	place := map[id.Resource]int{}
	for i, r := range w.Resources {
		place[r.ID] = i
		p.Resources = append(p.Resources, Resource{ID: r.ID, Capacity: int(r.Capacity), Hours: cal.Of(r.ID)})
	}
	item, job := map[id.Item]int{}, map[id.Task]int{}
	fitted := solver.Set()
	for i, x := range w.Items {
		item[x.ID] = i
		if x.Fitted {
			fitted = union(fitted, solver.Set(x.ID))
		}
	}
	p.Fitted = Set(fitted)
	for i, t := range w.Tasks {
		job[t.ID] = i
		p.Jobs = append(p.Jobs, newJob(t, cal, p.Now, place, item))
	}
	p.Owed = make([]int, len(p.Jobs))
	for _, e := range w.Edges {
		p.addEdge(e, job)
	}
	if len(w.Items) > 0 {
		p.Reach = w.reach(solver)
	}
	return p
}

func union(a, b access.Set) access.Set {
	for i := range a {
		a[i] |= b[i]
	}
	return a
}

func newJob(t tasks.Task, cal *calendar.Calendars, now units.Instant, place map[id.Resource]int, item map[id.Item]int) Job {
	j := Job{ID: t.ID, Minutes: t.LeftMinutes(), Release: now, Started: t.State == tasks.Started}
	var used []id.Resource
	for _, name := range []id.Resource{"builder", "helper", "inside", "warm"} {
		if n := t.Uses[name]; n > 0 {
			used = append(used, name)
			j.Uses = append(j.Uses, Use{Resource: place[name], Units: n})
		}
	}
	j.Hours = cal.Of(used...)
	if t.NotBefore != nil {
		j.Release = t.NotBefore.At
	}
	if t.NotAfter != nil {
		until := t.NotAfter.Until()
		j.Deadline = &until
	}
	if t.Cure != nil {
		j.Cure.Minutes = units.RoundMinutes(t.Cure.Hours)
		if t.Cure.While != "" {
			j.Cure.While = cal.Of(t.Cure.While)
		}
		for _, r := range t.Cure.Holds {
			j.Holds = append(j.Holds, place[r])
		}
	}
	for _, x := range t.Fits {
		j.Fits = append(j.Fits, item[x])
	}
	return j
}

func (p *Problem) addEdge(e worldEdge, job map[id.Task]int) {
	edge := Edge{Before: job[e.Before], After: job[e.After], Should: e.Kind == "should", Rework: units.RoundMinutes(e.ReworkH)}
	if e.LagH != nil {
		lag := units.RoundMinutes(*e.LagH)
		edge.Lag = &lag
	}
	switch {
	case edge.Should && p.Jobs[edge.Before].Started:
	case edge.Should && p.Jobs[edge.After].Started:
		p.Owed[edge.Before] += edge.Rework
	default:
		p.Edges = append(p.Edges, edge)
	}
}

func (w *world) reach(solver *access.Solver) func(int, Set) (int, bool) {
	return func(j int, fitted Set) (int, bool) {
		t := w.Tasks[j]
		q := access.Query{Items: append(append([]id.Item{}, t.Fits...), t.Reaches...), Visits: int(t.Visits)}
		if t.Place != "" {
			q.Places = []id.Place{t.Place}
		}
		q.Fitted = make(access.Set, len(fitted))
		own := solver.Set(t.Fits...)
		for i := range fitted {
			q.Fitted[i] = fitted[i] &^ own[i]
		}
		if len(q.Items)+len(q.Places) == 0 {
			return 0, true
		}
		cost, ok := solver.Cost(q)
		return cost.Ceil(), ok
	}
}
