package demo

import (
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// The figures here are those that the plan of the demo states for its table of tasks,
// worked out there by another program.

func taskIDs(b build.Build) []id.Task {
	var ids []id.Task
	for _, t := range b.Tasks.Rows {
		ids = append(ids, t.ID)
	}
	return ids
}

func TestSizeAndHours(t *testing.T) {
	b := asWritten()
	var low, likely, high, mean float64
	for _, task := range b.Tasks.Rows {
		h := task.Hours
		low, likely, high = low+h.Low, likely+h.Likely, high+h.High
		mean += (h.Low + 4*h.Likely + h.High) / 6
	}
	must, why := 0, 0
	for _, e := range b.Edges.Rows {
		if e.Kind == deps.Must {
			must++
		}
		if e.Why != "" {
			why++
		}
	}
	if b.Tasks.Len() != 160 || must != 312 || why != b.Edges.Len() || b.Parts.Len() != 17 {
		t.Errorf("%d tasks, %d must edges, %d of %d edges with a why, %d parts", b.Tasks.Len(), must, why, b.Edges.Len(), b.Parts.Len())
	}
	if low != 342 || likely != 633.5 || high != 1154 || math.Round(mean*10) != 6717 {
		t.Errorf("hours %v, %v, %v, mean %.2f, want 342, 633.5, 1154 and 671.7", low, likely, high, mean)
	}
}

func TestWaitsAndHands(t *testing.T) {
	waits, hours, cold, second := 0, 0.0, 0, 0
	for _, task := range asWritten().Tasks.Rows {
		warm := task.Uses["warm-10"]+task.Uses["warm-15"] > 0
		if c := task.Cure; c != nil {
			waits, hours = waits+1, hours+c.Hours
			warm = warm || c.While != ""
		}
		if warm {
			cold++
		}
		if task.Uses["helper"]+task.Uses["owner"]+task.Uses["gas-fitter"]+task.Uses["electrician"] > 0 {
			second++
		}
	}
	if waits != 35 || hours != 1693 || cold != 27 || second != 21 {
		t.Errorf("%d waits of %v h, %d with a least temperature, %d with a second person, want 35, 1693, 27, 21", waits, hours, cold, second)
	}
}

func TestWhatHoldsUpMost(t *testing.T) {
	b := asWritten()
	held := deps.HoldsUp(taskIDs(b), b.Edges.Rows)
	if len(held["s02"]) != 156 || len(held["s01"]) != 153 {
		t.Errorf("s02 holds up %d tasks and s01 %d, want 156 and 153", len(held["s02"]), len(held["s01"]))
	}
	var roots, leaves []id.Task
	after := map[id.Task]bool{}
	for _, e := range b.Edges.Rows {
		after[e.After] = true
	}
	for _, task := range taskIDs(b) {
		if !after[task] {
			roots = append(roots, task)
		}
		if len(held[task]) == 0 {
			leaves = append(leaves, task)
		}
	}
	if !slices.Equal(roots, []id.Task{"s01", "s02"}) || !slices.Equal(leaves, []id.Task{"k13", "d08"}) {
		t.Errorf("roots %v, leaves %v", roots, leaves)
	}
}

// Hours that cannot be worked until a part is in: the tasks that need it and all after them.
func TestWhatAPartBlocks(t *testing.T) {
	b := asWritten()
	held := deps.HoldsUp(taskIDs(b), b.Edges.Rows)
	want := []float64{296.5, 275.5, 348.5, 116.5, 112.5, 42.5, 296.5, 283.5, 381.5, 348.5, 321.5, 114.5, 320.5, 273.5, 91.5, 40.5, 332.5}
	count := map[id.Part]int{}
	for i, p := range b.Parts.Rows {
		blocked := map[id.Task]bool{}
		for _, task := range b.Tasks.Rows {
			if slices.Contains(task.Parts, p.ID) {
				blocked[task.ID] = true
				for _, other := range held[task.ID] {
					blocked[other] = true
				}
			}
		}
		hours := 0.0
		for _, task := range b.Tasks.Rows {
			if blocked[task.ID] {
				hours += task.Hours.Likely
			}
		}
		count[p.ID] = len(blocked)
		if hours != want[i] {
			t.Errorf("%s blocks %v h, want %v", p.ID, hours, want[i])
		}
	}
	if count["p01"] != 79 || count["p09"] != 99 {
		t.Errorf("p01 blocks %d tasks and p09 %d, want 79 and 99", count["p01"], count["p09"])
	}
}

// network gives the whole table round the clock: with its waits, or the work alone.
func network(b build.Build, waits bool) deps.Network {
	always := calendar.Compile(nil).Of()
	var n deps.Network
	at := map[id.Task]int{}
	for i, task := range b.Tasks.Rows {
		at[task.ID] = i
		a := deps.Activity{Minutes: units.RoundMinutes(task.Hours.Likely), Hours: always}
		if waits && task.Cure != nil {
			a.Cure.Minutes = units.RoundMinutes(task.Cure.Hours)
		}
		n.Activities = append(n.Activities, a)
	}
	for _, e := range b.Edges.Rows {
		if e.Kind == deps.Must {
			n.Links = append(n.Links, deps.Link{From: at[e.Before], To: at[e.After]})
		}
	}
	return n
}

func TestTheLongestChain(t *testing.T) {
	b := asWritten()
	dates, finish, err := network(b, false).Schedule()
	if err != nil || finish != 199*60 {
		t.Fatalf("longest chain %v h, %v, want 199", float64(finish)/60, err)
	}
	critical := map[id.Task]bool{}
	for i, task := range b.Tasks.Rows {
		critical[task.ID] = dates[i].Critical
	}
	const chain = "s02 s05 s08 s11 s14 r01 r03 r04 r05 i02 i03 f01 f05 f09 f10 f14 l01 l03 l04 l05 l06 l07 t10 w01 w02 " +
		"w04 w05 w08 t11 t12 e08 e09 e10 k01 e11 a06 k06 k08 k09 k10 k12 d01 d02 d06 d07 d08"
	for _, task := range strings.Fields(chain) {
		if !critical[id.Task(task)] {
			t.Errorf("%s lies on the longest chain, yet is not critical", task)
		}
	}
}

func TestTheLongestChainWithWaits(t *testing.T) {
	b := asWritten()
	dates, finish, err := network(b, true).Schedule()
	if err != nil || finish != 1202*60 {
		t.Fatalf("longest chain with waits %v h, %v, want 1202", float64(finish)/60, err)
	}
	last := b.Live().TaskAt["k13"]
	if !dates[last].Critical {
		t.Error("it does not end at k13")
	}
}

// openNetwork gives what is still to do in the demo as it stands, by its calendars. Edges from
// what has finished are left out: their cures end within days.
func openNetwork(b build.Build, now units.Instant) deps.Network {
	live := b.Live()
	cal := calendar.Compile(live.Resources)
	n := deps.Network{Start: now}
	at := map[id.Task]int{}
	for _, task := range live.Tasks {
		if task.State == tasks.Finished {
			continue
		}
		at[task.ID] = len(n.Activities)
		a := deps.Activity{Minutes: task.LeftMinutes(), Hours: cal.Of(slices.Sorted(maps.Keys(task.Uses))...)}
		for _, p := range task.Parts {
			a.Release = max(a.Release, live.Parts[live.PartAt[p]].ThereFrom(now))
		}
		if c := task.Cure; c != nil {
			a.Cure.Minutes = units.RoundMinutes(c.Hours)
			if c.While != "" {
				a.Cure.While = cal.Of(c.While)
			}
		}
		n.Activities = append(n.Activities, a)
	}
	for _, e := range live.Edges {
		from, open := at[e.Before]
		to, also := at[e.After]
		if e.Kind == deps.Must && open && also {
			n.Links = append(n.Links, deps.Link{From: from, To: to})
		}
	}
	return n
}

// The hours of hands and of warmth leave every task a time; and the whole fits in a year.
func TestEveryTaskComesToItsEnd(t *testing.T) {
	now := present.Start() + 8*units.Hour
	n := openNetwork(asWritten(), now)
	_, finish, err := n.Schedule()
	if err != nil {
		t.Fatal(err)
	}
	work := 0
	for _, a := range n.Activities {
		work += a.Minutes
	}
	if weeks := (finish - now) / (7 * units.Day); weeks < 12 || weeks > 40 || work < 24*60*12 {
		t.Errorf("%d weeks and %d h of work to go", weeks, work/60)
	}
}
