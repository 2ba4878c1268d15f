package plan

import "example.com/vanlog/internal/units"

// apart is a job and one whose cure holds what both use: the job has finished before that
// one has, or starts after the cure.
type apart struct {
	job, holder int
	clear       bool // before it starts, or after the cure
	order       order
}

// aparts gives all such pairs: on a machine that one job at a time has, of a holder and a job
// that works in every minute that the holder does, so that it cannot lie around it.
func (m *model) aparts(machines []machine) (out []apart) {
	for i := range machines {
		for _, h := range machines[i].jobs {
			if !h.hold {
				continue
			}
			hours := m.jobs[h.job].hours.hours
			for _, x := range machines[i].jobs {
				if other := m.jobs[x.job].hours.hours; x != h && other.Contains(hours) {
					out = append(out, apart{job: x.job, holder: h.job, clear: hours.Contains(other)})
				}
			}
		}
	}
	return out
}

// order says which of two jobs that lie apart comes first.
type order int8

const (
	open   order = iota // either may
	before              // the job has finished before the holder has
	after               // the job starts after the cure of the holder
)

// part narrows the windows of jobs that lie apart, where they can come in one order only or
// that has been set, and reports whether it has.
func (n *narrowing) part() (more bool) {
	for i := range n.aparts {
		p := &n.aparts[i]
		j, h := &n.w[p.job], &n.w[p.holder]
		by := h.last - 1
		if p.clear {
			by = h.latest
		}
		if p.order != before && (p.order == after || j.finish > by) {
			more = n.follow(p, j, h) || more
		} else if p.order == before || j.latest < h.cured {
			more = n.lead(p, j, h, by) || more
		}
	}
	return more
}

// follow narrows the windows for the job to start after the cure of the holder.
func (n *narrowing) follow(p *apart, j, h *window) (more bool) {
	if j.start < h.cured {
		j.start, more = h.cured, true
	}
	if by := n.m.jobs[p.holder].cure.latestFinish(j.latest); h.last > by {
		h.by, more = min(h.by, by), more || by < h.by
	}
	return more
}

// lead narrows the windows for the job to finish by a time that the holder allows.
func (n *narrowing) lead(p *apart, j, h *window, by units.Instant) (more bool) {
	if j.last > by && j.by > by {
		j.by, more = by, true
	}
	if p.clear && h.start < j.finish {
		h.start, more = j.finish, true
	}
	return more
}
