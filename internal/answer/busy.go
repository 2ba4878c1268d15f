package answer

import (
	"fmt"
	"slices"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// busyWith is a reason of kind resource, with the task that has it.
type busyWith struct {
	Because
	with id.Task
}

// busy gives the rows that would be in the way if row i started in the last minute before
// its start in which it could work: what they, or their cures, have of a resource leaves too
// little for it, or for its cure. Each is given once, with the first such thing.
func (r *reasons) busy(i int) []busyWith {
	sooner, ok := r.sooner(i)
	if !ok {
		return nil
	}
	var out []busyWith
	for k, other := range r.rows {
		if k == i || other.Start >= max(sooner.CureEnd, sooner.Finish) || max(other.CureEnd, other.Finish) <= sooner.Start {
			continue
		}
		if b, clash := r.clash(i, sooner, k); clash {
			out = append(out, busyWith{b, r.p.Jobs[other.Job].ID})
		}
	}
	return out
}

// sooner gives row i as it would be if it started in the last minute before its start in
// which it could work; false where there is none.
func (r *reasons) sooner(i int) (plan.Row, bool) {
	row := r.rows[i]
	job := r.p.Jobs[row.Job]
	row.Start--
	if row.Work > 0 {
		row.Start = r.lastOpen(job.Hours, row.Start+1) - 1
	}
	var there, cures bool
	row.Finish, there = job.Hours.Finish(row.Start, row.Work)
	row.CureEnd, cures = job.Cure.End(row.Finish)
	return row, there && cures && row.Start >= r.p.Now
}

// clash reports whether row k leaves too little for row i if that starts sooner.
func (r *reasons) clash(i int, sooner plan.Row, k int) (Because, bool) {
	job := r.p.Jobs[sooner.Job]
	if sooner.Work > 0 {
		for _, use := range job.Uses {
			for _, s := range r.had(k, use.Resource) {
				m, meet := s.meets(job.Hours, sooner.Start, sooner.Finish)
				if meet && r.short(use, k, i, m) {
					return r.busyText(use.Resource, k, s, sooner.Start), true
				}
			}
		}
	}
	for _, h := range job.Holds {
		for _, s := range r.had(k, h) {
			m, meet := s.meets(nil, sooner.Finish, sooner.CureEnd)
			if meet && r.short(plan.Use{Resource: h, Units: 1}, k, i, m) {
				return r.heldText(h, k), true
			}
		}
	}
	return Because{}, false
}

// use is a time in which a row has some of a resource: in the minutes of its hours, or, where it is a
// cure that holds it, in all of them.
type use struct {
	from, to units.Instant
	hours    *calendar.Hours // nil: all minutes
}

// had gives when row k has some of a resource.
func (r *reasons) had(k, resource int) []use {
	row := r.rows[k]
	job := r.p.Jobs[row.Job]
	var out []use
	if row.Work > 0 && slices.ContainsFunc(job.Uses, func(u plan.Use) bool { return u.Resource == resource }) {
		out = append(out, use{row.Start, row.Finish, job.Hours})
	}
	if slices.Contains(job.Holds, resource) {
		out = append(out, use{row.Finish, row.CureEnd, nil})
	}
	return out
}

// meets gives the first minute of u that is in [from, to) and in these hours.
func (u use) meets(hours *calendar.Hours, from, to units.Instant) (units.Instant, bool) {
	m := max(u.from, from)
	for m < min(u.to, to) {
		next := m
		for _, h := range []*calendar.Hours{u.hours, hours} {
			if h == nil {
				continue
			}
			at, ok := h.Next(next)
			if !ok {
				return 0, false
			}
			next = at
		}
		if next == m {
			return m, true
		}
		m = next
	}
	return 0, false
}

// short reports whether what row k and the others hold of a resource in minute m leaves
// too little of it for row i.
func (r *reasons) short(use plan.Use, k, i int, m units.Instant) bool {
	held := r.units(k, use.Resource, m)
	if held == 0 {
		return false
	}
	for other := range r.rows {
		if r.rows[other].Start > m {
			break
		}
		if other != i && other != k {
			held += r.units(other, use.Resource, m)
		}
	}
	return held+use.Units > r.p.Resources[use.Resource].Capacity
}

// units gives how many of a resource row k holds in the minute m.
func (r *reasons) units(k, resource int, m units.Instant) int {
	row := r.rows[k]
	job := r.p.Jobs[row.Job]
	switch {
	case row.Start <= m && m < row.Finish && job.Hours.In(m):
		for _, u := range job.Uses {
			if u.Resource == resource {
				return u.Units
			}
		}
	case row.Finish <= m && m < row.CureEnd && slices.Contains(job.Holds, resource):
		return 1
	}
	return 0
}

func (r *reasons) busyText(resource, k int, s use, start units.Instant) Because {
	name := r.p.Resources[resource].ID
	title, with := r.v.resourceTitle(name), r.v.taskTitle(r.p.Jobs[r.rows[k].Job].ID)
	text := fmt.Sprintf("%s: busy with %s until %s", title, with, when(s.to))
	switch {
	case s.from > start:
		text = fmt.Sprintf("%s: not free for long enough before %s", title, with)
	case s.hours == nil:
		text = fmt.Sprintf("%s: taken while %s cures, until %s", title, with, when(s.to))
	}
	return Because{Kind: "resource", Ref: string(name), Text: text}
}

func (r *reasons) heldText(resource, k int) Because {
	name := r.p.Resources[resource].ID
	return Because{Kind: "resource", Ref: string(name), Text: fmt.Sprintf("%s: its cure would take it from %s",
		r.v.resourceTitle(name), r.v.taskTitle(r.p.Jobs[r.rows[k].Job].ID))}
}
