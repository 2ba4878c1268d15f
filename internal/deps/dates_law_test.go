package deps_test

import (
	"testing"

	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// monday is 2026-03-02T00:00.
var monday = func() units.Instant {
	at, err := units.ParseInstant("2026-03-02")
	if err != nil {
		panic(err)
	}
	return at
}()

// longest gives the longest path from the source to each node, and whether gonum found
// it: the shortest where every weight is turned round.
func longest(n int, source int64, links [][3]int) map[int64]int {
	g := simple.NewWeightedDirectedGraph(0, 0)
	for v := range n {
		g.AddNode(simple.Node(v))
	}
	for _, l := range links {
		weight := -float64(l[2])
		if e := g.WeightedEdge(int64(l[0]), int64(l[1])); e != nil {
			weight = min(weight, e.Weight())
		}
		g.SetWeightedEdge(g.NewWeightedEdge(simple.Node(l[0]), simple.Node(l[1]), weight))
	}
	shortest, ok := path.BellmanFordFrom(simple.Node(source), g)
	if !ok {
		panic("a loop in a network without loops")
	}
	dist := map[int64]int{}
	for v := range n {
		dist[int64(v)] = int(-shortest.WeightTo(int64(v)))
	}
	return dist
}

func TestDatesAreLongestPaths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t, []*calendar.Hours{roundTheClock})
		dates, finish, err := n.Schedule()
		if err != nil {
			t.Fatal(err)
		}
		source, end := len(n.Activities), len(n.Activities)+1
		var ahead, back [][3]int
		for i, a := range n.Activities {
			cure := a.Cure.Minutes
			ahead = append(ahead, [3]int{source, i, int(max(a.Release-n.Start, 0))}, [3]int{i, end, a.Minutes + cure})
			back = append(back, [3]int{end, i, a.Minutes + cure})
		}
		for _, l := range n.Links {
			after := n.Activities[l.From].Minutes + n.Activities[l.From].Cure.Minutes
			if l.Lag != nil {
				after = n.Activities[l.From].Minutes + *l.Lag
			}
			ahead = append(ahead, [3]int{l.From, l.To, after})
			back = append(back, [3]int{l.To, l.From, after})
		}
		early := longest(end+1, int64(source), ahead)
		late := longest(end+1, int64(end), back)
		if got := int(finish - n.Start); got != early[int64(end)] {
			t.Fatalf("finish %d, the longest path is %d", got, early[int64(end)])
		}
		for i, d := range dates {
			if got := int(d.EarlyStart - n.Start); got != early[int64(i)] {
				t.Fatalf("%d: early start %d, longest path to it %d", i, got, early[int64(i)])
			}
			if got := int(finish - d.LateStart); got != late[int64(i)] {
				t.Fatalf("%d: late start %d before the end, longest path from it %d", i, got, late[int64(i)])
			}
		}
	})
}

// shifts are hours as a small workshop has them.
var shifts = func() []*calendar.Hours {
	span := func(from, to int) []calendar.Span { return []calendar.Span{{From: from * 60, To: to * 60}} }
	day := []calendar.Span{{From: 480, To: 720}, {From: 780, To: 1020}}
	warm := calendar.Week{span(11, 17), span(10, 15), span(11, 17), span(11, 12), span(11, 17), span(9, 20), nil}
	cal := calendar.Compile([]calendar.Resource{
		{ID: "builder", Hours: &calendar.Week{day, nil, day, nil, day, span(9, 13)}},
		{ID: "helper", Hours: &calendar.Week{5: span(9, 12)}},
		{ID: "warm", Hours: &warm, Off: []calendar.Off{{From: monday.Date() + 2, To: monday.Date() + 4}}},
	})
	var hours []*calendar.Hours
	for _, names := range [][]id.Resource{{}, {"builder"}, {"builder", "helper"}, {"builder", "warm"}} {
		hours = append(hours, cal.Of(names...))
	}
	return hours
}()

// drawNetwork draws a network that works in some of hours.
func drawNetwork(t *rapid.T, hours []*calendar.Hours) deps.Network {
	n := deps.Network{Start: monday + units.Instant(rapid.IntRange(0, 10000).Draw(t, "start"))}
	count := rapid.IntRange(1, 7).Draw(t, "activities")
	for range count {
		a := deps.Activity{
			Minutes: rapid.IntRange(0, 700).Draw(t, "minutes"),
			Hours:   rapid.SampledFrom(hours).Draw(t, "hours"),
			Release: monday + units.Instant(rapid.IntRange(0, 20000).Draw(t, "release")),
		}
		if rapid.Bool().Draw(t, "cures") {
			a.Cure = calendar.Cure{Minutes: rapid.IntRange(0, 2000).Draw(t, "cure")}
			if while := rapid.SampledFrom(hours).Draw(t, "while"); !while.RoundTheClock() {
				a.Cure.While = while
			}
		}
		n.Activities = append(n.Activities, a)
	}
	for range rapid.IntRange(0, 2*count).Draw(t, "links") {
		l := deps.Link{From: rapid.IntRange(0, count-1).Draw(t, "from"), To: rapid.IntRange(0, count-1).Draw(t, "to")}
		if rapid.Bool().Draw(t, "lagged") {
			lag := rapid.IntRange(0, 3000).Draw(t, "lag")
			l.Lag = &lag
		}
		if l.From < l.To {
			n.Links = append(n.Links, l)
		}
	}
	return n
}

