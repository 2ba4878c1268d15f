package plan

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/vanlog/internal/units"
)

// evaluate checks a schedule of all jobs of p against every rule, from the problem
// alone, and gives its figures. The error says which rule it breaks.
func evaluate(p *Problem, start, finish []units.Instant) (Sequence, error) {
	e := evaluation{p: p, start: start, finish: finish, rows: make([]Row, len(p.Jobs))}
	e.fitted()
	for _, rule := range []func() error{e.lengths, e.edges, e.capacity} {
		if err := rule(); err != nil {
			return Sequence{}, err
		}
	}
	return e.sequence(), nil
}

// evaluation is a check under way.
type evaluation struct {
	p             *Problem
	start, finish []units.Instant
	rows          []Row // by job
	broken        []Edge
}

// fitted fills in what reaching each job costs with the items of all that has
// finished when it starts; -1 where it cannot be reached.
func (e *evaluation) fitted() {
	for j := range e.rows {
		e.rows[j] = Row{Job: j, Start: e.start[j], Finish: e.finish[j]}
	}
	if e.p.Reach == nil {
		return
	}
	byStart, byFinish := e.by(e.start), e.by(e.finish)
	set := e.p.room()
	next := 0
	for _, j := range byStart {
		for ; next < len(byFinish) && e.finish[byFinish[next]] <= e.start[j]; next++ {
			for _, item := range e.p.Jobs[byFinish[next]].Fits {
				set[item/64] |= 1 << (item % 64)
			}
		}
		minutes, ok := e.p.Reach(j, set)
		if !ok {
			minutes = -1
		}
		e.rows[j].Reach = minutes
	}
}

// room gives a copy of Fitted with room for all items that jobs fit.
func (p *Problem) room() Set {
	size := len(p.Fitted)
	for j := range p.Jobs {
		for _, item := range p.Jobs[j].Fits {
			size = max(size, item/64+1)
		}
	}
	set := make(Set, size)
	copy(set, p.Fitted)
	return set
}

func (e *evaluation) by(when []units.Instant) []int {
	order := make([]int, len(when))
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(when[a], when[b]) })
	return order
}

// lengths checks that each job starts when it may and lasts as long as it must.
func (e *evaluation) lengths() error {
	e.rework()
	for j := range e.rows {
		r, job := &e.rows[j], &e.p.Jobs[j]
		if r.Reach < 0 {
			return fmt.Errorf("%s cannot be reached at %v", job.ID, r.Start)
		}
		r.Work = job.Minutes + r.Reach + r.Rework
		if r.Start < max(job.Release, e.p.Now) {
			return fmt.Errorf("%s starts at %v, before %v", job.ID, r.Start, job.Release)
		}
		if r.Work > 0 && !job.Hours.In(r.Start) {
			return fmt.Errorf("%s starts at %v, outside its hours", job.ID, r.Start)
		}
		if end, ok := job.Hours.Finish(r.Start, r.Work); !ok || end != r.Finish {
			return fmt.Errorf("%s finishes at %v, not %v", job.ID, end, r.Finish)
		}
		if job.Deadline != nil && r.Finish > *job.Deadline {
			return fmt.Errorf("%s finishes at %v, after %v", job.ID, r.Finish, *job.Deadline)
		}
		cured, ok := job.Cure.End(r.Finish)
		if !ok {
			return fmt.Errorf("%s never cures", job.ID)
		}
		r.CureEnd = cured
	}
	return nil
}

// rework fills in what the should edges that are broken cost.
func (e *evaluation) rework() {
	for j := range e.p.Owed {
		e.rows[j].Rework = e.p.Owed[j]
	}
	for _, edge := range e.p.Edges {
		if edge.Should && !e.p.Jobs[edge.Before].Started && e.start[edge.After] < e.start[edge.Before] {
			e.rows[edge.Before].Rework += edge.Rework
			e.broken = append(e.broken, edge)
		}
	}
}

// edges checks the must edges.
func (e *evaluation) edges() error {
	for _, edge := range e.p.Edges {
		if edge.Should {
			continue
		}
		before := e.rows[edge.Before]
		from := before.CureEnd
		if edge.Lag != nil {
			from = before.Finish + units.Instant(*edge.Lag)
		}
		if at := e.start[edge.After]; at < from {
			return fmt.Errorf("%s starts at %v, and must not before %v, for %s",
				e.p.Jobs[edge.After].ID, at, from, e.p.Jobs[edge.Before].ID)
		}
	}
	return nil
}

// load is a change of what is in use of a resource.
type load struct {
	at    units.Instant
	units int
}

// capacity checks that no resource is used beyond what there is of it.
func (e *evaluation) capacity() error {
	loads := make([][]load, len(e.p.Resources))
	for j := range e.rows {
		e.load(loads, j)
	}
	for r, changes := range loads {
		slices.SortFunc(changes, func(a, b load) int {
			return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.units, b.units))
		})
		used := 0
		for _, c := range changes {
			used += c.units
			if used > e.p.Resources[r].Capacity {
				return fmt.Errorf("%s is used beyond what there is of it at %v", e.p.Resources[r].ID, c.at)
			}
		}
	}
	return nil
}

// load adds what job j uses in the minutes it works, and holds through its cure.
func (e *evaluation) load(loads [][]load, j int) {
	row, job := e.rows[j], &e.p.Jobs[j]
	add := func(r, units int, from, to units.Instant) {
		if units > 0 && from < to {
			loads[r] = append(loads[r], load{from, units}, load{to, -units})
		}
	}
	for from := row.Start; from < row.Finish; {
		to := min(job.Hours.Until(from), row.Finish)
		for _, u := range job.Uses {
			add(u.Resource, u.Units, from, to)
		}
		from, _ = job.Hours.Next(to)
	}
	for _, r := range job.Holds {
		add(r, 1, row.Finish, row.CureEnd)
	}
}

// sequence gives the figures of a schedule that breaks no rule.
func (e *evaluation) sequence() Sequence {
	s := Sequence{Rows: e.rows, Finish: e.p.Now, Broken: e.broken}
	for _, r := range e.rows {
		s.Finish = max(s.Finish, r.CureEnd)
		s.Work += r.Work
	}
	slices.SortFunc(s.Rows, func(a, b Row) int {
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.Finish, b.Finish), cmp.Compare(a.Job, b.Job))
	})
	return s
}
