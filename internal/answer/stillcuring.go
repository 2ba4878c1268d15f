package answer

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
)

// heldByCures gives the cures of finished tasks that leave too little of r for t, those that end
// first first.
func (v *View) heldByCures(t tasks.Task, r id.Resource) []held {
	var out []held
	for _, other := range v.Live.Tasks {
		if other.Cure == nil || other.State != tasks.Finished || other.FinishedAt == nil || !slices.Contains(other.Cure.Holds, r) {
			continue
		}
		until, ok := v.cure(other).End(other.FinishedAt.At)
		if ok && until <= v.Now {
			continue
		}
		h := held{kind: "cure", ref: string(other.ID), from: until,
			text: fmt.Sprintf("%s: taken while %s cures, until %s", v.resourceTitle(r), other.Title(), when(until))}
		if !ok {
			h.never, h.from = true, math.MaxInt64
			h.text = fmt.Sprintf("%s: taken while %s cures, which never ends", v.resourceTitle(r), other.Title())
		}
		out = append(out, h)
	}
	slices.SortStableFunc(out, func(a, b held) int { return cmp.Compare(a.from, b.from) })
	if left := v.capacity(r) - len(out); t.Uses[r] <= left {
		return nil
	}
	return out
}

// capacity gives how many of r there are.
func (v *View) capacity(r id.Resource) int {
	return int(v.Live.Resources[v.Live.ResourceAt[r]].Capacity)
}

// freeing is the end of a cure of a finished task, from which there is enough of a resource.
type freeing struct {
	held
	resource id.Resource
}

// freed gives, for each resource that t uses and cures of finished tasks hold, the cure at whose
// end there is enough of it for t. What t holds while it cures itself is not looked at.
func (v *View) freed(t tasks.Task) []freeing {
	var out []freeing
	for _, r := range v.used(t) {
		holding, room := v.heldByCures(t, r), v.capacity(r)-t.Uses[r]
		if len(holding) > 0 && room >= 0 {
			out = append(out, freeing{holding[len(holding)-room-1], r})
		}
	}
	return out
}
