package plan

import (
	"context"

	"example.com/vanlog/internal/units"
)

// exactJobs is the largest problem for which all orders are tried.
const exactJobs = 10

// exact tries all orders in which jobs can be placed, less those that cannot be
// better than the best, or that lead to what was seen before.
type exact struct {
	*finder
	s     *schedule
	seen  map[[exactJobs]units.Instant]struct{}
	nodes int // that may still be looked at
}

// tryAll looks at all orders, and reports whether it has seen them all. Where should
// edges cost nothing it does so twice: once breaking them rather than waiting, and once not.
func (f *finder) tryAll(ctx context.Context, nodes int) bool {
	if len(f.m.jobs) > exactJobs {
		return false
	}
	all := true
	for _, polite := range []bool{false, true} {
		if polite && !f.m.free() {
			break
		}
		e := exact{finder: f, s: newSchedule(f.m), seen: map[[exactJobs]units.Instant]struct{}{}, nodes: nodes}
		e.s.polite = polite
		all = e.from(ctx) && all
	}
	return all
}

// free reports whether there is a should edge that costs nothing.
func (m *model) free() bool {
	for j := range m.jobs {
		for _, d := range m.jobs[j].pays {
			if d.minutes == 0 {
				return true
			}
		}
	}
	return false
}

// fixed reports whether no order changes how long a job lasts, and no job can start before
// one that is placed before it has finished. Then all orders in which jobs can be placed
// hold a best schedule.
func (m *model) fixed() bool {
	if m.laps {
		return false
	}
	for j := range m.jobs {
		if m.jobs[j].moved {
			return false
		}
		for _, d := range m.jobs[j].pays {
			if d.minutes > 0 {
				return false
			}
		}
	}
	return true
}

func (e *exact) from(ctx context.Context) bool {
	if e.nodes--; e.nodes < 0 || over(ctx) {
		return false
	}
	if len(e.s.order) == len(e.m.jobs) {
		e.offer(e.s)
		return true
	}
	if e.known() || e.hopeless() {
		return true
	}
	for j := range e.m.jobs {
		if !e.next(j) {
			continue
		}
		all := true
		if e.s.place(j) == fits {
			all = e.s.finish[j] > e.m.jobs[j].deadline || e.from(ctx)
			e.s.take()
		}
		if !all {
			return false
		}
	}
	return true
}

// next reports whether j can be placed now.
func (e *exact) next(j int) bool {
	if e.s.placed[j] {
		return false
	}
	for _, l := range e.m.jobs[j].before {
		if !e.s.placed[l.job] {
			return false
		}
	}
	return true
}

// known reports whether the same jobs stood in the same places before.
func (e *exact) known() bool {
	var key [exactJobs]units.Instant
	for j := range key {
		key[j] = -never
		if j < len(e.m.jobs) && e.s.placed[j] {
			key[j] = e.s.start[j]
		}
	}
	_, known := e.seen[key]
	e.seen[key] = struct{}{}
	return known
}

// hopeless reports whether nothing better than the best can come of what is placed.
func (e *exact) hopeless() bool {
	if !e.found {
		return false
	}
	least := score{finish: e.m.p.Now}
	for j := range e.m.jobs {
		b := &e.m.jobs[j]
		least.work += b.minutes
		least.finish = max(least.finish, e.w[j].cured)
		if e.s.placed[j] {
			least.finish = max(least.finish, e.s.cured[j])
			least.work += e.s.rework[j]
			if b.moved {
				least.work += b.base + e.s.reach[j] - b.minutes
			}
		}
	}
	return least.compare(score{finish: e.best.Finish, work: e.best.Work, broken: len(e.best.Broken)}) > 0
}
