package answer

import (
	"slices"

	"example.com/vanlog/internal/forecast"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// lives puts the order of seq to package forecast. The errors are those of Sequence.
func (v *View) lives(seq Sequence) (forecast.Problem, error) {
	p, err := v.problem()
	if err != nil {
		return forecast.Problem{}, err
	}
	l := &lived{v: v, p: p, rows: rowsByTask(&seq), at: make([]int, len(p.Jobs)), part: map[id.Part]int{}}
	l.out.Now = v.Now
	for _, r := range p.Resources {
		l.out.Resources = append(l.out.Resources, forecast.Resource{ID: r.ID, Capacity: r.Capacity})
	}
	l.before = make([][]forecast.Link, len(p.Jobs))
	for _, e := range p.Edges {
		if !e.Should {
			l.before[e.After] = append(l.before[e.After], forecast.Link{Job: e.Before, Lag: e.Lag})
		}
	}
	for i := range l.at {
		l.at[i] = -1
	}
	l.ahead = make([][]int, len(p.Jobs))
	for _, q := range added(p.following(), l.beforeCures()) {
		l.ahead[q.after] = append(l.ahead[q.after], q.before)
	}
	for _, r := range seq.Tasks {
		if job, open := p.job[r.ID]; open {
			l.add(job)
		}
	}
	for job := range p.Jobs {
		l.add(job) // what the order does not have comes last
	}
	return l.out, nil
}

// lived is a problem of package forecast under way.
type lived struct {
	v      *View
	p      *problem
	rows   map[id.Task]Row
	before [][]forecast.Link // by job of p: the must edges into it
	ahead  [][]int           // by job of p: what has to come ahead of it though it starts no sooner
	at     []int             // by job of p: its place in out.Jobs; -1: not there yet
	part   map[id.Part]int
	out    forecast.Problem
}

// beforeCures pairs jobs whose cures hold something with those that start no sooner and have
// it before the cure begins. Taken by their starts, the cure would begin as soon as it can and
// keep the others waiting, where the plan has it the other way round.
func (l *lived) beforeCures() []pair {
	var out []pair
	for h, holder := range l.p.Jobs {
		row, ok := l.rows[holder.ID]
		if !ok || holder.Cure.Minutes == 0 {
			continue
		}
		for j, job := range l.p.Jobs {
			other, ok := l.rows[job.ID]
			if !ok || j == h || other.Start < row.Start {
				continue
			}
			if slices.ContainsFunc(holder.Holds, func(r int) bool { return l.hasBefore(j, r, other, row.Finish) }) {
				out = append(out, pair{before: j, after: h})
			}
		}
	}
	return out
}

// hasBefore reports whether job j, which has this row, is done with resource r by a time, and a
// cure could not hold it at once.
func (l *lived) hasBefore(j, r int, row Row, by units.Instant) bool {
	end := row.Finish
	if slices.Contains(l.p.Jobs[j].Holds, r) {
		end = max(end, row.CureEnd)
	}
	needs := l.p.needs(j, r)
	return needs > 0 && needs+1 > l.p.Resources[r].Capacity && end <= by
}

// add adds a job after all that it waits for: rows that start and end in one minute may
// stand in any order in a sequence.
func (l *lived) add(job int) {
	if l.at[job] >= 0 {
		return
	}
	for _, j := range l.ahead[job] {
		l.add(j)
	}
	from, task := l.p.Jobs[job], l.p.task[job]
	j := forecast.Job{ID: task.ID, Trade: task.Trade, Minutes: leftRange(task), Hours: from.Hours,
		Release: l.v.Now, Cure: from.Cure, Holds: from.Holds}
	for _, e := range l.before[job] {
		l.add(e.Job)
		j.After = append(j.After, forecast.Link{Job: l.at[e.Job], Lag: e.Lag})
	}
	if row, ok := l.rows[task.ID]; ok {
		j.Extra = row.AccessMin + row.ReworkMin
	}
	for _, f := range l.v.freed(task) {
		j.Release = max(j.Release, f.from)
	}
	for _, h := range l.v.holds(task) {
		if h.kind != "part" {
			j.Release = max(j.Release, h.from)
		}
	}
	for _, u := range from.Uses {
		j.Uses = append(j.Uses, forecast.Use{Resource: u.Resource, Units: u.Units})
	}
	j.Parts = l.parts(task)
	l.at[job] = len(l.out.Jobs)
	l.out.Jobs = append(l.out.Jobs, j)
}

// parts gives the places of the parts of a task that have not arrived.
func (l *lived) parts(t tasks.Task) []int {
	var out []int
	for _, name := range t.Parts {
		i, ok := l.v.Live.PartAt[name]
		if !ok || l.v.Live.Parts[i].Arrived != nil {
			continue
		}
		if _, known := l.part[name]; !known {
			l.part[name] = len(l.out.Parts)
			l.out.Parts = append(l.out.Parts, coming(l.v.Live.Parts[i], l.v.Now))
		}
		out = append(out, l.part[name])
	}
	return out
}

// coming gives when a part may come: its lead time from the day it was ordered, today
// where it is not; a due date is the likely day, and without a lead time the only one.
func coming(p parts.Part, now units.Instant) forecast.Part {
	out := forecast.Part{ID: p.ID, Lead: p.LeadDays, Ordered: now.Date()}
	if p.Ordered != nil {
		out.Ordered = p.Ordered.At.Date()
	}
	if p.Due != nil {
		due := p.Due.At.Date()
		out.Due = &due
		if p.LeadDays == (units.Estimate{}) { // nothing is known but the day
			out.Ordered = due
		}
	}
	return out
}

// leftRange gives the minutes of work that remain. Likely is what the plan reckons with;
// low and high follow the same rule: the estimate less what is spent once started, or, where
// the person says what is left, as far from that as they were from the likely hours.
func leftRange(t tasks.Task) units.Estimate {
	h, likely := t.Hours, float64(t.LeftMinutes())
	low, high := h.Low, h.High
	switch {
	case t.LeftH != nil && h.Likely > 0:
		low, high = *t.LeftH*h.Low/h.Likely, *t.LeftH*h.High/h.Likely
	case t.LeftH != nil:
		return units.Sure(likely)
	case t.State == tasks.Started:
		low, high = max(0, low-t.SpentH), max(0, high-t.SpentH)
	}
	return units.Estimate{Low: min(low*60, likely), Likely: likely, High: max(high*60, likely)}
}
