package answer

import (
	"fmt"

	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// Ahead gives what work on t at a time skips: must edges, cures and parts that are not
// there yet. Empty: it is t's turn. Where something is skipped, the should edges that
// are broken with it follow. A finished task without a known finish was there in time.
func (v *View) Ahead(t id.Task, at units.Instant) []Ahead {
	out := []Ahead{}
	task, ok := v.task(t)
	if !ok {
		return out
	}
	for _, e := range v.before()[t] {
		if isMust(e) {
			out = append(out, v.aheadOf(e, task, at)...)
		}
	}
	for _, name := range task.Parts {
		if a, ok := v.aheadOfPart(name, at); ok {
			out = append(out, a)
		}
	}
	if len(out) == 0 {
		return out
	}
	for _, e := range v.before()[t] {
		before, _ := v.task(e.Before)
		if rework := units.RoundMinutes(e.ReworkH); !isMust(e) && rework > 0 && !begunBy(before, v.Entries(e.Before), at) {
			out = append(out, Ahead{Kind: "edge", Ref: string(e.Before), CostMin: rework,
				Text: reason(before.Title()+" should come first", e.Why)})
		}
	}
	return out
}

// aheadOf says whether a must edge into t was skipped by work at a time.
func (v *View) aheadOf(e deps.Edge, t tasks.Task, at units.Instant) []Ahead {
	before, ok := v.task(e.Before)
	if !ok {
		return nil
	}
	switch {
	case before.State != tasks.Finished:
		a := Ahead{Kind: "edge", Ref: string(e.Before), Text: reason(before.Title()+" is not done", e.Why)}
		v.priceAhead(&a, before, t)
		return []Ahead{a}
	case before.FinishedAt == nil:
		return nil
	case before.FinishedAt.At > at:
		return []Ahead{{Kind: "edge", Ref: string(e.Before), Text: reason(before.Title()+" was not done", e.Why)}}
	}
	if h := v.finishedBefore(e, before); h.never || h.from > at {
		return []Ahead{{Kind: h.kind, Ref: h.ref, Text: h.text}}
	}
	return nil
}

// priceAhead adds what it costs that t is fitted before the task it should have waited for.
func (v *View) priceAhead(a *Ahead, before, t tasks.Task) {
	y := v.solver().Set(t.Fits...)
	c := &cover{v: v, y: y, without: minus(v.fitted(), y), with: union(v.fitted(), y)}
	closed, dearer := c.task(before)
	switch {
	case !dearer:
	case closed.ExtraMin == nil:
		a.Text += fmt.Sprintf("; with %s fitted it cannot be reached any more", v.itemTitles(t.Fits))
	default:
		without, _ := v.reach(before, c.without)
		with, _ := v.reach(before, c.with)
		a.CostMin = with.Ceil() - without.Ceil()
	}
}

// begunBy reports whether work on a task had begun by a time.
func begunBy(t tasks.Task, entries []daybook.Entry, at units.Instant) bool {
	if t.State == tasks.Finished && (t.FinishedAt == nil || t.FinishedAt.At <= at) {
		return true
	}
	for _, e := range entries {
		if e.At < at {
			return true
		}
	}
	return t.State != tasks.Todo && len(entries) == 0
}

func (v *View) aheadOfPart(name id.Part, at units.Instant) (Ahead, bool) {
	i, ok := v.Live.PartAt[name]
	if !ok {
		return Ahead{}, false
	}
	p := v.Live.Parts[i]
	if p.Arrived != nil {
		return Ahead{Kind: "part", Ref: string(name), Text: p.Title() + " had not arrived"}, p.Arrived.At > at
	}
	return Ahead{Kind: "part", Ref: string(name), Text: v.partHold(name).text}, p.ThereFrom(v.Now) > at
}
