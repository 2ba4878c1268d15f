package answer

import (
	"math"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// clockMinutes gives hours that pass on the clock, lags and cures, in whole minutes; of
// two that are as near the even one.
func clockMinutes(h float64) int { return int(math.RoundToEven(h * 60)) }

// hours gives the minutes in which t can be worked on: all that it uses is there.
func (v *View) hours(t tasks.Task) *calendar.Hours {
	return v.cal().Of(v.used(t)...)
}

// used gives the resources that t uses, in the order of the build.
func (v *View) used(t tasks.Task) []id.Resource {
	var out []id.Resource
	for _, r := range v.Live.Resources {
		if t.Uses[r.ID] > 0 {
			out = append(out, r.ID)
		}
	}
	return out
}

func (v *View) cure(t tasks.Task) calendar.Cure {
	if t.Cure == nil {
		return calendar.Cure{}
	}
	c := calendar.Cure{Minutes: clockMinutes(t.Cure.Hours)}
	if t.Cure.While != "" {
		c.While = v.cal().Of(t.Cure.While)
	}
	return c
}

// ready gives the time from which e lets its After start, given the finish of its Before;
// false where the cure of Before never ends.
func (v *View) ready(e deps.Edge, finish units.Instant) (units.Instant, bool) {
	if e.LagH != nil {
		return finish + units.Instant(clockMinutes(*e.LagH)), true
	}
	before, _ := v.task(e.Before)
	return v.cure(before).End(finish)
}

// held is a constraint on the start of a task that comes from what is done, bought or
// fixed by a date, not from other open tasks.
type held struct {
	kind  string // edge, lag, cure, part, not-before
	ref   string
	from  units.Instant // it lets the task start
	never bool          // it never does
	text  string
}

// holds gives what the start of t has to wait for besides open tasks and resources,
// passed or not: its parts, its not-before, and finished tasks before it.
func (v *View) holds(t tasks.Task) []held {
	var out []held
	for _, e := range v.before()[t.ID] {
		before, _ := v.task(e.Before)
		if !isMust(e) || before.State != tasks.Finished || before.FinishedAt == nil {
			continue
		}
		out = append(out, v.finishedBefore(e, before))
	}
	for _, name := range t.Parts {
		out = append(out, v.partHold(name))
	}
	if t.NotBefore != nil {
		out = append(out, held{kind: "not-before", ref: string(t.ID), from: t.NotBefore.At,
			text: "not before " + when(t.NotBefore.At)})
	}
	return out
}

func (v *View) finishedBefore(e deps.Edge, before tasks.Task) held {
	h := held{kind: "edge", ref: string(e.Before)}
	from, ok := v.ready(e, before.FinishedAt.At)
	h.from, h.never = from, !ok
	switch {
	case !ok:
		h.kind, h.text = "cure", before.Title()+" never cures: "+v.resourceTitle(before.Cure.While)+" is never in its hours"
		return h
	case from <= before.FinishedAt.At:
		h.text = "after " + before.Title()
	case e.LagH != nil:
		h.kind, h.text = "lag", before.Title()+" must stand until "+when(from)
	default:
		h.kind, h.text = "cure", before.Title()+" cures until "+when(from)
	}
	h.text = reason(h.text, e.Why)
	return h
}

func (v *View) partHold(name id.Part) held {
	i, ok := v.Live.PartAt[name]
	if !ok {
		return held{kind: "part", ref: string(name)}
	}
	p := v.Live.Parts[i]
	h := held{kind: "part", ref: string(name), from: p.ThereFrom(v.Now)}
	switch {
	case p.Arrived != nil:
		h.text = p.Title() + " has arrived"
	case p.Ordered == nil && p.Due == nil:
		h.text = p.Title() + " is not ordered; ordered now, it is there from " + when(h.from)
	default:
		h.text = p.Title() + " is there from " + when(h.from)
	}
	return h
}

func isMust(e deps.Edge) bool { return e.Kind != deps.Should }