// earlyStarts gives the early starts and the finish of n minute by minute.
func earlyStarts(n deps.Network) ([]units.Instant, units.Instant) {
	starts, finish := make([]units.Instant, len(n.Activities)), n.Start
	ends := make([]units.Instant, len(n.Activities))
	cured := make([]units.Instant, len(n.Activities))
	for i, a := range n.Activities {
		at := max(n.Start, a.Release)
		for _, l := range n.Links {
			switch {
			case l.To != i:
			case l.Lag != nil:
				at = max(at, ends[l.From]+units.Instant(*l.Lag))
			default:
				at = max(at, cured[l.From])
			}
		}
		for a.Minutes > 0 && !a.Hours.In(at) {
			at++
		}
		starts[i], ends[i] = at, step(at, a.Minutes, a.Hours)
		cured[i] = step(ends[i], a.Cure.Minutes, a.Cure.While)
		finish = max(finish, cured[i])
	}
	return starts, finish
}

// step gives the end of the n-th minute of h after at; nil: of any minutes.
func step(at units.Instant, n int, h *calendar.Hours) units.Instant {
	for n > 0 {
		if h == nil || h.In(at) {
			n--
		}
		at++
	}
	return at
}

func TestEarlyDatesMinuteByMinute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t, shifts)
		dates, finish, err := n.Schedule()
		if err != nil {
			t.Fatal(err)
		}
		starts, end := earlyStarts(n)
		if finish != end {
			t.Fatalf("finish %s, minute by minute %s", finish, end)
		}
		for i, d := range dates {
			if d.EarlyStart != starts[i] || d.EarlyFinish != step(starts[i], n.Activities[i].Minutes, n.Activities[i].Hours) {
				t.Fatalf("%d: early %s to %s, minute by minute from %s", i, d.EarlyStart, d.EarlyFinish, starts[i])
			}
			if d.EarlyStart > d.LateStart || d.EarlyFinish > d.LateFinish || d.FreeFloat < 0 || d.FreeFloat > d.TotalFloat || d.LateFinish > finish {
				t.Fatalf("%d: dates out of order: %+v", i, d)
			}
		}
	})
}

// delayed gives n with activity i starting no earlier than at.
func delayed(n deps.Network, i int, at units.Instant) deps.Network {
	n.Activities = append([]deps.Activity(nil), n.Activities...)
	n.Activities[i].Release = max(n.Activities[i].Release, at)
	return n
}

// A float is what a start can slip by: by all of it nothing that counts moves, by the
// least more something does.
func TestFloatsAreWhatAStartCanSlip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t, shifts)
		dates, finish, err := n.Schedule()
		if err != nil {
			t.Fatal(err)
		}
		i := rapid.IntRange(0, len(dates)-1).Draw(t, "slips")
		moves := func(at units.Instant) (whole, others bool) {
			starts, end := earlyStarts(delayed(n, i, at))
			for k, d := range dates {
				others = others || k != i && starts[k] != d.EarlyStart
			}
			return end != finish, others || end != finish
		}
		start := dates[i].EarlyStart
		if whole, _ := moves(start + units.Instant(dates[i].TotalFloat)); whole {
			t.Fatalf("%d: a slip by the total float %d moves the finish", i, dates[i].TotalFloat)
		}
		if whole, _ := moves(start + units.Instant(dates[i].TotalFloat) + 1); !whole {
			t.Fatalf("%d: a slip by more than the total float %d moves nothing", i, dates[i].TotalFloat)
		}
		if _, others := moves(start + units.Instant(dates[i].FreeFloat)); others {
			t.Fatalf("%d: a slip by the free float %d moves another", i, dates[i].FreeFloat)
		}
		if _, others := moves(start + units.Instant(dates[i].FreeFloat) + 1); !others {
			t.Fatalf("%d: a slip by more than the free float %d moves nothing", i, dates[i].FreeFloat)
		}
	})
}

func BenchmarkSchedule(b *testing.B) {
	ids, edges := ladder(5000)
	at := map[id.Task]int{}
	var n deps.Network
	for i, task := range ids {
		at[task] = i
		n.Activities = append(n.Activities, deps.Activity{Minutes: 90, Hours: shifts[1]})
	}
	for _, e := range edges {
		n.Links = append(n.Links, deps.Link{From: at[e.Before], To: at[e.After]})
	}
	for b.Loop() {
		if _, _, err := n.Schedule(); err != nil {
			b.Fatal(err)
		}
	}
}
