package answer

import (
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// BuriesUnproven gives the daybook entries that finished a task whose items close in work
// that had not been proven by then: the proofs that should have been in before, by the key
// of the entry. A proof counts from the end of the entry that holds it. What had been
// fitted by then is read from the finish of the tasks; what is fitted without a known finish
// is taken to have been there.
func (v *View) BuriesUnproven() map[build.Key][]Owed {
	out := map[build.Key][]Owed{}
	for i, e := range v.Build.Days.Rows {
		t, ok := v.task(e.Task)
		if !ok || !e.Finished || len(t.Fits) == 0 {
			continue
		}
		if owed := v.unprovenUnder(t, e); len(owed) > 0 {
			out[v.Build.Days.Keys[i]] = owed
		}
	}
	return out
}

// unprovenUnder gives the proofs that were missing when t was finished by e and closed in
// the work that owes them.
func (v *View) unprovenUnder(t tasks.Task, e daybook.Entry) []Owed {
	y := v.solver().Set(t.Fits...)
	before := v.solver().Set(v.fittedBy(e.End())...)
	c := &cover{v: v, y: y, without: minus(before, y), with: union(before, y)}
	var out []Owed
	for _, under := range v.Live.Tasks {
		owed := v.owedBeforeCoverBy(under, e.End())
		if len(owed) == 0 {
			continue
		}
		if _, dearer := c.task(under); dearer {
			out = append(out, owed...)
		}
	}
	return out
}

// fittedBy gives what was fitted at a time.
func (v *View) fittedBy(at units.Instant) []id.Item {
	var out []id.Item
	for _, x := range v.Live.Items {
		if x.Fitted {
			out = append(out, x.ID)
		}
	}
	for _, other := range v.Live.Tasks {
		if other.State == tasks.Finished && (other.FinishedAt == nil || other.FinishedAt.At <= at) {
			out = append(out, other.Fits...)
		}
	}
	return out
}
