package answer

import (
	"math"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
)

// curing is a resource that a cure holds, one unit of it.
type curing struct {
	resource id.Resource
	left     int // minutes until it is free
}

// cured reports whether the tasks of a day can follow one another: none needs what the cure of
// one before it still holds. Between two of them only the work of those between is reckoned with,
// and a cure that waits for the hours of something is not over that day: a day that passes can be done.
func (v *View) cured(day []group) bool {
	var held []curing
	for _, g := range day {
		for _, name := range g.Tasks {
			t, _ := v.task(name)
			if !v.roomBeside(held, t) {
				return false
			}
			held = v.heldAfter(held, t)
		}
	}
	return true
}

// roomBeside reports whether t, and what its cure holds, find enough beside what is held.
func (v *View) roomBeside(held []curing, t tasks.Task) bool {
	needs := map[id.Resource]int{}
	for r, n := range t.Uses {
		needs[r] = n
	}
	for _, c := range v.heldAfter(nil, t) {
		needs[c.resource] = max(needs[c.resource], 1)
	}
	for _, c := range held {
		if needs[c.resource] > 0 {
			needs[c.resource]++
		}
	}
	for r, n := range needs {
		if n > v.capacity(r) {
			return false
		}
	}
	return true
}

// heldAfter gives what is still held once t has been worked on to its end, the cure of t with it.
func (v *View) heldAfter(held []curing, t tasks.Task) []curing {
	var out []curing
	for _, c := range held {
		if c.left -= t.LeftMinutes(); c.left > 0 {
			out = append(out, c)
		}
	}
	cure := v.cure(t)
	if cure.Minutes == 0 {
		return out
	}
	left := cure.Minutes
	if cure.While != nil {
		left = math.MaxInt32 // not over that day
	}
	for _, r := range t.Cure.Holds {
		out = append(out, curing{r, left})
	}
	return out
}
