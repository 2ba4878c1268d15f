package deps

import (
	"strings"

	"example.com/vanlog/internal/id"
)

// Order gives the tasks in an order in which every must edge points forward. Of
// the tasks that could come next, the one that stands first in ids does. Edges of
// kind Should and edges to tasks that are not in ids are not looked at. Where
// there is no order the error is a *CycleError with all loops of Cycles.
func Order(ids []id.Task, edges []Edge) ([]id.Task, error) { panic("not written yet") }

// Cycles gives the loops of must edges: for every group of tasks that wait for
// one another, shortest loops that together pass through each edge of the group that
// lies on a loop. A loop is its edges in order; each begins where the one before ends.
func Cycles(ids []id.Task, edges []Edge) [][]Edge { panic("not written yet") }

// Redundant gives the must edges that say nothing the others do not say: there is
// another path from Before to After. An edge with a lag of its own is never
// redundant, nor is one whose Before must cure while the path goes without that wait.
// cures reports whether a task is followed by a cure. The edges must be free of loops.
func Redundant(ids []id.Task, edges []Edge, cures func(id.Task) bool) []Edge {
	panic("not written yet")
}

// HoldsUp gives for each task the tasks that come after it, by however many must
// edges, in the order of ids. The edges must be free of loops.
func HoldsUp(ids []id.Task, edges []Edge) map[id.Task][]id.Task { panic("not written yet") }

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
