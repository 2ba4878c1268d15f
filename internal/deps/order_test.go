package deps_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
)

// names makes tasks of words.
func names(words string) []id.Task {
	var ids []id.Task
	for _, w := range strings.Fields(words) {
		ids = append(ids, id.Task(w))
	}
	return ids
}

// links makes must edges of words such as "a>b".
func links(words string) []deps.Edge {
	var edges []deps.Edge
	for _, w := range strings.Fields(words) {
		before, after, _ := strings.Cut(w, ">")
		edges = append(edges, deps.Edge{Before: id.Task(before), After: id.Task(after), Kind: deps.Must})
	}
	return edges
}

func TestOrder(t *testing.T) {
	for _, tt := range []struct{ name, ids, edges, want string }{
		{"no tasks", "", "", ""},
		{"no edges keep the order of the list", "c a b", "", "c a b"},
		{"an edge beats the list", "a b", "b>a", "b a"},
		{"of those that could come next the first in the list", "a b c d", "d>a", "b c d a"},
		{"what is freed goes back to its place", "a b c d e", "c>a", "b c a d e"},
		{"edges to tasks that are not there mean nothing", "a b", "x>a b>y b>a", "b a"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := deps.Order(names(tt.ids), links(tt.edges))
			if err != nil || !slices.Equal(got, names(tt.want)) {
				t.Errorf("Order = %v, %v, want %s", got, err, tt.want)
			}
		})
	}
}

func TestOrderLeavesShouldAside(t *testing.T) {
	edges := append(links("a>b"), deps.Edge{Before: "b", After: "a", Kind: deps.Should})
	if got, err := deps.Order(names("a b"), edges); err != nil || !slices.Equal(got, names("a b")) {
		t.Errorf("Order = %v, %v, want a b", got, err)
	}
}

func TestOrderNamesTheLoop(t *testing.T) {
	edges := links("trim>wire wire>clean clean>trim buy>trim")
	edges[0].Why = "the trim shows the height"
	_, err := deps.Order(names("buy wire trim clean"), edges)
	var cycle *deps.CycleError
	if !errors.As(err, &cycle) {
		t.Fatalf("Order = %v, want a CycleError", err)
	}
	const want = "tasks wait for each other: wire -> clean -> trim -> (the trim shows the height) wire"
	if err.Error() != want {
		t.Errorf("error = %q, want %q", err, want)
	}
}

// graphCase is a graph drawn at random: tasks, and must edges between them.
type graphCase struct {
	ids   []id.Task
	edges []deps.Edge
}

// drawGraph draws a graph without double edges; one without loops where forward is set.
func drawGraph(t *rapid.T, forward bool) graphCase {
	n := rapid.IntRange(1, 14).Draw(t, "tasks")
	var g graphCase
	for i := range n {
		g.ids = append(g.ids, id.Task(fmt.Sprint("t", i)))
	}
	seen := map[[2]int]bool{}
	for range rapid.IntRange(0, 3*n).Draw(t, "edges") {
		u := rapid.IntRange(0, n-1).Draw(t, "before")
		v := rapid.IntRange(0, n-1).Draw(t, "after")
		if forward && u > v {
			u, v = v, u
		}
		if u == v || seen[[2]int{u, v}] {
			continue
		}
		seen[[2]int{u, v}] = true
		g.edges = append(g.edges, deps.Edge{Before: g.ids[u], After: g.ids[v], Kind: deps.Must})
	}
	g.ids = rapid.Permutation(g.ids).Draw(t, "ids")
	return g
}

func (g graphCase) at(task id.Task) int64 { return int64(slices.Index(g.ids, task)) }

// gonum gives g for gonum's algorithms, nodes by their place in ids.
func (g graphCase) gonum() *simple.DirectedGraph {
	d := simple.NewDirectedGraph()
	for i := range g.ids {
		d.AddNode(simple.Node(i))
	}
	for _, e := range g.edges {
		d.SetEdge(d.NewEdge(simple.Node(g.at(e.Before)), simple.Node(g.at(e.After))))
	}
	return d
}

func TestOrderAgreesWithGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGraph(t, false)
		order, err := deps.Order(g.ids, g.edges)
		if _, oracle := topo.Sort(g.gonum()); (oracle == nil) != (err == nil) {
			t.Fatalf("Order error = %v, gonum says %v", err, oracle)
		}
		if err != nil {
			return
		}
		if sorted := slices.Sorted(slices.Values(order)); !slices.Equal(sorted, slices.Sorted(slices.Values(g.ids))) {
			t.Fatalf("Order gives %v of %v", order, g.ids)
		}
		for _, e := range g.edges {
			if slices.Index(order, e.Before) > slices.Index(order, e.After) {
				t.Fatalf("%s > %s points backward in %v", e.Before, e.After, order)
			}
		}
		checkTies(t, g, order)
	})
}

// checkTies checks that each task is the first in the list of those that could come next.
func checkTies(t *rapid.T, g graphCase, order []id.Task) {
	for i, task := range order {
		for _, other := range order[i+1:] {
			free := !slices.ContainsFunc(g.edges, func(e deps.Edge) bool {
				return e.After == other && !slices.Contains(order[:i], e.Before)
			})
			if free && g.at(other) < g.at(task) {
				t.Fatalf("%s could come before %s in %v of %v", other, task, order, g.ids)
			}
		}
	}
}

// reaches gives what a path leads to, by walking every path.
func reaches(edges []deps.Edge, from id.Task) map[id.Task]bool {
	found := map[id.Task]bool{}
	var walk func(id.Task)
	walk = func(at id.Task) {
		for _, e := range edges {
			if e.Before == at && !found[e.After] {
				found[e.After] = true
				walk(e.After)
			}
		}
	}
	walk(from)
	return found
}

func TestHoldsUpIsWhatAPathLeadsTo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGraph(t, true)
		held := deps.HoldsUp(g.ids, g.edges)
		if len(held) != len(g.ids) {
			t.Fatalf("HoldsUp speaks of %d tasks of %d", len(held), len(g.ids))
		}
		for _, task := range g.ids {
			var want []id.Task
			for _, other := range g.ids {
				if reaches(g.edges, task)[other] {
					want = append(want, other)
				}
			}
			if !slices.Equal(held[task], want) {
				t.Fatalf("HoldsUp[%s] = %v, want %v", task, held[task], want)
			}
		}
	})
}

func BenchmarkOrder(b *testing.B) {
	ids, edges := ladder(5000)
	for b.Loop() {
		if _, err := deps.Order(ids, edges); err != nil {
			b.Fatal(err)
		}
	}
}

// ladder gives n tasks, each before the next four.
func ladder(n int) (ids []id.Task, edges []deps.Edge) {
	for i := range n {
		ids = append(ids, id.Task(fmt.Sprint("t", i)))
		for k := max(0, i-4); k < i; k++ {
			edges = append(edges, deps.Edge{Before: ids[k], After: ids[i]})
		}
	}
	slices.Reverse(ids)
	return ids, edges
}

func BenchmarkRedundant(b *testing.B) {
	ids, edges := ladder(5000)
	for b.Loop() {
		deps.Redundant(ids, edges, func(id.Task) bool { return false })
	}
}
