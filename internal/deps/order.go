package deps

import (
	"strings"

	"example.com/vanlog/internal/id"
)

// Order gives the tasks in an order in which every must edge points forward. Of
// the tasks that could come next, the one that stands first in ids does. Edges of
// kind Should and edges to tasks that are not in ids are not looked at. Where
// there is no order the error is a *CycleError with all loops of Cycles.
func Order(ids []id.Task, edges []Edge) ([]id.Task, error) {
	g, _ := mustGraph(ids, edges)
	places := g.order()
	if len(places) < len(ids) {
		return nil, &CycleError{Loops: Cycles(ids, edges)}
	}
	order := make([]id.Task, len(ids))
	for i, at := range places {
		order[i] = ids[at]
	}
	return order, nil
}

// Redundant gives the must edges that say nothing the others do not say: there is
// another path from Before to After. An edge with a lag of its own is never
// redundant, nor is one whose Before must cure while the path goes without that wait.
// Of two equal edges the second is. cures reports whether a task is followed by a
// cure. The edges must be free of loops.
func Redundant(ids []id.Task, edges []Edge, cures func(id.Task) bool) []Edge {
	g, musts := mustGraph(ids, edges)
	// A lag below zero lets After start before the finish of Before: no path for others.
	waits := func(e int) bool { return musts[e].LagH == nil || *musts[e].LagH >= 0 }
	after := g.after(waits)
	var redundant []Edge
	for e, edge := range musts {
		if edge.LagH == nil && g.isImplied(e, after, func(first int) bool {
			return waits(first) && (musts[first].LagH == nil || !cures(edge.Before))
		}) {
			redundant = append(redundant, edge)
		}
	}
	return redundant
}

// isImplied reports whether another path leads from the tail of e to its head, by a
// first edge that may stand for it. Of two equal edges only the first may.
func (g *digraph) isImplied(e int, after []bitset, may func(first int) bool) bool {
	for _, first := range g.out[g.from[e]] {
		if first == e || !may(first) {
			continue
		}
		if w := g.to[first]; after[w].has(g.to[e]) || w == g.to[e] && first < e {
			return true
		}
	}
	return false
}

// HoldsUp gives for each task the tasks that come after it, by however many must
// edges, in the order of ids. The edges must be free of loops.
func HoldsUp(ids []id.Task, edges []Edge) map[id.Task][]id.Task {
	g, _ := mustGraph(ids, edges)
	after := g.after(func(int) bool { return true })
	held := make(map[id.Task][]id.Task, len(ids))
	for at, task := range ids {
		held[task] = nil
		for v, other := range ids {
			if after[at].has(v) {
				held[task] = append(held[task], other)
			}
		}
	}
	return held
}

// mustGraph gives the graph of the must edges between ids, nodes in the order of
// ids, and those edges in the order of the graph's.
func mustGraph(ids []id.Task, edges []Edge) (*digraph, []Edge) {
	at := make(map[id.Task]int, len(ids))
	for i, task := range ids {
		at[task] = i
	}
	g := newDigraph(len(ids))
	var musts []Edge
	for _, e := range edges {
		u, known := at[e.Before]
		v, also := at[e.After]
		if e.Kind.IsZero() && known && also {
			g.add(u, v)
			musts = append(musts, e)
		}
	}
	return g, musts
}

// CycleError says that tasks wait for one another.
type CycleError struct{ Loops [][]Edge }

func (e *CycleError) Error() string {
	var all []string
	for _, loop := range e.Loops {
		all = append(all, LoopText(loop))
	}
	return "tasks wait for each other: " + strings.Join(all, "; ")
}

// LoopText gives a loop in words: its tasks with arrows, and the why of each edge.
func LoopText(loop []Edge) string {
	var b strings.Builder
	for _, e := range loop {
		b.WriteString(string(e.Before) + " -> ")
		if e.Why != "" {
			b.WriteString("(" + e.Why + ") ")
		}
	}
	if len(loop) > 0 {
		b.WriteString(string(loop[0].Before))
	}
	return b.String()
}
