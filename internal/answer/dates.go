package answer

import (
	"errors"
	"fmt"

	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
)

// Dates gives the early and late dates of the open tasks, in the order of the build:
// must edges, lags, cures, parts, dates and hours only. Access and the number of
// hands are not looked at, so the finish is earlier than any plan's. The error is a
// *deps.CycleError, or a *plan.NoSequenceError where a task never finishes.
func (v *View) Dates() (Dates, error) {
	p, err := v.problem()
	if err != nil {
		return Dates{}, err
	}
	out := Dates{Tasks: []TaskDates{}, Finish: v.Now}
	if len(p.Jobs) == 0 {
		return out, nil
	}
	dates, finish, err := v.network(p).Schedule()
	var never *deps.NeverError
	if errors.As(err, &never) {
		return Dates{}, &plan.NoSequenceError{Job: never.Activity, ID: p.Jobs[never.Activity].ID, Sure: true,
			Why: "it never finishes: the hours that it or its cure waits for do not come"}
	}
	if err != nil {
		return Dates{}, fmt.Errorf("dates: %w", err)
	}
	for i, d := range dates {
		out.Tasks = append(out.Tasks, TaskDates{ID: p.Jobs[i].ID,
			EarlyStart: d.EarlyStart, EarlyFinish: d.EarlyFinish,
			LateStart: d.LateStart, LateFinish: d.LateFinish,
			TotalFloatMin: d.TotalFloat, FreeFloatMin: d.FreeFloat, Critical: d.Critical})
	}
	out.Finish = finish
	return out, nil
}

func (v *View) network(p *problem) deps.Network {
	n := deps.Network{Start: v.Now}
	for i, j := range p.Jobs {
		release := v.Now
		for _, h := range v.holds(p.task[i]) {
			release = max(release, h.from)
		}
		n.Activities = append(n.Activities, deps.Activity{Minutes: j.Minutes, Hours: j.Hours,
			Release: release, Cure: j.Cure})
	}
	for _, e := range p.Edges {
		if !e.Should {
			n.Links = append(n.Links, deps.Link{From: e.Before, To: e.After, Lag: e.Lag})
		}
	}
	return n
}

func (v *View) datesByTask() (map[id.Task]TaskDates, error) {
	d, err := v.Dates()
	out := map[id.Task]TaskDates{}
	for _, t := range d.Tasks {
		out[t.ID] = t
	}
	return out, err
}
