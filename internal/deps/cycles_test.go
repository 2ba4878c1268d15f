package deps_test

import (
	"fmt"
	"slices"
	"testing"

	"gonum.org/v1/gonum/graph/topo"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
)

func TestCycles(t *testing.T) {
	for _, tt := range []struct {
		name, ids, edges string
		want             []string
	}{
		{"none", "a b c", "a>b b>c a>c", nil},
		{"one task waits for itself", "a b", "a>b b>b", []string{"b -> b"}},
		{"two loops share an edge", "a b c", "a>b b>a b>c c>a", []string{"a -> b -> a", "a -> b -> c -> a"}},
		{"a loop begins with the first of the list", "c b a", "a>b b>c c>a", []string{"c -> a -> b -> c"}},
		{"what hangs on a loop is not in it", "x a b y", "x>a a>b b>a b>y", []string{"a -> b -> a"}},
		{"groups in the order of the list", "p q r s", "r>s s>r q>p p>q", []string{"p -> q -> p", "r -> s -> r"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, loop := range deps.Cycles(names(tt.ids), links(tt.edges)) {
				got = append(got, deps.LoopText(loop))
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("Cycles = %q, want %q", got, tt.want)
			}
		})
	}
}

// loopEdges gives the edges that lie on a loop, by gonum's strongly connected components.
func loopEdges(g graphCase) []deps.Edge {
	group := map[int64]int{}
	for i, nodes := range topo.TarjanSCC(g.gonum()) {
		for _, n := range nodes {
			group[n.ID()] = i
		}
	}
	var on []deps.Edge
	for _, e := range g.edges {
		if group[g.at(e.Before)] == group[g.at(e.After)] {
			on = append(on, e)
		}
	}
	return on
}

// shortestThrough gives the length of the shortest loop through e, by distances that
// settle (Bellman and Ford's way).
func shortestThrough(g graphCase, e deps.Edge) int {
	dist := map[id.Task]int{e.After: 1}
	for range g.ids {
		for _, x := range g.edges {
			if d, ok := dist[x.Before]; ok && (dist[x.After] == 0 || d+1 < dist[x.After]) {
				dist[x.After] = d + 1
			}
		}
	}
	return dist[e.Before]
}

func TestCyclesAreShortestLoopsThroughEveryEdgeOnOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGraph(t, false)
		on := loopEdges(g)
		covered := map[deps.Edge]bool{}
		seen := map[string]bool{}
		for _, loop := range deps.Cycles(g.ids, g.edges) {
			checkLoop(t, g, loop)
			if text := deps.LoopText(loop); seen[text] {
				t.Fatalf("given twice: %s", text)
			}
			seen[deps.LoopText(loop)] = true
			for _, e := range loop {
				covered[e] = true
			}
		}
		for _, e := range on {
			if !covered[e] {
				t.Fatalf("%s > %s lies on a loop, but on none that is given", e.Before, e.After)
			}
		}
		if len(covered) > len(on) {
			t.Fatalf("%d edges on loops, gonum has %d", len(covered), len(on))
		}
	})
}

// checkLoop checks that a loop closes, passes no task twice, begins with the first of
// its tasks in the list, and is the shortest through one of its edges.
func checkLoop(t *rapid.T, g graphCase, loop []deps.Edge) {
	shortest := false
	passed := map[id.Task]bool{}
	for i, e := range loop {
		if !slices.Contains(g.edges, e) || e.After != loop[(i+1)%len(loop)].Before || passed[e.Before] {
			t.Fatalf("no loop: %s", deps.LoopText(loop))
		}
		if g.at(e.Before) < g.at(loop[0].Before) {
			t.Fatalf("begins too late: %s", deps.LoopText(loop))
		}
		passed[e.Before] = true
		shortest = shortest || shortestThrough(g, e) == len(loop)
	}
	if !shortest {
		t.Fatalf("a shorter loop goes through each edge of %s", deps.LoopText(loop))
	}
}

func TestCyclesOfALargeGroupAreCapped(t *testing.T) {
	var ids []id.Task
	var edges []deps.Edge
	for i := range 60 {
		ids = append(ids, id.Task(fmt.Sprint("t", i)))
	}
	for _, a := range ids {
		for _, b := range ids {
			if a != b {
				edges = append(edges, deps.Edge{Before: a, After: b})
			}
		}
	}
	if got := len(deps.Cycles(ids, edges)); got != 500 {
		t.Errorf("%d loops of 60 tasks that all wait for each other, want 500", got)
	}
	if got, want := len(deps.Cycles(ids[:40], edges)), 40*39/2; got != want {
		t.Errorf("%d loops of 40 such tasks, want each pair: %d", got, want)
	}
}
