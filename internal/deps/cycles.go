package deps

import (
	"slices"

	"example.com/vanlog/internal/id"
)

// A group of tasks that wait for one another may have more loops than anybody
// will read. Above manyEdges in a group no more than manyLoops of it are given.
const (
	manyEdges = 2000
	manyLoops = 500
)

// Cycles gives the loops of must edges: for every group of tasks that wait for
// one another, shortest loops that together pass through each edge of the group that
// lies on a loop. Each is the shortest through one of its edges, and none is
// given twice. A loop is its edges in order, from the task that stands first in ids
// on; each edge begins where the one before ends. Of a group of more than 2,000
// edges no more than 500 loops are given.
func Cycles(ids []id.Task, edges []Edge) [][]Edge {
	g, musts := mustGraph(ids, edges)
	var loops [][]Edge
	s := newSearch(g)
	for _, group := range s.groups() {
		for _, loop := range s.loops(group) {
			named := make([]Edge, len(loop))
			for i, e := range loop {
				named[i] = musts[e]
			}
			loops = append(loops, named)
		}
	}
	return loops
}

// search looks for loops in a graph. Its slices are by node, and reused.
type search struct {
	*digraph
	groupOf []int // nodes of a group wait for one another
	seen    []int // the number of the walk that last saw the node
	by      []int // the edge that walk came by
	walks   int
}

func newSearch(g *digraph) *search {
	n := len(g.out)
	return &search{digraph: g, groupOf: g.components(), seen: make([]int, n), by: make([]int, n)}
}

// groups gives the edges that lie on loops, those of one group together. Groups
// stand in the order of their lowest nodes, edges in their own.
func (s *search) groups() [][]int {
	first := map[int]int{} // lowest node of each group
	for v, c := range slices.Backward(s.groupOf) {
		first[c] = v
	}
	byGroup := map[int][]int{}
	for e, u := range s.from {
		if c := s.groupOf[u]; c == s.groupOf[s.to[e]] {
			byGroup[first[c]] = append(byGroup[first[c]], e)
		}
	}
	var groups [][]int
	for v := range s.out {
		if edges := byGroup[v]; edges != nil {
			groups = append(groups, edges)
		}
	}
	return groups
}

// loops gives the loops of a group: the shortest one through each edge that is on
// none of those before.
func (s *search) loops(group []int) [][]int {
	covered := make(map[int]bool, len(group))
	var loops [][]int
	for _, e := range group {
		if covered[e] {
			continue
		}
		if len(group) > manyEdges && len(loops) == manyLoops {
			break
		}
		loop := s.shortest(e)
		for _, x := range loop {
			covered[x] = true
		}
		loops = append(loops, loop)
	}
	return loops
}

// shortest gives a shortest loop through edge e, which lies on one: breadth first
// from its head back to its tail.
func (s *search) shortest(e int) []int {
	s.walks++
	goal, queue := s.from[e], []int{s.to[e]}
	s.seen[s.to[e]] = s.walks
	for len(queue) > 0 && s.seen[goal] != s.walks {
		u := queue[0]
		queue = queue[1:]
		for _, x := range s.out[u] {
			if v := s.to[x]; s.seen[v] != s.walks && s.groupOf[v] == s.groupOf[goal] {
				s.seen[v], s.by[v] = s.walks, x
				queue = append(queue, v)
			}
		}
	}
	return s.traceBack(e)
}

// traceBack gives the loop that the last walk closed, from its lowest node on.
func (s *search) traceBack(e int) []int {
	loop := []int{e}
	for v := s.from[e]; v != s.to[e]; v = s.from[s.by[v]] {
		loop = append(loop, s.by[v])
	}
	slices.Reverse(loop)
	at := 0
	for i, x := range loop {
		if s.from[x] < s.from[loop[at]] {
			at = i
		}
	}
	return append(slices.Clone(loop[at:]), loop[:at]...)
}

// components numbers the strongly connected components (R. E. Tarjan, Depth-first
// search and linear graph algorithms, SIAM Journal on Computing 1, 1972).
func (g *digraph) components() []int {
	t := tarjan{digraph: g, number: make([]int, len(g.out)), low: make([]int, len(g.out)), of: make([]int, len(g.out))}
	for v := range g.out {
		if t.number[v] == 0 {
			t.visit(v)
		}
	}
	return t.of
}

type tarjan struct {
	*digraph
	number, low []int // from 1, in the order of the visits; low: the lowest that can be got back to
	of          []int // component from 1; 0: still open
	stack       []int
	visits      int
	found       int
}

func (t *tarjan) visit(u int) {
	t.visits++
	t.number[u], t.low[u] = t.visits, t.visits
	t.stack = append(t.stack, u)
	for _, e := range t.out[u] {
		switch v := t.to[e]; {
		case t.number[v] == 0:
			t.visit(v)
			t.low[u] = min(t.low[u], t.low[v])
		case t.of[v] == 0:
			t.low[u] = min(t.low[u], t.number[v])
		}
	}
	if t.low[u] == t.number[u] {
		t.close(u)
	}
}

// close takes the component whose first node is u off the stack.
func (t *tarjan) close(u int) {
	t.found++
	at := len(t.stack) - 1
	for t.stack[at] != u {
		at--
	}
	for _, v := range t.stack[at:] {
		t.of[v] = t.found
	}
	t.stack = t.stack[:at]
}
