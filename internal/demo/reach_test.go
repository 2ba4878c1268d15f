package demo

import (
	"context"
	"slices"
	"strings"
	"testing"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
)

// van is the demo as its ways in see it.
type van struct {
	build.Live
	solver *access.Solver
	held   map[id.Task][]id.Task
}

func newVan(b build.Build) van {
	live := b.Live()
	return van{live, access.NewSolver(live.Places, live.Items), deps.HoldsUp(taskIDs(b), live.Edges)}
}

func (v van) task(t id.Task) tasks.Task { return v.Tasks[v.TaskAt[t]] }

// cost gives what getting at a task costs with the items of some tasks fitted, its own aside.
func (v van) cost(t id.Task, fitted func(id.Task) bool) (access.Cost, bool) {
	task := v.task(t)
	var items []id.Item
	for _, other := range v.Tasks {
		if other.ID != t && fitted(other.ID) {
			items = append(items, other.Fits...)
		}
	}
	q := access.Query{Items: slices.Concat(task.Fits, task.Reaches), Visits: int(task.Visits), Fitted: v.solver.Set(items...)}
	if task.Place != "" {
		q.Places = []id.Place{task.Place}
	}
	return v.solver.Cost(q)
}

// hides are the 33 links of the plan's table: what each task buries.
const hides = `
i05: f03 f11 f12 i02 r05
i06: f04 i02 r05
i07: f02 f06 i02 r05
i08: f05
i10: i05 i06 i07
l02: f05
l05: l01 l02
w04: i10 i07 f02 f06
w05: i05 f03 f07 f11 f12
w06: i06 f04
w07: i08
x07: f08
x09: e10`

func TestWhatIsHiddenIsDearerToReach(t *testing.T) {
	v := newVan(asWritten())
	links := 0
	for line := range strings.Lines(strings.TrimSpace(hides)) {
		hider, hidden, _ := strings.Cut(strings.TrimSpace(line), ": ")
		for _, name := range strings.Fields(hidden) {
			links++
			v.checkHides(t, id.Task(hider), id.Task(name))
		}
	}
	if links != 33 {
		t.Errorf("%d links, want 33", links)
	}
}

// checkHides checks that what by fits makes a task dearer to get at, both in a van where
// all that comes before by is done and in an empty one; and that the task comes before by.
func (v van) checkHides(t *testing.T, by, hidden id.Task) {
	t.Helper()
	empty := func(id.Task) bool { return false }
	before := func(task id.Task) bool { return slices.Contains(v.held[task], by) }
	for _, fitted := range []func(id.Task) bool{empty, before} {
		open, ok := v.cost(hidden, fitted)
		closed, still := v.cost(hidden, func(task id.Task) bool { return task == by || fitted(task) })
		if !ok || still && closed <= open {
			t.Errorf("%s costs %v min (%t) before %s, %v (%t) after", hidden, open.Minutes(), ok, by, closed.Minutes(), still)
		}
	}
	if !before(hidden) {
		t.Errorf("%s may come after %s, which hides it", hidden, by)
	}
}

// Whatever order the must edges allow, every task can be got at: even when all that need not
// wait for it has been done before.
func TestNoOrderMakesATaskImpossible(t *testing.T) {
	for _, b := range designs(t) {
		v := newVan(b)
		for _, task := range v.Tasks {
			if _, ok := v.cost(task.ID, func(other id.Task) bool { return !slices.Contains(v.held[task.ID], other) }); !ok {
				t.Errorf("%s cannot be got at once all else is fitted", task.ID)
			}
		}
	}
}

// designs gives the demo with each of its options chosen.
func designs(t *testing.T) []build.Build {
	t.Helper()
	var all []build.Build
	for _, o := range asWritten().Options.Rows {
		b, err := asWritten().Choose(o.ID)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, b)
	}
	return all
}

func TestServiceIsWithinReach(t *testing.T) {
	serviced := 0
	for _, b := range designs(t) {
		v := newVan(b)
		for _, item := range v.Items {
			if len(item.Service) == 0 {
				continue
			}
			serviced++
			p, err := v.solver.Plan(context.Background(), access.Query{Items: []id.Item{item.ID}, Fitted: v.solver.All()})
			if err != nil {
				t.Errorf("%s cannot be serviced: %v", item.ID, err)
			}
			checkInterval(t, item, p)
		}
	}
	if serviced < 60 {
		t.Errorf("%d items with service in both designs", serviced)
	}
}

