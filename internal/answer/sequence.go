package answer

import (
	"context"

	"example.com/vanlog/internal/plan"
)

// Sequence gives the best order of the open tasks. The error is a
// *plan.NoSequenceError where there is none, a *deps.CycleError where tasks wait for one
// another. Its reasons are read from the finished order: each is one whose end is the
// row's start, or lies in the hours off just before it.
func (v *View) Sequence(ctx context.Context, o plan.Options) (Sequence, error) {
	p, found, err := v.find(ctx, o)
	if err != nil {
		return Sequence{}, err
	}
	return v.sequence(p, found), nil
}

func (v *View) find(ctx context.Context, o plan.Options) (*problem, plan.Sequence, error) {
	p, err := v.problem()
	if err != nil {
		return nil, plan.Sequence{}, err
	}
	if len(p.Jobs) == 0 {
		return p, plan.Sequence{Finish: v.Now, Bound: v.Now, Proven: true}, nil
	}
	o.Last = v.lastRows(p)
	found, err := plan.Find(ctx, p.Problem, o)
	return p, found, err
}

func (v *View) sequence(p *problem, found plan.Sequence) Sequence {
	s := Sequence{Now: v.Now, Finish: found.Finish, BoundFinish: found.Bound, Proven: found.Proven,
		WorkMin: found.Work, Tasks: []Row{}, ShouldBroken: []Broken{}}
	s.ShouldBroken = append(s.ShouldBroken, p.known...)
	why := newReasons(v, p, found.Rows)
	room := newChains(why, found.Finish)
	because := make([][]Because, len(found.Rows))
	for i, r := range found.Rows {
		because[i] = why.of(i)
		s.AccessMin += r.Reach
		s.Tasks = append(s.Tasks, Row{ID: p.Jobs[r.Job].ID, Start: r.Start, Finish: r.Finish,
			WorkMin: r.Work, AccessMin: r.Reach, ReworkMin: r.Rework, CureEnd: r.CureEnd,
			SlackMin: room.slack(i), Because: because[i]})
	}
	s.Idle = why.idle(because, found.Finish)
	for _, e := range found.Broken {
		s.ShouldBroken = append(s.ShouldBroken, Broken{Before: p.Jobs[e.Before].ID,
			After: p.Jobs[e.After].ID, ReworkMin: e.Rework})
	}
	return s
}
