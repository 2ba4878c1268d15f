package deps

import (
	"container/heap"
	"slices"
	"sort"
)

// digraph holds directed edges between the nodes 0 … n-1. Nodes and edges are
// known by their place, so that everything found in it is found in the same order
// every time.
type digraph struct {
	from, to []int   // of each edge
	out      [][]int // the edges that leave each node
}

func newDigraph(n int) *digraph { return &digraph{out: make([][]int, n)} }

func (g *digraph) add(from, to int) {
	g.out[from] = append(g.out[from], len(g.from))
	g.from, g.to = append(g.from, from), append(g.to, to)
}

// order gives the nodes so that every edge points forward; of those that could come
// next the lowest does. Nodes on or behind a loop are left out.
func (g *digraph) order() []int {
	waits := make([]int, len(g.out))
	for _, v := range g.to {
		waits[v]++
	}
	var next ready
	for v, n := range waits {
		if n == 0 {
			next.IntSlice = append(next.IntSlice, v) // rising, so already a heap
		}
	}
	order := make([]int, 0, len(g.out))
	for next.Len() > 0 {
		u := heap.Pop(&next).(int)
		order = append(order, u)
		for _, e := range g.out[u] {
			if waits[g.to[e]]--; waits[g.to[e]] == 0 {
				heap.Push(&next, g.to[e])
			}
		}
	}
	return order
}

// ready is a heap of nodes, the lowest first.
type ready struct{ sort.IntSlice }

func (r *ready) Push(v any) { r.IntSlice = append(r.IntSlice, v.(int)) }

func (r *ready) Pop() any {
	last := r.Len() - 1
	v := r.IntSlice[last]
	r.IntSlice = r.IntSlice[:last]
	return v
}

// after gives for each node the set of nodes that a path leads to over the edges
// that count. The graph must be free of loops.
func (g *digraph) after(counts func(edge int) bool) []bitset {
	sets := make([]bitset, len(g.out))
	for v := range sets {
		sets[v] = make(bitset, (len(g.out)+63)/64)
	}
	for _, u := range slices.Backward(g.order()) {
		for _, e := range g.out[u] {
			if counts(e) {
				sets[u].add(g.to[e])
				sets[u].join(sets[g.to[e]])
			}
		}
	}
	return sets
}

// bitset is a set of nodes: bit v%64 of word v/64 is node v.
type bitset []uint64

func (b bitset) add(v int) { b[v/64] |= 1 << (v % 64) }

func (b bitset) has(v int) bool { return b[v/64]&(1<<(v%64)) != 0 }

func (b bitset) join(other bitset) {
	for i, w := range other {
		b[i] |= w
	}
}
