package answer

import (
	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// problem is the build as package plan sees it, and the way back.
type problem struct {
	plan.Problem
	task  []tasks.Task // of each job
	job   map[id.Task]int
	known []Broken // should edges that are broken whatever the order
}

// problem puts the open tasks, in the order of the build, to package plan. The error
// is a *plan.NoSequenceError where a finished task never cures, or a *deps.CycleError.
func (v *View) problem() (*problem, error) {
	if err := v.shut(); err != nil {
		return nil, err
	}
	p := &problem{job: map[id.Task]int{}}
	p.Now, p.Fitted = v.Now, plan.Set(v.fitted())
	for _, r := range v.Live.Resources {
		p.Resources = append(p.Resources, plan.Resource{
			ID: r.ID, Capacity: int(r.Capacity), Hours: v.cal().Of(r.ID)})
	}
	for _, t := range v.Live.Tasks {
		if t.State == tasks.Finished {
			continue
		}
		if err := v.addJob(p, t); err != nil {
			return nil, err
		}
	}
	p.Owed = make([]int, len(p.Jobs))
	v.addEdges(p)
	p.Reach = v.reachOf(p.task)
	return p, nil
}

func (v *View) addJob(p *problem, t tasks.Task) error {
	p.job[t.ID] = len(p.Jobs)
	j := plan.Job{ID: t.ID, Minutes: t.LeftMinutes(), Hours: v.hours(t), Release: v.Now,
		Cure: v.cure(t), Started: t.State == tasks.Started}
	holds := v.holds(t)
	for _, f := range v.freed(t) {
		holds = append(holds, f.held)
	}
	for _, h := range holds {
		if h.never {
			return &plan.NoSequenceError{Job: p.job[t.ID], ID: t.ID, Why: h.text, Sure: true}
		}
		j.Release = max(j.Release, h.from)
	}
	if t.NotAfter != nil {
		until := t.NotAfter.Until()
		j.Deadline = &until
	}
	for _, r := range v.used(t) {
		j.Uses = append(j.Uses, plan.Use{Resource: v.Live.ResourceAt[r], Units: t.Uses[r]})
	}
	if t.Cure != nil {
		for _, r := range t.Cure.Holds {
			j.Holds = append(j.Holds, v.Live.ResourceAt[r])
		}
	}
	for _, x := range t.Fits {
		j.Fits = append(j.Fits, v.Live.ItemAt[x])
	}
	p.Jobs, p.task = append(p.Jobs, j), append(p.task, t)
	return nil
}

// addEdges adds the edges between open tasks. A should edge to a task that has started
// is broken already: what it costs is owed whatever the order.
func (v *View) addEdges(p *problem) {
	for _, e := range v.Live.Edges {
		before, open := p.job[e.Before]
		if !open {
			continue
		}
		after, open := p.job[e.After]
		rework := units.RoundMinutes(e.ReworkH)
		target, _ := v.task(e.After)
		switch {
		case isMust(e) && open:
			edge := plan.Edge{Before: before, After: after}
			if e.LagH != nil {
				lag := clockMinutes(*e.LagH)
				edge.Lag = &lag
			}
			p.Edges = append(p.Edges, edge)
		case isMust(e) || p.Jobs[before].Started:
			// An open task before a finished one: nothing is left to hold.
		case target.State == tasks.Todo || target.State == "":
			p.Edges = append(p.Edges, plan.Edge{Before: before, After: after, Should: true, Rework: rework})
		default:
			p.Owed[before] += rework
			p.known = append(p.known, Broken{Before: e.Before, After: e.After, ReworkMin: rework})
		}
	}
}

// reachOf gives the question that package plan asks: what getting at a job costs.
func (v *View) reachOf(ts []tasks.Task) func(int, plan.Set) (int, bool) {
	solver := v.solver()
	own := make([]access.Set, len(ts))
	asked := make([]access.Query, len(ts))
	for i, t := range ts {
		asked[i], own[i] = v.query(t, nil), solver.Set(t.Fits...)
	}
	return func(job int, fitted plan.Set) (int, bool) {
		q := asked[job]
		if len(q.Places)+len(q.Items) == 0 {
			return 0, true
		}
		q.Fitted = minus(access.Set(fitted), own[job])
		cost, ok := solver.Cost(q)
		return cost.Ceil(), ok
	}
}
