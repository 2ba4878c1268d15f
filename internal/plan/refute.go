package plan

import (
	"context"
	"slices"

	"example.com/vanlog/internal/units"
)

// refutes reports whether nothing finishes by the end with the limits and orders that are
// set: it tightens them, the windows of most jobs at most, and then supposes that one more job
// starts early, or late.
func (v *shaving) refutes(ctx context.Context, depth, most int) bool {
	if !v.possible() || !v.orders(ctx) || !v.shave(ctx, most) {
		return true
	}
	j, at := v.decision()
	if depth == 0 || j < 0 || over(ctx) {
		return false
	}
	back := v.keep()
	v.limit(j, at)
	if !v.refutes(ctx, depth-1, shaveBelow) {
		return false
	}
	back()
	v.first[j].start = at + 1
	if !v.refutes(ctx, depth-1, shaveBelow) {
		return false
	}
	back()
	return true
}

// keep gives a function that takes all limits and orders back to what they are now.
func (v *shaving) keep() (back func()) {
	first, aparts := slices.Clone(v.first), slices.Clone(v.n.aparts)
	startBy, endBy := slices.Clone(v.n.startBy), slices.Clone(v.n.endBy)
	return func() {
		copy(v.first, first)
		copy(v.n.aparts, aparts)
		copy(v.n.startBy, startBy)
		copy(v.n.endBy, endBy)
	}
}

// decision gives a job, and the latest of its starts in the earlier part of its window: of the
// jobs worth it the one with the least room.
func (v *shaving) decision() (job int, at units.Instant) {
	v.possible()
	job = -1
	least := 0
	for j, w := range v.n.w {
		start, ok := v.middle(j, w)
		if room := v.n.wide.count(w.start, w.latest); ok && (job < 0 || room < least) {
			job, at, least = j, start, room
		}
	}
	return job, at
}

// middle gives the latest start with which job j finishes on one of the days in the middle of
// its window; false where that does not part it, or j is no job that would be worth it.
func (v *shaving) middle(j int, w window) (units.Instant, bool) {
	b := &v.n.m.jobs[j]
	if b.minutes == 0 || b.hours == v.n.wide && len(b.holds) == 0 {
		return 0, false
	}
	at, ok := b.hours.finish(w.start, (b.hours.count(w.start, w.latest)+b.minutes)/2)
	if !ok {
		return 0, false
	}
	start, ok := b.hours.latestStart(b.hours.until(at-1), b.minutes)
	return start, ok && w.start <= start && start < w.latest
}

// mostOrders is the largest number of pairs that are looked at: beyond it windows alone are
// shaved, so that some bound comes soon.
const mostOrders = 2000

// orders sets the order of jobs that lie apart where the other leaves no room. It reports
// whether there is room then.
func (v *shaving) orders(ctx context.Context) bool {
	if len(v.n.aparts) > mostOrders {
		return true
	}
	for i := range v.n.aparts {
		p := &v.n.aparts[i]
		if p.order != open || over(ctx) {
			continue
		}
		p.order = before
		early := v.possible()
		p.order = after
		late := v.possible()
		switch {
		case early && late:
			p.order = open
		case early:
			p.order = before
		case !late:
			return false
		}
	}
	return v.possible()
}
