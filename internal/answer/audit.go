package answer

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// Audit gives everything that is wrong with the plan or the record: loops, redundant
// edges, parts that come too late, proofs buried or about to be, work ahead of its
// turn, places that cannot be reached, dates that cannot be held. It never gives nil.
func (v *View) Audit(ctx context.Context) []build.Problem {
	a := &auditor{v: v, ctx: ctx, found: []build.Problem{}, said: map[burying]bool{}}
	for _, look := range []func(){a.order, a.plan, a.noWayIn, a.unreachable, a.buried, a.coveredUnproven, a.outOfTolerance, a.aboutToBury, a.snagsAboutToGo, a.planBuries, a.ahead, a.redundant} {
		if ctx.Err() == nil {
			look()
		}
	}
	return a.found
}

type auditor struct {
	v     *View
	ctx   context.Context // of one Audit
	found []build.Problem
	job   []tasks.Task // of the first order, where there is one
	rows  []plan.Row
	said  map[burying]bool // proofs that have been named already
}

func (a *auditor) add(kind, ref, hint, text string, args ...any) {
	a.found = append(a.found, build.Problem{Kind: kind, Ref: ref, Text: fmt.Sprintf(text, args...), Hint: hint})
}

// order finds loops of must edges.
func (a *auditor) order() {
	var loops *deps.CycleError
	if !errors.As(a.v.shut(), &loops) {
		return
	}
	for _, loop := range loops.Loops {
		a.add("cycle", string(loop[0].Before), "remove one of these edges, or make it a should edge", "%s", deps.LoopText(loop))
	}
}

// plan finds what keeps the first order from being what it should: no order at all, dates
// that cannot be held, parts that hold up the work.
func (a *auditor) plan() {
	if a.v.shut() != nil {
		return
	}
	a.overdue()
	missed := a.missedDates()
	p, found, err := a.v.find(a.ctx, plan.Options{})
	var none *plan.NoSequenceError
	switch {
	case err == nil:
		a.job, a.rows = p.task, found.Rows
		a.lateParts(newReasons(a.v, p, found.Rows))
	case missed > 0 || a.ctx.Err() != nil: // said already, or nothing to be said
	case errors.As(err, &none):
		a.add("no order", string(none.ID), "", "there is no order of work: %s", none.Error())
	default:
		a.add("no order", "", "", "there is no order of work: %v", err)
	}
}

// overdue finds parts that should be here by now.
func (a *auditor) overdue() {
	for _, p := range a.v.Live.Parts {
		if p.Arrived == nil && p.Due != nil && p.Due.At.Date() < a.v.Now.Date() {
			a.add("late part", string(p.ID), "give a new due date, or the day it arrived",
				"%s was due on %s and has not arrived", p.Title(), p.Due.At.Date())
		}
	}
}

// lateParts finds the parts that hold up a row of the plan, and nothing else does.
func (a *auditor) lateParts(r *reasons) {
	for i, row := range r.rows {
		held, _ := r.holding(row)
		others := func(b Because) bool { return b.Kind != "part" }
		if slices.ContainsFunc(held, others) || len(held) > 0 && len(r.busy(i)) > 0 {
			continue
		}
		for _, b := range held {
			a.add("late part", b.Ref, "order it, chase it, or see what else can be done first",
				"%s waits for it: %s", r.p.task[row.Job].Title(), b.Text)
		}
	}
}

// missedDates finds tasks that cannot be finished by their date whatever the order, and
// counts them.
func (a *auditor) missedDates() int {
	early, err := a.v.early()
	if err != nil {
		return 0 // the search for an order says why
	}
	missed := 0
	for _, t := range a.v.Live.Tasks {
		d, open := early[t.ID]
		if !open || t.NotAfter == nil || d.EarlyFinish <= t.NotAfter.Until() {
			continue
		}
		missed++
		a.add("cannot hold date", string(t.ID), "move its not_after, or what comes before it",
			"%s is wanted by %s and cannot be done before %s", t.Title(), t.NotAfter, when(d.EarlyFinish))
	}
	return missed
}

// noWayIn finds places that nothing leads to, however little is fitted.
func (a *auditor) noWayIn() {
	for _, p := range a.v.Live.Places {
		q := access.Query{Places: []id.Place{p.ID}, Fitted: a.v.solver().Set()}
		if _, ok := a.v.solver().Cost(q); !ok {
			a.add("no way in", string(p.ID), "give it a way from a place that can be entered",
				"%s cannot be entered even with nothing fitted", p.Title())
		}
	}
}

// unreachable finds open tasks without a way to them now, and services without one once
// everything is fitted.
func (a *auditor) unreachable() {
	s := a.v.solver()
	for _, t := range a.v.Live.Tasks {
		if wait, stuck := a.v.reachWait(t); stuck && t.State != tasks.Finished {
			a.add("unreachable", string(t.ID), "give what is in the way an opening, or its place another way in",
				"%s: %s", t.Title(), wait.Text)
		}
	}
	for _, x := range a.v.Live.Items {
		q := a.v.itemQuery(x.ID, s.All())
		if _, ok := s.Cost(q); len(x.Service) > 0 && !ok {
			a.add("unreachable", string(x.ID), fmt.Sprintf("see what stands in the way: vanlog reach %s --fitted all", x.ID),
				"%s wants service and cannot be reached once everything is fitted", x.Title())
		}
	}
}

// ahead finds work that came ahead of its turn: each thing skipped once, with the first time.
func (a *auditor) ahead() {
	type skip struct {
		task      id.Task
		kind, ref string
	}
	said := map[skip]bool{}
	for _, e := range a.v.Build.Days.Rows {
		for _, h := range a.v.Ahead(e.Task, e.At) {
			key := skip{e.Task, h.Kind, h.Ref}
			if said[key] {
				continue
			}
			said[key] = true
			a.add("ahead", string(e.Task), "", "%s was worked on ahead of its turn on %s: %s%s",
				a.v.taskTitle(e.Task), e.At.Date(), h.Text, costText(h.CostMin))
		}
	}
}

func costText(min int) string {
	if min == 0 {
		return ""
	}
	return fmt.Sprintf("; that may cost %s", units.Minutes(min))
}

// redundant finds edges that say nothing new.
func (a *auditor) redundant() {
	if a.v.shut() != nil {
		return
	}
	cures := func(t id.Task) bool {
		task, _ := a.v.task(t)
		return task.Cure != nil && task.Cure.Hours > 0
	}
	for _, e := range deps.Redundant(a.v.taskIDs(), a.v.Live.Edges, cures) {
		a.add("redundant edge", string(e.Before)+" -> "+string(e.After), "it may go, unless its reason is worth keeping",
			"%s", reason(fmt.Sprintf("%s already comes before %s by other edges", e.Before, e.After), e.Why))
	}
}
