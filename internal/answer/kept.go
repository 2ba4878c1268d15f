package answer

import (
	"context"
	"slices"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
)

// pair says that job after starts no earlier than lag minutes after job before has finished; a
// lag below zero lets them overlap.
type pair struct{ before, after, lag int }

// search finds the best order of p in which the pairs hold as well.
func (p *problem) search(ctx context.Context, pairs []pair, o plan.Options) (plan.Sequence, error) {
	if len(p.Jobs) == 0 {
		return plan.Sequence{Finish: p.Now, Bound: p.Now, Proven: true}, nil
	}
	with := p.Problem
	with.Edges = slices.Clone(p.Edges)
	for _, q := range pairs {
		with.Edges = append(with.Edges, plan.Edge{Before: q.before, After: q.after, Lag: &q.lag})
	}
	return plan.Find(ctx, with, o)
}

// polish is the search for the places of what a kept order leaves free, beside a search with the
// options o; none where that makes the first plan only.
func polish(o plan.Options) plan.Options {
	if o.Time == 0 && o.Schedules == 0 {
		return plan.Options{Seed: o.Seed}
	}
	return plan.Options{Schedules: 60, Seed: o.Seed}
}

// beats reports whether a is the better order: it ends sooner, or else is less work, or else
// breaks fewer should edges.
func beats(a, b plan.Sequence) bool {
	switch {
	case a.Finish != b.Finish:
		return a.Finish < b.Finish
	case a.Work != b.Work:
		return a.Work < b.Work
	}
	return len(a.Broken) < len(b.Broken)
}

// take gives s as an order of the problem that other is an order of: the bound is other's.
func take(s, other plan.Sequence) plan.Sequence {
	s.Bound = other.Bound
	s.Proven = s.Bound == s.Finish
	return s
}

// keeping gives the pairs that keep the order of rows, as few as say it: of two jobs that bind
// each other the one that has finished when the other starts comes before it. Of two that run
// in each other's pauses and share something the one that starts first still does. A pair is left
// out where must edges or the pairs so far lead the other way.
func (p *problem) keeping(rows []plan.Row, bind func(a, b int) bool) []pair {
	must := p.following()
	said := newReaches(len(p.Jobs)) // by pairs that do not overlap
	var out []pair
	for k, late := range rows {
		for _, early := range slices.Backward(rows[:k]) {
			q := pair{before: early.Job, after: late.Job}
			apart := early.Finish <= late.Start
			switch {
			case said.leads(q.before, q.after) || must.leads(q.after, q.before):
				continue
			case apart && bind(q.before, q.after):
				said.add(q)
			case !apart && p.share(q.before, q.after):
				q.lag = int(early.Start - early.Finish)
			default:
				continue
			}
			must.add(q)
			out = append(out, q)
		}
	}
	return out
}

// all binds every two jobs.
func (p *problem) all(int, int) bool { return true }

// share reports whether two jobs cannot run together: of some resource both need more than
// there is. What a job holds while it cures is needed, too.
func (p *problem) share(a, b int) bool {
	for r, res := range p.Resources {
		x, y := p.needs(a, r), p.needs(b, r)
		if x > 0 && y > 0 && x+y > res.Capacity {
			return true
		}
	}
	return false
}

// needs gives how many units of resource r job j needs at most.
func (p *problem) needs(j, r int) (units int) {
	for _, u := range p.Jobs[j].Uses {
		if u.Resource == r {
			units += u.Units
		}
	}
	if p.Jobs[j].Cure.Minutes > 0 && slices.Contains(p.Jobs[j].Holds, r) {
		units = max(units, 1)
	}
	return units
}

// rowsOf gives the rows of s, an order of the same tasks or of some of them, as rows of p.
func (p *problem) rowsOf(s []Row) []plan.Row {
	var out []plan.Row
	for _, r := range s {
		if job, ok := p.job[r.ID]; ok {
			out = append(out, plan.Row{Job: job, Start: r.Start, Finish: r.Finish, Work: r.WorkMin, Reach: r.AccessMin, CureEnd: r.CureEnd})
		}
	}
	return out
}

// rowsFrom gives the rows of an order of another problem, those of jobs that p has too.
func (p *problem) rowsFrom(other *problem, rows []plan.Row, but id.Task) []plan.Row {
	var out []plan.Row
	for _, r := range rows {
		name := other.Jobs[r.Job].ID
		if job, ok := p.job[name]; ok && name != but {
			r.Job = job
			out = append(out, r)
		}
	}
	return out
}

// following gives which jobs must come after which, by however many must edges.
func (p *problem) following() *reaches {
	r := newReaches(len(p.Jobs))
	for _, e := range p.Edges {
		if !e.Should {
			r.add(pair{before: e.Before, after: e.After})
		}
	}
	return r
}

// reaches keeps which jobs come after which. It stays free of loops if what is added is.
type reaches struct{ after []plan.Set }

func newReaches(n int) *reaches {
	r := &reaches{after: make([]plan.Set, n)}
	for j := range r.after {
		r.after[j] = make(plan.Set, (n+63)/64)
	}
	return r
}

// leads reports whether b comes after a.
func (r *reaches) leads(a, b int) bool { return r.after[a][b/64]&(1<<(b%64)) != 0 }

func (r *reaches) add(q pair) {
	if r.leads(q.before, q.after) {
		return
	}
	for j := range r.after {
		if j != q.before && !r.leads(j, q.before) {
			continue
		}
		r.after[j][q.after/64] |= 1 << (q.after % 64)
		for i, word := range r.after[q.after] {
			r.after[j][i] |= word
		}
	}
}