// checkInterval checks that what is wanted once a month or more takes one lid and no
// long way: the plan's rule for what is deep and what is shallow.
func checkInterval(t *testing.T, item access.Item, p access.Plan) {
	t.Helper()
	often := slices.ContainsFunc(item.Service, func(s access.Service) bool { return s.PerYear >= 12 })
	if often && p.Cost > 8*access.Minute {
		t.Errorf("%s is wanted every month, yet takes %v minutes to get at", item.ID, p.Cost.Minutes())
	}
}

// buried are the items that cannot be got at once all is fitted: bonded in for good, by plan.
const buried = "seam-seal inserts-floor cable-floor battens floor-insulation subfloor fixing-plates"

func TestWhatIsBuriedIsBuriedByPlan(t *testing.T) {
	for _, b := range designs(t) {
		v := newVan(b)
		var got []string
		for _, item := range v.Items {
			if _, ok := v.solver.Cost(access.Query{Items: []id.Item{item.ID}, Fitted: v.solver.All()}); !ok {
				got = append(got, string(item.ID))
			}
		}
		if strings.Join(got, " ") != buried {
			t.Errorf("buried: %v, want %s", got, buried)
		}
	}
}

func TestTheDesignChoiceIsWorthComparing(t *testing.T) {
	var costs []float64
	for _, b := range designs(t) {
		v := newVan(b)
		c, ok := v.solver.Cost(access.Query{Items: []id.Item{"boot-tray"}, Fitted: v.solver.All()})
		if !ok {
			t.Fatal("the boot tray cannot be reached")
		}
		costs = append(costs, c.Minutes())
	}
	if len(costs) != 2 || costs[0] == costs[1] {
		t.Errorf("reaching the boot tray costs %v minutes in the designs, want two that differ", costs)
	}
}

func TestItemsStandInTheirPlaces(t *testing.T) {
	b := asWritten()
	v := newVan(b)
	inside := *b.Head.Vehicle.InsideMm
	for _, p := range v.Places {
		if p.Box != nil && p.ID != "cab" && !within(inside, p.Box[0], p.Box[1], max(p.Box[2], 0)) {
			t.Errorf("place %s begins outside the van", p.ID)
		}
		if p.Box != nil && p.ID != "cab" && !within(inside, p.Box[3], p.Box[4], p.Box[5]) {
			t.Errorf("place %s ends outside the van", p.ID)
		}
	}
	for _, i := range v.Items {
		box := v.Places[v.PlaceAt[i.Place]].Box
		if i.Place == "cabin" {
			box = &inside // fronts and lids that are reached from the aisle
		}
		if i.At == nil || box == nil || !within(*box, i.At[0], i.At[1], i.At[2]) {
			t.Errorf("%s at %v stands outside its place %s, %v", i.ID, i.At, i.Place, box)
		}
	}
}

func within(b access.Box, x, y, z float64) bool {
	return b[0] <= x && x <= b[3] && b[1] <= y && y <= b[4] && b[2] <= z && z <= b[5]
}

// Axle shares by moments about the front axle; the van must hold itself and its water.
func TestTheFinishedVanIsWithinItsPlates(t *testing.T) {
	b := asWritten()
	vehicle := b.Head.Vehicle
	front, rear := vehicle.EmptyKg.Front, vehicle.EmptyKg.Rear
	unplaced := 0
	for _, i := range b.Live().Items {
		share := i.MassKg * i.At[0] / vehicle.WheelbaseMm
		front, rear = front+i.MassKg-share, rear+share
		if i.MassKg == 0 {
			unplaced++
		}
	}
	limits := vehicle.LimitsKg
	if front > limits.Front || rear > limits.Rear || front+rear > limits.Total-225 {
		t.Errorf("front %.0f kg, rear %.0f kg, total %.0f kg: no room for a passenger and 150 kg of kit", front, rear, front+rear)
	}
	if unplaced > 4 {
		t.Errorf("%d items without a mass", unplaced)
	}
}

func TestThereIsEnoughToShow(t *testing.T) {
	b := asWritten()
	blocks, once, hot, should := 0, 0, 0, 0
	for _, i := range b.Items.Rows {
		blocks += len(i.Blocks)
		if i.RunsHot {
			hot++
		}
		if i.Opening != nil && i.Opening.SingleUse {
			once++
		}
	}
	for _, e := range b.Edges.Rows {
		if e.Kind == deps.Should && e.ReworkH > 0 {
			should++
		}
	}
	if b.Items.Len() < 90 || b.Cuts.Len() < 12 || blocks == 0 || once == 0 || hot == 0 || should < 6 {
		t.Errorf("%d items, %d cuts, %d blocks, %d openings that destroy, %d hot, %d should edges",
			b.Items.Len(), b.Cuts.Len(), blocks, once, hot, should)
	}
}
