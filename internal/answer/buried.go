package answer

import (
	"context"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
)

// Buried is waiting work that is dearer to get at, when its turn comes, than it is now.
// BeforeMin and AfterMin are the cost of the way with all trips in, ExtraMin is the difference.
type Buried struct {
	Closed
	By []id.Item `json:"by"` // the items at whose fitting the way became dearer
	// Unavoidable says that all of it comes of work that must be done first: there is a must edge,
	// or the one cannot stay open for the other.
	Unavoidable bool `json:"unavoidable"`
}

// Buries sums up the waiting work that a choice closes in, where that can be helped or, with
// must, where it cannot: how many tasks, and how many minutes more to get at them.
func (c LateChoice) Buries(must bool) (tasks int, minutes float64) {
	for _, b := range c.Closes {
		if b.Unavoidable == must {
			tasks, minutes = tasks+1, minutes+*b.ExtraMin
		}
	}
	return tasks, minutes
}

// burial is what an order does to the way to one of its tasks.
type burial struct {
	then          access.Set // what is fitted when the task starts
	before, after access.Cost
	extra         access.Cost
	by            []id.Item
	free          []int // jobs that made it dearer and need not come first
}

// burialOf says what has been fitted before the task of a row starts, beyond what is fitted now,
// and which of it makes the way to it dearer: first what must come before it, then the rest, in
// the order of the rows.
func (l *lateness) burialOf(rows []plan.Row, row plan.Row, must *reaches) burial {
	task := l.p.task[row.Job]
	b := burial{then: slices.Clone(l.v.fitted())}
	b.before, _ = l.v.reach(task, b.then)
	b.after = b.before
	for _, forced := range []bool{true, false} {
		for _, other := range rows {
			if other.Finish <= row.Start && other.Job != row.Job && must.leads(other.Job, row.Job) == forced {
				l.cover(&b, task, other.Job, forced)
			}
		}
	}
	b.extra = b.after - b.before
	return b
}

// cover adds to b what job fits.
func (l *lateness) cover(b *burial, task tasks.Task, job int, forced bool) {
	for _, x := range l.p.task[job].Fits {
		b.then = union(b.then, l.v.solver().Set(x))
		cost, _ := l.v.reach(task, b.then)
		if cost <= b.after {
			continue
		}
		b.after, b.by = cost, append(b.by, x)
		if !forced {
			b.free = append(b.free, job)
		}
	}
}

func (b burial) row(v *View, t tasks.Task) Buried {
	after, extra := b.after.Minutes(), b.extra.Minutes()
	return Buried{By: b.by, Unavoidable: len(b.free) == 0, Closed: Closed{Task: t.ID, Visits: float64(t.Visits),
		BeforeMin: b.before.Minutes(), AfterMin: &after, ExtraMin: &extra}}
}

// open searches for the best order that buries no waiting work, but for what must. Items
// that close it in by themselves, over what is fitted now or as the last of all, are held back
// from the start; a few only close it in together with others, and are held back once an order
// is found that does so.
func (l *lateness) open(ctx context.Context) (attempt, error) {
	must, pairs := l.p.following(), l.heldBack()
	pairs = added(must, pairs)
	for {
		a, err := l.try(ctx, pairs, l.o)
		a.must = must
		if err != nil || a.none != nil {
			return a, err
		}
		more := slices.DeleteFunc(l.stillBuried(a.found.Rows, must), func(q pair) bool { return slices.Contains(pairs, q) })
		more = added(must, more)
		if len(more) == 0 {
			return a, nil
		}
		pairs = append(pairs, more...)
	}
}

// added adds the pairs to must that do not close a loop, and gives those.
func added(must *reaches, pairs []pair) []pair {
	var out []pair
	for _, q := range pairs {
		if q.before != q.after && !must.leads(q.after, q.before) {
			must.add(q)
			out = append(out, q)
		}
	}
	return out
}

// heldBack pairs every waiting job with the jobs whose fitting closes it in.
func (l *lateness) heldBack() []pair {
	fitters := map[id.Item][]int{}
	for j, t := range l.p.task {
		for _, x := range t.Fits {
			fitters[x] = append(fitters[x], j)
		}
	}
	var out []pair
	for _, f := range []Fitted{FittedNow, FittedAll} {
		for _, d := range l.v.DerivedEdges(f) {
			job, open := l.p.job[d.Task]
			if !open || !l.waiting[job] {
				continue
			}
			for _, fitter := range fitters[d.Item] {
				out = append(out, pair{before: job, after: fitter})
			}
		}
	}
	return out
}

// stillBuried pairs waiting jobs with those that close them in in an order, and need not.
func (l *lateness) stillBuried(rows []plan.Row, must *reaches) []pair {
	var out []pair
	for _, row := range rows {
		if !l.waiting[row.Job] {
			continue
		}
		for _, job := range l.burialOf(rows, row, must).free {
			out = append(out, pair{before: row.Job, after: job})
		}
	}
	return out
}
