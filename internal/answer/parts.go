package answer

import (
	"context"
	"slices"
	"sort"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// PartState is the word for how a part stands.
type PartState string

// The words for how a part stands.
const (
	NotOrdered PartState = "not ordered" // and no day is known on which it is due
	Ordered    PartState = "ordered"
	LatePart   PartState = "late" // was due before today, and has not arrived
	Arrived    PartState = "arrived"
)

// HoldsUp is the open work that cannot be done without a part.
type HoldsUp struct {
	Tasks         []id.Task `json:"tasks"`          // those that need it, and all that must come after them
	Hours         float64   `json:"hours"`          // that remain of them, without access
	WorkableShare float64   `json:"workable_share"` // of all remaining hours: what can be done without it, 0 to 1
}

// PartRow says by when a part must be ordered, and what it holds up. NeededBy and the days
// after it are nil where it has arrived, where no open task needs it, and without a plan.
type PartRow struct {
	ID        id.Part       `json:"id"`
	State     PartState     `json:"state"`
	Due       *units.Date   `json:"due"`        // nil: not known
	ThereFrom units.Instant `json:"there_from"` // as the plan takes it: not ordered, as if it were ordered now

	NeededBy *units.Instant `json:"needed_by"` // when the first task that needs it starts in the plan
	// OrderBy is the last day on which it can be ordered, with its likely lead time, and no task
	// that needs it starts later than in the plan. OrderByFinish is the last day with which the
	// whole build ends no later, all work in the order of the plan.
	OrderBy       *units.Date `json:"order_by"`
	OrderByFinish *units.Date `json:"order_by_finish"`
	// SlackDays is how many days it may come later than it is due (where that is past: than today)
	// before a task that needs it starts later than in the plan; less than 0: it is too late for that.
	// SlackDaysFinish is the same for the finish of the whole build.
	SlackDays       *int `json:"slack_days"`
	SlackDaysFinish *int `json:"slack_days_finish"`

	HoldsUp HoldsUp `json:"holds_up"`
}

// PartRows gives every part of the build, in its order. Seq is the present plan; nil: there is
// none, and by when a part is needed is not known. The error is a *deps.CycleError where tasks
// wait for one another, a *plan.NoSequenceError where one can never be done, or that of ctx.
func (v *View) PartRows(ctx context.Context, seq *Sequence) ([]PartRow, error) {
	p, err := v.problem()
	if err != nil {
		return nil, err
	}
	must, kept := p.following(), p.keptPlan(seq)
	out := []PartRow{}
	for _, part := range v.Live.Parts {
		row := PartRow{ID: part.ID, State: v.partState(part), ThereFrom: part.ThereFrom(v.Now)}
		if due, known := part.DueDate(); known {
			row.Due = &due
		}
		needs := p.needing(part.ID)
		row.HoldsUp = p.holdsUp(needs, must)
		if kept != nil && len(needs) > 0 && part.Arrived == nil {
			row.schedule(ctx, part, v.Now, kept, needs)
		}
		out = append(out, row)
	}
	return out, ctx.Err()
}

func (v *View) partState(p parts.Part) PartState {
	due, known := p.DueDate()
	switch {
	case p.Arrived != nil:
		return Arrived
	case !known:
		return NotOrdered
	case due < v.Now.Date():
		return LatePart
	}
	return Ordered
}

// needing gives the jobs that need a part.
func (p *problem) needing(part id.Part) []int {
	var out []int
	for j, t := range p.task {
		if slices.Contains(t.Parts, part) {
			out = append(out, j)
		}
	}
	return out
}

// holdsUp sums up some jobs and all that must come after them.
func (p *problem) holdsUp(first []int, must *reaches) HoldsUp {
	out := HoldsUp{Tasks: []id.Task{}, WorkableShare: 1}
	held, all := 0, 0
	for j, job := range p.Jobs {
		all += job.Minutes
		if slices.ContainsFunc(first, func(f int) bool { return f == j || must.leads(f, j) }) {
			out.Tasks = append(out.Tasks, job.ID)
			held += job.Minutes
		}
	}
	out.Hours = float64(held) / 60
	if all > 0 {
		out.WorkableShare = float64(all-held) / float64(all)
	}
	return out
}

// schedule fills in the days of a part that some jobs of the plan need.
func (r *PartRow) schedule(ctx context.Context, p parts.Part, now units.Instant, kept *keptPlan, needs []int) {
	first := kept.start[needs[0]]
	for _, job := range needs {
		first = min(first, kept.start[job])
	}
	last := kept.lastDay(ctx, needs, parts.DueBy(first))
	r.NeededBy = &first
	r.OrderBy, r.SlackDays = r.daysFor(p, now, parts.DueBy(first))
	r.OrderByFinish, r.SlackDaysFinish = r.daysFor(p, now, last)
}

// daysFor gives the last day to order a part that may be due on a day, and its slack.
func (r *PartRow) daysFor(p parts.Part, now units.Instant, last units.Date) (*units.Date, *int) {
	by := p.OrderBy(last)
	slack := int(last - max(parts.DueBy(r.ThereFrom), now.Date()))
	return &by, &slack
}

// keptPlan is a plan whose order is kept while parts come later.
type keptPlan struct {
	p      *problem
	start  []units.Instant // of each job
	pairs  []pair
	finish units.Instant
}

// keptPlan gives seq as a plan to be kept; nil without one, or where it is not of all the jobs.
func (p *problem) keptPlan(seq *Sequence) *keptPlan {
	if seq == nil {
		return nil
	}
	rows := p.rowsOf(seq.Tasks)
	if len(rows) != len(p.Jobs) {
		return nil
	}
	k := &keptPlan{p: p, start: make([]units.Instant, len(rows)), pairs: p.keeping(rows, p.share), finish: seq.Finish}
	for _, r := range rows {
		k.start[r.Job] = r.Start
	}
	return k
}

// lastDay gives the last day, from that one on, on which what some jobs need may be due and the
// whole ends no later.
func (k *keptPlan) lastDay(ctx context.Context, needs []int, from units.Date) units.Date {
	late := func(days int) bool { return !k.endsInTime(ctx, needs, from+1+units.Date(days)) }
	if late(0) {
		return from // of most parts: it saves the search
	}
	return from + units.Date(sort.Search(int(parts.DueBy(k.finish)-from), late))
}

// endsInTime reports whether the whole ends no later if what some jobs need is due on a day.
func (k *keptPlan) endsInTime(ctx context.Context, needs []int, due units.Date) bool {
	with := *k.p
	with.Jobs = slices.Clone(with.Jobs)
	for _, j := range needs {
		with.Jobs[j].Release = max(with.Jobs[j].Release, (due + 1).Start())
	}
	s, err := with.search(ctx, k.pairs, plan.Options{})
	return err == nil && s.Finish <= k.finish
}
