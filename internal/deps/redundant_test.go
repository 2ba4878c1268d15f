package deps_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
)

func TestRedundant(t *testing.T) {
	lag := func(h float64) *float64 { return &h }
	edge := func(before, after id.Task, lag *float64) deps.Edge {
		return deps.Edge{Before: before, After: after, Kind: deps.Must, LagH: lag}
	}
	for _, tt := range []struct {
		name  string
		edges []deps.Edge
		cures string // a task that is followed by a cure
		want  []int
	}{
		{"a path says it", links("a>b b>c a>c"), "", []int{2}},
		{"a lag of its own is news", []deps.Edge{edge("a", "b", nil), edge("b", "c", nil), edge("a", "c", lag(5))}, "", nil},
		{"the path waits for the cure too", links("a>b b>c a>c"), "a", []int{2}},
		{"the path leaves before the cure ends", []deps.Edge{edge("a", "b", lag(1)), edge("b", "c", nil), edge("a", "c", nil)}, "a", nil},
		{"a lag on the path is no matter without a cure", []deps.Edge{edge("a", "b", lag(1)), edge("b", "c", nil), edge("a", "c", nil)}, "", []int{2}},
		{"a path that may run backward says nothing", []deps.Edge{edge("a", "b", lag(-1)), edge("b", "c", nil), edge("a", "c", nil)}, "", nil},
		{"of equal edges the second", links("a>b a>b"), "", []int{1}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var want []deps.Edge
			for _, i := range tt.want {
				want = append(want, tt.edges[i])
			}
			got := deps.Redundant(names("a b c"), tt.edges, func(task id.Task) bool { return string(task) == tt.cures })
			if !slices.Equal(got, want) {
				t.Errorf("Redundant = %v, want %v", got, want)
			}
		})
	}
}

// An edge is redundant exactly where its end can be reached without it; what is left
// when all redundant edges go reaches the same (A. V. Aho, M. R. Garey and J. D. Ullman,
// The transitive reduction of a directed graph, SIAM Journal on Computing 1, 1972).
func TestRedundantIsTheTransitiveReduction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGraph(t, true)
		redundant := deps.Redundant(g.ids, g.edges, func(id.Task) bool { return false })
		var kept []deps.Edge
		for i, e := range g.edges {
			others := slices.Delete(slices.Clone(g.edges), i, i+1)
			if got, want := slices.Contains(redundant, e), reaches(others, e.Before)[e.After]; got != want {
				t.Fatalf("%s > %s redundant: %t, want %t", e.Before, e.After, got, want)
			}
			if !slices.Contains(redundant, e) {
				kept = append(kept, e)
			}
		}
		for _, a := range g.ids {
			if before, after := reaches(g.edges, a), reaches(kept, a); len(before) != len(after) {
				t.Fatalf("without the redundant edges %s leads to %v, not %v", a, after, before)
			}
		}
	})
}
